/** How far shares of light that neighbours found may be taken together: as far as they say the same, but for chance. */

import { onHair } from '../strands.ts';
import type { Hits } from '../tracer.ts';
import type { Thin } from './thin.ts';
import { likeness } from './thin.ts';

/** Points in blocks of pixels, as kernels walk over them. */
export type Grid = Pick<
  Thin,
  'block' | 'fullWidth' | 'width' | 'height' | 'start' | 'points' | 'pixel' | 'footprintM'
>;

/** All points of a picture, in blocks of one pixel. */
export function wholeGrid(hits: Hits, thin: Thin): Grid {
  const { width, height, points, pixelStart, depth } = hits;
  const pixel = new Uint32Array(points.count);
  const footprintM = new Float32Array(points.count);
  // Twice a pixel: what lies a pixel off is as like as what lies a block off in a thinned picture.
  const size = thin.chosen.length > 0 ? (2 * thin.footprintM[0]!) / depth[thin.chosen[0]!]! / thin.block : 0;
  for (let p = 0; p < width * height; p++) {
    for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++) {
      pixel[i] = p;
      footprintM[i] = size * depth[i]!;
    }
  }
  return { block: 1, fullWidth: width, width, height, start: pixelStart, points, pixel, footprintM };
}

/** Does a share say neither all nor nothing? */
const between = (v: number): boolean => v > 0.01 && v < 0.99;
/** Shares that differ by less agree. */
const APART = 0.05;

/** Is there another share than its own among the like neighbours within `radius` blocks? Those of no rays are left out. */
export function disagree(
  grid: Grid,
  rays: Uint8Array,
  share: Float32Array,
  c: number,
  radius: number,
): boolean {
  const own = share[c]!;
  if (between(own)) return true;
  const { width, height, start, points, footprintM } = grid;
  const q = grid.pixel[c]!;
  const bx = Math.floor((q % grid.fullWidth) / grid.block);
  const by = Math.floor(q / grid.fullWidth / grid.block);
  for (let y = Math.max(0, by - radius); y <= Math.min(height - 1, by + radius); y++) {
    for (let x = Math.max(0, bx - radius); x <= Math.min(width - 1, bx + radius); x++) {
      for (let d = start[y * width + x]!; d < start[y * width + x + 1]!; d++) {
        if (rays[d] === 0 || Math.abs(share[d]! - own) < APART) continue;
        if (likeness(points, c, points, d, footprintM[c]!) > 0.1) return true;
      }
    }
  }
  return false;
}

/** A ring that differs from what it goes round by more than this many sigmas ends the kernel. */
const SIGMAS = 1.4;
/** What is left of the variance of chance rays when they are placed evenly (about N^-3/2 for N^-1, at eight rays). */
const EVENED = 0.2;

/**
 * By radius, weights by distance along each axis. Points take turns in tiles of four (places.ts): these give each turn the
 * same say, so that no lattice is left of them where the kernel has its full breadth; of a radius of one none can.
 */
const WEIGHTS: readonly (readonly number[])[] = [[1], [1, 1], [2, 2, 1], [4, 3, 2, 1]];
const WIDEST = WEIGHTS.length - 1;
const sums = new Float64Array(WIDEST + 1);
const weights = new Float64Array(WIDEST + 1);

/** How far `reachAt` went, blocks, and the mean it found there. */
export const reach = { radius: 0, mean: 0 };

/**
 * A kernel about a point grows ring by ring for as long as a ring's mean is the kernel's own, but for chance
 * [LEPSKI-1991]. A ramp of any width passes, for its ring has the mean of its middle; the foot of a
 * ramp and an edge do not, so that the dark beside a shadow's edge stays dark. `rays` per point: how many its share
 * is of; `evened`: what is left of their variance. Fills `reach`.
 */
export function reachAt(
  grid: Grid,
  rays: Uint8Array,
  share: Float32Array,
  c: number,
  widest: number,
  evened = EVENED,
): number {
  const { width, height, start, points, footprintM } = grid;
  const q = grid.pixel[c]!;
  const bx = Math.floor((q % grid.fullWidth) / grid.block);
  const by = Math.floor(q / grid.fullWidth / grid.block);
  let sum = rays[c]! * share[c]!;
  let weight = rays[c]!;
  // Means by the weights of each radius that it may come to.
  for (let r = 0; r <= WIDEST; r++) {
    sums[r] = WEIGHTS[r]![0]! ** 2 * sum;
    weights[r] = WEIGHTS[r]![0]! ** 2 * weight;
  }
  reach.radius = 0;
  // Of two strands side by side one is lit and one is not: neighbours know nothing of each other.
  const most = onHair(points, c) ? 0 : Math.min(WIDEST, widest);
  for (let r = 1; r <= most; r++) {
    let ringSum = 0;
    let ringWeight = 0;
    for (let y = Math.max(0, by - r); y <= Math.min(height - 1, by + r); y++) {
      const step = y === by - r || y === by + r ? 1 : 2 * r;
      for (let x = bx - r; x <= bx + r; x += step) {
        if (x < 0 || x >= width) continue;
        for (let d = start[y * width + x]!; d < start[y * width + x + 1]!; d++) {
          if (rays[d] === 0) continue;
          const k = rays[d]! * likeness(points, c, points, d, footprintM[c]!);
          ringSum += k * share[d]!;
          ringWeight += k;
          const dx = Math.abs(x - bx);
          const dy = Math.abs(y - by);
          for (let f = r; f <= most; f++) {
            const w = k * WEIGHTS[f]![dx]! * WEIGHTS[f]![dy]!;
            sums[f]! += w * share[d]!;
            weights[f]! += w;
          }
        }
      }
    }
    if (ringWeight >= 0.5) {
      const inner = (sum + 0.25) / (weight + 0.5);
      const ring = (ringSum + 0.25) / (ringWeight + 0.5);
      const chance = (inner * (1 - inner)) / (weight + 0.5) + (ring * (1 - ring)) / (ringWeight + 0.5);
      if ((inner - ring) ** 2 > SIGMAS * SIGMAS * evened * chance) break;
      sum += ringSum;
      weight += ringWeight;
    }
    reach.radius = r;
  }
  const whole = weights[reach.radius]!;
  reach.mean = whole > 0 ? sums[reach.radius]! / whole : share[c]!;
  return reach.radius;
}
