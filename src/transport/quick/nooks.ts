/**
 * Nooks: places where much of what a point sees is near it (under hair, in an eye's corner, beside the nose). There
 * bounced light changes within a few pixels, so they get gather points of their own, at half the picture's size; and
 * a patch's mean says little of the bit of it that lies inside a nook.
 */
import { NEAR, NO_PATCH } from '../intersect.ts';
import { type NearLinks, plainSums } from '../sums.ts';
import type { Hits } from '../tracer.ts';
import type { Patches } from './patches.ts';
import type { Neighbours, Thin } from './thin.ts';
import { joined, likeness, neighboursOf, pick, putTaps, TAP_UNIT, TAPS } from './thin.ts';

/** Near: within so many blocks of the thin picture, and within this distance always. */
const REACH_BLOCKS = 2.5;
const REACH_M = 0.04;
/** A point stands in a nook if this share of its links are near, or if near shares about it differ by so much. */
const CROWDED = 0.4;
const UNEVEN = 0.2;
/** Points added at most, for each of the thin picture's own. */
const MOST = 1;

/**
 * Share of a near link's light that is its patch's mean; the rest comes from a surface lit like the point itself.
 * Judged by paths on both demos, 150 points each of skin, edges and the whole picture of six angles: with a quarter to
 * a half, points whose links are mostly near have no bias; with all they read up to a stop high, with none as much low.
 */
const MEAN_SHARE = 1 / 3;

/** A mended point is doubtful if it has so many times the light that comes from afar. */
const DOUBTFUL = 2.5;

/** What a sight knows of its nooks. */
export interface Nooks {
  /** Number of the first point that was added to the thin picture. */
  first: number;
  /** Per link of all its points: 1 where it is near. */
  near: Uint8Array;
}

/** Distance within which a surface counts as near to a point in a block of this size. */
export const reachM = (sideM: number): number => Math.max(REACH_M, REACH_BLOCKS * sideM);

/** The same per point, metres. `perBlock`: blocks of the thin picture along one of `thin`. */
export const nearOf = (thin: Thin, perBlock = 1): Float32Array =>
  thin.footprintM.map((side) => reachM(perBlock * side));

/** Takes the mark of nearness off the links; returns where it stood. */
export function takeNear(links: Uint32Array): Uint8Array {
  const near = new Uint8Array(links.length);
  for (let i = 0; i < links.length; i++) {
    const l = links[i]!;
    if (l < NEAR || l === NO_PATCH) continue;
    links[i] = l - NEAR;
    near[i] = 1;
  }
  return near;
}

/** Share of each point's links that are near, 0–1. */
export function crowding(near: Uint8Array, per: number): Float32Array {
  const out = new Float32Array(near.length / per);
  for (let i = 0; i < out.length; i++) {
    let sum = 0;
    for (let l = i * per; l < (i + 1) * per; l++) sum += near[l]!;
    out[i] = sum / per;
  }
  return out;
}

/** How much crowding differs among a point and what is like it in the blocks about. */
function spreadOf({ width, height, start, points, footprintM }: Thin, crowd: Float32Array): Float32Array {
  const out = new Float32Array(points.count);
  for (let by = 0; by < height; by++) {
    for (let bx = 0; bx < width; bx++) {
      for (let c = start[by * width + bx]!; c < start[by * width + bx + 1]!; c++) {
        let low = 1;
        let high = 0;
        for (let y = Math.max(0, by - 1); y <= Math.min(height - 1, by + 1); y++) {
          for (let x = Math.max(0, bx - 1); x <= Math.min(width - 1, bx + 1); x++) {
            for (let d = start[y * width + x]!; d < start[y * width + x + 1]!; d++) {
              if (d !== c && likeness(points, c, points, d, footprintM[c]!) < 0.05) continue;
              low = Math.min(low, crowd[d]!);
              high = Math.max(high, crowd[d]!);
            }
          }
        }
        out[c] = high - low;
      }
    }
  }
  return out;
}

/** The thin picture `coarse` with the points of `fine` that stand in nooks, and the numbers those have in `fine`. */
export function withNooks(
  hits: Hits,
  coarse: Thin,
  fine: Thin,
  crowd: Float32Array,
): { thin: Thin; added: Uint32Array } {
  const n = hits.points.count;
  const spread = spreadOf(coarse, crowd);
  const crowdAt = (i: number): number => {
    let sum = 0;
    for (let t = i * TAPS; t < (i + 1) * TAPS; t++) {
      const c = coarse.tap[t]!;
      sum += coarse.tapWeight[t]! * Math.max(crowd[c]! / CROWDED, spread[c]! / UNEVEN);
    }
    return sum / TAP_UNIT;
  };
  let nooks: { c: number; crowd: number }[] = [];
  for (let c = 0; c < fine.points.count; c++) {
    const k = crowdAt(fine.chosen[c]!);
    if (k >= 1) nooks.push({ c, crowd: k });
  }
  const most = MOST * coarse.points.count;
  if (nooks.length > most)
    nooks = nooks
      .sort((a, b) => b.crowd - a.crowd)
      .slice(0, most)
      .sort((a, b) => a.c - b.c);
  const added = Uint32Array.from(nooks, ({ c }) => c);
  if (added.length === 0) return { thin: coarse, added };

  // Points of the full picture that have mostly such points about them take them alone.
  const first = coarse.points.count;
  const place = new Int32Array(fine.points.count).fill(-1);
  added.forEach((c, i) => {
    place[c] = first + i;
  });
  const best = new Int32Array(TAPS);
  const weight = new Float64Array(TAPS);
  const tap = coarse.tap.slice();
  const tapWeight = coarse.tapWeight.slice();
  for (let i = 0; i < n; i++) {
    const o = i * TAPS;
    let sum = 0;
    for (let t = o; t < o + TAPS; t++) if (place[fine.tap[t]!]! >= 0) sum += fine.tapWeight[t]!;
    if (sum < TAP_UNIT / 2) continue;
    for (let t = 0; t < TAPS; t++) {
      best[t] = place[fine.tap[o + t]!]!;
      weight[t] = best[t]! >= 0 ? fine.tapWeight[o + t]! : 0;
    }
    putTaps({ tap, tapWeight }, i, best, weight);
  }
  const footprintM = new Float32Array(first + added.length);
  footprintM.set(coarse.footprintM);
  added.forEach((c, i) => {
    footprintM[first + i] = fine.footprintM[c]!;
  });
  return {
    added,
    thin: {
      ...coarse,
      points: joined(coarse.points, pick(fine.points, added)),
      chosen: Uint32Array.from([...coarse.chosen, ...Array.from(added, (c) => fine.chosen[c]!)]),
      pixel: Uint32Array.from([...coarse.pixel, ...Array.from(added, (c) => fine.pixel[c]!)]),
      footprintM,
      tap,
      tapWeight,
    },
  };
}

/** Neighbours of the added points among themselves, after those of the others. */
export function nookNeighbours(
  near: Neighbours,
  fine: Thin,
  added: Uint32Array,
  first: number,
  crowd: Float32Array,
): Neighbours {
  const aside = new Float32Array(fine.points.count).fill(-1);
  const place = new Uint32Array(fine.points.count);
  added.forEach((c, i) => {
    aside[c] = crowd[i]!;
    place[c] = first + i;
  });
  const more = neighboursOf(fine, 1, aside);
  const at = near.number.length;
  const start = new Uint32Array(first + added.length + 1);
  start.set(near.start.subarray(0, first + 1));
  const number = new Uint32Array(at + more.number.length);
  number.set(near.number);
  const weight = new Float32Array(number.length);
  weight.set(near.weight);
  weight.set(more.weight, at);
  added.forEach((c, i) => {
    start[first + i + 1] = at + more.start[c + 1]!;
    for (let e = more.start[c]!; e < more.start[c + 1]!; e++) number[at + e] = place[more.number[e]!]!;
  });
  return { start, number, weight };
}

const closeLinks = new WeakMap<Uint8Array, NearLinks>();
/** The links that are near, by point; looked for once, for all layers of a sight. */
function closeOf(near: Uint8Array, links: Uint32Array, per: number): NearLinks {
  let close = closeLinks.get(near);
  if (!close) {
    const point: number[] = [];
    const start: number[] = [0];
    const patch: number[] = [];
    for (let c = 0; c < near.length / per; c++) {
      for (let l = c * per; l < (c + 1) * per; l++) if (near[l] !== 0) patch.push(links[l]!);
      if (patch.length === start[point.length]) continue;
      point.push(c);
      start.push(patch.length);
    }
    close = {
      point: Uint32Array.from(point),
      start: Uint32Array.from(start),
      patch: Uint32Array.from(patch),
    };
    closeLinks.set(near, close);
  }
  return close;
}

/**
 * Mends bounced light where links are near, 12 numbers a point: near surfaces are lit by a third as their
 * patch's mean, else as the point itself is, by what bounces (they light each other) and directly. `direct`: lux of
 * the same layer, per point of the full picture. Returns the points of which that says little, the worst first: most
 * of their light would be what near patches send on the mean, and those may be lit on their other side alone.
 */
export function mendNooks(
  { near }: Nooks,
  thin: Thin,
  patches: Patches,
  exitance: Float32Array,
  links: Uint32Array,
  per: number,
  direct: Float32Array,
  bounced: Float32Array,
  sums = plainSums,
): Uint32Array {
  const close = closeOf(near, links, per);
  const lux = Float32Array.from(close.point, (c) => direct[thin.chosen[c]!]!);
  const own = (1 - MEAN_SHARE) / per;
  const times = sums.mend(close, exitance, patches.reflectance, own, MEAN_SHARE, lux, bounced);
  const doubtful: { c: number; times: number }[] = [];
  for (let i = 0; i < times.length; i++)
    if (times[i]! > DOUBTFUL) doubtful.push({ c: close.point[i]!, times: times[i]! });
  doubtful.sort((a, b) => b.times - a.times);
  return Uint32Array.from(doubtful, ({ c }) => c);
}
