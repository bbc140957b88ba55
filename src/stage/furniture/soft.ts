/** Stuffed and draped things: cushions, pillows, covers. Their unevenness is theirs by where they lie: no chance. */
import { add, scale, type Vec3 } from '../../maths/vec3.ts';
import { pipe } from '../build.ts';
import { type Draft, newPatch, triangle, vertex } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';

/** A slow unevenness, −1 to 1, of waves some `long` metres long; `seed` tells one thing's from the next one's. */
export function uneven(x: number, y: number, long: number, seed: number): number {
  const k = (2 * Math.PI) / long;
  return (
    0.5 * Math.sin(k * (0.83 * x + 0.56 * y) + 1.7 * seed) +
    0.3 * Math.sin(k * 1.71 * (-0.42 * x + 0.91 * y) + 4.1 * seed + 1) +
    0.2 * Math.sin(k * 2.63 * (0.97 * x - 0.24 * y) + 2.3 * seed + 2)
  );
}

/** A cushion as upholstery has it: full in its middle, round at its edges, `up` the axis its broad side looks along. */
export function cushion(
  d: Draft,
  lo: Vec3,
  hi: Vec3,
  slot: number,
  options: { up: 0 | 2; fullM?: number; seed?: number; piping?: number; roundM?: number } = { up: 2 },
): void {
  const { up, fullM = 0.012, seed = 0 } = options;
  const [a, b] = up === 2 ? ([0, 1] as const) : ([1, 2] as const);
  const half = [0, 1, 2].map((k) => (hi[k]! - lo[k]!) / 2) as unknown as Vec3;
  const mid = [0, 1, 2].map((k) => (hi[k]! + lo[k]!) / 2) as unknown as Vec3;
  const round = Math.min(options.roundM ?? 0.045, 0.45 * Math.min(...half) * 2);
  const flat: Vec3 = [0, 1, 2].map((k) => (k === up ? fullM : 0)) as unknown as Vec3;
  // The stuffing gives way towards the seams: corners lie lower than middles.
  const inner = { lo: add(lo, flat), hi: add(hi, scale(flat, -1)) };
  const bend = (p: Vec3, n: Vec3): Vec3 => {
    const s = (p[a] - mid[a]) / half[a];
    const t = (p[b] - mid[b]) / half[b];
    const rise = (1 - s ** 4) * (1 - t ** 4);
    const q: [number, number, number] = [p[0], p[1], p[2]];
    q[up] += n[up] * fullM * rise * (0.8 + 0.2 * uneven(p[a], p[b], 0.34, seed));
    // Sides swell too, less.
    for (const k of [a, b]) {
      const other = k === a ? t : s;
      q[k] -= n[k] * 0.006 * other ** 2;
    }
    return q;
  };
  roundBox(d, inner.lo, inner.hi, round, slot, {
    steps: 2,
    cellM: 0.14,
    bend,
    // What lies or leans on something is not seen from there.
    without: [up === 2 ? 'z-' : 'x-'],
  });
  if (!options.piping) return;
  // A welt runs round the broad side where two cloths are sewn together.
  const e = round * 0.42;
  const rim = inner.hi[up] - round * 0.3;
  {
    const corner = (s: number, t: number, in1: number, in2: number): Vec3 => {
      const p: [number, number, number] = [0, 0, 0];
      p[up] = rim;
      p[a] = mid[a] + s * (half[a] - in1);
      p[b] = mid[b] + t * (half[b] - in2);
      return p;
    };
    const far = round * 0.9;
    const r = [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const;
    const points: Vec3[] = [];
    r.forEach(([s, t], i) => {
      const one = corner(s, t, e * 0.35, far);
      const two = corner(s, t, far, e * 0.35);
      points.push(...(i % 2 ? [two, corner(s, t, e, e), one] : [one, corner(s, t, e, e), two]));
    });
    pipe(d, [...points, points[0]!], 0.004, options.piping, 4);
  }
}

/** A pillow lying at the middle of its lower side: two cloths sewn together round their rim, full between. */
export function pillow(
  d: Draft,
  mid: Vec3,
  sizeM: Vec3,
  slot: number,
  options: { leanRad?: number; seed?: number } = {},
): void {
  const [w, deep, h] = sizeM;
  const { leanRad = 0, seed = 0 } = options;
  const [nu, nv] = [10, 12];
  const [c, s] = [Math.cos(leanRad), Math.sin(leanRad)];
  const [pu, pv] = [Math.ceil(w / 0.27), Math.ceil(deep / 0.27)];
  const patches = Array.from({ length: 2 * pu * pv }, () => newPatch(d));
  const at = (u: number, v: number, side: number): Vec3 => {
    // Between the corners, which stand out like ears, the rim draws in.
    const x = (w / 2) * u * (1 - 0.07 * (1 - v * v));
    const y = (deep / 2) * v * (1 - 0.05 * (1 - u * u));
    const full = Math.sqrt(Math.max(0, 1 - Math.abs(u) ** 2.4) * Math.max(0, 1 - Math.abs(v) ** 2.4));
    const z = h * (0.35 + (side > 0 ? 0.6 : -0.35) * full * (1 + 0.08 * uneven(u, v, 1.3, seed)));
    // Leaning about y its −x rim rises.
    return [mid[0] + x * c + z * s, mid[1] + y, mid[2] + z * c + (w / 2 - x) * s];
  };
  const lap = (k: number, n: number): number => Math.sin((k / n - 0.5) * Math.PI);
  for (const side of [1, -1]) {
    const id: number[] = [];
    for (let j = 0; j <= nv; j++)
      for (let i = 0; i <= nu; i++) {
        const [u, v] = [lap(i, nu), lap(j, nv)];
        const e = 0.02;
        const [u0, u1, v0, v1] = [
          Math.max(-1, u - e),
          Math.min(1, u + e),
          Math.max(-1, v - e),
          Math.min(1, v + e),
        ];
        const [px, qx] = [at(u0, v, side), at(u1, v, side)];
        const [py, qy] = [at(u, v0, side), at(u, v1, side)];
        const du = [0, 1, 2].map((k) => qx[k]! - px[k]!) as unknown as Vec3;
        const dv = [0, 1, 2].map((k) => qy[k]! - py[k]!) as unknown as Vec3;
        const n: Vec3 = [
          side * (du[1] * dv[2] - du[2] * dv[1]),
          side * (du[2] * dv[0] - du[0] * dv[2]),
          side * (du[0] * dv[1] - du[1] * dv[0]),
        ];
        const l = Math.hypot(...n) || 1;
        id.push(vertex(d, at(u, v, side), scale(n, 1 / l)));
      }
    for (let j = 0; j < nv; j++)
      for (let i = 0; i < nu; i++) {
        const [a, b] = [j * (nu + 1) + i, j * (nu + 1) + i + 1];
        const [e, f] = [a + nu + 1, b + nu + 1];
        const share = (k: number, n: number, of: number) =>
          Math.min(of - 1, Math.floor(((lap(k, n) + lap(k + 1, n)) / 4 + 0.5) * of));
        const patch = patches[((side > 0 ? pv : 0) + share(j, nv, pv)) * pu + share(i, nu, pu)]!;
        const t = side > 0 ? [a, b, f, a, f, e] : [a, f, b, a, e, f];
        triangle(d, id[t[0]!]!, id[t[1]!]!, id[t[2]!]!, slot, patch);
        triangle(d, id[t[3]!]!, id[t[4]!]!, id[t[5]!]!, slot, patch);
      }
  }
}
