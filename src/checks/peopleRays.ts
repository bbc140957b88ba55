/** A small tree of boxes over triangles for the checks on people: nearest hit and any hit, double-sided. */
import type { Vec3 } from '../maths/vec3.ts';

export interface Hit {
  distance: number;
  triangle: number;
  /** Barycentric weights of the second and third corner. */
  u: number;
  v: number;
}

export interface RayTree {
  nearest(from: Vec3, along: Vec3, min: number, max: number): Hit | undefined;
  blocked(from: Vec3, along: Vec3, min: number, max: number): boolean;
}

export function rayTree(p: Float32Array, indices: ArrayLike<number>, triangles: number[]): RayTree {
  const order = Uint32Array.from(triangles);
  const n = order.length;
  const boxes = new Float32Array(6 * 2 * n + 12);
  const left = new Int32Array(2 * n + 2);
  const count = new Int32Array(2 * n + 2);
  const mid = new Float32Array(3 * (Math.max(0, ...triangles) + 1));
  for (const t of triangles)
    for (let k = 0; k < 3; k++)
      mid[3 * t + k] =
        (p[3 * indices[3 * t]! + k]! + p[3 * indices[3 * t + 1]! + k]! + p[3 * indices[3 * t + 2]! + k]!) / 3;
  let nodes = 1;
  const build = (node: number, from: number, to: number) => {
    const b = 6 * node;
    for (let k = 0; k < 3; k++) {
      let lo = Number.POSITIVE_INFINITY;
      let hi = Number.NEGATIVE_INFINITY;
      for (let i = from; i < to; i++)
        for (let c = 0; c < 3; c++) {
          const x = p[3 * indices[3 * order[i]! + c]! + k]!;
          if (x < lo) lo = x;
          if (x > hi) hi = x;
        }
      boxes[b + k] = lo - 1e-6;
      boxes[b + 3 + k] = hi + 1e-6;
    }
    if (to - from <= 4) {
      left[node] = from;
      count[node] = to - from;
      return;
    }
    let axis = 0;
    for (let k = 1; k < 3; k++)
      if (boxes[b + 3 + k]! - boxes[b + k]! > boxes[b + 3 + axis]! - boxes[b + axis]!) axis = k;
    order.subarray(from, to).sort((s, t) => mid[3 * s + axis]! - mid[3 * t + axis]!);
    const half = (from + to) >> 1;
    const l = nodes;
    nodes += 2;
    left[node] = l;
    build(l, from, half);
    build(l + 1, half, to);
  };
  build(0, 0, n);
  const stack = new Int32Array(128);
  const walk = (o: Vec3, d: Vec3, min: number, max: number, any: boolean): Hit | undefined => {
    const [ix, iy, iz] = [1 / d[0], 1 / d[1], 1 / d[2]];
    let best = max;
    let hit: Hit | undefined;
    let top = 0;
    stack[top++] = 0;
    while (top > 0) {
      const node = stack[--top]!;
      const b = 6 * node;
      const x0 = (boxes[b]! - o[0]) * ix;
      const x1 = (boxes[b + 3]! - o[0]) * ix;
      const y0 = (boxes[b + 1]! - o[1]) * iy;
      const y1 = (boxes[b + 4]! - o[1]) * iy;
      const z0 = (boxes[b + 2]! - o[2]) * iz;
      const z1 = (boxes[b + 5]! - o[2]) * iz;
      const near = Math.max(Math.min(x0, x1), Math.min(y0, y1), Math.min(z0, z1), min);
      const far = Math.min(Math.max(x0, x1), Math.max(y0, y1), Math.max(z0, z1), best);
      if (near > far) continue;
      if (count[node] === 0) {
        stack[top++] = left[node]!;
        stack[top++] = left[node]! + 1;
        continue;
      }
      for (let i = left[node]!; i < left[node]! + count[node]!; i++) {
        const t = order[i]!;
        const a = 3 * indices[3 * t]!;
        const bb = 3 * indices[3 * t + 1]!;
        const c = 3 * indices[3 * t + 2]!;
        // [MOLLER-1997]
        const e1x = p[bb]! - p[a]!;
        const e1y = p[bb + 1]! - p[a + 1]!;
        const e1z = p[bb + 2]! - p[a + 2]!;
        const e2x = p[c]! - p[a]!;
        const e2y = p[c + 1]! - p[a + 1]!;
        const e2z = p[c + 2]! - p[a + 2]!;
        const px = d[1] * e2z - d[2] * e2y;
        const py = d[2] * e2x - d[0] * e2z;
        const pz = d[0] * e2y - d[1] * e2x;
        const det = e1x * px + e1y * py + e1z * pz;
        if (Math.abs(det) < 1e-14) continue;
        const inv = 1 / det;
        const tx = o[0] - p[a]!;
        const ty = o[1] - p[a + 1]!;
        const tz = o[2] - p[a + 2]!;
        const u = (tx * px + ty * py + tz * pz) * inv;
        if (u < 0 || u > 1) continue;
        const qx = ty * e1z - tz * e1y;
        const qy = tz * e1x - tx * e1z;
        const qz = tx * e1y - ty * e1x;
        const v = (d[0] * qx + d[1] * qy + d[2] * qz) * inv;
        if (v < 0 || u + v > 1) continue;
        const dist = (e2x * qx + e2y * qy + e2z * qz) * inv;
        if (dist <= min || dist >= best) continue;
        best = dist;
        hit = { distance: dist, triangle: t, u, v };
        if (any) return hit;
      }
    }
    return hit;
  };
  return {
    nearest: (o, d, min, max) => walk(o, d, min, max, false),
    blocked: (o, d, min, max) => walk(o, d, min, max, true) !== undefined,
  };
}
