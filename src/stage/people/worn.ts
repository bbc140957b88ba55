/**
 * What is worn on the head: spectacles and hats, made to the head (and the hair) that wears them. Measures of frames
 * and brims are usual ones (common practice, no source). All in the rest frame: z up, face towards -y; the head bone
 * carries the result.
 */
import { add, cross, mix, normalize, scale, sub, type Vec3 } from '../../maths/vec3.ts';
import type { Collector } from './collector.ts';
import type { PersonShape } from './decode.ts';

export const WORN = ['spectacles', 'brimmed-hat', 'flat-cap', 'knitted-cap'] as const;
export type Worn = (typeof WORN)[number];

interface Piece {
  positions: number[];
  triangles: number[];
}

/** A tube through places, `radius` metres, closed to a ring or ended flat. */
function tube(out: Piece, line: readonly Vec3[], radius: number, closed: boolean, sides = 6): void {
  const n = line.length;
  const first = out.positions.length / 3;
  let up: Vec3 = [0.31, 0.17, 0.93];
  for (let k = 0; k < n; k++) {
    const a = line[closed ? (k - 1 + n) % n : Math.max(0, k - 1)]!;
    const b = line[closed ? (k + 1) % n : Math.min(n - 1, k + 1)]!;
    const t = normalize(sub(b, a));
    const u = normalize(cross(t, up));
    const v = cross(u, t);
    up = v;
    for (let s = 0; s < sides; s++) {
      const angle = (2 * Math.PI * s) / sides;
      out.positions.push(
        ...add(line[k]!, add(scale(u, radius * Math.cos(angle)), scale(v, radius * Math.sin(angle)))),
      );
    }
  }
  for (let k = 0; k < (closed ? n : n - 1); k++)
    for (let s = 0; s < sides; s++) {
      const at = (i: number, j: number) => first + ((i % n) * sides + (j % sides));
      out.triangles.push(at(k, s), at(k, s + 1), at(k + 1, s + 1), at(k, s), at(k + 1, s + 1), at(k + 1, s));
    }
}

export function spectacles(who: PersonShape): { frame: Piece; lens: Piece } {
  const frame: Piece = { positions: [], triangles: [] };
  const lens: Piece = { positions: [], triangles: [] };
  const inner: Vec3[] = [];
  const y = Math.min(...who.eyes.map((e) => e.centre[1]! - 1.075 * e.radiusM)) - 0.014;
  for (const [e, eye] of who.eyes.entries()) {
    const out = e === 0 ? 1 : -1;
    const c: Vec3 = [eye.centre[0]! + out * 0.001, y, eye.centre[2]! - 0.003];
    const n = 28;
    const rim: Vec3[] = [];
    for (let k = 0; k < n; k++) {
      const a = (2 * Math.PI * k) / n;
      // A rounded rectangle: |x/a|³ + |z/b|³ = 1; the outer side wraps back round the face a little.
      const r = (Math.abs(Math.cos(a) / 0.0245) ** 3 + Math.abs(Math.sin(a) / 0.0185) ** 3) ** (-1 / 3);
      const x = r * Math.cos(a);
      rim.push([c[0] + x, c[1] + Math.max(0, out * x) * 0.16, c[2] + r * Math.sin(a)]);
    }
    tube(frame, rim, 0.0015, true);
    const first = lens.positions.length / 3;
    // A lens bulges forward 2 mm in its middle: it gathers reflections from a cone, not from one place.
    lens.positions.push(c[0], c[1] - 0.002 + 0.0015, c[2]);
    for (const p of rim) lens.positions.push(p[0], p[1] + 0.0005, p[2]);
    for (let k = 0; k < n; k++) lens.triangles.push(first, first + 1 + k, first + 1 + ((k + 1) % n));
    inner.push([c[0] - out * 0.0245, c[1] - 0.001, c[2] + 0.005]);

    // The temple clears the widest of the head between eye and ear.
    let wide = 0;
    for (let v = 0; v < who.hidden.length; v++) {
      const [bx, by, bz] = [who.body[3 * v]!, who.body[3 * v + 1]!, who.body[3 * v + 2]!];
      if (by > eye.centre[1]! + 0.01 && by < eye.centre[1]! + 0.07 && Math.abs(bz - c[2] - 0.008) < 0.012)
        wide = Math.max(wide, out * bx);
    }
    const top: Vec3 = [c[0] + out * 0.0235, c[1] + 0.004, c[2] + 0.008];
    const side: Vec3 = [out * (wide + 0.003), eye.centre[1]! + 0.02, c[2] + 0.009];
    const ear: Vec3 = [out * (wide + 0.004), eye.centre[1]! + 0.082, c[2] + 0.008];
    const behind: Vec3 = [out * (wide + 0.002), eye.centre[1]! + 0.108, c[2] - 0.022];
    tube(frame, [top, mix(top, side, 0.5), side, mix(side, ear, 0.5), ear, behind], 0.0014, false);
  }
  const [l, r] = [inner[0]!, inner[1]!];
  const middle: Vec3 = [0, (l[1] + r[1]) / 2 - 0.002, l[2] + 0.003];
  tube(frame, [l, mix(l, middle, 0.6), middle, mix(middle, r, 0.4), r], 0.0016, false);
  return { frame, lens };
}

const SECTORS = 36;

/** The tilted plane that a hat sits on: lower behind than in front, two fingers over the brows. */
function seatOf(who: PersonShape): { centre: Vec3; up: Vec3 } {
  const eye = mix(who.eyes[0]!.centre as unknown as Vec3, who.eyes[1]!.centre as unknown as Vec3, 0.5);
  return { centre: [0, eye[1] + 0.092, eye[2] + 0.052], up: normalize([0, 0.17, 1]) };
}

/** Whether a rest place of the scalp lies under a hat. */
export function underHat(who: PersonShape, x: number, y: number, z: number): boolean {
  const { centre, up } = seatOf(who);
  return (x - centre[0]) * up[0] + (y - centre[1]) * up[1] + (z - centre[2]) * up[2] > -0.02;
}

/** How far head and hair reach round a tilted plane that a hat sits on: per sector, metres from the axis. */
function round(who: PersonShape, centre: Vec3, up: Vec3): { radius: number[]; topM: number } {
  const forward = normalize([0, -up[2], up[1]]);
  const radius = new Array<number>(SECTORS).fill(0);
  let topM = 0;
  const take = (p: ArrayLike<number>, v: number, spare: number) => {
    const d: Vec3 = [p[3 * v]! - centre[0], p[3 * v + 1]! - centre[1], p[3 * v + 2]! - centre[2]];
    const h = d[0] * up[0] + d[1] * up[1] + d[2] * up[2];
    if (h < -0.012 || h > 0.2) return;
    topM = Math.max(topM, h + spare);
    const x = d[0];
    const f = d[0] * forward[0] + d[1] * forward[1] + d[2] * forward[2];
    const s = Math.floor(((Math.atan2(x, f) / (2 * Math.PI) + 1) % 1) * SECTORS);
    radius[s] = Math.max(radius[s]!, Math.hypot(x, f) + spare);
  };
  const neck = who.eyes[0]!.centre[2]! - 0.14;
  for (let v = 0; v < who.hidden.length; v++) if (who.body[3 * v + 2]! > neck) take(who.body, v, 0.004);
  // Hair gives under a hat; what stands off by much is pressed flat.
  if (who.sheet)
    for (let v = 0; v < who.sheet.positions.length / 3; v++) take(who.sheet.positions, v, -0.002);
  for (const h of who.hairs)
    if (h.use === 'hair') for (let v = 0; v < h.positions.length / 3; v++) take(h.positions, v, 0.001);
  // Empty or hollow sectors take after their neighbours: a hat is round.
  for (let pass = 0; pass < 12; pass++)
    for (let s = 0; s < SECTORS; s++) {
      const mean = (radius[(s + 1) % SECTORS]! + radius[(s + SECTORS - 1) % SECTORS]!) / 2;
      radius[s] = Math.max(radius[s]!, mean);
    }
  return { radius, topM };
}

/** Rings from the brim's edge inward and up: height over the band, share of the head's radius, metres beyond it. */
type Ring = readonly [heightM: number, share: number, beyondM: (sector: number) => number];

export function hat(who: PersonShape, kind: Exclude<Worn, 'spectacles'>): Piece {
  const { centre, up } = seatOf(who);
  const { radius, topM } = round(who, centre, up);
  const forward = normalize([0, -up[2], up[1]]);
  /** 1 in front, 0 at the sides and behind. */
  const ahead = (s: number) => Math.max(0, Math.cos((2 * Math.PI * (s + 0.5)) / SECTORS));
  const none = () => 0;
  const rings: Ring[] = {
    'brimmed-hat': [
      [-0.004, 1, (s: number) => 0.06 + 0.008 * ahead(s)],
      [0.0, 1, (s: number) => 0.03 + 0.004 * ahead(s)],
      [0.003, 1, () => 0.004],
      [0.03, 1, () => 0.004],
      [topM * 0.6, 0.96, () => 0.003],
      [topM + 0.02, 0.82, none],
      [topM + 0.028, 0.66, none],
      [topM + 0.012, 0.3, none],
    ] as Ring[],
    'flat-cap': [
      [-0.012, 1, (s: number) => 0.002 + 0.058 * ahead(s) ** 0.7],
      [0.004, 1, (s: number) => 0.004 + 0.03 * ahead(s)],
      [0.01, 1, () => 0.006],
      [0.035, 1, () => 0.012],
      [topM * 0.55, 0.93, () => 0.01],
      [topM * 0.85, 0.66, () => 0.006],
      [topM + 0.006, 0.3, none],
    ] as Ring[],
    'knitted-cap': [
      [-0.024, 1, () => 0.001],
      [-0.026, 1, () => 0.005],
      [0.022, 1, () => 0.007],
      [0.027, 1, () => 0.003],
      [topM * 0.5, 0.97, () => 0.003],
      [topM * 0.78, 0.87, () => 0.003],
      [topM, 0.68, () => 0.003],
      [topM + 0.013, 0.42, () => 0.002],
      [topM + 0.019, 0.18, none],
    ] as Ring[],
  }[kind];
  const piece: Piece = { positions: [], triangles: [] };
  for (const [h, share, beyond] of rings)
    for (let s = 0; s < SECTORS; s++) {
      const a = (2 * Math.PI * (s + 0.5)) / SECTORS;
      const r = radius[s]! * share + beyond(s);
      const out = add(scale([1, 0, 0], r * Math.sin(a)), scale(forward, r * Math.cos(a)));
      piece.positions.push(...add(centre, add(out, scale(up, h))));
    }
  const last = rings.at(-1)!;
  piece.positions.push(...add(centre, scale(up, last[0] + 0.002)));
  const tip = piece.positions.length / 3 - 1;
  for (let k = 0; k + 1 < rings.length; k++)
    for (let s = 0; s < SECTORS; s++) {
      const n = (s + 1) % SECTORS;
      const [a, b] = [k * SECTORS, (k + 1) * SECTORS];
      piece.triangles.push(a + s, a + n, b + n, a + s, b + n, b + s);
    }
  const b = (rings.length - 1) * SECTORS;
  for (let s = 0; s < SECTORS; s++) piece.triangles.push(b + s, b + ((s + 1) % SECTORS), tip);
  return piece;
}

/** Puts a piece on the posed head. `carry` moves rest places with the head. */
export function putOn(
  out: Collector,
  piece: Piece,
  slot: number,
  carry: (rest: Float32Array) => Float32Array,
  normals: (p: Float32Array, triangles: ArrayLike<number>) => Float32Array,
): void {
  const rest = Float32Array.from(piece.positions);
  const p = carry(rest);
  const n = normals(p, piece.triangles);
  const first = out.count;
  for (let v = 0; v < p.length / 3; v++) out.vertex(p, n, rest, v);
  for (let t = 0; t < piece.triangles.length; t += 3)
    out.triangle(
      first + piece.triangles[t]!,
      first + piece.triangles[t + 1]!,
      first + piece.triangles[t + 2]!,
      slot,
    );
}
