/**
 * Picking directions to what lies beyond everything: sky and far ground. Inside a room they come through an opening, and
 * a point of the opening is picked; outside any direction of the half is as likely.
 */
import type { FarShape } from './scene.ts';

/** As far as that, metres: sun, moon and sky stand here for rays. */
export const FAR_M = 1e5;

/** A far shape as numbers. */
export interface Far {
  sign: 1 | -1;
  portal: Float64Array | undefined;
  rooms: { xy: Float64Array; fromM: number; toM: number }[];
}

/* portal: 0–2 corner, 3–5 u, 6–8 v, 9–11 unit normal out, 12 area, 13 u·u, 14 v·v, 15 u·v. */
export function farOf(shape: FarShape): Far {
  const { portal } = shape;
  let f: Float64Array | undefined;
  if (portal) {
    const { corner, u, v } = portal;
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const area = Math.hypot(...n);
    f = Float64Array.from([
      ...corner,
      ...u,
      ...v,
      ...n.map((x) => x / area),
      area,
      u[0] ** 2 + u[1] ** 2 + u[2] ** 2,
      v[0] ** 2 + v[1] ** 2 + v[2] ** 2,
      u[0] * v[0] + u[1] * v[1] + u[2] * v[2],
    ]);
  }
  return {
    sign: shape.half === 'sky' ? 1 : -1,
    portal: f,
    rooms: shape.rooms.map((r) => ({ xy: Float64Array.from(r.outline.flat()), fromM: r.fromM, toM: r.toM })),
  };
}

/** Is a point inside one of the rooms? */
export function indoors(far: Far, x: number, y: number, z: number): boolean {
  for (const { xy, fromM, toM } of far.rooms) {
    if (z < fromM || z > toM) continue;
    let odd = false;
    for (let i = 0, j = xy.length - 2; i < xy.length; j = i, i += 2) {
      const yi = xy[i + 1]!;
      const yj = xy[j + 1]!;
      if (yi > y !== yj > y && x < ((xy[j]! - xy[i]!) * (y - yi)) / (yj - yi) + xy[i]!) odd = !odd;
    }
    if (odd) return true;
  }
  return false;
}

/** 0–2 unit direction picked; 3 density per steradian. */
export const farPick = new Float64Array(4);

/** Picks a direction from (px, py, pz) by two numbers in [0, 1); false if nothing of it is seen from there. */
export function pickFar(far: Far, px: number, py: number, pz: number, u: number, v: number): boolean {
  const inside = indoors(far, px, py, pz);
  const p = far.portal;
  if (p) {
    if (!inside) return false;
    const x = p[0]! + u * p[3]! + v * p[6]! - px;
    const y = p[1]! + u * p[4]! + v * p[7]! - py;
    const z = p[2]! + u * p[5]! + v * p[8]! - pz;
    const d2 = x * x + y * y + z * z;
    const d = Math.sqrt(d2);
    const cos = (x * p[9]! + y * p[10]! + z * p[11]!) / d;
    if (!(cos > 0) || z * far.sign <= 0) return false;
    farPick[0] = x / d;
    farPick[1] = y / d;
    farPick[2] = z / d;
    farPick[3] = d2 / (p[12]! * cos);
    return true;
  }
  if (inside) return false;
  const flat = Math.sqrt(Math.max(0, 1 - v * v));
  farPick[0] = flat * Math.cos(2 * Math.PI * u);
  farPick[1] = flat * Math.sin(2 * Math.PI * u);
  farPick[2] = far.sign * v;
  farPick[3] = 1 / (2 * Math.PI);
  return v > 0;
}

/** Density with which `pickFar` picks the unit direction d from a point; -1: it never does. */
export function farDensity(
  far: Far,
  px: number,
  py: number,
  pz: number,
  dx: number,
  dy: number,
  dz: number,
): number {
  if (dz * far.sign <= 0) return -1;
  const inside = indoors(far, px, py, pz);
  const p = far.portal;
  if (!p) return inside ? -1 : 1 / (2 * Math.PI);
  if (!inside) return -1;
  const cos = dx * p[9]! + dy * p[10]! + dz * p[11]!;
  if (!(cos > 0)) return -1;
  const cx = p[0]! - px;
  const cy = p[1]! - py;
  const cz = p[2]! - pz;
  const t = (cx * p[9]! + cy * p[10]! + cz * p[11]!) / cos;
  if (!(t > 0)) return -1;
  const hx = t * dx - cx;
  const hy = t * dy - cy;
  const hz = t * dz - cz;
  const hu = hx * p[3]! + hy * p[4]! + hz * p[5]!;
  const hv = hx * p[6]! + hy * p[7]! + hz * p[8]!;
  const det = p[13]! * p[14]! - p[15]! * p[15]!;
  const a = (hu * p[14]! - hv * p[15]!) / det;
  const b = (hv * p[13]! - hu * p[15]!) / det;
  if (a < 0 || a > 1 || b < 0 || b > 1) return -1;
  return (t * t) / (p[12]! * cos);
}
