/**
 * The bounce field: what leaves every patch of one layer's light after any number of bounces, at 12 wavelengths.
 *
 * M = ρ (E + G M): E direct illuminance (the same at all wavelengths), G the mean over a patch's links. Solved as the
 * series of bounces; the tail, whose shape by then is that of the slowest mode, is summed in closed form.
 */
import { SAMPLES } from '../../colour/spectrum.ts';
import { NO_PATCH } from '../intersect.ts';
import type { Patches } from './patches.ts';
import type { Sheen } from './sheen.ts';
import { addSheen } from './sheen.ts';

export interface Field {
  /** 12 × (patches + 1): exitance, lux-like: lm/m² that leave, for a flat spectrum. The last twelve are zero. */
  exitance: Float32Array;
  /** Bounces that were followed one by one. */
  bounces: number;
  /** Largest share of the whole that the summed tail had, over wavelengths. */
  tail: number;
}

/** Links with "nothing" as the number `patches`, where fields hold zeros: no branch is needed. */
export function closedLinks(links: Uint32Array, patches: number): Uint32Array {
  const out = new Uint32Array(links.length);
  for (let i = 0; i < out.length; i++) out[i] = links[i] === NO_PATCH ? patches : links[i]!;
  return out;
}

/**
 * out[i] = mean over the `per` links of item i of `value`, 12 numbers each, for items `from` … `to - 1`. `links`
 * closed; `value` 12 × (patches + 1).
 */
export function gatherLinks(
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

/** Bounces followed one by one at most; the tail takes over once it has settled. */
const MOST = 60;
/** The tail's rate counts as settled when it changes by less than this from bounce to bounce. */
const SETTLED = 0.004;
/** Under this share of the whole the tail is not worth following. */
const FAINT = 1e-4;

/**
 * `direct`: lux per patch. `links`: closed, `per` a patch. Exact in an even furnace: E / (1 - ρ) falls everywhere.
 * With `sheen` the gloss of the patches that have it sends their direct light on in a lobe, which `exitance` lacks.
 * `most`: bounces followed one by one at most; the rest is the tail.
 */
export function solve(
  patches: Patches,
  links: Uint32Array,
  per: number,
  direct: Float32Array,
  sheen?: Sheen,
  most = MOST,
): Field {
  const n = patches.count;
  const rho = patches.reflectance;
  const whole = new Float32Array((n + 1) * SAMPLES);
  let term = new Float32Array((n + 1) * SAMPLES);
  let next = new Float32Array((n + 1) * SAMPLES);
  const flux = (values: Float32Array): Float64Array => {
    const sums = new Float64Array(SAMPLES);
    for (let p = 0; p < n; p++) {
      const area = patches.areaM2[p]!;
      for (let k = 0; k < SAMPLES; k++) sums[k]! += area * values[p * SAMPLES + k]!;
    }
    return sums;
  };

  // What leaves after the first bounce.
  for (let p = 0; p < n; p++) {
    const first = sheen && sheen.lux[p]! > 0 ? patches.matte : rho;
    for (let k = 0; k < SAMPLES; k++) term[p * SAMPLES + k] = first[p * SAMPLES + k]! * direct[p]!;
  }
  whole.set(term);
  let before = flux(term);
  const total = Float64Array.from(before);
  let rate = new Float64Array(SAMPLES);
  let bounces = 1;
  let tail = 0;
  while (bounces < most) {
    // One bounce more.
    gatherLinks(links, per, term, 0, n, next);
    if (sheen && bounces === 1) addSheen(sheen, patches, patches.centroid, links, per, 0, n, next);
    for (let i = 0; i < n * SAMPLES; i++) {
      next[i]! *= rho[i]!;
      whole[i]! += next[i]!;
    }
    [term, next] = [next, term];
    bounces++;
    const now = flux(term);
    const rateNow = now.map((v, k) => (before[k]! > 0 ? Math.min(0.99, v / before[k]!) : 0));
    let change = 0;
    tail = 0;
    for (let k = 0; k < SAMPLES; k++) {
      total[k]! += now[k]!;
      change = Math.max(change, Math.abs(rateNow[k]! - rate[k]!));
      if (total[k]! > 0) tail = Math.max(tail, (now[k]! * rateNow[k]!) / (1 - rateNow[k]!) / total[k]!);
    }
    before = now;
    rate = rateNow;
    if (tail < FAINT || (bounces >= 5 && change < SETTLED)) break;
  }

  // All later bounces at once: a geometric series of the last one's shape.
  for (let k = 0; k < SAMPLES; k++) {
    const more = rate[k]! / (1 - rate[k]!);
    if (more > 0) for (let p = 0; p < n; p++) whole[p * SAMPLES + k]! += more * term[p * SAMPLES + k]!;
  }
  return { exitance: whole, bounces, tail };
}
