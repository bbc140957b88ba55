/**
 * Puts layers together: hits × light × weights → XYZ. Split so that a change of weights runs only this, and
 * this does little: bounced light is coloured at the gather points, direct light by one vector a material.
 */
import { atSamples, SAMPLES } from '../colour/spectrum.ts';
import type { Stage } from '../stage/stage.ts';
import type { GatherPlan } from './gatherPlan.ts';
import type { Direct, Hits } from './tracer.ts';

export interface LayerLight {
  direct: Direct;
  /** Gather points × 12. */
  bounced: Float32Array;
}
export interface Weight {
  /** 3 × 12 row-major: XYZ per lux at the sample wavelengths. */
  matrix: Float64Array;
  white: readonly [number, number, number];
}

/** Luminance of clear night behind everything the rays left without meeting: none. */
export function compose(
  stage: Stage,
  hits: Hits,
  plan: GatherPlan,
  light: readonly (LayerLight | undefined)[],
  weights: readonly Weight[],
  out: Float32Array,
): void {
  const { points, pixelStart, weight } = hits;
  const n = points.count;
  const layers = light
    .map((l, i) => ({ l, w: weights[i]! }))
    .filter((x): x is { l: LayerLight; w: Weight } => x.l !== undefined && x.w.white[1] > 0);

  // Colour of a lux of direct light off each material, by layer; candela per m² (1/π).
  const reflectance = stage.materials.map((m) => atSamples(m.reflectance));
  const off = layers.map(({ w }) => {
    const c = new Float64Array(stage.materials.length * 3);
    reflectance.forEach((r, m) => {
      for (let x = 0; x < 3; x++) {
        let v = 0;
        for (let i = 0; i < SAMPLES; i++) v += w.matrix[x * SAMPLES + i]! * r[i]!;
        c[3 * m + x] = v / Math.PI;
      }
    });
    return c;
  });

  // Bounced light off the material, at the gather points, all layers together.
  const count = plan.points.count;
  const gathered = new Float32Array(count * 3);
  for (const { l, w } of layers) {
    const m = w.matrix;
    for (let g = 0; g < count; g++) {
      const r = reflectance[plan.points.material[g]!]!;
      const o = g * SAMPLES;
      let X = 0;
      let Y = 0;
      let Z = 0;
      for (let i = 0; i < SAMPLES; i++) {
        const e = l.bounced[o + i]! * r[i]!;
        X += m[i]! * e;
        Y += m[SAMPLES + i]! * e;
        Z += m[2 * SAMPLES + i]! * e;
      }
      gathered[3 * g]! += X / Math.PI;
      gathered[3 * g + 1]! += Y / Math.PI;
      gathered[3 * g + 2]! += Z / Math.PI;
    }
  }

  // Each point: bounced from its gather points, direct from each layer.
  out.fill(0);
  let pixel = 0;
  for (let i = 0; i < n; i++) {
    while (pixelStart[pixel + 1]! <= i) pixel++;
    let X = 0;
    let Y = 0;
    let Z = 0;
    for (let k = 4 * i; k < 4 * i + 4; k++) {
      const w = plan.weight[k]!;
      if (w === 0) continue;
      const g = 3 * plan.from[k]!;
      X += w * gathered[g]!;
      Y += w * gathered[g + 1]!;
      Z += w * gathered[g + 2]!;
    }
    const m = 3 * points.material[i]!;
    for (let l = 0; l < layers.length; l++) {
      const { direct } = layers[l]!.l;
      const white = layers[l]!.w.white;
      const c = off[l]!;
      const e = direct.diffuse[i]!;
      const s = direct.gloss[i]!;
      X += c[m]! * e + white[0] * s;
      Y += c[m + 1]! * e + white[1] * s;
      Z += c[m + 2]! * e + white[2] * s;
    }
    const w = weight[i]!;
    out[3 * pixel]! += w * X;
    out[3 * pixel + 1]! += w * Y;
    out[3 * pixel + 2]! += w * Z;
  }

  // Lamps seen themselves.
  const { glow } = hits;
  for (let k = 0; k < glow.pixel.length; k++) {
    if (light[glow.layer[k]!] === undefined) continue;
    const white = weights[glow.layer[k]!]!.white;
    const p = 3 * glow.pixel[k]!;
    for (let x = 0; x < 3; x++) out[p + x]! += white[x]! * glow.luminance[k]!;
  }
}
