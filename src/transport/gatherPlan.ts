/**
 * Gather points of a picture: bounced light changes slowly, so it is worked out at one point of every block of
 * pixels, part and material, smoothed, and brought up to full size by place, facing and material.
 */
import { SAMPLES } from '../colour/spectrum.ts';
import { pointsOf } from './points.ts';
import type { Hits, SurfacePoints } from './tracer.ts';

export interface GatherPlan {
  block: number;
  /** The gather points themselves. */
  points: SurfacePoints;
  /** Hits.points.count × 4 gather points, with weights that sum to 1. */
  from: Uint32Array;
  weight: Float32Array;
  /** Gather points × 8 neighbours for smoothing, with weights (0: none). */
  near: Uint32Array;
  nearWeight: Float32Array;
}

const NEAR = 8;

/** Likeness of two points as receivers: facing, and how far apart for their distance from the eye. */
function alike(a: SurfacePoints, i: number, b: SurfacePoints, j: number, reach: number): number {
  const facing =
    a.normal[3 * i]! * b.normal[3 * j]! +
    a.normal[3 * i + 1]! * b.normal[3 * j + 1]! +
    a.normal[3 * i + 2]! * b.normal[3 * j + 2]!;
  if (facing < 0.6) return 0;
  const dx = a.position[3 * i]! - b.position[3 * j]!;
  const dy = a.position[3 * i + 1]! - b.position[3 * j + 1]!;
  const dz = a.position[3 * i + 2]! - b.position[3 * j + 2]!;
  return facing ** 8 / (1 + (dx * dx + dy * dy + dz * dz) / (reach * reach));
}

export function gatherPlan(hits: Hits, block = 4): GatherPlan {
  const { width, height, points, pixelStart, weight } = hits;
  const across = Math.ceil(width / block);
  const down = Math.ceil(height / block);
  const keyOf = (i: number) => points.material[i]! * 65536 + hits.part[i]!;

  // One point of each material and part in each block: the one that fills most, nearest the middle.
  const chosen: number[] = [];
  const lists: { key: number; gather: number; score: number }[][] = Array.from(
    { length: across * down },
    () => [],
  );
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const list = lists[((y / block) | 0) * across + ((x / block) | 0)]!;
      const off = Math.abs((x % block) - block / 2 + 0.5) + Math.abs((y % block) - block / 2 + 0.5);
      const p = y * width + x;
      for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++) {
        const key = keyOf(i);
        const score = weight[i]! - off / (4 * block);
        const seen = list.find((e) => e.key === key);
        if (!seen) list.push({ key, gather: chosen.push(i) - 1, score });
        else if (score > seen.score) {
          seen.score = score;
          chosen[seen.gather] = i;
        }
      }
    }
  const gathered = pointsOf(chosen.length);
  chosen.forEach((i, g) => {
    for (let k = 0; k < 3; k++) {
      gathered.position[3 * g + k] = points.position[3 * i + k]!;
      gathered.faceNormal[3 * g + k] = points.faceNormal[3 * i + k]!;
      gathered.normal[3 * g + k] = points.normal[3 * i + k]!;
      gathered.toEye[3 * g + k] = points.toEye[3 * i + k]!;
    }
    gathered.material[g] = points.material[i]!;
    gathered.patch[g] = points.patch[i]!;
  });

  // Every hit takes from the four nearest blocks.
  const from = new Uint32Array(points.count * 4);
  const share = new Float32Array(points.count * 4);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const p = y * width + x;
      const fx = (x + 0.5) / block - 0.5;
      const fy = (y + 0.5) / block - 0.5;
      const bx = Math.floor(fx);
      const by = Math.floor(fy);
      for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++) {
        const key = keyOf(i);
        const reach = 0.02 + 0.03 * hits.depth[i]!;
        const own = lists[((y / block) | 0) * across + ((x / block) | 0)]!.find((c) => c.key === key)!;
        let sum = 0;
        for (let k = 0; k < 4; k++) {
          from[4 * i + k] = own.gather;
          const cx = bx + (k & 1);
          const cy = by + (k >> 1);
          if (cx < 0 || cy < 0 || cx >= across || cy >= down) continue;
          const e = lists[cy * across + cx]!.find((c) => c.key === key);
          if (!e) continue;
          const w =
            ((1 - Math.abs(fx - cx)) * (1 - Math.abs(fy - cy)) + 0.01) *
            alike(points, i, gathered, e.gather, reach);
          from[4 * i + k] = e.gather;
          share[4 * i + k] = w;
          sum += w;
        }
        if (sum < 1e-9) {
          from[4 * i] = own.gather;
          share.fill(0, 4 * i, 4 * i + 4);
          share[4 * i] = 1;
        } else for (let k = 0; k < 4; k++) share[4 * i + k]! /= sum;
      }
    }

  // Neighbours over which the gathered light is smoothed.
  const near = new Uint32Array(chosen.length * NEAR);
  const nearWeight = new Float32Array(chosen.length * NEAR);
  for (let cy = 0; cy < down; cy++)
    for (let cx = 0; cx < across; cx++)
      for (const { key, gather } of lists[cy * across + cx]!) {
        const reach = 0.03 + 0.05 * hits.depth[chosen[gather]!]!;
        let k = 0;
        for (let v = -1; v <= 1; v++)
          for (let u = -1; u <= 1; u++) {
            if ((u === 0 && v === 0) || cx + u < 0 || cy + v < 0 || cx + u >= across || cy + v >= down)
              continue;
            const e = lists[(cy + v) * across + cx + u]!.find((c) => c.key === key);
            if (!e) continue;
            near[gather * NEAR + k] = e.gather;
            nearWeight[gather * NEAR + k] = alike(gathered, gather, gathered, e.gather, reach);
            k++;
          }
      }
  return { block, points: gathered, from, weight: share, near, nearWeight };
}

/** Bounced light at the gather points (count × 12), smoothed over like neighbours: takes out the links' grain. */
export function smoothed(plan: GatherPlan, bounced: Float32Array, rounds = 2): Float32Array {
  let a = bounced;
  for (let r = 0; r < rounds; r++) {
    const b = Float32Array.from(a);
    for (let g = 0; g < plan.points.count; g++) {
      let sum = 1;
      const o = g * SAMPLES;
      for (let k = g * NEAR; k < (g + 1) * NEAR; k++) {
        const w = plan.nearWeight[k]!;
        if (w <= 0) continue;
        const q = plan.near[k]! * SAMPLES;
        for (let i = 0; i < SAMPLES; i++) b[o + i]! += w * a[q + i]!;
        sum += w;
      }
      for (let i = 0; i < SAMPLES; i++) b[o + i]! /= sum;
    }
    a = b;
  }
  return a;
}
