/** Making `SurfacePoints`: probes of a reading, and points spread over patches. */

import { hash32, r2x, r2y, unit } from '../maths/sampling.ts';
import type { Vec3 } from '../maths/vec3.ts';
import type { Stage } from '../stage/stage.ts';
import { NO_PATCH, PROBE, surface, surfaceAt } from './intersect.ts';
import type { SurfacePoints } from './tracer.ts';

/** Room for `count` points. */
export const pointsOf = (count: number): SurfacePoints => ({
  count,
  position: new Float32Array(count * 3),
  faceNormal: new Float32Array(count * 3),
  normal: new Float32Array(count * 3),
  toEye: new Float32Array(count * 3),
  material: new Uint16Array(count),
  patch: new Uint32Array(count),
});

/** Free-standing ideal receivers: position (metres) and unit normal each; no patch, no gloss. */
export function probes(list: readonly { position: Vec3; normal: Vec3 }[]): SurfacePoints {
  const points = pointsOf(list.length);
  list.forEach(({ position, normal }, i) => {
    points.position.set(position, i * 3);
    for (const array of [points.faceNormal, points.normal, points.toEye]) array.set(normal, i * 3);
  });
  points.material.fill(PROBE);
  points.patch.fill(NO_PATCH);
  return points;
}

/** Writes what `surface` holds as point `i`. */
export function putSurface(points: SurfacePoints, i: number): void {
  for (let x = 0; x < 3; x++) {
    points.position[i * 3 + x] = surface[x]!;
    points.faceNormal[i * 3 + x] = surface[3 + x]!;
    points.normal[i * 3 + x] = surface[6 + x]!;
  }
}

/** Which triangles each patch has: `triangle[start[p]] … triangle[start[p + 1] - 1]`, with areas summed along the way. */
export interface PatchTriangles {
  start: Uint32Array;
  triangle: Uint32Array;
  /** Per entry: area of the patch's triangles up to and with this one, m². */
  areaTo: Float64Array;
}

export function trianglesOfPatches(stage: Stage): PatchTriangles {
  const n = stage.patchCount;
  const total = stage.indices.length / 3;
  const start = new Uint32Array(n + 1);
  for (let t = 0; t < total; t++) if (stage.patch[t]! < n) start[stage.patch[t]! + 1]!++;
  for (let p = 0; p < n; p++) start[p + 1]! += start[p]!;
  const triangle = new Uint32Array(start[n]!);
  const areaTo = new Float64Array(start[n]!);
  const next = start.slice();
  for (let t = 0; t < total; t++) {
    const p = stage.patch[t]!;
    if (p >= n) continue;
    const at = next[p]!++;
    triangle[at] = t;
    areaTo[at] = (at > start[p]! ? areaTo[at - 1]! : 0) + areaOf(stage, t);
  }
  return { start, triangle, areaTo };
}

function areaOf(stage: Stage, t: number): number {
  const { positions: p, indices } = stage;
  const a = indices[t * 3]! * 3;
  const b = indices[t * 3 + 1]! * 3;
  const c = indices[t * 3 + 2]! * 3;
  const ux = p[b]! - p[a]!;
  const uy = p[b + 1]! - p[a + 1]!;
  const uz = p[b + 2]! - p[a + 2]!;
  const vx = p[c]! - p[a]!;
  const vy = p[c + 1]! - p[a + 1]!;
  const vz = p[c + 2]! - p[a + 2]!;
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}

/**
 * `per` points on every patch, evenly by area, on the front side of its triangles; point p × per + k is the k-th of
 * patch p. Patches without triangles get points far below the floor.
 */
export function pointsOnPatches(
  stage: Stage,
  patches: PatchTriangles,
  per: number,
  seed: number,
): SurfacePoints {
  const n = stage.patchCount;
  const points = pointsOf(n * per);
  for (let p = 0; p < n; p++) {
    const first = patches.start[p]!;
    const end = patches.start[p + 1]!;
    const whole = end > first ? patches.areaTo[end - 1]! : 0;
    const su = unit(hash32(seed, p, 11));
    const sv = unit(hash32(seed, p, 12));
    const st = unit(hash32(seed, p, 13));
    for (let k = 0; k < per; k++) {
      const i = p * per + k;
      points.patch[i] = p;
      if (end === first) {
        points.position[i * 3 + 2] = -1e6;
        points.normal[i * 3 + 2] = points.faceNormal[i * 3 + 2] = -1;
        points.material[i] = PROBE;
        continue;
      }
      // Choose the triangle by area, stratified over the patch's samples.
      const want = ((k + st) / per) * whole;
      let at = first;
      while (at < end - 1 && patches.areaTo[at]! < want) at++;
      const t = patches.triangle[at]!;
      let u = r2x(k, su);
      let v = r2y(k, sv);
      if (u + v > 1) {
        u = 1 - u;
        v = 1 - v;
      }
      putFront(stage, t, u, v);
      putSurface(points, i);
      points.toEye.set(points.normal.subarray(i * 3, i * 3 + 3), i * 3);
      points.material[i] = stage.material[t]!;
    }
  }
  return points;
}

/** Fills `surface` on the front side of a triangle. */
function putFront(stage: Stage, t: number, u: number, v: number): void {
  const { positions: p, indices } = stage;
  const a = indices[t * 3]! * 3;
  const b = indices[t * 3 + 1]! * 3;
  const c = indices[t * 3 + 2]! * 3;
  const ux = p[b]! - p[a]!;
  const uy = p[b + 1]! - p[a + 1]!;
  const uz = p[b + 2]! - p[a + 2]!;
  const vx = p[c]! - p[a]!;
  const vy = p[c + 1]! - p[a + 1]!;
  const vz = p[c + 2]! - p[a + 2]!;
  surfaceAt(stage, t, u, v, -(uy * vz - uz * vy), -(uz * vx - ux * vz), -(ux * vy - uy * vx));
}
