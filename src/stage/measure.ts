/** What a body measures: for tests, and for counting. */
import type { Vec3 } from '../maths/vec3.ts';
import { add, cross, dot, length, normalize, scale, sub } from '../maths/vec3.ts';
import type { Body } from './stage.ts';

/** Sizes of one body or several together. */
export interface Measures {
  areaM2: number;
  /** By the divergence theorem; means something for a closed body only. */
  volumeM3: number;
  /** Length of the sum of all area vectors, m²: 0 for a closed body. */
  gapM2: number;
  /** Least cosine between a corner's shading normal and its triangle's. */
  worstNormal: number;
  /** Largest extent along any axis of any patch, metres. */
  widestPatchM: number;
  patches: number;
  lo: Vec3;
  hi: Vec3;
}

/** The three corners of triangle `t`, metres. */
export function corners(b: Body, t: number): [Vec3, Vec3, Vec3] {
  const at = (k: number): Vec3 => {
    const v = b.indices[t * 3 + k]! * 3;
    return [b.positions[v]!, b.positions[v + 1]!, b.positions[v + 2]!];
  };
  return [at(0), at(1), at(2)];
}

/** Measures bodies by going over every triangle. */
export function measure(bodies: Body | readonly Body[]): Measures {
  const list = Array.isArray(bodies) ? (bodies as readonly Body[]) : [bodies as Body];
  let area = 0;
  let volume = 0;
  let sum: Vec3 = [0, 0, 0];
  let worst = 1;
  let widest = 0;
  let patches = 0;
  const lo = [Infinity, Infinity, Infinity];
  const hi = [-Infinity, -Infinity, -Infinity];
  // Volumes about a point nearby, for precision.
  const o: Vec3 = list.length ? corners(list[0]!, 0)[0] : [0, 0, 0];
  for (const b of list) {
    const box = new Map<number, number[]>();
    for (let t = 0; t < b.material.length; t++) {
      const p = corners(b, t);
      const clear = b.materials[b.material[t]!]?.kind === 'glass';
      const n = scale(cross(sub(p[1], p[0]), sub(p[2], p[0])), 0.5);
      const a = length(n);
      area += a;
      volume += dot(sub(p[0], o), n) / 3;
      sum = add(sum, n);
      // Glass keeps no light: its patch means nothing.
      const known = (clear ? undefined : box.get(b.patch[t]!)) ?? [
        Infinity,
        Infinity,
        Infinity,
        -Infinity,
        -Infinity,
        -Infinity,
      ];
      if (!clear) box.set(b.patch[t]!, known);
      p.forEach((q, k) => {
        for (let c = 0; c < 3; c++) {
          known[c] = Math.min(known[c]!, q[c]!);
          known[c + 3] = Math.max(known[c + 3]!, q[c]!);
          lo[c] = Math.min(lo[c]!, q[c]!);
          hi[c] = Math.max(hi[c]!, q[c]!);
        }
        const v = b.indices[t * 3 + k]! * 3;
        const m: Vec3 = [b.normals[v]!, b.normals[v + 1]!, b.normals[v + 2]!];
        if (a > 1e-9) worst = Math.min(worst, dot(m, normalize(n)));
      });
    }
    patches += box.size;
    for (const k of box.values()) for (let c = 0; c < 3; c++) widest = Math.max(widest, k[c + 3]! - k[c]!);
  }
  return {
    areaM2: area,
    volumeM3: volume,
    gapM2: length(sum),
    worstNormal: worst,
    widestPatchM: widest,
    patches,
    lo: lo as unknown as Vec3,
    hi: hi as unknown as Vec3,
  };
}

/** First thing a ray meets among bodies (every triangle tried): distance in lengths of `way`, and whose it is. */
export function meet(
  bodies: readonly Body[],
  from: Vec3,
  way: Vec3,
): { t: number; body: Body; triangle: number } | undefined {
  let best: { t: number; body: Body; triangle: number } | undefined;
  for (const body of bodies)
    for (let k = 0; k < body.material.length; k++) {
      // Möller and Trumbore, both sides, in doubles.
      const [a, b, c] = corners(body, k);
      const e = sub(b, a);
      const f = sub(c, a);
      const p = cross(way, f);
      const det = dot(e, p);
      if (Math.abs(det) < 1e-14) continue;
      const s = sub(from, a);
      const u = dot(s, p) / det;
      if (u < 0 || u > 1) continue;
      const q = cross(s, e);
      const v = dot(way, q) / det;
      if (v < 0 || u + v > 1) continue;
      const t = dot(f, q) / det;
      if (t > 1e-7 && (!best || t < best.t)) best = { t, body, triangle: k };
    }
  return best;
}
