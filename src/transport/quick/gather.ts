/**
 * Bounced light at points: the mean of what their links see, with a few guided rays where a small hot patch matters.
 *
 * Guided and cosine rays are joined by the balance heuristic [VEACH-1995], taken per pair of point and patch (by the
 * patch's middle), so that the two weights of a pair add up to one and the sum stays unbiased for the field.
 */
import { SAMPLES } from '../../colour/spectrum.ts';
import { hash32, unit } from '../../maths/sampling.ts';
import { plainSums } from '../sums.ts';
import type { AbortSignalLike, SurfacePoints, Tracer } from '../tracer.ts';
import type { Patches } from './patches.ts';
import { POINTS_PER_PATCH } from './patches.ts';
import type { Sheen } from './sheen.ts';
import { addSheen } from './sheen.ts';
import type { Field } from './solve.ts';

/** Patches worth a ray of their own. */
export interface Guide {
  /** Numbers of the hot patches. */
  patch: Uint32Array;
  /** Chance of each, summed along; and by itself per patch of the stage (0: not hot). */
  upTo: Float64Array;
  chance: Float64Array;
  /** How unevenly light leaves the patches: mean square over squared mean by area. 1: even. */
  unevenness: number;
}

/** No patch is worth a ray. */
export const NO_GUIDE: Guide = {
  patch: new Uint32Array(0),
  upTo: new Float64Array(0),
  chance: new Float64Array(0),
  unevenness: 1,
};

/** Guided rays are sent when light leaves more unevenly than this. */
export const UNEVEN = 12;
/** Share of the squared light that the hot patches hold, and the most of them. */
const HOT_SHARE = 0.9;
const HOT_MOST = 400;

/** The mean over wavelengths of what leaves each patch. */
function meansOf({ exitance }: Field, patches: number): Float64Array {
  const out = new Float64Array(patches);
  for (let p = 0, o = 0; p < patches; p++) {
    let sum = 0;
    for (let k = 0; k < SAMPLES; k++, o++) sum += exitance[o]!;
    out[p] = sum / SAMPLES;
  }
  return out;
}

/** A patch that no link meets still counts as met a little: chance may have missed it. */
const UNMET = 0.25;
/** How often the links of a picture meet each patch; counted once, for all layers. */
const met = new WeakMap<Uint32Array, Float64Array>();
function metBy(links: Uint32Array, patches: number): Float64Array {
  let out = met.get(links);
  if (!out) {
    out = new Float64Array(patches).fill(UNMET);
    for (let l = 0; l < links.length; l++) if (links[l]! < patches) out[links[l]!]! += 1;
    met.set(links, out);
  }
  return out;
}

/**
 * Where a layer's light leaves most. `links` of the many points of a picture: each patch counts as often as they meet it,
 * for outside a window at night the brightest are those that hardly anyone inside sees. Without: by area.
 */
export function guideOf(patches: Patches, field: Field, links?: Uint32Array): Guide {
  const n = patches.count;
  const mean = meansOf(field, n);
  const size = links ? metBy(links, n) : patches.areaM2;
  let whole = 0;
  let first = 0;
  let second = 0;
  for (let p = 0; p < n; p++) {
    const a = size[p]!;
    whole += a;
    first += a * mean[p]!;
    second += a * mean[p]! * mean[p]!;
  }
  const unevenness = first > 0 ? (second * whole) / first ** 2 : 1;
  // The most telling first; only so many of them need an order.
  const worth = mean.map((v, p) => (patches.areaM2[p]! > 0 ? (links ? size[p]! * v : 1) * v : 0));
  const least = Math.max(0, worth.slice().sort()[n - HOT_MOST - 1] ?? 0);
  const order: number[] = [];
  for (let p = 0; p < n; p++) if (worth[p]! > 0 && worth[p]! >= least) order.push(p);
  order.sort((a, b) => worth[b]! - worth[a]!);
  const hot: number[] = [];
  let held = 0;
  for (const p of order) {
    if (held >= HOT_SHARE * second || hot.length >= HOT_MOST) break;
    hot.push(p);
    held += size[p]! * mean[p]! ** 2;
  }
  const light = hot.reduce((s, p) => s + size[p]! * mean[p]!, 0);
  const chance = new Float64Array(n + 1);
  let run = 0;
  const upTo = Float64Array.from(hot, (p) => {
    chance[p] = (size[p]! * mean[p]!) / light;
    run += chance[p]!;
    return run;
  });
  return { patch: Uint32Array.from(hot), upTo, chance, unevenness };
}

/** Density of cosine rays over that of guided ones toward a patch, both per steradian, by the patch's middle. */
function cosineOverGuided(
  patches: Patches,
  guide: Guide,
  points: SurfacePoints,
  i: number,
  p: number,
): number {
  const o = i * 3;
  const c = p * 3;
  const { centroid, normal } = patches;
  const dx = centroid[c]! - points.position[o]!;
  const dy = centroid[c + 1]! - points.position[o + 1]!;
  const dz = centroid[c + 2]! - points.position[o + 2]!;
  const d2 = dx * dx + dy * dy + dz * dz + 1e-6;
  const d = Math.sqrt(d2);
  const here = Math.max(
    0.02,
    (dx * points.normal[o]! + dy * points.normal[o + 1]! + dz * points.normal[o + 2]!) / d,
  );
  const there = Math.max(0.02, Math.abs(dx * normal[c]! + dy * normal[c + 1]! + dz * normal[c + 2]!) / d);
  return (here * patches.areaM2[p]! * there) / (Math.PI * guide.chance[p]! * d2);
}

export interface GatherOptions {
  seed: number;
  signal?: AbortSignalLike;
  /** Guided rays a point; 0: none. */
  guided: number;
  /** The layer's sheen, if it has any. */
  sheen?: Sheen | undefined;
}

/**
 * 12 × count: bounced illuminance at the points, lux-like. `links` closed, `per` a point; `guided` rays go to hot
 * patches if there are any.
 */
export async function gather(
  tracer: Tracer,
  patches: Patches,
  field: Field,
  guide: Guide,
  points: SurfacePoints,
  links: Uint32Array,
  per: number,
  options: GatherOptions,
): Promise<Float32Array> {
  const n = points.count;
  const out = new Float32Array(n * SAMPLES);
  const { guided, seed, sheen } = options;
  const value = field.exitance;
  (tracer.sums ?? plainSums).gather(links, per, value, 0, n, out);
  if (sheen) addSheen(sheen, patches, points.position, links, per, 0, n, out);
  if (guided === 0 || guide.patch.length === 0) return out;

  // Cosine rays: those that met a hot patch count for their share only.
  for (let i = 0; i < n; i++) {
    for (let l = i * per; l < (i + 1) * per; l++) {
      const p = links[l]!;
      if (!(guide.chance[p]! > 0)) continue;
      const r = per * cosineOverGuided(patches, guide, points, i, p);
      const less = guided / (r + guided) / per;
      for (let k = 0; k < SAMPLES; k++) out[i * SAMPLES + k]! -= less * value[p * SAMPLES + k]!;
    }
  }

  // Guided rays: a hot patch by what leaves it, one of its points by chance.
  const from = new Float32Array(n * guided * 3);
  const to = new Float32Array(n * guided * 3);
  const owner = new Uint32Array(n * guided);
  const patch = new Uint32Array(n * guided);
  const weight = new Float32Array(n * guided);
  let asked = 0;
  for (let i = 0; i < n; i++) {
    const o = i * 3;
    const turn = unit(hash32(seed, (points.firstIndex ?? 0) + i, 61));
    for (let g = 0; g < guided; g++) {
      const x = (g + turn) / guided;
      let lo = 0;
      let hi = guide.patch.length - 1;
      while (lo < hi) {
        const mid = (lo + hi) >> 1;
        if (guide.upTo[mid]! > x) hi = mid;
        else lo = mid + 1;
      }
      const p = guide.patch[lo]!;
      const y = p * POINTS_PER_PATCH + ((unit(hash32(seed, i, 62 + g)) * POINTS_PER_PATCH) | 0);
      const t = y * 3;
      const dx = patches.points.position[t]! - points.position[o]!;
      const dy = patches.points.position[t + 1]! - points.position[o + 1]!;
      const dz = patches.points.position[t + 2]! - points.position[o + 2]!;
      const d2 = dx * dx + dy * dy + dz * dz;
      if (!(d2 > 1e-8)) continue;
      const d = Math.sqrt(d2);
      const here = (dx * points.normal[o]! + dy * points.normal[o + 1]! + dz * points.normal[o + 2]!) / d;
      const face =
        dx * points.faceNormal[o]! + dy * points.faceNormal[o + 1]! + dz * points.faceNormal[o + 2]!;
      if (here <= 0 || face <= 0) continue;
      const N = patches.points.faceNormal;
      const there = Math.abs(dx * N[t]! + dy * N[t + 1]! + dz * N[t + 2]!) / d;
      // No piece fills more than the whole view.
      const form = Math.min(1, (here * there * patches.areaM2[p]!) / (Math.PI * d2));
      const r = per * cosineOverGuided(patches, guide, points, i, p);
      patch[asked] = p;
      weight[asked] = (form / (guide.chance[p]! * guided)) * (guided / (r + guided));
      for (let k = 0; k < 3; k++) {
        from[asked * 3 + k] = points.position[o + k]!;
        to[asked * 3 + k] = patches.points.position[t + k]!;
      }
      owner[asked] = i;
      asked++;
    }
  }
  const shares = await tracer.passes(
    from.subarray(0, asked * 3),
    to.subarray(0, asked * 3),
    options.signal ? { signal: options.signal } : {},
  );
  for (let ray = 0; ray < asked; ray++) {
    const w = weight[ray]! * shares[ray]!;
    if (w === 0) continue;
    const o = owner[ray]! * SAMPLES;
    const v = patch[ray]! * SAMPLES;
    for (let k = 0; k < SAMPLES; k++) out[o + k]! += w * value[v + k]!;
  }
  return out;
}
