/** Where things may stand: the floor plan as obstacles, beams one can clamp to, lines that must stay open. */

import { distance, type Vec3 } from '../maths/vec3.ts';
import { leadsTo } from '../setup/gaps.ts';
import { indoors, roomsIn } from '../shoot/rooms.ts';
import type { Furniture, Place } from '../shoot/schema.ts';

export const inside = (outline: readonly (readonly [number, number])[], x: number, y: number): boolean => {
  let odd = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [xi, yi] = outline[i]!;
    const [xj, yj] = outline[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) odd = !odd;
  }
  return odd;
};

/** Least distance from a point to the walls, metres. */
export function toWallM(outline: readonly (readonly [number, number])[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < outline.length; i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[(i + 1) % outline.length]!;
    const l2 = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / l2));
    least = Math.min(least, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
  }
  return least;
}

/** Walls as they stand on the floor: each wall less its open doors and gaps. */
function standingWalls(place: Place): { from: readonly [number, number]; to: readonly [number, number] }[] {
  return roomsIn(place).flatMap(({ id, outline }) =>
    outline.flatMap((a, wall) => {
      const b = outline[(wall + 1) % outline.length]!;
      const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
      const at = (t: number) =>
        [a[0] + ((b[0] - a[0]) * t) / long, a[1] + ((b[1] - a[1]) * t) / long] as const;
      const gaps = Object.values(place.openings)
        .filter((o) => o.fill === 'open' && o.sillM < 0.1)
        .flatMap((o) => {
          if (o.room === id) return o.wall === wall ? [o] : [];
          // The doorway as it stands in the wall of the room it leads to.
          const far = leadsTo(place, o);
          return far && far.id === id && far.wall === wall
            ? [{ fromM: far.there(o.toM), toM: far.there(o.fromM) }]
            : [];
        })
        .sort((p, q) => p.fromM - q.fromM);
      const parts: { from: readonly [number, number]; to: readonly [number, number] }[] = [];
      let t = 0;
      for (const gap of gaps) {
        if (gap.fromM > t) parts.push({ from: at(t), to: at(gap.fromM) });
        t = Math.max(t, gap.toM);
      }
      if (t < long) parts.push({ from: at(t), to: at(long) });
      return parts;
    }),
  );
}

/** What a foot of radius `footM` at (x, y) would stand in or on: furniture by name, a wall; undefined: clear floor. */
export function footHits(place: Place, x: number, y: number, footM: number): string | undefined {
  // From outside the wall is nearer by its thickness.
  const thick = indoors(place, [x, y]) ? 0 : (place.wallM ?? 0.2);
  for (const { from, to } of standingWalls(place))
    if (fromLineM([...from, 0], [...to, 0], [x, y, 0]) < footM + thick - 0.02) return 'the wall';
  for (const [id, f] of Object.entries(place.furniture)) {
    // What hangs above knee height (a wall cupboard) does not stop a foot.
    if (f.at[2] > 0.5) continue;
    if (besideM(f, x, y) < footM - 0.02) return f.words ?? `the ${id}`;
  }
  return undefined;
}

/** From a point on the floor to a piece's footprint, metres; 0 on it. */
function besideM(f: Furniture, x: number, y: number): number {
  const turn = (-(f.turnDeg ?? 0) * Math.PI) / 180;
  const dx = x - f.at[0];
  const dy = y - f.at[1];
  const lx = Math.abs(dx * Math.cos(turn) - dy * Math.sin(turn));
  const ly = Math.abs(dx * Math.sin(turn) + dy * Math.cos(turn));
  return Math.hypot(Math.max(0, lx - f.sizeM[0] / 2), Math.max(0, ly - f.sizeM[1] / 2));
}

/** The top of what stands at (x, y) and could carry a small foot: furniture by id up to 1.6 m, else the floor. */
export function underfoot(place: Place, x: number, y: number): { on?: string; heightM: number } {
  let best: { on?: string; heightM: number } = { heightM: 0 };
  for (const [on, f] of Object.entries(place.furniture)) {
    const top = f.at[2] + f.sizeM[2];
    if (top <= 1.6 && top > best.heightM && besideM(f, x, y) === 0) best = { on, heightM: +top.toFixed(3) };
  }
  return best;
}

/** The nearest thing one can clamp to within reach of a point, and where on it. */
export function clampNear(
  place: Place,
  at: Vec3,
  reachM: number,
): { id: string; words: string; at: Vec3; distanceM: number } | undefined {
  let best: { id: string; words: string; at: Vec3; distanceM: number } | undefined;
  for (const [id, r] of Object.entries(place.rigging)) {
    const p = nearestOn(r.from, r.to, at);
    const d = distance(p, at);
    if (d <= reachM && (!best || d < best.distanceM))
      best = { id, words: r.words ?? `the ${r.kind}`, at: p, distanceM: d };
  }
  return best;
}

export function nearestOn(a: Vec3, b: Vec3, p: Vec3): Vec3 {
  const d: Vec3 = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const l2 = d[0] ** 2 + d[1] ** 2 + d[2] ** 2;
  const t =
    l2 > 0
      ? Math.max(0, Math.min(1, ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1] + (p[2] - a[2]) * d[2]) / l2))
      : 0;
  return [a[0] + t * d[0], a[1] + t * d[1], a[2] + t * d[2]];
}

/** Distance of a point from a line segment, metres. */
export const fromLineM = (a: Vec3, b: Vec3, p: Vec3): number => distance(nearestOn(a, b, p), p);

/** Distance from a point to a thing's box, metres; 0 inside. */
export function toBoxM(
  f: {
    at: readonly [number, number, number];
    sizeM: readonly [number, number, number];
    turnDeg?: number | undefined;
  },
  p: Vec3,
): number {
  const turn = (-(f.turnDeg ?? 0) * Math.PI) / 180;
  const dx = p[0] - f.at[0];
  const dy = p[1] - f.at[1];
  const x = Math.abs(dx * Math.cos(turn) - dy * Math.sin(turn)) - f.sizeM[0] / 2;
  const y = Math.abs(dx * Math.sin(turn) + dy * Math.cos(turn)) - f.sizeM[1] / 2;
  const z = Math.max(f.at[2] - p[2], p[2] - f.at[2] - f.sizeM[2]);
  return Math.hypot(Math.max(0, x), Math.max(0, y), Math.max(0, z));
}

/** The point moved out of every wall's `byM`, walls taken one by one; the same where it is far enough. */
export function awayFromWall(outline: readonly (readonly [number, number])[], at: Vec3, byM: number): Vec3 {
  let [x, y] = at;
  for (let i = 0; i < outline.length; i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[(i + 1) % outline.length]!;
    const l = Math.hypot(bx - ax, by - ay);
    if (!(l > 0)) continue;
    // Corners run counter-clockwise: the room lies to the left of every wall.
    const [nx, ny] = [-(by - ay) / l, (bx - ax) / l];
    const d = (x - ax) * nx + (y - ay) * ny;
    if (d < 0 || d >= byM) continue;
    x += nx * (byM - d);
    y += ny * (byM - d);
  }
  return [x, y, at[2]];
}
