/** Finds the way hairs run on a sheet and follows them over its triangles. */
import type { Image } from './png.ts';

export type P3 = [number, number, number];

export const sub3 = (a: P3, b: P3): P3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const dot3 = (a: P3, b: P3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const len3 = (a: P3): number => Math.hypot(...a);

/** Repeatable numbers 0–1 (mulberry32). */
export function chances(seed: number): () => number {
  let s = seed >>> 0;
  return () => {
    s = (s + 0x6d2b79f5) >>> 0;
    let t = Math.imul(s ^ (s >>> 15), s | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Per pixel the direction (radians, image axes) along which brightness changes least: structure tensor, blurred. */
export function strandAngles(img: Image, radius: number): Float32Array {
  const { width: w, height: h, rgba } = img;
  const lum = new Float32Array(w * h);
  for (let i = 0; i < w * h; i++)
    lum[i] =
      (rgba[4 * i]! * 0.3 + rgba[4 * i + 1]! * 0.6 + rgba[4 * i + 2]! * 0.1) * (rgba[4 * i + 3]! / 255);
  const planes = [new Float32Array(w * h), new Float32Array(w * h), new Float32Array(w * h)];
  for (let y = 1; y < h - 1; y++)
    for (let x = 1; x < w - 1; x++) {
      const i = y * w + x;
      const gx = lum[i + 1]! - lum[i - 1]!;
      const gy = lum[i + w]! - lum[i - w]!;
      planes[0]![i] = gx * gx;
      planes[1]![i] = gx * gy;
      planes[2]![i] = gy * gy;
    }
  const blur = (p: Float32Array, dx: number, dy: number) => {
    const out = new Float32Array(p.length);
    for (let y = 0; y < h; y++)
      for (let x = 0; x < w; x++) {
        let s = 0;
        for (let k = -radius; k <= radius; k++) {
          const xx = Math.min(w - 1, Math.max(0, x + k * dx));
          const yy = Math.min(h - 1, Math.max(0, y + k * dy));
          s += p[yy * w + xx]!;
        }
        out[y * w + x] = s;
      }
    return out;
  };
  const [xx, xy, yy] = planes.map((p) => blur(blur(blur(blur(p, 1, 0), 0, 1), 1, 0), 0, 1)) as [
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  const out = new Float32Array(w * h);
  for (let i = 0; i < w * h; i++) out[i] = 0.5 * Math.atan2(2 * xy[i]!, xx[i]! - yy[i]!) + Math.PI / 2;
  return out;
}

export interface SurfacePoint {
  triangle: number;
  u: number;
  v: number;
}

/** A triangle soup with neighbours. `at`: 3 × n places. */
export class Surface {
  readonly neighbour = new Map<string, number[]>();
  readonly area: Float64Array;
  readonly tris: number[];
  readonly at: ArrayLike<number>;
  constructor(tris: number[], at: ArrayLike<number>) {
    this.tris = tris;
    this.at = at;
    this.area = new Float64Array(tris.length / 3);
    for (let t = 0; t < tris.length / 3; t++) {
      for (let k = 0; k < 3; k++) {
        const key = this.edge(tris[3 * t + k]!, tris[3 * t + ((k + 1) % 3)]!);
        this.neighbour.set(key, [...(this.neighbour.get(key) ?? []), t]);
      }
      const [a, b, c] = this.corners(t);
      const [u, v] = [sub3(b, a), sub3(c, a)];
      this.area[t] =
        Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
    }
  }
  edge(a: number, b: number): string {
    return a < b ? `${a},${b}` : `${b},${a}`;
  }
  vertex(v: number): P3 {
    return [this.at[3 * v]!, this.at[3 * v + 1]!, this.at[3 * v + 2]!];
  }
  corners(t: number): [P3, P3, P3] {
    return [
      this.vertex(this.tris[3 * t]!),
      this.vertex(this.tris[3 * t + 1]!),
      this.vertex(this.tris[3 * t + 2]!),
    ];
  }
  place(p: SurfacePoint): P3 {
    const [a, b, c] = this.corners(p.triangle);
    const w = 1 - p.u - p.v;
    return [0, 1, 2].map((k) => a[k]! * w + b[k]! * p.u + c[k]! * p.v) as P3;
  }

  /**
   * Follows a field over the surface from `start`. `field` gives barycentric rates (du, dv) or undefined to stop;
   * its sign is free. `step` and `longest` in the units of `at`.
   */
  follow(
    start: SurfacePoint,
    sign: number,
    step: number,
    longest: number,
    field: (p: SurfacePoint) => [number, number] | undefined,
  ): SurfacePoint[] {
    const path: SurfacePoint[] = [start];
    let p = { ...start };
    let before: P3 | undefined;
    let gone = 0;
    while (gone < longest) {
      const rate = field(p);
      if (!rate) break;
      const [a, b, c] = this.corners(p.triangle);
      let [du, dv] = rate;
      let d: P3 = [0, 1, 2].map((k) => (b[k]! - a[k]!) * du + (c[k]! - a[k]!) * dv) as P3;
      const l = len3(d);
      if (l < 1e-12) break;
      const turn = before ? (dot3(before, d) < 0 ? -1 : 1) : sign;
      if (before && Math.abs(dot3(before, d)) / l < 0.6) break;
      du *= (turn * step) / l;
      dv *= (turn * step) / l;
      d = [(d[0] * turn) / l, (d[1] * turn) / l, (d[2] * turn) / l];
      // Stay in this triangle as far as it goes, then cross the edge.
      let f = 1;
      let out = -1;
      const dw = -du - dv;
      const w = 1 - p.u - p.v;
      for (const [k, x, dx] of [
        [1, p.u, du],
        [2, p.v, dv],
        [0, w, dw],
      ] as const)
        if (dx < 0 && -x / dx < f) {
          f = Math.max(0, -x / dx);
          out = k;
        }
      const next = { triangle: p.triangle, u: p.u + du * f, v: p.v + dv * f };
      gone += step * f;
      if (out >= 0) {
        // The edge opposite to corner `out`.
        const e1 = this.tris[3 * p.triangle + ((out + 1) % 3)]!;
        const e2 = this.tris[3 * p.triangle + ((out + 2) % 3)]!;
        const other = this.neighbour.get(this.edge(e1, e2))!.find((t) => t !== p.triangle);
        path.push(next);
        if (other === undefined) break;
        const here = [1 - next.u - next.v, next.u, next.v];
        const w1 = here[(out + 1) % 3]!;
        const w2 = here[(out + 2) % 3]!;
        const bary = [0, 1, 2].map((k) => {
          const v = this.tris[3 * other + k]!;
          return v === e1 ? w1 : v === e2 ? w2 : 0;
        });
        const sum = bary[0]! + bary[1]! + bary[2]! || 1;
        const inset = 1e-4;
        p = {
          triangle: other,
          u: (bary[1]! / sum) * (1 - 3 * inset) + inset,
          v: (bary[2]! / sum) * (1 - 3 * inset) + inset,
        };
        gone += step * 1e-3;
      } else {
        p = next;
        path.push(next);
      }
      before = d;
    }
    return path;
  }
}

/** Points at equal lengths along a path. */
export function resample(path: { at: P3; n: P3 }[], count: number): { at: P3; n: P3 }[] {
  const along = [0];
  for (let i = 1; i < path.length; i++) along.push(along[i - 1]! + len3(sub3(path[i]!.at, path[i - 1]!.at)));
  const total = along[along.length - 1]!;
  const out: { at: P3; n: P3 }[] = [];
  let i = 0;
  for (let k = 0; k < count; k++) {
    const s = (total * k) / (count - 1);
    while (i < path.length - 2 && along[i + 1]! < s) i++;
    const gap = along[i + 1]! - along[i]!;
    const f = gap > 0 ? Math.min(1, (s - along[i]!) / gap) : 0;
    const [a, b] = [path[i]!, path[Math.min(i + 1, path.length - 1)]!];
    out.push({
      at: [0, 1, 2].map((c) => a.at[c]! + (b.at[c]! - a.at[c]!) * f) as P3,
      n: [0, 1, 2].map((c) => a.n[c]! + (b.n[c]! - a.n[c]!) * f) as P3,
    });
  }
  return out;
}
