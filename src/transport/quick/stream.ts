/**
 * Bare light of a layer of many emitters (the cells of a lit frame): how it streams past points, smooth over a picture,
 * and its gloss by as many of them as a lobe can tell apart.
 */
import { gloss, glossRay, lobe, sampleGloss } from '../brdf.ts';
import type { EmitterSet } from '../emitter.ts';
import { mayMeet, meetEmitter, picked, STRIDE, sampleEmitter } from '../emitter.ts';
import { onHair } from '../strands.ts';
import type { FlatLight } from '../sums.ts';
import type { Direct, SurfacePoints } from '../tracer.ts';
import type { GlossTable, Stand } from './bare.ts';
import { ASKED, bareAt, FOUR, LOBE, LOBE_RAYS, reachOf, standFor } from './bare.ts';
import { pick } from './thin.ts';

/** Numbers per point of `streamAt`. */
export const STREAM = 7;

/**
 * How a layer's light streams past points: 0–2 Σ of lux × direction to the emitters, as if nothing stood in the way; 3–5
 * mean unit direction to them; 6 sine of the widest angle any part of them has to that, or 2 if one is so near that
 * the stream changes within the point's footprint. Smooth over a picture, whatever the surfaces' normals.
 */
export function streamAt(
  set: EmitterSet,
  stand: Stand,
  points: SurfacePoints,
  footprintM: Float32Array,
): Float32Array {
  const { position } = points;
  const { f } = set;
  const n = stand.emitter.length;
  const out = new Float32Array(points.count * STREAM);
  const dirs = new Float64Array(n * 4);
  for (let p = 0; p < points.count; p++) {
    const px = position[p * 3]!;
    const py = position[p * 3 + 1]!;
    const pz = position[p * 3 + 2]!;
    let [x, y, z, mx, my, mz] = [0, 0, 0, 0, 0, 0];
    let near = false;
    let used = 0;
    for (let s = 0; s < n; s++) {
      const e = stand.emitter[s]!;
      const b = e * STRIDE;
      const reach = reachOf(set, e);
      const dx = f[b]! - px;
      const dy = f[b + 1]! - py;
      const dz = f[b + 2]! - pz;
      const d = Math.sqrt(dx * dx + dy * dy + dz * dz);
      if (d < 2 * reach || d < 10 * footprintM[p]!) near = true;
      let lit = false;
      for (let k = 0; k < 4; k++) {
        if (!sampleEmitter(set, e, px, py, pz, FOUR[2 * k]!, FOUR[2 * k + 1]!)) continue;
        const w = (stand.weight[s]! * picked[4]!) / 4;
        x += w * picked[0]!;
        y += w * picked[1]!;
        z += w * picked[2]!;
        lit = true;
      }
      if (!lit) continue;
      const o = used * 4;
      dirs[o] = dx / d;
      dirs[o + 1] = dy / d;
      dirs[o + 2] = dz / d;
      dirs[o + 3] = Math.min(1, reach / d);
      mx += dirs[o]!;
      my += dirs[o + 1]!;
      mz += dirs[o + 2]!;
      used++;
    }
    const o = p * STREAM;
    const m = Math.sqrt(mx * mx + my * my + mz * mz);
    let widest = near || !(m > 0) ? Math.PI : 0;
    if (widest === 0) {
      for (let i = 0; i < used * 4; i += 4) {
        const cos = (dirs[i]! * mx + dirs[i + 1]! * my + dirs[i + 2]! * mz) / m;
        widest = Math.max(widest, Math.acos(Math.max(-1, Math.min(1, cos))) + Math.asin(dirs[i + 3]!));
      }
    }
    out[o] = x;
    out[o + 1] = y;
    out[o + 2] = z;
    out[o + 3] = mx / (m || 1);
    out[o + 4] = my / (m || 1);
    out[o + 5] = mz / (m || 1);
    out[o + 6] = widest < 1.5 ? Math.sin(widest) : 2;
  }
  return out;
}

/** Emitters of a layer of many that stand for it in a broad gloss. */
const FEW = 8;
/**
 * Alpha over the radius of all as seen, under which so few would be seen apart, then those that stand for it, then all of
 * them by a place each, then by four (a lobe is some 2.6 alpha wide; of a square of sixty-four eight lie about half the
 * radius apart, single ones a fifth).
 */
const FEW_APART = 1.2;
const SOME_APART = 0.6;
const EACH_APART = 0.2;
const PLACES_APART = 0.055;
/** A mirror's ray that misses all of them by so many alphas sees but an even tail. */
const ASIDE = 8;

/** How the gloss of a point is asked of many emitters. */
type ManyAs = 'few' | 'some' | 'each' | 'closely' | 'lobe';
function manyAs(set: EmitterSet, alpha: number, points: SurfacePoints, p: number): ManyAs {
  const radius = Math.sqrt(Math.max(0, set.around[3]!));
  if (!Number.isFinite(radius)) return 'few';
  const { position, normal, toEye } = points;
  const o = p * 3;
  const cx = set.around[0]! - position[o]!;
  const cy = set.around[1]! - position[o + 1]!;
  const cz = set.around[2]! - position[o + 2]!;
  const d = Math.sqrt(cx * cx + cy * cy + cz * cz);
  const apart = (alpha * d) / radius;
  if (!(apart < FEW_APART)) return 'few';
  if (apart >= SOME_APART) return 'some';
  const en = 2 * (normal[o]! * toEye[o]! + normal[o + 1]! * toEye[o + 1]! + normal[o + 2]! * toEye[o + 2]!);
  const cos =
    (cx * (en * normal[o]! - toEye[o]!) +
      cy * (en * normal[o + 1]! - toEye[o + 1]!) +
      cz * (en * normal[o + 2]! - toEye[o + 2]!)) /
    d;
  const off = Math.acos(Math.max(-1, Math.min(1, cos))) - Math.asin(Math.min(1, radius / d));
  if (off > ASIDE * alpha) return 'few';
  return apart >= EACH_APART ? 'each' : apart >= PLACES_APART ? 'closely' : 'lobe';
}

/** Luminance of a layer's emitters in a lobe that is narrow against them: even places of the lobe. */
function mirrored(set: EmitterSet, f0: number, alpha: number, points: SurfacePoints, p: number): number {
  const { position, normal, toEye } = points;
  const o = p * 3;
  const [px, py, pz] = [position[o]!, position[o + 1]!, position[o + 2]!];
  const [nx, ny, nz] = [normal[o]!, normal[o + 1]!, normal[o + 2]!];
  const [ex, ey, ez] = [toEye[o]!, toEye[o + 1]!, toEye[o + 2]!];
  let sum = 0;
  for (let k = 0; k < LOBE_RAYS; k++) {
    if (!sampleGloss(alpha, nx, ny, nz, ex, ey, ez, LOBE[2 * k]!, LOBE[2 * k + 1]!)) continue;
    const [gx, gy, gz] = [glossRay[0]!, glossRay[1]!, glossRay[2]!];
    if (!mayMeet(set, px, py, pz, gx, gy, gz)) continue;
    let luminance = 0;
    for (let e = 0; e < set.count; e++)
      if (meetEmitter(set, e, px, py, pz, gx, gy, gz)) luminance += picked[6]!;
    if (luminance === 0) continue;
    gloss(f0, alpha, nx, ny, nz, gx, gy, gz, ex, ey, ez);
    if (lobe.density > 0) sum += (lobe.value * (gx * nx + gy * ny + gz * nz) * luminance) / lobe.density;
  }
  return sum / LOBE_RAYS;
}

/**
 * `bareAt` for layers of many emitters: points that have all of them above the horizon take the stream of the thin picture, those that have none stay dark, and the rest are asked one by one. `rough`: gloss of few emitters, whatever the lobe.
 */
export function bareFromStream(
  set: EmitterSet,
  stand: Stand,
  table: GlossTable,
  points: SurfacePoints,
  thin: { tap: Uint32Array; tapWeight: Uint8Array },
  stream: Float32Array,
  out: Direct,
  { rough = false, flatLight }: { rough?: boolean; flatLight?: FlatLight | undefined } = {},
): void {
  const { normal, material } = points;
  const few = standFor(set, FEW, true);
  const each = standFor(set, set.count);
  const by = { few, some: standFor(set, ASKED, true), each, closely: { ...each, closely: true } };
  const asked: Record<keyof typeof by, number[]> = { few: [], some: [], each: [], closely: [] };
  for (let i = 0; i < points.count; i++) {
    if (onHair(points, i)) {
      bareAt(set, few, table, points, i, i + 1, out);
      continue;
    }
    const o = i * 3;
    const nx = normal[o]!;
    const ny = normal[o + 1]!;
    const nz = normal[o + 2]!;
    let low = 2;
    let high = -2;
    let lux = 0;
    for (let t = i * 4; t < i * 4 + 4; t++) {
      const w = thin.tapWeight[t]!;
      if (w === 0) break;
      const a = thin.tap[t]! * STREAM;
      const to = nx * stream[a + 3]! + ny * stream[a + 4]! + nz * stream[a + 5]!;
      low = Math.min(low, to - stream[a + 6]!);
      high = Math.max(high, to + stream[a + 6]!);
      lux += w * (nx * stream[a]! + ny * stream[a + 1]! + nz * stream[a + 2]!);
    }
    if (high < 0) {
      out.diffuse[i] = 0;
      out.gloss[i] = 0;
    } else if (low > 0) {
      const f0 = table.f0[material[i]!]!;
      const alpha = table.alpha[material[i]!]!;
      out.gloss[i] = 0;
      if (f0 > 0) {
        const as = rough ? 'few' : manyAs(set, alpha, points, i);
        if (as === 'lobe') out.gloss[i] = mirrored(set, f0, alpha, points, i);
        else asked[as].push(i);
      }
      out.diffuse[i] = lux / 255;
    } else bareAt(set, stand, table, points, i, i + 1, out);
  }
  for (const as of ['few', 'some', 'each', 'closely'] as const) {
    const which = Uint32Array.from(asked[as]);
    const light = { diffuse: new Float32Array(which.length), gloss: new Float32Array(which.length) };
    const way = as === 'closely' ? undefined : flatLight;
    bareAt(set, by[as], table, pick(points, which), 0, which.length, light, way);
    which.forEach((i, k) => {
      out.gloss[i] = light.gloss[k]!;
    });
  }
}
