/** Direct light of a layer at points: low-discrepancy samples on every emitter, shadows, diffuse and gloss. */
import { hash32, next, r2x, r2y, restart, stream, unit } from '../maths/sampling.ts';
import { gloss, glossRay, lobe, sampleGloss } from './brdf.ts';
import type { EmitterSet } from './emitter.ts';
import { mayMeet, meetEmitter, picked, sampleEmitter } from './emitter.ts';
import { strand } from './fibre.ts';
import type { World } from './intersect.ts';
import { PROBE, reaches } from './intersect.ts';
import { fibreAt, onHair, start, startAt } from './strands.ts';
import type { Direct, RayCount, SurfacePoints } from './tracer.ts';

const chance = stream(0);

/**
 * Direct light of one layer at points `from` … `to - 1`, written to `out`. `samples` points on each emitter; where
 * the material has gloss as many rays of the lobe too, combined by the balance heuristic [VEACH-1995], so that
 * both a sharp highlight and a broad lamp come out quietly.
 */
export function directAt(
  world: World,
  set: EmitterSet,
  points: SurfacePoints,
  from: number,
  to: number,
  samples: number,
  seed: number,
  out: Direct,
  rays: RayCount,
  shadows = true,
): void {
  const { position, normal, toEye, material } = points;
  const { stuff } = world;
  const first = points.firstIndex ?? 0;
  for (let p = from; p < to; p++) {
    const o = p * 3;
    const px = position[o]!;
    const py = position[o + 1]!;
    const pz = position[o + 2]!;
    const nx = normal[o]!;
    const ny = normal[o + 1]!;
    const nz = normal[o + 2]!;
    const ex = toEye[o]!;
    const ey = toEye[o + 1]!;
    const ez = toEye[o + 2]!;
    const hair = onHair(points, p);
    const m = material[p]!;
    const f0 = m === PROBE ? 0 : stuff.f0[m]!;
    const alpha = m === PROBE ? 1 : stuff.alpha[m]!;
    let diffuse = 0;
    let shine = 0;
    for (let e = 0; e < set.count; e++) {
      const key = hash32(seed, first + p, e);
      const su = unit(key);
      const sv = unit(hash32(key, 1));
      for (let k = 0; k < samples; k++) {
        if (!sampleEmitter(set, e, px, py, pz, r2x(k, su), r2y(k, sv))) continue;
        const dx = picked[0]!;
        const dy = picked[1]!;
        const dz = picked[2]!;
        if (hair) {
          fibreAt(points, p, dx, dy, dz, stuff.through[m]!, stuff.neutral[m]!);
          const whole = picked[4]!;
          let share = 1;
          if (shadows) {
            rays.shadow++;
            startAt(points, p, dx, dy, dz);
            share = reaches(world, start[0]!, start[1]!, start[2]!, dx, dy, dz, picked[3]!);
          }
          diffuse += whole * share * strand.lux;
          shine += whole * share * strand.shine;
          continue;
        }
        const cos = dx * nx + dy * ny + dz * nz;
        if (cos <= 0) continue;
        const lux = picked[4]! * cos;
        const density = picked[5]!;
        let share = 1;
        if (shadows) {
          rays.shadow++;
          share = reaches(world, px, py, pz, dx, dy, dz, picked[3]!);
        }
        if (share === 0) continue;
        diffuse += lux * share;
        if (f0 > 0) {
          gloss(f0, alpha, nx, ny, nz, dx, dy, dz, ex, ey, ez);
          if (lobe.value > 0) shine += (lobe.value * lux * share) / (1 + lobe.density / density);
        }
      }
    }
    if (f0 > 0) {
      restart(chance, hash32(seed, first + p, -1), 0);
      const su = next(chance);
      const sv = next(chance);
      for (let k = 0; k < samples; k++) {
        if (!sampleGloss(alpha, nx, ny, nz, ex, ey, ez, r2x(k, su), r2y(k, sv))) continue;
        const dx = glossRay[0]!;
        const dy = glossRay[1]!;
        const dz = glossRay[2]!;
        const cos = dx * nx + dy * ny + dz * nz;
        if (!mayMeet(set, px, py, pz, dx, dy, dz)) continue;
        for (let e = 0; e < set.count; e++) {
          if (!meetEmitter(set, e, px, py, pz, dx, dy, dz)) continue;
          const density = picked[5]!;
          const luminance = picked[6]!;
          let share = 1;
          if (shadows) {
            rays.shadow++;
            share = reaches(world, px, py, pz, dx, dy, dz, picked[3]!);
          }
          if (share === 0) continue;
          gloss(f0, alpha, nx, ny, nz, dx, dy, dz, ex, ey, ez);
          if (lobe.value > 0) shine += (lobe.value * cos * luminance * share) / (lobe.density + density);
        }
      }
    }
    out.diffuse[p] = diffuse / samples;
    out.gloss[p] = shine / samples;
  }
}

/** Share of a layer's emitters' light that each has, summed along: for choosing one by a number in [0, 1). */
export function powerTo(set: EmitterSet): Float64Array {
  const sum = set.power.reduce((a, b) => a + b, 0);
  let run = 0;
  const out = Float64Array.from(set.power, (w) => {
    run += sum > 0 ? w / sum : 1 / set.count;
    return run;
  });
  if (out.length > 0) out[out.length - 1] = 1;
  return out;
}

/** The emitter whose share holds `x`. */
export function choose(to: Float64Array, x: number): number {
  let lo = 0;
  let hi = to.length - 1;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (to[mid]! > x) hi = mid;
    else lo = mid + 1;
  }
  return lo;
}

/**
 * Mean direct illuminance (lux) of each patch from the points that `pointsOnPatches` spread over it, `per` each:
 * one sample on an emitter from every point; in a layer of several the emitter is drawn by its light.
 */
export function patchDirectAt(
  world: World,
  set: EmitterSet,
  points: SurfacePoints,
  per: number,
  from: number,
  to: number,
  seed: number,
  out: Float32Array,
  rays: RayCount,
): void {
  const { position, normal } = points;
  const shares = powerTo(set);
  if (set.count === 0) return;
  for (let patch = from; patch < to; patch++) {
    const su = unit(hash32(seed, patch, 21));
    const sv = unit(hash32(seed, patch, 22));
    const se = unit(hash32(seed, patch, 23));
    let sum = 0;
    for (let k = 0; k < per; k++) {
      const o = (patch * per + k) * 3;
      const px = position[o]!;
      const py = position[o + 1]!;
      const pz = position[o + 2]!;
      let e = 0;
      let odds = 1;
      if (set.count > 1) {
        e = choose(shares, r2x(k, se));
        odds = shares[e]! - (e > 0 ? shares[e - 1]! : 0);
      }
      if (!sampleEmitter(set, e, px, py, pz, r2x(k, su), r2y(k, sv))) continue;
      const dx = picked[0]!;
      const dy = picked[1]!;
      const dz = picked[2]!;
      const cos = dx * normal[o]! + dy * normal[o + 1]! + dz * normal[o + 2]!;
      if (cos <= 0) continue;
      const lux = (picked[4]! * cos) / odds;
      rays.shadow++;
      sum += lux * reaches(world, px, py, pz, dx, dy, dz, picked[3]!);
    }
    out[patch] = sum / per;
  }
}
