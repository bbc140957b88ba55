/**
 * An unbiased picture: passes of rays jittered over the pixels, a path from each hit, layers put together at
 * once. The mean of passes converges to the truth; their spread says how far it is.
 */
import { atSamples, SAMPLES } from '../colour/spectrum.ts';
import type { Stage } from '../stage/stage.ts';
import { airSample } from './airlight.ts';
import { emitterSet } from './emitter.ts';
import { addSpread, fleshOf, spreadColours, spreadUnder } from './flesh.ts';
import { pointsOf } from './points.ts';
import { tintOf } from './quick/patches.ts';
import type { Layer, View } from './scene.ts';
import { toneOf } from './tone.ts';
import type { AbortSignalLike, SurfacePoints, Tracer } from './tracer.ts';

/** What a layer counts for in a picture: its spectrum times its level, through the observer. */
export interface Weight {
  /** 3 × 12 row-major: XYZ per lux at the sample wavelengths. */
  matrix: Float64Array;
  white: readonly [number, number, number];
  /** Factor on the bounced part alone; absent: 1. */
  bounceGain?: number;
}

export interface Photograph {
  width: number;
  height: number;
  passes: number;
  /** 3 × width × height: sum over passes of XYZ, Y in cd/m². */
  sum: Float64Array;
  /** width × height: sum over passes of Y². */
  square: Float64Array;
}

export const newPhotograph = (width: number, height: number): Photograph => ({
  width,
  height,
  passes: 0,
  sum: new Float64Array(3 * width * height),
  square: new Float64Array(width * height),
});

/** Rows looked at together: bounds the memory of a pass. */
const ROWS = 24;

/** One more pass over the whole frame. `only`: layers to count (default all whose weight is not nothing). */
export async function addPass(
  tracer: Tracer,
  stage: Stage,
  view: View,
  weights: readonly Weight[],
  photo: Photograph,
  options: {
    seed: number;
    only?: ReadonlySet<number>;
    /** The scene's: needed where the stage has haze or rain, whose own light they make. */
    layers?: readonly Layer[];
    signal?: AbortSignalLike;
    progress?: (share: number) => void;
  },
): Promise<void> {
  const { width, height } = photo;
  const pass = photo.passes;
  const counted = weights
    .map((_, l) => l)
    .filter((l) => weights[l]!.white[1] > 0 && (options.only?.has(l) ?? true));
  const reflectance = stage.materials.map((m) => atSamples(m.reflectance));
  const tints = stage.materials.map(tintOf);
  const common = options.signal ? { signal: options.signal } : {};
  const sets = stage.air ? options.layers?.map((layer) => emitterSet(layer.emitters)) : undefined;
  /** Y of this pass. */
  const Y = new Float32Array(width * height);
  // Skin that is near enough waits for the whole pass: light spreads under it over the rows' ends.
  const soft = stage.materials.map((m) => m.under !== undefined);
  const skin = skinOf(width * height, counted.length);
  const pitch = (2 * view.tanH) / width;
  for (let y0 = 0; y0 < height; y0 += ROWS) {
    const rows = { from: y0, to: Math.min(height, y0 + ROWS) };
    const hits = await tracer.hits(view, width, height, {
      ...common,
      seed: options.seed + 101 * pass,
      samples: 1,
      jitter: true,
      rows,
    });
    const { points, pixelStart, weight } = hits;
    const tone = toneOf(stage.materials, hits, pitch);
    const estimate =
      points.count > 0 && counted.length > 0
        ? await tracer.trace(points, {
            ...common,
            seed: options.seed + 977 * pass + y0,
            paths: 1,
            only: counted,
          })
        : undefined;
    const air: Float32Array[] = [];
    if (sets)
      for (const l of counted)
        air.push(
          await airSample(tracer, view, hits, rows, sets[l]!, {
            ...common,
            seed: options.seed + 577 * pass + l,
            drops: options.seed,
          }),
        );
    for (let p = y0 * width; p < rows.to * width; p++) {
      for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++)
        if (soft[points.material[i]!]) {
          const lux = counted.map((_, e) => estimate!.layers[e]!.direct.diffuse[i]!);
          skin.add(points, i, weight[i]!, pitch * hits.depth[i]!, lux);
        }
      skin.start[p + 1] = skin.count();
    }
    const row = new Float64Array(3 * width);
    const glow = new Map<number, [number, number, number]>();
    for (let k = 0; k < hits.glow.pixel.length; k++) {
      const l = hits.glow.layer[k]!;
      if (!counted.includes(l)) continue;
      const p = hits.glow.pixel[k]!;
      const g = glow.get(p) ?? [0, 0, 0];
      for (let x = 0; x < 3; x++) g[x]! += weights[l]!.white[x]! * hits.glow.luminance[k]!;
      glow.set(p, g);
    }
    for (let y = rows.from; y < rows.to; y++) {
      row.fill(0);
      for (let x = 0; x < width; x++) {
        const p = y * width + x;
        for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++) {
          const r = reflectance[points.material[i]!]!;
          const tint = tints[points.material[i]!];
          const w = weight[i]!;
          const k = tone ? tone[i]! / Math.PI : 1 / Math.PI;
          counted.forEach((l, e) => {
            const part = estimate!.layers[e]!;
            const { matrix, white, bounceGain = 1 } = weights[l]!;
            const direct = part.direct.diffuse[i]!;
            const gloss = part.direct.gloss[i]!;
            for (let c = 0; c < 3; c++) {
              let v = 0;
              let g = tint ? 0 : white[c]! * gloss;
              for (let s = 0; s < SAMPLES; s++) {
                const m = matrix[c * SAMPLES + s]!;
                const of = tint ? m * tint[s]! : m;
                if (tint) g += of * gloss;
                v += m * r[s]! * (direct + bounceGain * part.bounced[i * SAMPLES + s]!);
                if (part.glossBounced) g += of * bounceGain * part.glossBounced[i * SAMPLES + s]!;
              }
              row[3 * x + c]! += w * (k * v + g);
            }
          });
        }
        air.forEach((light, e) => {
          const { white } = weights[counted[e]!]!;
          const l = light[p - y0 * width]!;
          for (let c = 0; c < 3; c++) row[3 * x + c]! += white[c]! * l;
        });
        const g = glow.get(p);
        if (g) for (let c = 0; c < 3; c++) row[3 * x + c]! += g[c]!;
        Y[p] = row[3 * x + 1]!;
      }
      const o = 3 * y * width;
      for (let k = 0; k < 3 * width; k++) photo.sum[o + k]! += row[k]!;
    }
    options.progress?.(rows.to / height);
  }

  const points = skin.points();
  const flesh = fleshOf(stage.materials, points, skin.start, skin.weight(), width, height, skin.pitchM);
  if (flesh)
    counted.forEach((l, e) => {
      const lux = skin.lux(e);
      const colours = spreadColours(stage.materials, weights[l]!.matrix);
      addSpread(flesh, points.material, lux, spreadUnder(flesh, lux), colours, (entry, x, y, z) => {
        const w = skin.weight()[flesh.point[entry]!]!;
        const p = flesh.pixel[entry]!;
        photo.sum[3 * p]! += w * x;
        photo.sum[3 * p + 1]! += w * y;
        photo.sum[3 * p + 2]! += w * z;
        Y[p]! += w * y;
      });
    });
  for (let p = 0; p < Y.length; p++) photo.square[p]! += Y[p]! * Y[p]!;
  photo.passes++;
}

/** Skin seen in a pass, gathered point by point; `start` as `Hits.pixelStart`. */
function skinOf(pixels: number, layers: number) {
  const start = new Uint32Array(pixels + 1);
  const at: number[] = [];
  const material: number[] = [];
  const weights: number[] = [];
  const pitches: number[] = [];
  const lit: number[][] = Array.from({ length: layers }, () => []);
  let weighed: Float32Array | undefined;
  return {
    start,
    count: () => material.length,
    add(from: SurfacePoints, i: number, weight: number, pitchM: number, lux: readonly number[]): void {
      for (const list of [from.position, from.normal, from.toEye])
        at.push(list[3 * i]!, list[3 * i + 1]!, list[3 * i + 2]!);
      material.push(from.material[i]!);
      weights.push(weight);
      pitches.push(pitchM);
      lux.forEach((v, e) => {
        lit[e]!.push(v);
      });
    },
    points(): SurfacePoints {
      const out = pointsOf(material.length);
      for (let i = 0; i < material.length; i++) {
        for (let c = 0; c < 3; c++) {
          out.position[3 * i + c] = at[9 * i + c]!;
          out.normal[3 * i + c] = at[9 * i + 3 + c]!;
          out.toEye[3 * i + c] = at[9 * i + 6 + c]!;
        }
        out.material[i] = material[i]!;
      }
      return out;
    },
    weight(): Float32Array {
      weighed ??= Float32Array.from(weights);
      return weighed;
    },
    pitchM: (i: number): number => pitches[i]!,
    lux: (e: number): Float32Array => Float32Array.from(lit[e]!),
  };
}

/** The picture so far: 3 × width × height XYZ. */
export function developed(photo: Photograph): Float32Array {
  const out = new Float32Array(photo.sum.length);
  for (let i = 0; i < out.length; i++) out[i] = photo.sum[i]! / Math.max(1, photo.passes);
  return out;
}

/**
 * Typical noise of a pixel, stops (one sigma, median over pixels brighter than `fromCdM2`, which should be
 * where the camera begins to see): the standard error of the mean over the mean. Infinite before two passes.
 */
export function noiseOf(photo: Photograph, fromCdM2: number): number {
  const n = photo.passes;
  if (n < 2) return Number.POSITIVE_INFINITY;
  const noises: number[] = [];
  for (let p = 0; p < photo.square.length; p++) {
    const mean = photo.sum[3 * p + 1]! / n;
    if (mean < fromCdM2) continue;
    const variance = Math.max(0, photo.square[p]! / n - mean * mean) / (n - 1);
    noises.push(Math.sqrt(variance) / mean / Math.LN2);
  }
  noises.sort((a, b) => a - b);
  return noises.length ? noises[noises.length >> 1]! : 0;
}
