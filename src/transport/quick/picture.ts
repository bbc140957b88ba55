/**
 * Layers put together in colour: XYZ of every pixel in cd/m². A change of weights runs only this, and traces nothing.
 *
 * Reflectances meet the bounced light at 12 wavelengths, and that at the quarter-size points, once for every material
 * seen about them; what is spread to full size is three numbers. Direct light has no spectrum of its own: per layer
 * and material three numbers do.
 */
import { atSamples, SAMPLES } from '../../colour/spectrum.ts';
import type { Stage } from '../../stage/stage.ts';
import { addSpread, type Flesh, fleshOf, spreadColours, spreadUnder } from '../flesh.ts';
import { toneOf } from '../tone.ts';
import type { Hits } from '../tracer.ts';
import { glossShare, tintOf } from './patches.ts';
import type { LayerLight } from './quick.ts';
import type { Thin } from './thin.ts';
import { TAP_UNIT, TAPS } from './thin.ts';

/** A layer's weight: 3 × 12 row-major, XYZ per lux at the sample wavelengths. */
export interface ColourWeight {
  matrix: Float64Array;
  /** Factor on the bounced part alone; absent: 1. */
  bounceGain?: number;
}

/** What an angle's picture needs that depends on neither light nor weight. */
export interface Palette {
  materials: number;
  /** 12 per material; diffuse reflectance over π, and with the gloss under even light. */
  rho: Float64Array;
  rhoRoom: Float64Array;
  /** Pairs of a gather point and a material seen about it. */
  pairPoint: Uint32Array;
  pairMaterial: Uint16Array;
  /** TAPS per point of the hits: pairs. */
  tap: Uint32Array;
  /** Points of the hits whose material has gloss, or is hair, ascending. */
  glossy: Uint32Array;
  /** By material: 12, the colour of its gloss; absent: no metal anywhere. */
  tints?: readonly (Float64Array | undefined)[];
  /** Per layer: bounced light in colour at the pairs as last worked out, and from what. */
  kept: Map<number, { bounced: Float32Array; matrix: Float64Array; xyz: Float32Array }>;
  /** Skin that is near enough for light to be seen spreading under it, and what everything is made of. */
  flesh: Flesh | undefined;
  /** Per point of the hits: factor of its surface's figure on what it sends back; absent: nothing seen has one. */
  tone: Float32Array | undefined;
  stuff: Stage['materials'];
}

/** Hairs send white on too, without a face for it to lie on. */
const sendsGloss = (m: Stage['materials'][number] | undefined): boolean =>
  m?.gloss !== undefined || m?.fibre !== undefined;

export function paletteOf(stage: Stage, hits: Hits, coarse: Thin): Palette {
  const someone = coarse.chosen[0];
  /** Breadth of a pixel a metre away. */
  const pitch = someone === undefined ? 0 : coarse.footprintM[0]! / coarse.block / hits.depth[someone]!;
  const materials = stage.materials.length;
  const rho = new Float64Array(materials * SAMPLES);
  const rhoRoom = new Float64Array(materials * SAMPLES);
  const tints = stage.materials.map(tintOf);
  stage.materials.forEach((m, i) => {
    if (m.kind !== 'opaque' && m.kind !== 'sheet') return;
    const add = m.kind === 'opaque' ? glossShare(m.gloss?.f0 ?? 0, m.gloss?.roughness ?? 1) : 0;
    const tint = tints[i];
    atSamples(m.reflectance).forEach((v, k) => {
      rho[i * SAMPLES + k] = v / Math.PI;
      rhoRoom[i * SAMPLES + k] = (v + add * (tint ? tint[k]! : 1)) / Math.PI;
    });
  });
  // Pairs in the order they are met; a point's few materials are looked through from its first.
  const first = new Int32Array(coarse.points.count).fill(-1);
  const next: number[] = [];
  const pairPoint: number[] = [];
  const pairMaterial: number[] = [];
  const tap = new Uint32Array(hits.points.count * TAPS);
  for (let i = 0; i < hits.points.count; i++) {
    const m = hits.points.material[i]!;
    for (let t = 0; t < TAPS; t++) {
      const o = i * TAPS + t;
      if (coarse.tapWeight[o] === 0) continue;
      const c = coarse.tap[o]!;
      let pair = first[c]!;
      while (pair >= 0 && pairMaterial[pair] !== m) pair = next[pair]!;
      if (pair < 0) {
        pair = pairPoint.length;
        pairPoint.push(c);
        pairMaterial.push(m);
        next.push(first[c]!);
        first[c] = pair;
      }
      tap[o] = pair;
    }
  }
  return {
    materials,
    rho,
    rhoRoom,
    pairPoint: Uint32Array.from(pairPoint),
    pairMaterial: Uint16Array.from(pairMaterial),
    tap,
    glossy: Uint32Array.from({ length: hits.points.count }, (_, i) => i).filter((i) =>
      sendsGloss(stage.materials[hits.points.material[i]!]),
    ),
    ...(tints.some((t) => t) ? { tints } : {}),
    kept: new Map(),
    flesh: fleshOf(
      stage.materials,
      hits.points,
      hits.pixelStart,
      hits.weight,
      hits.width,
      hits.height,
      (i) => pitch * hits.depth[i]!,
    ),
    tone: toneOf(stage.materials, hits, pitch),
    stuff: stage.materials,
  };
}

/** Points worked on at a time, so that their sums stay near. */
const TILE = 2048;
const sums = new Float32Array(TILE * 3);

/** Adds up light × colour by material, four layers at a time (fewer: the same one again, with black). */
function addDirect(
  a: Float32Array,
  b: Float32Array,
  c: Float32Array,
  d: Float32Array,
  A: Float32Array,
  B: Float32Array,
  C: Float32Array,
  D: Float32Array,
  material: Uint16Array,
  from: number,
  to: number,
): void {
  for (let i = from, o = 0; i < to; i++, o += 3) {
    const ea = a[i]!;
    const eb = b[i]!;
    const ec = c[i]!;
    const ed = d[i]!;
    const m = material[i]! * 3;
    sums[o]! += ea * A[m]! + eb * B[m]! + ec * C[m]! + ed * D[m]!;
    sums[o + 1]! += ea * A[m + 1]! + eb * B[m + 1]! + ec * C[m + 1]! + ed * D[m + 1]!;
    sums[o + 2]! += ea * A[m + 2]! + eb * B[m + 2]! + ec * C[m + 2]! + ed * D[m + 2]!;
  }
}
/** The same for the gloss, over entries `first` … of the glossy points; returns the entry at which the tile ends. */
function addGloss(
  light: Float32Array,
  white: Float64Array,
  glossy: Uint32Array,
  first: number,
  from: number,
  to: number,
  material: Uint16Array,
  /** 3 per material in place of `white`, where there is metal. */
  whites: Float64Array | undefined,
): number {
  let x = white[0]!;
  let y = white[1]!;
  let z = white[2]!;
  let g = first;
  for (; g < glossy.length && glossy[g]! < to; g++) {
    const i = glossy[g]!;
    const l = light[i]!;
    if (l === 0) continue;
    const o = (i - from) * 3;
    if (whites) {
      const m = material[i]! * 3;
      x = whites[m]!;
      y = whites[m + 1]!;
      z = whites[m + 2]!;
    }
    sums[o]! += l * x;
    sums[o + 1]! += l * y;
    sums[o + 2]! += l * z;
  }
  return g;
}

/** 3 per material: colour of a unit of its gloss in a light. */
function whitesOf({ tints, materials }: Palette, M: Float64Array): Float64Array | undefined {
  if (!tints) return undefined;
  const out = new Float64Array(materials * 3);
  for (let m = 0; m < materials; m++)
    for (let c = 0; c < 3; c++)
      for (let k = 0; k < SAMPLES; k++) out[m * 3 + c]! += M[c * SAMPLES + k]! * (tints[m]?.[k] ?? 1);
  return out;
}

const equal = (a: Float64Array, b: Float64Array): boolean => {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
};

const forBounced = (w: ColourWeight | undefined): Float64Array | undefined => {
  const gain = w?.bounceGain;
  return gain === undefined ? w?.matrix : w!.matrix.map((v) => v * gain);
};

/** XYZ at the pairs: Σ over layers of M (ρ ∘ B) / π, and the gloss where it was traced. */
function colourPairs(
  palette: Palette,
  lights: readonly (LayerLight | undefined)[],
  weights: readonly ColourWeight[],
): Float32Array {
  const { pairPoint, pairMaterial, rho, rhoRoom } = palette;
  const out = new Float32Array(pairPoint.length * 3);
  const mixed = new Float64Array(palette.materials * 36);
  lights.forEach((light, l) => {
    const M = forBounced(weights[l]);
    if (!light || !M?.some((v) => v !== 0)) return;
    // A layer whose light and weight are as before is taken from before.
    let kept = palette.kept.get(l);
    if (kept?.bounced !== light.bounced || !equal(kept.matrix, M) || light.glossBounced) {
      kept = { bounced: light.bounced, matrix: M.slice(), xyz: new Float32Array(out.length) };
      palette.kept.set(l, kept);
      // M with each material's reflectance in it.
      const r = light.glossBounced ? rho : rhoRoom;
      for (let m = 0; m < palette.materials; m++) {
        for (let c = 0; c < 3; c++) {
          for (let k = 0; k < SAMPLES; k++)
            mixed[m * 36 + c * SAMPLES + k] = M[c * SAMPLES + k]! * r[m * SAMPLES + k]!;
        }
      }
      addBounced(light.bounced, pairPoint, pairMaterial, mixed, kept.xyz);
      if (light.glossBounced) {
        for (let m = 0; m < palette.materials; m++) {
          mixed.set(M, m * 36);
          const tint = palette.tints?.[m];
          if (tint) for (let k = 0; k < 36; k++) mixed[m * 36 + k]! *= tint[k % SAMPLES]!;
        }
        addBounced(light.glossBounced, pairPoint, pairMaterial, mixed, kept.xyz);
      }
    }
    const { xyz } = kept;
    for (let i = 0; i < out.length; i++) out[i]! += xyz[i]!;
  });
  return out;
}

function addBounced(
  bounced: Float32Array,
  pairPoint: Uint32Array,
  pairMaterial: Uint16Array,
  mixed: Float64Array,
  out: Float32Array,
): void {
  for (let i = 0; i < pairPoint.length; i++) {
    const b = pairPoint[i]! * SAMPLES;
    const m = pairMaterial[i]! * 36;
    let X = 0;
    let Y = 0;
    let Z = 0;
    for (let k = 0; k < SAMPLES; k++) {
      const e = bounced[b + k]!;
      X += mixed[m + k]! * e;
      Y += mixed[m + 12 + k]! * e;
      Z += mixed[m + 24 + k]! * e;
    }
    out[i * 3]! += X;
    out[i * 3 + 1]! += Y;
    out[i * 3 + 2]! += Z;
  }
}

/**
 * 3 × pixels: X, Y, Z, Y in cd/m². `lights` and `weights` by layer; a layer that is missing or has no weight is
 * dark. `out` may be handed in again.
 */
export function picture(
  hits: Hits,
  coarse: Thin,
  palette: Palette,
  lights: readonly (LayerLight | undefined)[],
  weights: readonly ColourWeight[],
  out: Float32Array = new Float32Array(hits.width * hits.height * 3),
): Float32Array {
  const { points, pixelStart, weight } = hits;
  const { tap, tone } = palette;
  const { tapWeight } = coarse;
  const pixels = hits.width * hits.height;

  // Per layer: colour of a lux on each material, and of a unit of gloss or glow.
  const on: {
    light: LayerLight;
    matrix: Float64Array;
    colour: Float32Array;
    white: Float64Array;
    whites: Float64Array | undefined;
  }[] = [];
  const whites = weights.map(({ matrix }) => {
    const white = new Float64Array(3);
    for (let c = 0; c < 3; c++) for (let k = 0; k < SAMPLES; k++) white[c]! += matrix[c * SAMPLES + k]!;
    return white;
  });
  lights.forEach((light, l) => {
    const M = weights[l]?.matrix;
    const white = whites[l];
    if (!light || !M || !white || !(white[1]! > 0)) return;
    const colour = new Float32Array(palette.materials * 3);
    for (let m = 0; m < palette.materials; m++) {
      for (let c = 0; c < 3; c++) {
        let v = 0;
        for (let k = 0; k < SAMPLES; k++) v += M[c * SAMPLES + k]! * palette.rho[m * SAMPLES + k]!;
        colour[m * 3 + c] = v;
      }
    }
    on.push({ light, matrix: M, colour, white, whites: whitesOf(palette, M) });
  });

  const black = new Float32Array(palette.materials * 3);

  // Bounced light in colour at the gather points, then everything at the points of the picture, a tile at a time.
  const pairs = colourPairs(palette, lights, weights);
  out.fill(0);
  let pixel = 0;
  let glossyFrom = 0;
  for (let from = 0; from < points.count; from += TILE) {
    const to = Math.min(points.count, from + TILE);
    sums.fill(0);
    let glossyTo = glossyFrom;
    for (let l = 0; l < on.length; l += 4) {
      const [a, b, c, d] = [on[l]!, on[l + 1], on[l + 2], on[l + 3]];
      const one = a.light.direct.diffuse;
      addDirect(
        one,
        b?.light.direct.diffuse ?? one,
        c?.light.direct.diffuse ?? one,
        d?.light.direct.diffuse ?? one,
        a.colour,
        b?.colour ?? black,
        c?.colour ?? black,
        d?.colour ?? black,
        points.material,
        from,
        to,
      );
    }
    if (tone)
      for (let i = from, o = 0; i < to; i++, o += 3) {
        const k = tone[i]!;
        sums[o]! *= k;
        sums[o + 1]! *= k;
        sums[o + 2]! *= k;
      }
    for (const { light, white, whites } of on) {
      const { glossy } = palette;
      glossyTo = addGloss(light.direct.gloss, white, glossy, glossyFrom, from, to, points.material, whites);
    }
    glossyFrom = glossyTo;
    for (let i = from, o = 0; i < to; i++, o += 3) {
      const q = i * TAPS;
      let X = 0;
      let Y = 0;
      let Z = 0;
      for (let t = q; t < q + TAPS; t++) {
        const k = tapWeight[t]!;
        if (k === 0) break;
        const a = tap[t]! * 3;
        X += k * pairs[a]!;
        Y += k * pairs[a + 1]!;
        Z += k * pairs[a + 2]!;
      }
      const b = (tone ? tone[i]! : 1) / TAP_UNIT;
      while (pixelStart[pixel + 1]! <= i) pixel++;
      const w = weight[i]!;
      const p = pixel * 3;
      out[p]! += w * (sums[o]! + b * X);
      out[p + 1]! += w * (sums[o + 1]! + b * Y);
      out[p + 2]! += w * (sums[o + 2]! + b * Z);
    }
  }

  // What spreads under skin: a lamp's light with that beside it, in place of its own.
  const { flesh } = palette;
  if (flesh)
    for (const { light, matrix } of on) {
      const { direct } = light;
      if (direct.under?.of !== flesh)
        direct.under = { of: flesh, spread: spreadUnder(flesh, direct.diffuse) };
      const colours = spreadColours(palette.stuff, matrix);
      addSpread(flesh, points.material, direct.diffuse, direct.under.spread, colours, (e, x, y, z) => {
        const w = weight[flesh.point[e]!]!;
        const p = flesh.pixel[e]! * 3;
        out[p]! += w * x;
        out[p + 1]! += w * y;
        out[p + 2]! += w * z;
      });
    }

  // What the air sends on.
  for (const { light, white } of on) {
    const air = light.direct.air?.luminance;
    if (!air) continue;
    for (let p = 0; p < pixels; p++) {
      const l = air[p]!;
      if (l > 0) for (let c = 0; c < 3; c++) out[3 * p + c]! += l * white[c]!;
    }
  }

  // Emitters in view.
  const { glow } = hits;
  for (let g = 0; g < glow.pixel.length; g++) {
    const white = whites[glow.layer[g]!];
    const p = glow.pixel[g]!;
    if (!white || p >= pixels) continue;
    for (let c = 0; c < 3; c++) out[p * 3 + c]! += glow.luminance[g]! * white[c]!;
  }
  return out;
}
