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
  for (let k = 0; k < count; k++) {
    const a = line[Math.max(0, k - 1)]!;
    const b = line[Math.min(count - 1, k + 1)]!;
    const t = normalize([b[0] - a[0], b[1] - a[1], b[2] - a[2]]);
    const m = normalize(n[k]!);
    const side = normalize(cross(m, t));
    const c = Math.cos(roll);
    const s = Math.sin(roll);
    const half = (widthM / 2) * (k === 0 ? 0.6 : 1 - (0.67 * k) / (count - 1));
    const w: Vec3 = [side[0] * c + m[0] * s, side[1] * c + m[1] * s, side[2] * c + m[2] * s];
    const p = line[k]!;
    for (const e of [-half, half])
      out.put(p[0] + w[0] * e, p[1] + w[1] * e, p[2] + w[2] * e, m[0], m[1], m[2], rest[0], rest[1], rest[2]);
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
  for (let h = 0; h < hairs; h++)
    for (let c = 0; c < look.copies; c++) {
      const id = 131 * (h * 16 + c);
      const beside = c === 0 ? 0 : (chance(id) - 0.5) * 2 * look.spreadM;
      const fan = (chance(id + 1) - 0.5) * look.spreadM * 1.2;
      const loose = chance(id + 2) < look.loose ? look.looseM * chance(id + 3) : 0;
      const tip = look.liftM[0] + (look.liftM[1] - look.liftM[0]) * chance(id + 4) + loose;
      const wave = (chance(id + 5) - 0.5) * look.liftM[1];
      const ragged = look.ragged ?? 0;
      const from = c === 0 ? 0 : 0.6 * ragged * chance(id + 7) ** 2;
      const to = c === 0 ? 1 : 1 - ragged * chance(id + 8);
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
        const y = look.liftM[0] + (tip - look.liftM[0]) * s * s + wave * s * (1 - s) * 2;
        line.push([
          at[0] + side[0] * x + m[0] * y,
          at[1] + side[1] * x + m[1] * y,
          at[2] + side[2] * x + m[2] * y,
        ]);
        normals.push(m);
      }
      ribbon(out, line, normals, v(restPlaces, h * points), look.widthM, (chance(id + 6) - 0.5) * 1.6, slot);
    }
}
