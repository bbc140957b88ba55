/** Sloping ceilings: under each roof plane that rises from a wall, whichever is lowest; and walls cut to them. */
import { add, cross, DEG, length, normalize, scale, type Vec3 } from '../maths/vec3.ts';
import { type Hole, marks } from './build.ts';
import { type Draft, newPatch, polygon } from './mesh.ts';
import { clipToBox, convexPieces, type Vec2 } from './outline.ts';
import { holds } from './party.ts';

/** A ceiling that rises from wall `wall` inward. */
export interface SlopeSpec {
  wall: number;
  /** Height where it leaves the wall, metres. */
  eavesM: number;
  pitchDeg: number;
}

/** z = a x + b y + c. */
export type Plane = readonly [a: number, b: number, c: number];

/** The planes of a room: its slopes, and the flat ceiling over them where there is one. */
export function planesOf(
  outline: readonly Vec2[],
  slopes: readonly SlopeSpec[],
  ceilingM: number | undefined,
): Plane[] {
  const out: Plane[] = ceilingM === undefined ? [] : [[0, 0, ceilingM]];
  for (const s of slopes) {
    const p = outline[s.wall];
    const q = outline[(s.wall + 1) % outline.length];
    if (!p || !q) continue;
    const l = Math.hypot(q[0] - p[0], q[1] - p[1]);
    // Inward of a wall of a counter-clockwise outline lies to its left.
    const [nx, ny] = [-(q[1] - p[1]) / l, (q[0] - p[0]) / l];
    const k = Math.tan(s.pitchDeg * DEG);
    out.push([k * nx, k * ny, s.eavesM - k * (nx * p[0] + ny * p[1])]);
  }
  return out;
}

/** Height of the lowest plane at a place, metres. */
export const under = (planes: readonly Plane[], x: number, y: number): number =>
  planes.reduce((z, [a, b, c]) => Math.min(z, a * x + b * y + c), Infinity);

/** What is over a room's floor. */
interface Roof {
  outline: readonly Vec2[];
  ceilingM?: number | undefined;
  slopes?: readonly SlopeSpec[] | undefined;
}

/** Height of the ceiling over a place of the floor, metres; undefined where there is none. */
export const ceilingOver = (
  place: Roof & { rooms?: Readonly<Record<string, Roof>> | undefined },
  x: number,
  y: number,
): number | undefined => {
  const room =
    place.rooms && !holds(place.outline, [x, y])
      ? (Object.values(place.rooms).find((r) => holds(r.outline, [x, y])) ?? place)
      : place;
  return room.ceilingM === undefined || !room.slopes?.length
    ? room.ceilingM
    : under(planesOf(room.outline, room.slopes, room.ceilingM), x, y);
};

/** The steepest rise of any plane: metres a metre. */
export const steepest = (planes: readonly Plane[]): number =>
  Math.max(0, ...planes.map(([a, b]) => Math.hypot(a, b)));

/** The part of a convex polygon where a x + b y + c ≤ 0. */
function clipHalf(p: readonly Vec2[], a: number, b: number, c: number): Vec2[] {
  const out: Vec2[] = [];
  p.forEach((u, i) => {
    const v = p[(i + 1) % p.length]!;
    const su = a * u[0] + b * u[1] + c;
    const sv = a * v[0] + b * v[1] + c;
    if (su <= 1e-9) out.push(u);
    if ((su > 1e-9 && sv < -1e-9) || (su < -1e-9 && sv > 1e-9)) {
      const t = su / (su - sv);
      out.push([u[0] + (v[0] - u[0]) * t, u[1] + (v[1] - u[1]) * t]);
    }
  });
  return out;
}

const areaOf = (p: readonly Vec2[]): number =>
  Math.abs(
    p.reduce((s, [x, y], i) => {
      const [x1, y1] = p[(i + 1) % p.length]!;
      return s + (x * y1 - x1 * y) / 2;
    }, 0),
  );

/** Ceiling (or, `up`, roof) of an outline under the planes, `raise` metres above them, in patches. */
export function slopedPlate(
  d: Draft,
  outline: readonly Vec2[],
  planes: readonly Plane[],
  raise: number,
  up: boolean,
  slot: number,
  patchM: number,
): void {
  const pieces = convexPieces(outline);
  planes.forEach((own, k) => {
    for (const piece of pieces) {
      let part: Vec2[] = [...piece];
      planes.forEach((other, j) => {
        // Of equal planes the first has it.
        if (j !== k && part.length)
          part = clipHalf(part, own[0] - other[0], own[1] - other[1], own[2] - other[2] + (j < k ? 1e-7 : 0));
      });
      if (part.length < 3 || areaOf(part) < 1e-6) continue;
      const xs = part.map((p) => p[0]);
      const ys = part.map((p) => p[1]);
      // Steps shorter in plan where it is steep.
      const steep = Math.sqrt(1 + own[0] ** 2 + own[1] ** 2);
      const step = patchM / steep;
      const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
      const nx = Math.max(1, Math.ceil((x1 - x0) / step - 1e-3));
      const ny = Math.max(1, Math.ceil((y1 - y0) / step - 1e-3));
      for (let j = 0; j < ny; j++)
        for (let i = 0; i < nx; i++) {
          const cut = clipToBox(
            part,
            x0 + ((x1 - x0) * i) / nx,
            y0 + ((y1 - y0) * j) / ny,
            x0 + ((x1 - x0) * (i + 1)) / nx,
            y0 + ((y1 - y0) * (j + 1)) / ny,
          );
          if (cut.length < 3 || areaOf(cut) < 1e-7) continue;
          const corners = cut.map(([x, y]): Vec3 => [x, y, own[0] * x + own[1] * y + own[2] + raise]);
          polygon(d, up ? corners : corners.reverse(), slot, newPatch(d));
        }
    }
  });
}

/**
 * An upright wall face from `corner` along `u` (front toward u × up), as high as straight tops say: each [height at the
 * start, at the end] over the corner; the lowest rules. One patch a cell.
 */
export function gable(
  d: Draft,
  corner: Vec3,
  u: Vec3,
  tops: readonly (readonly [number, number])[],
  slot: number,
  options: { patchM?: number; holes?: readonly Hole[] } = {},
): void {
  const lu = length(u);
  const way = normalize(u);
  if (lu < 1e-6 || length(cross(u, [0, 0, 1])) < 1e-9) return;
  const step = options.patchM ?? d.patchM;
  const holes = options.holes ?? [];
  const most = Math.max(...tops.map(([a, b]) => Math.max(a, b)));
  const lowest = (t: number): number => tops.reduce((z, [a, b]) => Math.min(z, a + (b - a) * t), Infinity);
  const high = Math.min(most, Math.max(...Array.from({ length: 65 }, (_, i) => lowest(i / 64))) + 1e-6);
  const us = marks(
    lu,
    holes.flatMap((h) => [h.u0, h.u1]),
    step,
  );
  const vs = marks(
    high,
    holes.flatMap((h) => [h.v0, h.v1]),
    step,
  );
  for (let j = 0; j + 1 < vs.length; j++)
    for (let i = 0; i + 1 < us.length; i++) {
      const [u0, u1, v0, v1] = [us[i]!, us[i + 1]!, vs[j]!, vs[j + 1]!];
      const [mu, mv] = [(u0 + u1) / 2, (v0 + v1) / 2];
      if (holes.some((h) => mu > h.u0 && mu < h.u1 && mv > h.v0 && mv < h.v1)) continue;
      let cell: Vec2[] = [
        [u0, v0],
        [u1, v0],
        [u1, v1],
        [u0, v1],
      ];
      // v ≤ a + (b − a) u / lu.
      for (const [a, b] of tops) if (cell.length) cell = clipHalf(cell, -(b - a) / lu, 1, -a);
      if (cell.length < 3 || areaOf(cell) < 1e-8) continue;
      polygon(
        d,
        cell.map(([x, z]): Vec3 => add(corner, add(scale(way, x), [0, 0, z]))),
        slot,
        newPatch(d),
      );
    }
}
