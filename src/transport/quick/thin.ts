/**
 * A picture thinned out: in every block of pixels one point for each surface seen there, and how to get from their
 * values back to every point of the picture. Knows geometry only, so it holds for all layers of an angle.
 */
import { pointsOf } from '../points.ts';
import type { View } from '../scene.ts';
import type { Shares } from '../sums.ts';
import type { Hits, SurfacePoints } from '../tracer.ts';

/** Points of the thin picture that a point of the full one is mixed from. */
export const TAPS = 4;
/** What the weights of a point's taps add up to. */
export const TAP_UNIT = 255;

export interface Thin {
  /** Pixels along a block's side. */
  block: number;
  /** Pixels across the full picture. */
  fullWidth: number;
  /** Blocks across and down. */
  width: number;
  height: number;
  /** width × height + 1: points of block b are start[b] … start[b + 1]-1. */
  start: Uint32Array;
  /** The chosen points, by themselves. */
  points: SurfacePoints;
  /** Per chosen point: its number in the full picture; the pixel it stands in. */
  chosen: Uint32Array;
  pixel: Uint32Array;
  /** Per chosen point: side of a block's footprint at its distance, metres. */
  footprintM: Float32Array;
  /** TAPS per point of the full picture: numbers of chosen points, and weights that add up to TAP_UNIT. */
  tap: Uint32Array;
  tapWeight: Uint8Array;
  /** Points of the full picture that no chosen point stands for well. */
  orphans: Uint32Array;
}

/** A list of points cut out of another. */
export function pick(points: SurfacePoints, numbers: Uint32Array): SurfacePoints {
  const out = pointsOf(numbers.length);
  if (points.grain) out.grain = new Float32Array(numbers.length * 3);
  for (let i = 0; i < numbers.length; i++) {
    const p = numbers[i]!;
    for (let x = 0; x < 3; x++) {
      out.position[i * 3 + x] = points.position[p * 3 + x]!;
      out.faceNormal[i * 3 + x] = points.faceNormal[p * 3 + x]!;
      out.normal[i * 3 + x] = points.normal[p * 3 + x]!;
      out.toEye[i * 3 + x] = points.toEye[p * 3 + x]!;
      if (out.grain) out.grain[i * 3 + x] = points.grain![p * 3 + x]!;
    }
    out.material[i] = points.material[p]!;
    out.patch[i] = points.patch[p]!;
  }
  return out;
}

/** Two lists of points as one. */
export function joined(a: SurfacePoints, b: SurfacePoints): SurfacePoints {
  const out = pointsOf(a.count + b.count);
  for (const name of ['position', 'faceNormal', 'normal', 'toEye'] as const) {
    out[name].set(a[name]);
    out[name].set(b[name], a.count * 3);
  }
  if (a.grain || b.grain) {
    out.grain = new Float32Array(out.count * 3);
    if (a.grain) out.grain.set(a.grain);
    if (b.grain) out.grain.set(b.grain, a.count * 3);
  }
  for (const name of ['material', 'patch'] as const) {
    out[name].set(a[name]);
    out[name].set(b[name], a.count);
  }
  return out;
}

/** Surfaces of a block kept apart at most. */
const MOST = 4;
/** Two points are one surface if their normals' cosine is above this and each lies near the other's plane. */
const ALIKE = 0.85;

/**
 * How well point `b` stands for point `a` (numbers in two lists), 0–1: by normals and by distance from a's plane,
 * counted in `sizeM`.
 */
export function likeness(A: SurfacePoints, a: number, B: SurfacePoints, b: number, sizeM: number): number {
  const i = a * 3;
  const j = b * 3;
  const { normal: n, faceNormal: f, position: x } = A;
  const { normal: m, position: y } = B;
  const dot = n[i]! * m[j]! + n[i + 1]! * m[j + 1]! + n[i + 2]! * m[j + 2]!;
  if (dot <= 0) return 0;
  const off =
    ((y[j]! - x[i]!) * f[i]! + (y[j + 1]! - x[i + 1]!) * f[i + 1]! + (y[j + 2]! - x[i + 2]!) * f[i + 2]!) /
    sizeM;
  if (off > 3 || off < -3) return 0;
  const d2 = dot * dot;
  const d4 = d2 * d2;
  return (d4 * d4) / (1 + off * off * off * off * 4);
}

/** Pixels of a block, its middle first. */
function fromTheMiddle(block: number): number[] {
  const middle = (block - 1) / 2;
  const far = (i: number): number =>
    Math.hypot((i % block) - middle + 1e-3, Math.floor(i / block) - middle + 2e-3);
  return Array.from({ length: block * block }, (_, i) => i).sort((a, b) => far(a) - far(b));
}

export function thin(hits: Hits, view: View, block: number): Thin {
  const { width: w, height: h, points, pixelStart, depth } = hits;
  const width = Math.ceil(w / block);
  const height = Math.ceil(h / block);
  const sizeAt = (2 * view.tanV * block) / h;
  const start = new Uint32Array(width * height + 1);
  const chosen: number[] = [];
  const pixel: number[] = [];
  const order = fromTheMiddle(block);

  // Choose: from the middle of each block outward, a point of every surface that is not there yet.
  for (let by = 0; by < height; by++) {
    for (let bx = 0; bx < width; bx++) {
      const first = chosen.length;
      for (const o of order) {
        const x = bx * block + (o % block);
        const y = by * block + Math.floor(o / block);
        if (x >= w || y >= h) continue;
        const p = y * w + x;
        for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++) {
          if (chosen.length - first >= MOST) break;
          let known = false;
          for (let c = first; c < chosen.length && !known; c++) {
            known = likeness(points, chosen[c]!, points, i, sizeAt * depth[i]!) > ALIKE ** 8;
          }
          if (known) continue;
          chosen.push(i);
          pixel.push(p);
        }
      }
      start[by * width + bx + 1] = chosen.length;
    }
  }
  const numbers = Uint32Array.from(chosen);
  const out: Thin = {
    block,
    fullWidth: w,
    width,
    height,
    start,
    points: pick(points, numbers),
    chosen: numbers,
    pixel: Uint32Array.from(pixel),
    footprintM: Float32Array.from(numbers, (i) => sizeAt * depth[i]!),
    tap: new Uint32Array(points.count * TAPS),
    tapWeight: new Uint8Array(points.count * TAPS),
    orphans: new Uint32Array(0),
  };
  fillTaps(hits, out, sizeAt);
  return out;
}

/** Finds for every point of the full picture the chosen points around it that stand for it. */
function fillTaps(hits: Hits, thin: Thin, sizeAt: number): void {
  const { width: w, height: h, points, pixelStart, depth } = hits;
  const { block, width, height, start } = thin;
  const reach = block * 1.25;
  const best = new Int32Array(TAPS);
  const weight = new Float64Array(TAPS);
  const orphans: number[] = [];
  for (let y = 0; y < h; y++) {
    // The two blocks nearest each way.
    const up = Math.floor((y - (block - 1) / 2) / block);
    const y0 = Math.max(0, up);
    const y1 = Math.min(height - 1, up + 1);
    for (let x = 0; x < w; x++) {
      const left = Math.floor((x - (block - 1) / 2) / block);
      const x0 = Math.max(0, left);
      const x1 = Math.min(width - 1, left + 1);
      const p = y * w + x;
      for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++) {
        best.fill(-1);
        weight.fill(0);
        let nearest = -1;
        let nearestBy = -1;
        const size = sizeAt * depth[i]!;
        for (let by = y0; by <= y1; by++) {
          for (let bx = x0; bx <= x1; bx++) {
            for (let c = start[by * width + bx]!; c < start[by * width + bx + 1]!; c++) {
              const q = thin.pixel[c]!;
              const qx = q % w;
              const dx = Math.abs(qx - x);
              const dy = Math.abs((q - qx) / w - y);
              const tent = Math.max(0, 1 - dx / reach) * Math.max(0, 1 - dy / reach);
              const like = thin.chosen[c] === i ? 1 : likeness(points, i, thin.points, c, size);
              if (like + 1e-3 * tent > nearestBy) {
                nearestBy = like + 1e-3 * tent;
                nearest = c;
              }
              const by = tent * like;
              if (by <= weight[TAPS - 1]!) continue;
              let t = TAPS - 1;
              while (t > 0 && weight[t - 1]! < by) {
                weight[t] = weight[t - 1]!;
                best[t] = best[t - 1]!;
                t--;
              }
              weight[t] = by;
              best[t] = c;
            }
          }
        }
        const sum = weight[0]! + weight[1]! + weight[2]! + weight[3]!;
        const o = i * TAPS;
        if (sum < 0.02) {
          orphans.push(i);
          if (nearest >= 0) {
            thin.tap[o] = nearest;
            thin.tapWeight[o] = TAP_UNIT;
          }
          continue;
        }
        putTaps(thin, i, best, weight);
      }
    }
  }
  thin.orphans = Uint32Array.from(orphans);
}

/** Sets what point `i` of the full picture is mixed from: numbers and weights of any sum; heaviest first, nothings last. */
export function putTaps(
  thin: Pick<Thin, 'tap' | 'tapWeight'>,
  i: number,
  number: Int32Array,
  weight: Float64Array,
): void {
  for (let t = 1; t < TAPS; t++) {
    for (let u = t; u > 0 && weight[u]! > weight[u - 1]!; u--) {
      [weight[u], weight[u - 1]] = [weight[u - 1]!, weight[u]!];
      [number[u], number[u - 1]] = [number[u - 1]!, number[u]!];
    }
  }
  let sum = 0;
  for (let t = 0; t < TAPS; t++) sum += weight[t]!;
  if (!(sum > 0)) return;
  let left = TAP_UNIT;
  for (let t = TAPS - 1; t >= 0; t--) {
    const share = t === 0 ? left : Math.min(left, Math.round((weight[t]! / sum) * TAP_UNIT));
    thin.tap[i * TAPS + t] = share > 0 ? number[t]! : number[0]!;
    thin.tapWeight[i * TAPS + t] = share;
    left -= share;
  }
}

/** Which points each is smoothed with: neighbours within some blocks that are like it. Weights add up to 1 for each. */
export type Neighbours = Shares;

/**
 * `aside` per point, 0–1: two points that differ by 1 / `APART` in it are not alike, however they lie; below 0: the
 * point is left out.
 */
export function neighboursOf(thin: Thin, radius: number, aside?: Float32Array): Neighbours {
  const { width, height, start, points, footprintM } = thin;
  const n = start[width * height]!;
  const out = new Uint32Array(n + 1);
  const number: number[] = [];
  const weight: number[] = [];
  for (let by = 0; by < height; by++) {
    for (let bx = 0; bx < width; bx++) {
      for (let c = start[by * width + bx]!; c < start[by * width + bx + 1]!; c++) {
        const first = number.length;
        let sum = 0;
        out[c + 1] = first;
        const own = aside?.[c] ?? 0;
        if (own < 0) continue;
        for (let y = Math.max(0, by - radius); y <= Math.min(height - 1, by + radius); y++) {
          for (let x = Math.max(0, bx - radius); x <= Math.min(width - 1, bx + radius); x++) {
            const far = Math.max(Math.abs(x - bx), Math.abs(y - by)) / (radius + 1);
            for (let d = start[y * width + x]!; d < start[y * width + x + 1]!; d++) {
              const off = Math.abs((aside?.[d] ?? 0) - own) * APART;
              if (off >= 1 || (aside?.[d] ?? 0) < 0) continue;
              const like = d === c ? 1 : likeness(points, c, points, d, footprintM[c]!);
              const k = like * (1 - far * far) * (1 - off);
              if (k < 0.05) continue;
              number.push(d);
              weight.push(k);
              sum += k;
            }
          }
        }
        for (let i = first; i < number.length; i++) weight[i]! /= sum;
        out[c + 1] = number.length;
      }
    }
  }
  return { start: out, number: Uint32Array.from(number), weight: Float32Array.from(weight) };
}

/** How soon points that differ in what is `aside` stop being alike. */
const APART = 3;
