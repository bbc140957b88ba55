/**
 * The way a lead really goes: from its socket along the foot of the walls, then square out to the lamp; out of doors
 * through the opening that makes it shortest. A guess that a person can walk, not a promise: bends and slack are added.
 */
import type { Place, RigLamp } from '../shoot/schema.ts';
import { inside } from './room.ts';

type Point = readonly [number, number];

/** A fifth more for bends, knots and slack (common practice, no source). */
const SLACK = 1.2;

export interface LeadRoute {
  /** On the floor plan, metres. */
  points: Point[];
  /** Floor, up and down, and slack, metres. */
  lengthM: number;
  /** Ids of openings it crosses at the floor: to be matted or carried over. */
  crosses: string[];
}

export function leadRoute(
  place: Place,
  socketAt: readonly [number, number, number],
  lamp: RigLamp,
): LeadRoute {
  const outline = place.outline;
  const lens = outline.map((a, i) => dist(a, outline[(i + 1) % outline.length]!));
  const round = lens.reduce((s, l) => s + l, 0);
  const from = nearestOnWalls(outline, lens, [socketAt[0], socketAt[1]]);
  const lampAt: Point = [lamp.at[0], lamp.at[1]];
  const within = inside(outline, lampAt[0], lampAt[1]);

  // Where it leaves the wall: abreast of the lamp, or at the opening it goes out by.
  const exits: { s: number; through?: string; at: Point; sillM: number }[] = [];
  if (within) exits.push({ ...nearestOnWalls(outline, lens, lampAt), sillM: 0 });
  else
    for (const [id, o] of Object.entries(place.openings)) {
      const start = lens.slice(0, o.wall).reduce((s, l) => s + l, 0);
      const s = start + Math.min(o.toM, Math.max(o.fromM, (o.fromM + o.toM) / 2));
      exits.push({ s, through: id, at: pointAt(outline, lens, s), sillM: o.sillM });
    }
  if (exits.length === 0) exits.push({ ...nearestOnWalls(outline, lens, lampAt), sillM: 0 });

  // Up to a hung lamp it climbs; up a stand it does not count twice.
  const riseM = lamp.support.kind === 'stand' ? Math.max(0.5, lamp.at[2] * 0.6) : Math.max(0, lamp.at[2]);
  let best: LeadRoute | undefined;
  for (const exit of exits) {
    const ahead = (((exit.s - from.s) % round) + round) % round;
    for (const way of [1, -1]) {
      const along = way > 0 ? ahead : round - ahead;
      const walk = corners(outline, lens, from.s, along, way);
      const points: Point[] = [[socketAt[0], socketAt[1]], from.at, ...walk, exit.at, lampAt];
      const floor = points.reduce((sum, p, i) => (i ? sum + dist(points[i - 1]!, p) : 0), 0);
      const lengthM = (floor + socketAt[2] + 2 * exit.sillM + riseM) * SLACK;
      const crosses = crossed(place, lens, from.s, along, way, exit.through);
      if (!best || lengthM < best.lengthM - 1e-9)
        best = { points: tidy(points.map((p) => offWalls(outline, p))), lengthM, crosses };
    }
  }
  return best!;
}

/** A hand's breadth inside the walls, so that the line shows on a plan. */
function offWalls(outline: readonly Point[], p: Point): Point {
  let [x, y] = p;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    const l = dist(a, b);
    if (l === 0) return;
    const along = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / l;
    // Counter-clockwise outline: inward is to the left.
    const off = ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / l;
    if (along < -0.01 || along > l + 0.01 || off < -0.01 || off >= 0.1) return;
    x += ((0.1 - off) * -(b[1] - a[1])) / l;
    y += ((0.1 - off) * (b[0] - a[0])) / l;
  });
  return [x, y];
}

const dist = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** A point on the walls, metres round from the first corner. */
function pointAt(outline: readonly Point[], lens: readonly number[], s: number): Point {
  const round = lens.reduce((a, b) => a + b, 0);
  let left = ((s % round) + round) % round;
  for (let i = 0; i < outline.length; i++) {
    if (left <= lens[i]! || i === outline.length - 1) {
      const [a, b] = [outline[i]!, outline[(i + 1) % outline.length]!];
      const t = lens[i]! > 0 ? left / lens[i]! : 0;
      return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    }
    left -= lens[i]!;
  }
  return outline[0]!;
}

function nearestOnWalls(
  outline: readonly Point[],
  lens: readonly number[],
  p: Point,
): { s: number; at: Point } {
  let best = { s: 0, at: outline[0]!, d: Number.POSITIVE_INFINITY };
  let start = 0;
  for (let i = 0; i < outline.length; i++) {
    const [a, b] = [outline[i]!, outline[(i + 1) % outline.length]!];
    const l2 = lens[i]! ** 2;
    const t =
      l2 > 0
        ? Math.max(0, Math.min(1, ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / l2))
        : 0;
    const at: Point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    if (dist(at, p) < best.d) best = { s: start + t * lens[i]!, at, d: dist(at, p) };
    start += lens[i]!;
  }
  return { s: best.s, at: best.at };
}

/** Corners passed on the way, in order. */
function corners(
  outline: readonly Point[],
  lens: readonly number[],
  from: number,
  along: number,
  way: number,
): Point[] {
  const round = lens.reduce((a, b) => a + b, 0);
  const found: { d: number; p: Point }[] = [];
  let s = 0;
  for (let i = 0; i < outline.length; i++) {
    const d = way > 0 ? (((s - from) % round) + round) % round : (((from - s) % round) + round) % round;
    if (d > 1e-9 && d < along - 1e-9) found.push({ d, p: outline[i]! });
    s += lens[i]!;
  }
  return found.sort((a, b) => a.d - b.d).map((f) => f.p);
}

/** Openings down to the floor that it runs past, and the one it goes out by. */
function crossed(
  place: Place,
  lens: readonly number[],
  from: number,
  along: number,
  way: number,
  through: string | undefined,
): string[] {
  const round = lens.reduce((a, b) => a + b, 0);
  const out: string[] = [];
  for (const [id, o] of Object.entries(place.openings)) {
    if (id === through) {
      if (o.sillM < 0.1) out.push(id);
      continue;
    }
    if (o.sillM >= 0.1) continue;
    const start = lens.slice(0, o.wall).reduce((s, l) => s + l, 0);
    const mid = start + (o.fromM + o.toM) / 2;
    const d = way > 0 ? (((mid - from) % round) + round) % round : (((from - mid) % round) + round) % round;
    if (d < along) out.push(id);
  }
  return out;
}

const tidy = (points: readonly Point[]): Point[] =>
  points.filter((p, i) => i === 0 || dist(p, points[i - 1]!) > 0.01);
