/**
 * Picking directions to what lies beyond everything: sky and far ground. Inside a room they come through an opening, and
 * a point of the opening is picked; outside any direction of the half is as likely.
 */
import { pickSeen, placeSeen, rectangleSeen, seeRectangle } from '../maths/rectangleSeen.ts';
import { add, cross, dot, length, scale } from '../maths/vec3.ts';
import type { FarShape } from './scene.ts';

/** As far as that, metres: sun, moon and sky stand here for rays. */
export const FAR_M = 1e5;

/** A far shape as numbers. */
export interface Far {
  sign: 1 | -1;
  portal: Float64Array | undefined;
  rooms: { xy: Float64Array; fromM: number; toM: number }[];
}

/*
 * portal: 0–2 corner, 3–5 u, 6–8 v, 9–11 unit normal out, 12 area, 13 u·u, 14 v·v, 15 u·v, 16 how far v rises, metres
 * (0: both do, or neither); 17 its radius squared, or 0 if u and v are not square to each other.
 */
export function farOf(shape: FarShape): Far {
  const { portal } = shape;
  let f: Float64Array | undefined;
  if (portal) {
    let { corner, u, v } = portal;
    const n = cross(u, v);
    const area = length(n);
    // The side that rises is v, upwards.
    if (v[2] === 0) [u, v] = [v, u];
    if (v[2] < 0) {
      corner = add(corner, v);
      v = scale(v, -1);
    }
    const square = Math.abs(dot(u, v)) < 1e-6 * area;
    f = Float64Array.from([
      ...corner,
      ...u,
      ...v,
      ...scale(n, 1 / area),
      area,
      dot(u, u),
      dot(v, v),
      dot(u, v),
      u[2] === 0 ? v[2] : 0,
      square ? (dot(u, u) + dot(v, v)) / 4 : 0,
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

/** So many radii from its middle a portal is picked by its area: from there that is even enough, and quicker. */
const FAR_AWAY = 1.5;

/** The last portal looked at and from where: points ask for many directions one after the other. */
const last = { portal: undefined as Float64Array | undefined, sign: 0, x: 0, y: 0, z: 0 };
/** The part of it behind which its half of the world lies, as shares of v; empty: it is seen from behind or not at all. */
const part = { from: 0, to: 0, near: false };
const seen = rectangleSeen();

/** Looks at a portal: fills `part`, and `seen` where it is near. */
function look(p: Float64Array, sign: 1 | -1, px: number, py: number, pz: number): void {
  if (last.portal === p && last.sign === sign && last.x === px && last.y === py && last.z === pz) return;
  last.portal = p;
  last.sign = sign;
  last.x = px;
  last.y = py;
  last.z = pz;
  // Sky is above the point's own height, ground below.
  const level = p[16]! > 0 ? Math.min(1, Math.max(0, (pz - p[2]!) / p[16]!)) : sign > 0 ? 0 : 1;
  part.from = sign > 0 ? level : 0;
  part.to = sign > 0 ? 1 : level;
  const cx = p[0]! - px;
  const cy = p[1]! - py;
  const cz = p[2]! - pz;
  const h = cx * p[9]! + cy * p[10]! + cz * p[11]!;
  if (!(h > 0)) part.to = part.from;
  part.near = false;
  if (p[17] === 0 || part.from >= part.to) return;
  const mx = cx + (p[3]! + p[6]!) / 2;
  const my = cy + (p[4]! + p[7]!) / 2;
  const mz = cz + (p[5]! + p[8]!) / 2;
  if (mx * mx + my * my + mz * mz > FAR_AWAY * FAR_AWAY * p[17]!) return;
  const long = Math.sqrt(p[13]!);
  const high = Math.sqrt(p[14]!);
  const x = (cx * p[3]! + cy * p[4]! + cz * p[5]!) / long;
  const y = (cx * p[6]! + cy * p[7]! + cz * p[8]!) / high;
  part.near = seeRectangle(seen, x, x + long, y + part.from * high, y + part.to * high, h) > 1e-9;
}

/** 0–2 unit direction picked; 3 density per steradian. */
export const farPick = new Float64Array(4);

/**
 * Picks a direction from (px, py, pz) by two numbers in [0, 1); false if nothing of it is seen from there. Through a
 * portal near by evenly over the angle it fills, from further off evenly over its area.
 */
export function pickFar(far: Far, px: number, py: number, pz: number, u: number, v: number): boolean {
  const inside = indoors(far, px, py, pz);
  const p = far.portal;
  if (p) {
    if (!inside) return false;
    look(p, far.sign, px, py, pz);
    if (part.from >= part.to) return false;
    let a = u;
    let b = part.from + v * (part.to - part.from);
    if (part.near) {
      pickSeen(seen, u, v);
      a = (placeSeen.x - seen[0]!) / (seen[1]! - seen[0]!);
      b = part.from + ((placeSeen.y - seen[2]!) / (seen[3]! - seen[2]!)) * (part.to - part.from);
    }
    const x = p[0]! + a * p[3]! + b * p[6]! - px;
    const y = p[1]! + a * p[4]! + b * p[7]! - py;
    const z = p[2]! + a * p[5]! + b * p[8]! - pz;
    const d2 = x * x + y * y + z * z;
    const d = Math.sqrt(d2);
    const cos = (x * p[9]! + y * p[10]! + z * p[11]!) / d;
    if (!(cos > 0) || z * far.sign <= 0) return false;
    farPick[0] = x / d;
    farPick[1] = y / d;
    farPick[2] = z / d;
    farPick[3] = part.near ? 1 / seen[8]! : d2 / (p[12]! * (part.to - part.from) * cos);
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
  look(p, far.sign, px, py, pz);
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
  if (a < 0 || a > 1 || b < part.from || b > part.to || part.from >= part.to) return -1;
  return part.near ? 1 / seen[8]! : (t * t) / (p[12]! * (part.to - part.from) * cos);
}
