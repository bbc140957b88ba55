/**
 * The long sums of the quick light: over links, neighbours and near surfaces. Plain numbers in flat arrays, so that they
 * can be done elsewhere (`Tracer.sums`); here one by one, as the reference. Light is 12 numbers an item.
 */
import { SAMPLES } from '../colour/spectrum.ts';

/** Items' shares in others: entries start[i] … start[i + 1] - 1 are item i's. */
export interface Shares {
  start: Uint32Array;
  number: Uint32Array;
  weight: Float32Array;
}

/** The links of some points that are near (quick/nooks.ts): of the i-th of `point` entries start[i] … start[i + 1] - 1. */
export interface NearLinks {
  point: Uint32Array;
  start: Uint32Array;
  patch: Uint32Array;
}

/** A flat emitter, or for light a bare tube, as many points see it (quick/bare.ts, quick/flat.ts). */
export interface FlatEmitter {
  /** Its numbers as in `EmitterSet.f`, and its law. */
  f: Float64Array;
  law: number;
  reachM: number;
  weight: number;
  /** Few emitters: more places are asked of each. */
  alone: boolean;
  /** 4 numbers each, the last idle: offsets from the centre, metres (of a tube as flat.ts says): for light of its
   * middle, of four places and of sixteen; for rays of each. */
  places: Float64Array;
}

/**
 * Adds the unshadowed light of a flat emitter to points `from` … `to - 1` of `out`, as `addBare` does one by one. Left
 * out are those with a `hair`; the gloss of those that are put into `sharp`, which the emitter is too wide for.
 */
export type FlatLight = (
  emitter: FlatEmitter,
  points: { position: Float32Array; normal: Float32Array; toEye: Float32Array; material: Uint16Array },
  gloss: { f0: Float64Array; alpha: Float64Array },
  from: number,
  to: number,
  into: {
    hair: Uint8Array | undefined;
    out: { diffuse: Float32Array; gloss: Float32Array };
    sharp: number[];
  },
) => void;

/**
 * Rays `first` … `first + rays - 1` of each of `turn.length` points to places of a flat emitter, whose place 16 × turn +
 * ray stands in `emitter.places`: as quick/places.ts asks them one by one.
 */
export type FlatRays = (
  emitter: FlatEmitter,
  points: { position: Float32Array; normal: Float32Array; faceNormal: Float32Array; turn: Uint8Array },
  first: number,
  rays: number,
) => {
  /** 3 × rays each, metres. */
  from: Float32Array;
  to: Float32Array;
  /** Per ray: lux that it brings if it gets through; whose it is. */
  lux: Float32Array;
  owner: Uint32Array;
  /** Per point: lux of all rays, and of those that lie behind its face. */
  whole: Float32Array;
};

export interface Sums {
  /**
   * out[i] = mean over the `per` links of item i of `value`, for items `from` … `to - 1`. `links` closed: every number
   * stands in `value`.
   */
  gather(
    links: Uint32Array,
    per: number,
    value: Float32Array,
    from: number,
    to: number,
    out: Float32Array,
  ): void;
  /** What leaves patches of what falls on them: next ×= rho, whole += next; returns Σ area × next, 12 numbers. */
  leave(rho: Float32Array, areaM2: Float64Array, next: Float32Array, whole: Float32Array): Float64Array;
  /** out[c] = Σ weight × values[number] over the shares of c. */
  smooth(near: Shares, values: Float32Array, out: Float32Array): void;
  /**
   * Mends the light `bounced` of points with near links. `own`: what a link counts for, times its share that is lit as
   * the point is; `meanShare`: the rest of it. `lux` per entry of `near.point`. Returns per entry how many times what
   * is sure the mended light is.
   */
  mend(
    near: NearLinks,
    exitance: Float32Array,
    rho: Float32Array,
    own: number,
    meanShare: number,
    lux: Float32Array,
    bounced: Float32Array,
  ): Float32Array;
  /** Absent: point by point. */
  flatLight?: FlatLight;
  flatRays?: FlatRays;
}

export const plainSums: Sums = { gather, leave, smooth, mend };

function gather(
  links: Uint32Array,
  per: number,
  value: Float32Array,
  from: number,
  to: number,
  out: Float32Array,
): void {
  const scale = 1 / per;
  for (let i = from; i < to; i++) {
    let a0 = 0;
    let a1 = 0;
    let a2 = 0;
    let a3 = 0;
    let a4 = 0;
    let a5 = 0;
    let a6 = 0;
    let a7 = 0;
    let a8 = 0;
    let a9 = 0;
    let a10 = 0;
    let a11 = 0;
    const end = (i + 1) * per;
    for (let l = i * per; l < end; l++) {
      const o = links[l]! * 12;
      a0 += value[o]!;
      a1 += value[o + 1]!;
      a2 += value[o + 2]!;
      a3 += value[o + 3]!;
      a4 += value[o + 4]!;
      a5 += value[o + 5]!;
      a6 += value[o + 6]!;
      a7 += value[o + 7]!;
      a8 += value[o + 8]!;
      a9 += value[o + 9]!;
      a10 += value[o + 10]!;
      a11 += value[o + 11]!;
    }
    const o = i * 12;
    out[o] = a0 * scale;
    out[o + 1] = a1 * scale;
    out[o + 2] = a2 * scale;
    out[o + 3] = a3 * scale;
    out[o + 4] = a4 * scale;
    out[o + 5] = a5 * scale;
    out[o + 6] = a6 * scale;
    out[o + 7] = a7 * scale;
    out[o + 8] = a8 * scale;
    out[o + 9] = a9 * scale;
    out[o + 10] = a10 * scale;
    out[o + 11] = a11 * scale;
  }
}

function leave(
  rho: Float32Array,
  areaM2: Float64Array,
  next: Float32Array,
  whole: Float32Array,
): Float64Array {
  const flux = new Float64Array(SAMPLES);
  for (let p = 0; p < areaM2.length; p++) {
    for (let k = 0, i = p * SAMPLES; k < SAMPLES; k++, i++) {
      next[i]! *= rho[i]!;
      whole[i]! += next[i]!;
      flux[k]! += areaM2[p]! * next[i]!;
    }
  }
  return flux;
}

function smooth({ start, number, weight }: Shares, values: Float32Array, out: Float32Array): void {
  const sums = new Float64Array(SAMPLES);
  for (let c = 0; c < start.length - 1; c++) {
    sums.fill(0);
    for (let e = start[c]!; e < start[c + 1]!; e++) {
      const o = number[e]! * SAMPLES;
      for (let k = 0; k < SAMPLES; k++) sums[k]! += weight[e]! * values[o + k]!;
    }
    for (let k = 0; k < SAMPLES; k++) out[c * SAMPLES + k] = sums[k]!;
  }
}

function mend(
  { point, start, patch }: NearLinks,
  exitance: Float32Array,
  rho: Float32Array,
  own: number,
  meanShare: number,
  lux: Float32Array,
  bounced: Float32Array,
): Float32Array {
  const times = new Float32Array(point.length);
  const seen = new Float64Array(SAMPLES);
  const back = new Float64Array(SAMPLES);
  for (let i = 0; i < point.length; i++) {
    seen.fill(0);
    back.fill(0);
    for (let e = start[i]!; e < start[i + 1]!; e++) {
      const p = patch[e]! * SAMPLES;
      for (let k = 0; k < SAMPLES; k++) {
        seen[k]! += own * exitance[p + k]!;
        back[k]! += own * rho[p + k]!;
      }
    }
    let all = 0;
    let sure = 0;
    for (let k = 0, b = point[i]! * SAMPLES; k < SAMPLES; k++, b++) {
      const raw = bounced[b]!;
      const mended = (Math.max(0, raw - seen[k]!) + back[k]! * lux[i]!) / (1 - back[k]!);
      bounced[b] = mended;
      all += mended;
      sure += Math.max(0, raw - seen[k]! / (1 - meanShare));
    }
    times[i] = all > 0 ? all / (sure + 1e-9 * all) : 0;
  }
  return times;
}
