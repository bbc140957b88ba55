/** A skin drawn over level rounded rectangles, one over the other: baths, bowls, cushions, whatever has soft corners. */
import { add, cross, normalize, sub, type Vec3 } from '../../maths/vec3.ts';
import { type Draft, newPatch, triangle, vertex } from '../mesh.ts';

export interface Ring {
  /** Half width and half depth, metres. */
  hx: number;
  hy: number;
  /** Radius of the corners, metres. */
  r: number;
  z: number;
  /** Middle, metres; absent: the origin. */
  x?: number;
  y?: number;
}

/** Points on a corner's quarter circle, both ends among them. */
const CORNER = 5;
/** Longest edge along a straight side, and the cells that patches go by, metres. */
const EDGE_M = 0.1;
const PATCH_M = 0.19;

/** Points of a ring, counter-clockwise from above; `nx`, `ny`: pieces along its straight sides. */
function points(ring: Ring, nx: number, ny: number): Vec3[] {
  const r = Math.max(1e-4, Math.min(ring.r, ring.hx - 1e-4, ring.hy - 1e-4));
  const [ix, iy] = [ring.hx - r, ring.hy - r];
  const out: Vec3[] = [];
  const corners = [
    [1, -1],
    [1, 1],
    [-1, 1],
    [-1, -1],
  ] as const;
  corners.forEach(([sx, sy], q) => {
    const [cx, cy] = [sx * ix, sy * iy];
    for (let k = 0; k < CORNER; k++) {
      const a = ((q - 1) * Math.PI) / 2 + (k / (CORNER - 1)) * (Math.PI / 2);
      out.push([cx + r * Math.cos(a), cy + r * Math.sin(a), ring.z]);
    }
    // On along the straight side to the next corner.
    const from = out.at(-1)!;
    const [tx, ty] = corners[(q + 1) % 4]!;
    const next: Vec3 = [tx * ix, ty * iy, ring.z];
    const a = (q * Math.PI) / 2;
    const to: Vec3 = [next[0] + r * Math.cos(a), next[1] + r * Math.sin(a), ring.z];
    const n = q % 2 === 0 ? ny : nx;
    for (let k = 1; k < n; k++)
      out.push([from[0] + ((to[0] - from[0]) * k) / n, from[1] + ((to[1] - from[1]) * k) / n, ring.z]);
  });
  return out.map(([px, py, pz]): Vec3 => [px + (ring.x ?? 0), py + (ring.y ?? 0), pz]);
}

/** Rings between two, so that no band is wider than a patch. */
function between(p: Ring, q: Ring): Ring[] {
  const wide = Math.hypot(
    Math.max(Math.abs(p.hx - q.hx), Math.abs(p.hy - q.hy)) + Math.abs((p.y ?? 0) - (q.y ?? 0)),
    p.z - q.z,
  );
  const n = Math.max(1, Math.ceil(wide / EDGE_M));
  const mix = (a: number, b: number, t: number) => a + (b - a) * t;
  return Array.from({ length: n }, (_, k): Ring => {
    const t = k / n;
    return {
      hx: mix(p.hx, q.hx, t),
      hy: mix(p.hy, q.hy, t),
      r: mix(p.r, q.r, t),
      z: mix(p.z, q.z, t),
      x: mix(p.x ?? 0, q.x ?? 0, t),
      y: mix(p.y ?? 0, q.y ?? 0, t),
    };
  });
}

/**
 * The skin between each ring and the next. In order so that the front is on the right of the way walked: up the
 * outside, in over a rim, down the inside. Round at its corners, sharp from band to band.
 */
export function loft(d: Draft, rings: readonly Ring[], slot: number): void {
  const most = (of: (r: Ring) => number) => Math.max(...rings.map(of));
  const nx = Math.max(1, Math.ceil((2 * most((r) => r.hx - r.r)) / EDGE_M));
  const ny = Math.max(1, Math.ceil((2 * most((r) => r.hy - r.r)) / EDGE_M));
  const whole = [...rings.slice(1).flatMap((q, k) => between(rings[k]!, q)), ...rings.slice(-1)];
  const all = whole.map((r) => points(r, nx, ny));
  const patches = new Map<string, number>();
  const m = all[0]!.length;
  for (let b = 0; b + 1 < all.length; b++) {
    const [p, q] = [all[b]!, all[b + 1]!];
    const normal = (i: number): Vec3 => {
      const along = add(sub(p[(i + 1) % m]!, p[(i + m - 1) % m]!), sub(q[(i + 1) % m]!, q[(i + m - 1) % m]!));
      return normalize(cross(along, sub(q[i]!, p[i]!)));
    };
    const low = p.map((v, i) => vertex(d, v, normal(i)));
    const high = q.map((v, i) => vertex(d, v, normal(i)));
    for (let i = 0; i < m; i++) {
      const e = (i + 1) % m;
      const n = normal(i);
      const way = n.map(Math.abs);
      const axis = way.indexOf(Math.max(...way));
      const middle = [0, 1, 2].map((k) =>
        Math.floor((p[i]![k]! + p[e]![k]! + q[i]![k]! + q[e]![k]!) / 4 / PATCH_M),
      );
      const key = `${axis}${n[axis]! > 0}${middle.join()}`;
      let patch = patches.get(key);
      if (patch === undefined) {
        patch = newPatch(d);
        patches.set(key, patch);
      }
      triangle(d, low[i]!, low[e]!, high[e]!, slot, patch);
      triangle(d, low[i]!, high[e]!, high[i]!, slot, patch);
    }
  }
}
