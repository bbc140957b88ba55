/**
 * The unbiased reference: paths from surface points, with every layer's light gathered apart at every bounce.
 * No hard limit but a thousand bounces; Russian roulette from the fifth; the same seed gives the same numbers.
 */
import { SAMPLES } from '../colour/spectrum.ts';
import { glassReflectance, glassTransmittance } from '../light/glass.ts';
import { hash32, next, r2x, r2y, restart, stream, unit } from '../maths/sampling.ts';
import { clearOf } from './air.ts';
import { gloss, glossRay, lobe, sampleGloss, schlick } from './brdf.ts';
import { choose, powerTo } from './direct.ts';
import type { EmitterSet } from './emitter.ts';
import { mayMeet, meetEmitter, picked, sampleEmitter } from './emitter.ts';
import { strand } from './fibre.ts';
import type { World } from './intersect.ts';
import {
  firstHit,
  GAP,
  GLASS,
  liftAt,
  MIRROR,
  PROBE,
  reaches,
  SHEET,
  surface,
  surfaceAt,
} from './intersect.ts';
import { aboutNormal, cosineRay } from './links.ts';
import { fibreAt, onHair, start, startAt } from './strands.ts';
import type { Direct, PathEstimate, RayCount, SurfacePoints } from './tracer.ts';
import { hit } from './tree.ts';

/** Bounces before chance may end a path. */
const FREE = 4;
const MOST = 1000;
/** Independent groups that paths belong to in turn; their spread gives the variance. */
const GROUPS = 8;
const GOLDEN = 0.6180339887498949;

/** A layer as paths use it. */
export interface PathLayer {
  set: EmitterSet;
  /** As `powerTo` gives. */
  shares: Float64Array;
}
export const pathLayer = (set: EmitterSet): PathLayer => ({ set, shares: powerTo(set) });

const oddsOf = (shares: Float64Array, e: number): number => shares[e]! - (e > 0 ? shares[e - 1]! : 0);

const chance = stream(0);
const through = new Float64Array(SAMPLES);

/**
 * Follows one path from a point along a direction until it dies, adding the radiance that comes back along
 * it (× scale) to `sum`: 12 numbers per layer. `density`: with which the direction was picked by a gloss lobe; then
 * emitters met at once go to `straight` (per layer) with their share by the balance heuristic. Below 0: they
 * are not counted, the point having asked for them by shadow rays.
 */
function walk(
  world: World,
  layers: readonly PathLayer[],
  px: number,
  py: number,
  pz: number,
  qx: number,
  qy: number,
  qz: number,
  scale: number,
  firstDensity: number,
  sum: Float64Array,
  straight: Float64Array,
  rays: RayCount,
): void {
  const { stage, stuff } = world;
  const air = stage.air;
  const T = through;
  T.fill(scale);
  let x = px;
  let y = py;
  let z = pz;
  let dx = qx;
  let dy = qy;
  let dz = qz;
  // Where the direction last changed, how far the ray has come since, by what density it was picked; `sharp`:
  // by a mirror, so that only meeting an emitter can count it.
  let bx = px;
  let by = py;
  let bz = pz;
  let come = 0;
  let density = firstDensity;
  let sharp = false;
  let scattered = 0;
  for (let step = 0; step < MOST; step++) {
    rays.bounce++;
    const t = firstHit(world, x, y, z, dx, dy, dz, 1e9);
    const reach = t < 0 ? 1e9 : hit[0]!;
    const u = hit[1]!;
    const v = hit[2]!;

    // Count emitters on the way that no shadow ray could, or could only in part.
    if (sharp || density > 0) {
      for (let l = 0; l < layers.length; l++) {
        const { set, shares } = layers[l]!;
        if (!mayMeet(set, bx, by, bz, dx, dy, dz)) continue;
        for (let e = 0; e < set.count; e++) {
          if (!meetEmitter(set, e, bx, by, bz, dx, dy, dz)) continue;
          const at = picked[3]!;
          if (at > come + reach + GAP || (come > 0 && at <= come + GAP)) continue;
          const part = sharp ? 1 : density / (density + oddsOf(shares, e) * picked[5]!);
          const light = picked[6]! * part * (air ? clearOf(air, at) : 1);
          if (scattered === 0 && !sharp) straight[l]! += T[0]! * light;
          else for (let k = 0, o = l * SAMPLES; k < SAMPLES; k++) sum[o + k]! += T[k]! * light;
        }
      }
    }
    if (t < 0) return;

    surfaceAt(stage, t, u, v, dx, dy, dz);
    const m = stage.material[t]!;
    const kind = stuff.kind[m]!;
    const fx = surface[3]!;
    const fy = surface[4]!;
    const fz = surface[5]!;
    const along = dx * fx + dy * fy + dz * fz;

    // Panes, mirrors and sheets send the ray on.
    if (kind !== 0) {
      let back = false;
      let on = false;
      if (kind === MIRROR) {
        back = true;
        for (let k = 0; k < SAMPLES; k++) T[k]! *= stuff.rho[m * SAMPLES + k]!;
      } else if (kind === GLASS) {
        const pass = glassTransmittance(-along) * stuff.straight[m]!;
        const all = glassReflectance(-along) + pass;
        back = next(chance) * all < glassReflectance(-along);
        on = !back;
        for (let k = 0; k < SAMPLES; k++) T[k]! *= all;
      } else if (kind === SHEET) {
        const pass = stuff.straight[m]!;
        const odds = pass / (pass + stuff.neutral[m]! + 1e-9);
        on = next(chance) < odds;
        const k0 = on ? pass / odds : 1 / (1 - odds);
        for (let k = 0; k < SAMPLES; k++) T[k]! *= k0;
      }
      if (back) {
        x = bx = surface[0]!;
        y = by = surface[1]!;
        z = bz = surface[2]!;
        dx -= 2 * along * fx;
        dy -= 2 * along * fy;
        dz -= 2 * along * fz;
        come = 0;
        sharp = true;
        if (step > FREE && survival(T, scale) === false) return;
        continue;
      }
      if (on) {
        const lift = liftAt(surface[9]!, surface[10]!, surface[11]!);
        x = surface[9]! - fx * lift;
        y = surface[10]! - fy * lift;
        z = surface[11]! - fz * lift;
        come += reach + lift;
        continue;
      }
    }

    // Ask every layer for its light here.
    x = surface[0]!;
    y = surface[1]!;
    z = surface[2]!;
    const nx = surface[6]!;
    const ny = surface[7]!;
    const nz = surface[8]!;
    const ex = -dx;
    const ey = -dy;
    const ez = -dz;
    const f0 = stuff.f0[m]!;
    const alpha = stuff.alpha[m]!;
    const rho = m * SAMPLES;
    const ne = nx * ex + ny * ey + nz * ez;
    const shiny = f0 > 0 && ne > 0;
    let glossOdds = 0;
    if (shiny) {
      const f = schlick(f0, ne);
      glossOdds = Math.min(0.9, Math.max(0.1, f / (f + stuff.neutral[m]!)));
    }
    for (let l = 0; l < layers.length; l++) {
      const { set, shares } = layers[l]!;
      if (set.count === 0) continue;
      let e = 0;
      let odds = 1;
      if (set.count > 1) {
        e = choose(shares, next(chance));
        odds = oddsOf(shares, e);
      }
      if (!sampleEmitter(set, e, x, y, z, next(chance), next(chance))) continue;
      const sx = picked[0]!;
      const sy = picked[1]!;
      const sz = picked[2]!;
      const cos = sx * nx + sy * ny + sz * nz;
      if (cos <= 0) continue;
      const pickDensity = odds * picked[5]!;
      let lux = (picked[4]! * cos) / odds;
      rays.shadow++;
      lux *= reaches(world, x, y, z, sx, sy, sz, picked[3]!);
      if (lux === 0) continue;
      let shine = 0;
      let share = 1;
      if (shiny) {
        gloss(f0, alpha, nx, ny, nz, sx, sy, sz, ex, ey, ez);
        shine = lobe.value;
        const other = (1 - glossOdds) * (cos / Math.PI) + glossOdds * lobe.density;
        share = 1 / (1 + other / pickDensity);
      }
      const o = l * SAMPLES;
      const w = lux * share;
      for (let k = 0; k < SAMPLES; k++) {
        sum[o + k]! += T[k]! * w * (stuff.rho[rho + k]! / Math.PI + shine * stuff.lobe[rho + k]!);
      }
    }

    // Go on: by the gloss lobe or evenly by the cosine; weigh by both.
    if (shiny && next(chance) < glossOdds) {
      if (!sampleGloss(alpha, nx, ny, nz, ex, ey, ez, next(chance), next(chance))) return;
      dx = glossRay[0]!;
      dy = glossRay[1]!;
      dz = glossRay[2]!;
    } else {
      aboutNormal(nx, ny, nz, next(chance), next(chance));
      dx = cosineRay[0]!;
      dy = cosineRay[1]!;
      dz = cosineRay[2]!;
    }
    if (dx * fx + dy * fy + dz * fz <= 0) return;
    if (shiny) {
      const cos = dx * nx + dy * ny + dz * nz;
      gloss(f0, alpha, nx, ny, nz, dx, dy, dz, ex, ey, ez);
      density = (1 - glossOdds) * (cos / Math.PI) + glossOdds * lobe.density;
      for (let k = 0; k < SAMPLES; k++) {
        T[k]! *= ((stuff.rho[rho + k]! / Math.PI + lobe.value * stuff.lobe[rho + k]!) * cos) / density;
      }
    } else {
      density = -1;
      for (let k = 0; k < SAMPLES; k++) T[k]! *= stuff.rho[rho + k]!;
    }
    sharp = false;
    bx = x;
    by = y;
    bz = z;
    come = 0;
    scattered++;
    if (scattered >= FREE ? !survival(T, scale) : dark(T)) return;
  }
}

/** Russian roulette: lets a path live with the probability of what it still carries, and evens out the rest. */
function survival(T: Float64Array, scale: number): boolean {
  let most = 0;
  for (let k = 0; k < SAMPLES; k++) if (T[k]! > most) most = T[k]!;
  const odds = most / scale;
  if (odds >= 1) return true;
  if (!(next(chance) < odds)) return false;
  for (let k = 0; k < SAMPLES; k++) T[k]! /= odds;
  return true;
}

/** Is nothing left to carry? */
function dark(T: Float64Array): boolean {
  for (let k = 0; k < SAMPLES; k++) if (T[k]! > 0) return false;
  return true;
}

/** Empty arrays for an estimate. */
export const estimateOf = (layers: number, count: number, paths: number): PathEstimate => ({
  paths,
  layers: Array.from({ length: layers }, () => ({
    direct: { diffuse: new Float32Array(count), gloss: new Float32Array(count) } satisfies Direct,
    bounced: new Float32Array(count * SAMPLES),
    glossBounced: new Float32Array(count * SAMPLES),
    variance: new Float32Array(count),
  })),
});

/** Traces paths `begun` … `begun + paths - 1` of each of points `from` … `to - 1` into `out`. */
export function pathsAt(
  world: World,
  layers: readonly PathLayer[],
  points: SurfacePoints,
  from: number,
  to: number,
  paths: number,
  begun: number,
  seed: number,
  out: PathEstimate,
  rays: RayCount,
): void {
  const L = layers.length;
  const { stuff } = world;
  const bounced = new Float64Array(L * SAMPLES);
  const shiny = new Float64Array(L * SAMPLES);
  const diffuse = new Float64Array(L);
  const shine = new Float64Array(L);
  const unused = new Float64Array(L);
  /** Per group and layer: sum of direct diffuse + mean over wavelengths of bounced; and the group's paths. */
  const groupSum = new Float64Array(GROUPS * L);
  const groupPaths = new Float64Array(GROUPS);
  const last = new Float64Array(L);
  for (let p = from; p < to; p++) {
    const o = p * 3;
    const px = points.position[o]!;
    const py = points.position[o + 1]!;
    const pz = points.position[o + 2]!;
    const nx = points.normal[o]!;
    const ny = points.normal[o + 1]!;
    const nz = points.normal[o + 2]!;
    const fx = points.faceNormal[o]!;
    const fy = points.faceNormal[o + 1]!;
    const fz = points.faceNormal[o + 2]!;
    const ex = points.toEye[o]!;
    const ey = points.toEye[o + 1]!;
    const ez = points.toEye[o + 2]!;
    const hair = onHair(points, p);
    const m = points.material[p]!;
    const f0 = m === PROBE ? 0 : stuff.f0[m]!;
    const alpha = m === PROBE ? 1 : stuff.alpha[m]!;
    bounced.fill(0);
    shiny.fill(0);
    diffuse.fill(0);
    shine.fill(0);
    groupSum.fill(0);
    groupPaths.fill(0);
    last.fill(0);
    const pointKey = hash32(seed, (points.firstIndex ?? 0) + p, 51);
    for (let i = begun; i < begun + paths; i++) {
      const group = i % GROUPS;
      const j = (i / GROUPS) | 0;
      const groupKey = hash32(pointKey, group, 52);
      restart(chance, pointKey, i);
      groupPaths[group]!++;

      // Each layer's own light: a point of one of its emitters, in low-discrepancy order.
      for (let l = 0; l < L; l++) {
        const { set, shares } = layers[l]!;
        if (set.count === 0) continue;
        const key = hash32(groupKey, l, 53);
        let e = 0;
        let odds = 1;
        if (set.count > 1) {
          const c = unit(hash32(key, 2)) + GOLDEN * j;
          e = choose(shares, c - Math.floor(c));
          odds = oddsOf(shares, e);
        }
        if (!sampleEmitter(set, e, px, py, pz, r2x(j, unit(key)), r2y(j, unit(hash32(key, 1))))) continue;
        const sx = picked[0]!;
        const sy = picked[1]!;
        const sz = picked[2]!;
        if (hair) {
          fibreAt(points, p, sx, sy, sz, stuff.through[m]!, stuff.neutral[m]!);
          startAt(points, p, sx, sy, sz);
          const d = picked[3]!;
          const whole = picked[4]! / odds;
          rays.shadow++;
          const got = whole * reaches(world, start[0]!, start[1]!, start[2]!, sx, sy, sz, d);
          diffuse[l]! += got * strand.lux;
          shine[l]! += got * strand.shine;
          groupSum[group * L + l]! += got * strand.lux;
          continue;
        }
        const cos = sx * nx + sy * ny + sz * nz;
        if (cos <= 0) continue;
        const density = odds * picked[5]!;
        let lux = (picked[4]! * cos) / odds;
        rays.shadow++;
        lux *= reaches(world, px, py, pz, sx, sy, sz, picked[3]!);
        if (lux === 0) continue;
        diffuse[l]! += lux;
        groupSum[group * L + l]! += lux;
        if (f0 > 0) {
          gloss(f0, alpha, nx, ny, nz, sx, sy, sz, ex, ey, ez);
          if (lobe.value > 0) shine[l]! += (lobe.value * lux) / (1 + lobe.density / density);
        }
      }

      // Bounced light: a path along the cosine.
      aboutNormal(nx, ny, nz, r2x(j, unit(hash32(groupKey, -1, 54))), r2y(j, unit(hash32(groupKey, -2, 55))));
      const dx = cosineRay[0]!;
      const dy = cosineRay[1]!;
      const dz = cosineRay[2]!;
      if (dx * fx + dy * fy + dz * fz > 0) {
        walk(world, layers, px, py, pz, dx, dy, dz, Math.PI, -1, bounced, unused, rays);
        for (let l = 0; l < L; l++) {
          let sum = 0;
          for (let k = 0; k < SAMPLES; k++) sum += bounced[l * SAMPLES + k]!;
          groupSum[group * L + l]! += (sum - last[l]!) / SAMPLES;
          last[l] = sum;
        }
      }

      // What the gloss sees: the other half of the lamps' highlights, and the room in them.
      if (f0 > 0) {
        const u = r2x(j, unit(hash32(groupKey, -3, 56)));
        const v = r2y(j, unit(hash32(groupKey, -4, 57)));
        if (sampleGloss(alpha, nx, ny, nz, ex, ey, ez, u, v)) {
          const gx = glossRay[0]!;
          const gy = glossRay[1]!;
          const gz = glossRay[2]!;
          if (gx * fx + gy * fy + gz * fz > 0) {
            gloss(f0, alpha, nx, ny, nz, gx, gy, gz, ex, ey, ez);
            const cos = gx * nx + gy * ny + gz * nz;
            const scale = (lobe.value * cos) / lobe.density;
            if (scale > 0)
              walk(world, layers, px, py, pz, gx, gy, gz, scale, lobe.density, shiny, shine, rays);
          }
        }
      }
    }

    for (let l = 0; l < L; l++) {
      const layer = out.layers[l]!;
      layer.direct.diffuse[p] = diffuse[l]! / paths;
      layer.direct.gloss[p] = shine[l]! / paths;
      let mean = diffuse[l]! / paths;
      for (let k = 0; k < SAMPLES; k++) {
        layer.bounced[p * SAMPLES + k] = bounced[l * SAMPLES + k]! / paths;
        layer.glossBounced![p * SAMPLES + k] = shiny[l * SAMPLES + k]! / paths;
        mean += bounced[l * SAMPLES + k]! / paths / SAMPLES;
      }
      // Variance of the mean from the spread of the groups; unknown (infinite) for a single path.
      let spread = 0;
      let groups = 0;
      for (let g = 0; g < GROUPS; g++) {
        if (groupPaths[g] === 0) continue;
        groups++;
        const share = groupPaths[g]! / paths;
        spread += share * (groupSum[g * L + l]! / groupPaths[g]! - mean) ** 2;
      }
      layer.variance[p] = groups > 1 ? spread / (groups - 1) : Infinity;
    }
  }
}
