/**
 * The bounce field: what leaves every patch of one layer's light after any number of bounces, at 12 wavelengths.
 *
 * M = ρ (E + G M): E direct illuminance (the same at all wavelengths), G the mean over a patch's links. Solved as the
 * series of bounces; the tail, whose shape by then is that of the slowest mode, is summed in closed form.
 */
import { SAMPLES } from '../../colour/spectrum.ts';
import { NO_PATCH } from '../intersect.ts';
import { plainSums } from '../sums.ts';
import type { Patches } from './patches.ts';
import type { Sheen } from './sheen.ts';
import { addSheen, leavesInLobes } from './sheen.ts';

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
  sums = plainSums,
): Field {
  const n = patches.count;
  const rho = patches.reflectance;
  const whole = new Float32Array((n + 1) * SAMPLES);
  let term = new Float32Array((n + 1) * SAMPLES);
  let next = new Float32Array((n + 1) * SAMPLES);

  // What leaves after the first bounce.
  for (let p = 0; p < n; p++) term.fill(direct[p]!, p * SAMPLES, (p + 1) * SAMPLES);
  let first = rho;
  if (sheen) {
    first = rho.slice();
    for (let p = 0; p < n; p++) {
      if (!leavesInLobes(sheen, p)) continue;
      first.set(patches.matte.subarray(p * SAMPLES, (p + 1) * SAMPLES), p * SAMPLES);
    }
  }
  let before = sums.leave(first, patches.areaM2, term, whole);
  const total = Float64Array.from(before);
  let rate = new Float64Array(SAMPLES);
  let bounces = 1;
  let tail = 0;
  while (bounces < most) {
    // One bounce more.
    sums.gather(links, per, term, 0, n, next);
    if (sheen && bounces === 1) addSheen(sheen, patches, patches.centroid, links, per, 0, n, next);
    const now = sums.leave(rho, patches.areaM2, next, whole);
    [term, next] = [next, term];
    bounces++;
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
  const more = rate.map((r) => r / (1 - r));
  for (let i = 0, k = 0; i < n * SAMPLES; i++, k = k === SAMPLES - 1 ? 0 : k + 1)
    whole[i]! += more[k]! * term[i]!;
  return { exitance: whole, bounces, tail };
}
