/** What cosine-distributed rays from points see, as patch numbers: the links that carry bounced light. */
import { glassReflectance, glassTransmittance } from '../light/glass.ts';
import { hash32, next, r2x, r2y, restart, stream, unit } from '../maths/sampling.ts';
import type { World } from './intersect.ts';
import { firstHit, GLASS, liftAt, MIRROR, NEAR, NO_PATCH, SHEET, surface, surfaceAt } from './intersect.ts';
import type { RayCount, SurfacePoints } from './tracer.ts';
import { hit } from './tree.ts';

const chance = stream(0);
/** Panes and mirrors met before a ray is given up. */
const MOST = 24;

/** A unit direction about the unit normal, cosine-distributed, from two numbers in [0, 1). */
export const cosineRay = new Float64Array(3);
export function aboutNormal(nx: number, ny: number, nz: number, u: number, v: number): void {
  const r = Math.sqrt(u);
  const phi = 2 * Math.PI * v;
  const a = r * Math.cos(phi);
  const b = r * Math.sin(phi);
  const c = Math.sqrt(1 - u);
  const s = nz >= 0 ? 1 : -1;
  const k = -1 / (s + nz);
  const m = nx * ny * k;
  cosineRay[0] = a * (1 + s * nx * nx * k) + b * m + c * nx;
  cosineRay[1] = a * s * m + b * (s + ny * ny * k) + c * ny;
  cosineRay[2] = -a * s * nx - b * ny + c * nz;
}

/**
 * Fills `out` (per × count) for points `from` … `to - 1`. Mirrors and panes send a ray on by chance in proportion to
 * what they reflect and pass, so that the mean over links is right for neutral ones; what they swallow is "nothing".
 * `near`, metres per point: patches met nearer than that have NEAR added.
 */
export function linksAt(
  world: World,
  points: SurfacePoints,
  per: number,
  from: number,
  to: number,
  seed: number,
  out: Uint32Array,
  rays: RayCount,
  near?: Float32Array,
): void {
  const { position, normal, faceNormal } = points;
  const { stage, stuff } = world;
  const first = points.firstIndex ?? 0;
  for (let p = from; p < to; p++) {
    const o = p * 3;
    const su = unit(hash32(seed, first + p, 31));
    const sv = unit(hash32(seed, first + p, 32));
    for (let k = 0; k < per; k++) {
      out[p * per + k] = NO_PATCH;
      aboutNormal(normal[o]!, normal[o + 1]!, normal[o + 2]!, r2x(k, su), r2y(k, sv));
      let dx = cosineRay[0]!;
      let dy = cosineRay[1]!;
      let dz = cosineRay[2]!;
      if (dx * faceNormal[o]! + dy * faceNormal[o + 1]! + dz * faceNormal[o + 2]! <= 0) continue;
      let x = position[o]!;
      let y = position[o + 1]!;
      let z = position[o + 2]!;
      let begun = false;
      for (let step = 0; step < MOST; step++) {
        rays.link++;
        const t = firstHit(world, x, y, z, dx, dy, dz, 1e9);
        if (t < 0) break;
        const m = stage.material[t]!;
        const kind = stuff.kind[m]!;
        if (kind !== MIRROR && kind !== GLASS && kind !== SHEET) {
          const patch = stage.patch[t]!;
          const close = near !== undefined && !begun && patch !== NO_PATCH && hit[0]! < near[p]!;
          out[p * per + k] = close ? patch + NEAR : patch;
          break;
        }
        if (!begun) restart(chance, hash32(seed, first + p, 33), k);
        begun = true;
        surfaceAt(stage, t, hit[1]!, hit[2]!, dx, dy, dz);
        const fx = surface[3]!;
        const fy = surface[4]!;
        const fz = surface[5]!;
        const along = dx * fx + dy * fy + dz * fz;
        const x0 = next(chance);
        let back = 0;
        let on = 0;
        if (kind === MIRROR) back = stuff.neutral[m]!;
        else if (kind === GLASS) {
          back = glassReflectance(-along);
          on = glassTransmittance(-along) * stuff.straight[m]!;
        } else {
          on = stuff.straight[m]!;
        }
        if (x0 < back) {
          x = surface[0]!;
          y = surface[1]!;
          z = surface[2]!;
          dx -= 2 * along * fx;
          dy -= 2 * along * fy;
          dz -= 2 * along * fz;
        } else if (x0 < back + on) {
          const lift = liftAt(surface[9]!, surface[10]!, surface[11]!);
          x = surface[9]! - fx * lift;
          y = surface[10]! - fy * lift;
          z = surface[11]! - fz * lift;
        } else {
          if (kind === SHEET) out[p * per + k] = stage.patch[t]!;
          break;
        }
      }
    }
  }
}
