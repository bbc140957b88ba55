/**
 * A picture's light refined while one looks: unbiased estimates are summed, and take the quick ones' place. Direct
 * light at full size by more and more points on the emitters; bounced light by paths from the points of the thin
 * picture (one per block and surface: with `gatherBlock` 1 from every point). Says how noisy it still is, in stops.
 */
import { SAMPLES } from '../../colour/spectrum.ts';
import { airMore } from '../airlight.ts';
import type { EmitterSet } from '../emitter.ts';
import type { AbortSignalLike, AirLight, Direct, Tracer } from '../tracer.ts';
import type { LayerLight, Sight } from './quick.ts';

export interface Noise {
  /** One sigma of direct and bounced light together, stops: of the middle point, and what nine in ten stay under. */
  medianStops: number;
  p90Stops: number;
}

export interface Refinement {
  /** Paths from each point of the thin picture so far; points on each emitter per point of the full one. */
  paths: number;
  samples: number;
  steps: number;
  /** Means so far, one per layer: the light as it stands, for `picture`. All zero before the first step. */
  light: Required<LayerLight>[];
  /** Per layer and point of the thin picture: variance of the mean, lux². */
  variance: Float32Array[];
  /** Where the air shows: per layer its light, the mean so far, and as it was when a quarter to a half was done. */
  air?: { sets: readonly EmitterSet[]; light: AirLight[]; earlier: AirThen; later: AirThen };
}

/** Means of the air's light by layer and pixel, as they were after so many steps. */
interface AirThen {
  steps: number;
  luminance: Float32Array[];
}

/** `emitters` of every layer: wanted where there is haze, rain or snow. */
export function refinement(sight: Sight, layers: number, emitters?: readonly EmitterSet[]): Refinement {
  const pixels = sight.hits.width * sight.hits.height;
  const n = sight.hits.points.count;
  const c = sight.coarse.points.count;
  return {
    paths: 0,
    samples: 0,
    steps: 0,
    light: Array.from({ length: layers }, () => ({
      direct: { diffuse: new Float32Array(n), gloss: new Float32Array(n) },
      bounced: new Float32Array(c * SAMPLES),
      glossBounced: new Float32Array(c * SAMPLES),
    })),
    variance: Array.from({ length: layers }, () => new Float32Array(c)),
    ...(emitters && sight.hits.air
      ? {
          air: {
            sets: emitters,
            light: emitters.map(() => ({ luminance: new Float32Array(pixels), behind: 0, front: 0 })),
            earlier: { steps: 0, luminance: [] },
            later: { steps: 0, luminance: [] },
          },
        }
      : {}),
  };
}

/** Places in the air asked on every pixel's ray in a step. */
const AIR_PLACES = 4;

/** mean += (more - mean) × share: the running mean of two means, the second weighing `share`. */
function towards(mean: Float32Array, more: Float32Array, share: number): void {
  for (let i = 0; i < mean.length; i++) mean[i]! += (more[i]! - mean[i]!) * share;
}

/** Keeps what was there at 1, 2, 4, 8 … steps, the last two of them. */
function remember(air: NonNullable<Refinement['air']>, steps: number): void {
  if (steps !== 1 && steps !== 2 * air.later.steps) return;
  air.earlier = steps === 1 ? air.earlier : air.later;
  air.later = { steps, luminance: air.light.map((l) => l.luminance.slice()) };
}

/**
 * Adds `paths` paths (two at least) and `samples` points on each emitter. Nothing is added if it is cancelled on the
 * way. Steps of one refinement must all have the same `seed`: the sequences go on where they stopped.
 */
export async function refine(
  tracer: Tracer,
  sight: Sight,
  so: Refinement,
  step: { seed: number; paths: number; samples: number; signal?: AbortSignalLike },
): Promise<void> {
  const { seed, paths, samples } = step;
  const common = step.signal ? { signal: step.signal } : {};
  const traced = await tracer.trace(sight.coarse.points, { seed, paths, begun: so.paths, ...common });
  const direct: Direct[] = [];
  for (let l = 0; l < so.light.length; l++) {
    // Direct light cannot go on where it stopped: another seed for each step.
    const fresh = seed + 7919 * so.steps;
    direct.push(await tracer.direct(sight.hits.points, l, { seed: fresh, samples, ...common }));
  }
  const aired: (AirLight | undefined)[] = [];
  if (so.air)
    for (const set of so.air.sets)
      aired.push(
        await airMore(tracer, sight.view, sight.hits, set, {
          ...{ seed, begun: AIR_PLACES * so.steps, places: AIR_PLACES },
          ...common,
        }),
      );
  const byPaths = paths / (so.paths + paths);
  const bySamples = samples / (so.samples + samples);
  so.light.forEach((mean, l) => {
    const more = traced.layers[l]!;
    towards(mean.bounced, more.bounced, byPaths);
    if (more.glossBounced) towards(mean.glossBounced, more.glossBounced, byPaths);
    towards(mean.direct.diffuse, direct[l]!.diffuse, bySamples);
    delete mean.direct.under;
    towards(mean.direct.gloss, direct[l]!.gloss, bySamples);
    const variance = so.variance[l]!;
    for (let c = 0; c < variance.length; c++) {
      variance[c] = variance[c]! * (1 - byPaths) ** 2 + more.variance[c]! * byPaths ** 2;
    }
  });
  if (so.air) {
    so.air.light.forEach((mean, l) => {
      const more = aired[l];
      if (!more) return;
      const share = 1 / (so.steps + 1);
      towards(mean.luminance, more.luminance, share);
      mean.behind += (more.behind - mean.behind) * share;
      mean.front += (more.front - mean.front) * share;
    });
    remember(so.air, so.steps + 1);
  }
  so.paths += paths;
  so.samples += samples;
  so.steps++;
}

/**
 * Noise of the sum of all layers as weighted by `gains` (luminous, one per layer; default 1 each). Points that get less
 * than a thousandth of the brightest are left out. The paths' own variance is used, which has direct light at one point
 * of the emitters a path: an upper bound while `samples` ≥ `paths`. Undefined until there are two paths.
 */
export function noiseOf(sight: Sight, so: Refinement, gains?: readonly number[]): Noise | undefined {
  const { coarse } = sight;
  if (so.paths < 2) return undefined;
  const points = coarse.points.count;
  const light = new Float64Array(points);
  const spread = new Float64Array(points);
  so.light.forEach(({ direct, bounced }, l) => {
    const g = gains?.[l] ?? 1;
    for (let c = 0; c < points; c++) {
      let mean = 0;
      for (let k = 0; k < SAMPLES; k++) mean += bounced[c * SAMPLES + k]! / SAMPLES;
      light[c]! += g * (mean + direct.diffuse[coarse.chosen[c]!]!);
      spread[c]! += g * g * so.variance[l]![c]!;
    }
  });
  const most = light.reduce((a, b) => Math.max(a, b), 0);
  const stops: number[] = [];
  for (let c = 0; c < points; c++) {
    if (light[c]! > 1e-3 * most) stops.push(Math.log2(1 + Math.sqrt(spread[c]!) / light[c]!));
  }
  stops.sort((a, b) => a - b);
  if (stops.length === 0) return { medianStops: 0, p90Stops: 0 };
  return { medianStops: stops[stops.length >> 1]!, p90Stops: stops[Math.floor(stops.length * 0.9)]! };
}

/**
 * Noise of what the air sends, weighed by `gains`, in a picture of those luminances (3 × n, XYZ), stops: one sigma at
 * the middle one of its pixels, from the way that its mean has gone since a quarter to a half of the steps were done
 * (of independent ones the variance of that way is (n − s)/(n s) of one's, of the mean 1/n; evenly spread ones do no
 * worse). Undefined: the air is clear, or there are not two steps yet.
 */
export function airNoiseOf(so: Refinement, gains: readonly number[], xyz: Float32Array): number | undefined {
  const { air, steps } = so;
  if (!air || air.earlier.steps === 0) return undefined;
  let most = 0;
  for (let p = 1; p < xyz.length; p += 3) most = Math.max(most, xyz[p]!);
  const then = air.earlier.steps;
  // Half of all normal deviates are under 0.6745 sigma.
  const scale = Math.sqrt(then / (steps - then)) / 0.6745;
  const ways: number[] = [];
  for (let p = 0; 3 * p < xyz.length; p++) {
    const whole = xyz[3 * p + 1]!;
    if (!(whole > 1e-3 * most)) continue;
    let way = 0;
    air.light.forEach((l, i) => {
      way += (gains[i] ?? 1) * (l.luminance[p]! - air.earlier.luminance[i]![p]!);
    });
    ways.push(Math.abs(way) / whole);
  }
  ways.sort((a, b) => a - b);
  return ways.length ? Math.log2(1 + scale * ways[ways.length >> 1]!) : 0;
}
