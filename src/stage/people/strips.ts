/**
 * Hairs as flat ribbons. Guide hairs come baked; each is drawn a few times beside itself so that a head has some
 * thousands. Amounts, widths and lifts by trial, no source.
 */
import { cross, normalize, type Vec3 } from '../../maths/vec3.ts';
import type { Collector } from './collector.ts';

/** A number 0–1 that belongs to an integer, the same on every machine. */
export function chance(n: number): number {
  let x = Math.imul((n + 0x7f4a7c15) ^ 0x9e3779b9, 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return ((x ^ (x >>> 16)) >>> 0) / 4294967296;
}

export interface HairLook {
  /** Copies of each guide. */
  copies: number;
  /** Copies lie up to this far beside the guide, metres. */
  spreadM: number;
  /** Ribbon width, metres; it narrows to a third at the tip, and a little at the root. */
  widthM: number;
  /** Height over the guide at root and tip (the most), metres. */
  liftM: [number, number];
  /** Share of hairs that stand off, and how far at the tip, metres. */
  loose: number;
  looseM: number;
  /** Hairs begin and end up to this share of their length apart, so that neither hairline nor cut is a ruled line. */
  ragged?: number;
}

/**
 * One ribbon through places `line` with outward normals `n` (both 3 × count), rest place `rest` for clustering. It has the
 * normal of the hair it lies in, however it is rolled; its triangles run along it from their second corner to the third.
 */
export function ribbon(
  out: Collector,
  line: Vec3[],
  n: Vec3[],
  rest: Vec3,
  widthM: number,
  roll: number,
  slot: number,
): void {
  const count = line.length;
  const first = out.count;
  const c = Math.cos(roll);
  const s = Math.sin(roll);
  for (let k = 0; k < count; k++) {
    const a = line[k > 0 ? k - 1 : 0]!;
    const b = line[k + 1 < count ? k + 1 : k]!;
    const up = n[k]!;
    const l = 1 / (Math.sqrt(up[0] * up[0] + up[1] * up[1] + up[2] * up[2]) || 1);
    const mx = up[0] * l;
    const my = up[1] * l;
    const mz = up[2] * l;
    const tx = b[0] - a[0];
    const ty = b[1] - a[1];
    const tz = b[2] - a[2];
    // Across the hair and square to where it lies.
    let wx = my * tz - mz * ty;
    let wy = mz * tx - mx * tz;
    let wz = mx * ty - my * tx;
    const w = 1 / (Math.sqrt(wx * wx + wy * wy + wz * wz) || 1);
    const half = (widthM / 2) * (k === 0 ? 0.6 : 1 - (0.67 * k) / (count - 1));
    wx = (wx * w * c + mx * s) * half;
    wy = (wy * w * c + my * s) * half;
    wz = (wz * w * c + mz * s) * half;
    const [x, y, z] = line[k]!;
    out.put(x - wx, y - wy, z - wz, mx, my, mz, rest[0], rest[1], rest[2]);
    out.put(x + wx, y + wy, z + wz, mx, my, mz, rest[0], rest[1], rest[2]);
    if (k > 0) {
      const q = first + 2 * k;
      out.triangle(q - 2, q - 1, q + 1, slot);
      out.triangle(q + 1, q, q - 2, slot);
    }
  }
}

/** The place `share` 0–1 of the way along guide `h`. */
function along(p: Float32Array, h: number, points: number, share: number): Vec3 {
  const x = share * (points - 1);
  const k = Math.min(points - 2, Math.floor(x));
  const t = x - k;
  const i = 3 * (h * points + k);
  return [
    p[i]! + t * (p[i + 3]! - p[i]!),
    p[i + 1]! + t * (p[i + 4]! - p[i + 1]!),
    p[i + 2]! + t * (p[i + 5]! - p[i + 2]!),
  ];
}

/** A stretch of a hair longer than this is halved on its way round the head, metres. */
const LONG_M = 0.022;

/**
 * The line with long stretches halved: the middle of a curve that leaves both ends at right angles to their normals
 * [PN-TRI]. A hair drawn straight from point to point would cut through the head.
 */
function rounded(line: Vec3[], n: Vec3[]): { line: Vec3[]; normals: Vec3[] } {
  const out: Vec3[] = [line[0]!];
  const normals: Vec3[] = [n[0]!];
  for (let k = 1; k < line.length; k++) {
    const [a, b, na, nb] = [line[k - 1]!, line[k]!, n[k - 1]!, n[k]!];
    const d: Vec3 = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    if (d[0] * d[0] + d[1] * d[1] + d[2] * d[2] > LONG_M * LONG_M) {
      const wa = (d[0] * na[0] + d[1] * na[1] + d[2] * na[2]) / 8;
      const wb = -(d[0] * nb[0] + d[1] * nb[1] + d[2] * nb[2]) / 8;
      const at = (i: 0 | 1 | 2): number => (a[i] + b[i]) / 2 - wa * na[i] - wb * nb[i];
      out.push([at(0), at(1), at(2)]);
      normals.push(normalize([na[0] + nb[0], na[1] + nb[1], na[2] + nb[2]]));
    }
    out.push(b);
    normals.push(nb);
  }
  return { line: out, normals };
}

/** A hair that turns by more than this within one of its stretches has run into an eddy of the field it followed. */
const EDDY = Math.cos((75 * Math.PI) / 180);

/** How far along guide `h` it runs on without turning back on itself, 0–1; under a third: there is none. */
function runs(p: Float32Array, h: number, points: number): number {
  let before: Vec3 | undefined;
  for (let k = 1; k < points; k++) {
    const i = 3 * (h * points + k);
    const d = normalize([p[i]! - p[i - 3]!, p[i + 1]! - p[i - 2]!, p[i + 2]! - p[i - 1]!]);
    if (before && d[0] * before[0] + d[1] * before[1] + d[2] * before[2] < EDDY)
      return (k - 1) / (points - 1);
    before = d;
  }
  return 1;
}

/** Guides stand for the hairs about them: where they lie far apart, for more of them, up to so far off, metres. */
const FARTHEST_M = 0.016;
/** A head's radius: what lies beside a guide lies lower by as much as the head turns away. */
const HEAD_M = 0.09;

const kept = new WeakMap<Float32Array, Float32Array>();
/** Per guide how far from its root the third nearest other guide passes, metres. `rest`: 3 × points × guides. */
function roomAbout(rest: Float32Array, points: number): Float32Array {
  const had = kept.get(rest);
  if (had) return had;
  const hairs = rest.length / (3 * points);
  const out = new Float32Array(hairs);
  for (let h = 0; h < hairs; h++) {
    const o = 3 * h * points;
    const [x, y, z] = [rest[o]!, rest[o + 1]!, rest[o + 2]!];
    let [a, b, c] = [1, 1, 1];
    for (let g = 0; g < hairs; g++) {
      if (g === h) continue;
      let d = 1;
      for (let i = 3 * g * points; i < 3 * (g + 1) * points; i += 3) {
        const q = (rest[i]! - x) ** 2 + (rest[i + 1]! - y) ** 2 + (rest[i + 2]! - z) ** 2;
        if (q < d) d = q;
      }
      if (d < a) [a, b, c] = [d, a, b];
      else if (d < b) [b, c] = [d, b];
      else if (d < c) c = d;
    }
    out[h] = Math.sqrt(c);
  }
  kept.set(rest, out);
  return out;
}

/** Draws guide hairs: `p`, `n` 3 × points × hairs in the posed frame, `restPlaces` the same at rest. */
export function guideHairs(
  out: Collector,
  p: Float32Array,
  n: Float32Array,
  restPlaces: Float32Array,
  points: number,
  look: HairLook,
  slot: number,
): void {
  const hairs = p.length / (3 * points);
  const v = (a: Float32Array, i: number): Vec3 => [a[3 * i]!, a[3 * i + 1]!, a[3 * i + 2]!];
  const room = look.copies > 4 ? roomAbout(restPlaces, points) : undefined;
  for (let h = 0; h < hairs; h++) {
    const spreadM = Math.max(look.spreadM, Math.min(FARTHEST_M, room?.[h] ?? 0));
    const copies = Math.round((look.copies * spreadM) / (look.spreadM || 1)) || look.copies;
    const whole = points > 2 ? runs(p, h, points) : 1;
    if (whole < 0.3) continue;
    for (let c = 0; c < copies; c++) {
      const id = 131 * (h * 16 + (c % 16)) + 7919 * Math.floor(c / 16);
      const beside = c === 0 ? 0 : (chance(id) - 0.5) * 2 * spreadM;
      const fan = (chance(id + 1) - 0.5) * look.spreadM * 1.2;
      const loose = chance(id + 2) < look.loose ? look.looseM * chance(id + 3) : 0;
      const tip = look.liftM[0] + (look.liftM[1] - look.liftM[0]) * chance(id + 4) + loose;
      const wave = (chance(id + 5) - 0.5) * look.liftM[1];
      const ragged = look.ragged ?? 0;
      const from = c === 0 ? 0 : 0.6 * ragged * chance(id + 7) ** 2;
      const to = whole * (c === 0 ? 1 : 1 - ragged * chance(id + 8));
      const line: Vec3[] = [];
      const normals: Vec3[] = [];
      for (let k = 0; k < points; k++) {
        const i = h * points + k;
        const s = k / (points - 1);
        const at = along(p, h, points, from + (to - from) * s);
        const m = v(n, i);
        const a = v(p, h * points + Math.max(0, k - 1));
        const b = v(p, h * points + Math.min(points - 1, k + 1));
        const side = normalize(cross(m, [b[0] - a[0], b[1] - a[1], b[2] - a[2]]));
        const x = beside + fan * s;
        const y =
          look.liftM[0] + (tip - look.liftM[0]) * s * s + wave * s * (1 - s) * 2 - (x * x) / (2 * HEAD_M);
        line.push([
          at[0] + side[0] * x + m[0] * y,
          at[1] + side[1] * x + m[1] * y,
          at[2] + side[2] * x + m[2] * y,
        ]);
        normals.push(m);
      }
      const drawn = points > 2 && look.ragged ? rounded(line, normals) : { line, normals };
      const roll = (chance(id + 6) - 0.5) * 1.6;
      ribbon(out, drawn.line, drawn.normals, v(restPlaces, h * points), look.widthM, roll, slot);
    }
  }
}
