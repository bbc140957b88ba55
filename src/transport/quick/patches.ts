/** Patches as bounced light sees them: how large, where, and what they reflect. */
import { atSamples, SAMPLES } from '../../colour/spectrum.ts';
import type { Stage } from '../../stage/stage.ts';
import { alphaOf, gloss, glossRay, lobe, sampleGloss } from '../brdf.ts';
import { pointsOnPatches, trianglesOfPatches } from '../points.ts';
import type { SurfacePoints } from '../tracer.ts';

export interface Patches {
  count: number;
  /** m². Patches without triangles: 0. */
  areaM2: Float64Array;
  /** 3 × count: middle by area, metres. */
  centroid: Float32Array;
  /** 3 × count: mean face normal (front side), unit; zero where the triangles cancel out. */
  normal: Float32Array;
  /** 12 × count: reflectance at the sample wavelengths, mean by area, gloss included as if it scattered. */
  reflectance: Float32Array;
  /** 12 × count: the same without the gloss. */
  matte: Float32Array;
  /** Gloss of flat patches: its share at normal incidence and its alpha; elsewhere f0 is 0 and it only scatters. */
  lobeF0: Float32Array;
  lobeAlpha: Float32Array;
  /** 12 × count: colour of the gloss, where any patch has metal on it. */
  lobeTint?: Float32Array;
  /** `POINTS_PER_PATCH` × count points spread over the patches: point p × POINTS_PER_PATCH + k. */
  points: SurfacePoints;
}

/** Points from which a patch looks about and is looked at. */
export const POINTS_PER_PATCH = 8;

/** A patch is flat if its mean normal is longer than this. */
const FLAT = 0.98;

/** Steps over the eye's cosine, and each way over the lobe. */
const ALBEDO_STEPS = 64;
const ALBEDO_LOBE = 8;
/** By roughness: what a lobe sends back of even light at f0 = 1, and what it adds at f0 = 0. */
const albedos = new Map<number, { perF0: number; grazing: number }>();

/**
 * Share of evenly falling light that a gloss sends back: the traced lobe itself, integrated over both hemispheres
 * by its visible half vectors. Schlick's curve is linear in f0, so two numbers for each roughness do.
 */
export function glossShare(f0: number, roughness: number): number {
  if (!(f0 > 0)) return 0;
  let known = albedos.get(roughness);
  if (!known) {
    known = { perF0: lobeAlbedo(1, roughness), grazing: lobeAlbedo(0, roughness) };
    albedos.set(roughness, known);
  }
  return known.grazing + (known.perF0 - known.grazing) * f0;
}

function lobeAlbedo(f0: number, roughness: number): number {
  const alpha = alphaOf(roughness);
  let sum = 0;
  for (let e = 0; e < ALBEDO_STEPS; e++) {
    // Even in cos²: as much light from each step.
    const ez = Math.sqrt((e + 0.5) / ALBEDO_STEPS);
    const ex = Math.sqrt(1 - ez * ez);
    for (let i = 0; i < ALBEDO_LOBE; i++)
      for (let j = 0; j < ALBEDO_LOBE; j++) {
        const u = (i + 0.5) / ALBEDO_LOBE;
        const v = (j + 0.5) / ALBEDO_LOBE;
        if (!sampleGloss(alpha, 0, 0, 1, ex, 0, ez, u, v)) continue;
        const [lx, ly, lz] = glossRay as unknown as [number, number, number];
        gloss(f0, alpha, 0, 0, 1, lx, ly, lz, ex, 0, ez);
        if (lobe.density > 0) sum += (lobe.value * lz) / lobe.density;
      }
  }
  return sum / (ALBEDO_STEPS * ALBEDO_LOBE ** 2);
}

/** 12: colour of a material's gloss; undefined: it has none of its own. */
export const tintOf = (m: Stage['materials'][number]): Float64Array | undefined =>
  m.gloss?.tint && m.kind === 'opaque' ? atSamples(m.gloss.tint) : undefined;

/** 12 per material: diffuse reflectance and, unless told otherwise, what the gloss adds to it under even light. */
export function reflectanceUnderRoom(materials: Stage['materials'], sheen = true): Float64Array {
  const out = new Float64Array(materials.length * SAMPLES);
  materials.forEach((m, i) => {
    if (m.kind !== 'opaque' && m.kind !== 'sheet') return;
    const rho = atSamples(m.reflectance);
    const add = sheen && m.kind === 'opaque' ? glossShare(m.gloss?.f0 ?? 0, m.gloss?.roughness ?? 1) : 0;
    const tint = tintOf(m);
    for (let k = 0; k < SAMPLES; k++)
      out[i * SAMPLES + k] = Math.min(0.99, rho[k]! + add * (tint ? tint[k]! : 1));
  });
  return out;
}

export function patchesOf(stage: Stage, seed = 1): Patches {
  const n = stage.patchCount;
  const triangles = trianglesOfPatches(stage);
  const areaM2 = new Float64Array(n);
  const centroid = new Float32Array(n * 3);
  const normal = new Float32Array(n * 3);
  const reflectance = new Float32Array(n * SAMPLES);
  const matte = new Float32Array(n * SAMPLES);
  const lobeF0 = new Float32Array(n);
  const lobeAlpha = new Float32Array(n).fill(1);
  const tints = stage.materials.map(tintOf);
  const lobeTint = tints.some((t) => t) ? new Float32Array(n * SAMPLES).fill(1) : undefined;
  const tintSums = new Float64Array(SAMPLES);
  const bare = reflectanceUnderRoom(stage.materials, false);
  const rho = reflectanceUnderRoom(stage.materials);
  const middle = [0, 0, 0];
  const facing = [0, 0, 0];
  const sums = new Float64Array(SAMPLES);
  const bareSums = new Float64Array(SAMPLES);
  const { positions: P, indices } = stage;
  for (let p = 0; p < n; p++) {
    middle.fill(0);
    facing.fill(0);
    sums.fill(0);
    bareSums.fill(0);
    tintSums.fill(0);
    let area = 0;
    let shiny = 0;
    let f0 = 0;
    let alpha = 0;
    for (let at = triangles.start[p]!; at < triangles.start[p + 1]!; at++) {
      const t = triangles.triangle[at]!;
      const a = indices[t * 3]! * 3;
      const b = indices[t * 3 + 1]! * 3;
      const c = indices[t * 3 + 2]! * 3;
      const ux = P[b]! - P[a]!;
      const uy = P[b + 1]! - P[a + 1]!;
      const uz = P[b + 2]! - P[a + 2]!;
      const vx = P[c]! - P[a]!;
      const vy = P[c + 1]! - P[a + 1]!;
      const vz = P[c + 2]! - P[a + 2]!;
      const x = (uy * vz - uz * vy) / 2;
      const y = (uz * vx - ux * vz) / 2;
      const z = (ux * vy - uy * vx) / 2;
      const w = Math.hypot(x, y, z);
      area += w;
      facing[0]! += x;
      facing[1]! += y;
      facing[2]! += z;
      for (let i = 0; i < 3; i++) middle[i]! += (w * (P[a + i]! + P[b + i]! + P[c + i]!)) / 3;
      const m = stage.material[t]! * SAMPLES;
      for (let k = 0; k < SAMPLES; k++) {
        sums[k]! += w * rho[m + k]!;
        bareSums[k]! += w * bare[m + k]!;
      }
      const stuff = stage.materials[stage.material[t]!]!;
      if (stuff.kind === 'opaque' && stuff.gloss && stuff.gloss.f0 > 0) {
        shiny += w;
        f0 += w * stuff.gloss.f0;
        alpha += w * alphaOf(stuff.gloss.roughness);
        if (lobeTint) {
          const tint = tints[stage.material[t]!];
          for (let k = 0; k < SAMPLES; k++) tintSums[k]! += w * stuff.gloss.f0 * (tint ? tint[k]! : 1);
        }
      }
    }
    areaM2[p] = area;
    if (!(area > 0)) continue;
    const length = Math.hypot(facing[0]!, facing[1]!, facing[2]!);
    for (let i = 0; i < 3; i++) {
      centroid[p * 3 + i] = middle[i]! / area;
      normal[p * 3 + i] = length > 1e-6 * area ? facing[i]! / length : 0;
    }
    for (let k = 0; k < SAMPLES; k++) {
      reflectance[p * SAMPLES + k] = sums[k]! / area;
      matte[p * SAMPLES + k] = bareSums[k]! / area;
    }
    if (shiny > 0 && length > FLAT * area) {
      lobeF0[p] = f0 / area;
      lobeAlpha[p] = alpha / shiny;
      if (lobeTint) for (let k = 0; k < SAMPLES; k++) lobeTint[p * SAMPLES + k] = tintSums[k]! / f0;
    }
  }
  const points = pointsOnPatches(stage, triangles, POINTS_PER_PATCH, seed);
  const glosses = { lobeF0, lobeAlpha, ...(lobeTint ? { lobeTint } : {}) };
  return { count: n, areaM2, centroid, normal, reflectance, matte, ...glosses, points };
}
