/**
 * An eyeball: a sphere with the bulge of the cornea, its iris and pupil as rings of their own. Proportions of the
 * bulge by trial; iris radius 5.9 mm is the usual visible one (from memory).
 */
import { add, cross, DEG, dot, frame, mix, normalize, scale, type Vec3 } from '../../maths/vec3.ts';

export const IRIS_RADIUS_M = 0.0059;
const PUPIL_RADIUS_M = 0.0019;

export interface EyeBall {
  positions: Float32Array;
  normals: Float32Array;
  indices: number[];
  /** Per triangle: 0 white, 1 iris, 2 pupil. */
  part: number[];
  /** Front of the cornea. */
  front: Vec3;
}

/** Radius at `angle` from the gaze: R (1 + .075 (1 - x²)²), x = angle / (1.15 × iris angle). */
function radiusAt(r: number, angle: number): number {
  const x = angle / (1.15 * Math.asin(Math.min(0.9, IRIS_RADIUS_M / r)));
  return x < 1 ? r * (1 + 0.075 * (1 - x * x) ** 2) : r;
}

export function eyeBall(centre: Vec3, r: number, gaze: Vec3, segments: number): EyeBall {
  const iris = Math.asin(Math.min(0.9, IRIS_RADIUS_M / r));
  const pupil = Math.asin(PUPIL_RADIUS_M / r);
  const rings = [
    pupil * 0.55,
    pupil,
    (pupil + iris) / 2,
    iris,
    iris * 1.15,
    iris * 1.5,
    iris * 2,
    75 * DEG,
    100 * DEG,
  ];
  const { u, v } = frame(gaze);
  const positions: number[] = [];
  const normals: number[] = [];
  const put = (angle: number, turn: number) => {
    const at = radiusAt(r, angle);
    const e = 1e-3;
    const slope =
      (radiusAt(r, angle + e) - radiusAt(r, Math.max(0, angle - e))) / (angle > e ? 2 * e : angle + e);
    const side = add(scale(u, Math.cos(turn)), scale(v, Math.sin(turn)));
    const out = add(scale(gaze, Math.cos(angle)), scale(side, Math.sin(angle)));
    const tangent = add(scale(gaze, -Math.sin(angle)), scale(side, Math.cos(angle)));
    positions.push(...add(centre, scale(out, at)));
    normals.push(...normalize(add(scale(out, at), scale(tangent, angle === 0 ? 0 : -slope))));
  };
  put(0, 0);
  for (const a of rings) for (let s = 0; s < segments; s++) put(a, (s / segments) * 2 * Math.PI);
  const indices: number[] = [];
  const part: number[] = [];
  const kind = (ring: number) => (ring <= 1 ? 2 : ring <= 3 ? 1 : 0);
  for (let s = 0; s < segments; s++) {
    const next = (s + 1) % segments;
    indices.push(0, 1 + s, 1 + next);
    part.push(2);
    for (let k = 1; k < rings.length; k++) {
      const a = 1 + (k - 1) * segments;
      const b = a + segments;
      indices.push(a + s, b + s, b + next, a + s, b + next, a + next);
      part.push(kind(k), kind(k));
    }
  }
  return {
    positions: Float32Array.from(positions),
    normals: Float32Array.from(normals),
    indices,
    part,
    front: add(centre, scale(gaze, radiusAt(r, 0))),
  };
}

/** Turns the resting gaze towards a wished one, at most `limit` radians. */
export function turnGaze(rest: Vec3, wish: Vec3, limit: number): Vec3 {
  const angle = Math.acos(Math.min(1, Math.max(-1, dot(rest, wish))));
  if (angle <= limit) return wish;
  const axis = cross(rest, wish);
  if (Math.hypot(...axis) < 1e-9) return rest;
  return normalize(mix(rest, wish, Math.sin(limit) / (Math.sin(limit) + Math.sin(angle - limit))));
}
