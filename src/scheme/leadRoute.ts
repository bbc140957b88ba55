/**
 * The way a lead really goes: from its socket along the foot of the walls, then square out to the lamp; out of doors
 * through the opening that makes it shortest; the shorter way round, unless its feed says which. A guess that a person
 * can walk, not a promise: bends and slack are added.
 */
import { leadsTo } from '../setup/gaps.ts';
import { outlineOf, type RoomShape, roomAt, roomBy, roomsIn } from '../shoot/rooms.ts';
import type { Place, RigLamp } from '../shoot/schema.ts';
import { atWall } from '../shoot/walls.ts';

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
  const lampAt: Point = [lamp.at[0], lamp.at[1]];
  // Up to a hung lamp it climbs; up a stand it does not count twice.
  const riseM = lamp.support.kind === 'stand' ? Math.max(0.5, lamp.at[2] * 0.6) : Math.max(0, lamp.at[2]);
  const from = roomBy(place, [socketAt[0], socketAt[1]]);
  const to = roomAt(place, lampAt);
  const ways = place.rooms ? throughDoors(place, from.id, to) : [];
  let room = from;
  let start = socketAt;
  let round = lamp.feed?.way;
  const legs: LeadRoute[] = [];
  for (const way of ways) {
    legs.push(legIn(place, room, start, { at: way.near, riseM: 0, within: true, round }));
    // Which way round was told of the room with the socket.
    round = undefined;
    legs.push({
      points: [way.near, way.far],
      lengthM: (dist(way.near, way.far) + 2 * way.sillM) * SLACK,
      crosses: way.sillM < 0.1 ? [way.id] : [],
    });
    room = way.room;
    start = [way.far[0], way.far[1], 0];
  }
  legs.push(legIn(place, room, start, { at: lampAt, riseM, within: to !== undefined, round }));
  return legs.reduce((all, leg) => ({
    points: tidy([...all.points, ...leg.points]),
    lengthM: all.lengthM + leg.lengthM,
    crosses: [...new Set([...all.crosses, ...leg.crosses])],
  }));
}

interface Way {
  id: string;
  /** Middle of the opening on this side and on the other. */
  near: Point;
  far: Point;
  sillM: number;
  /** The room it leads to. */
  room: RoomShape;
}

/** Openings from one room to another, fewest first; to the outside: as far as a room that has a way out. */
function throughDoors(place: Place, from: string | undefined, to: RoomShape | undefined): Way[] {
  const rooms = roomsIn(place);
  const out = (id: string | undefined) =>
    Object.values(place.openings).some((o) => o.room === id && o.inside !== true && !leadsTo(place, o));
  const there = (id: string | undefined) => (to ? id === to.id : out(id));
  const queue: { id: string | undefined; ways: Way[] }[] = [{ id: from, ways: [] }];
  const seen = new Set([from]);
  for (let next = queue.shift(); next; next = queue.shift()) {
    if (there(next.id)) return next.ways;
    for (const [id, o] of Object.entries(place.openings)) {
      const far = leadsTo(place, o);
      if (!far || (o.room !== next.id && far.id !== next.id)) continue;
      const other = rooms.find((r) => r.id === (o.room === next!.id ? far.id : o.room))!;
      if (seen.has(other.id)) continue;
      seen.add(other.id);
      const here = atWall(outlineOf(place, o)!, o.wall, (o.fromM + o.toM) / 2);
      const beyond = atWall(
        rooms.find((r) => r.id === far.id)!.outline,
        far.wall,
        far.there((o.fromM + o.toM) / 2),
      );
      const [near, farther] = o.room === next.id ? [here, beyond] : [beyond, here];
      queue.push({
        id: other.id,
        ways: [...next.ways, { id, near, far: farther, sillM: o.sillM, room: other }],
      });
    }
  }
  return [];
}

/** One room's part of the way. */
function legIn(
  place: Place,
  room: RoomShape,
  socketAt: readonly [number, number, number],
  {
    at: lampAt,
    riseM,
    within,
    round: told,
  }: { at: Point; riseM: number; within: boolean; round: 'left' | 'right' | undefined },
): LeadRoute {
  const outline = room.outline;
  const lens = outline.map((a, i) => dist(a, outline[(i + 1) % outline.length]!));
  const round = lens.reduce((s, l) => s + l, 0);
  const from = nearestOnWalls(outline, lens, [socketAt[0], socketAt[1]]);
  const openings = Object.entries(place.openings).filter(([, o]) => o.room === room.id);

  // Where it leaves the wall: abreast of the lamp, or at the opening it goes out by.
  const exits: { s: number; through?: string; at: Point; sillM: number }[] = [];
  if (within) exits.push({ ...nearestOnWalls(outline, lens, lampAt), sillM: 0 });
  else
    for (const [id, o] of openings) {
      if (leadsTo(place, o)) continue;
      const start = lens.slice(0, o.wall).reduce((s, l) => s + l, 0);
      const s = start + Math.min(o.toM, Math.max(o.fromM, (o.fromM + o.toM) / 2));
      exits.push({ s, through: id, at: pointAt(outline, lens, s), sillM: o.sillM });
    }
  if (exits.length === 0) exits.push({ ...nearestOnWalls(outline, lens, lampAt), sillM: 0 });

  let best: LeadRoute | undefined;
  for (const exit of exits) {
    const ahead = (((exit.s - from.s) % round) + round) % round;
    // The outline runs counter-clockwise: onward is to the left of who faces a wall from within.
    for (const way of told === undefined ? [1, -1] : told === 'right' ? [-1] : [1]) {
      const along = way > 0 ? ahead : round - ahead;
      const walk = corners(outline, lens, from.s, along, way);
      const points: Point[] = [[socketAt[0], socketAt[1]], from.at, ...walk, exit.at, lampAt];
      const floor = points.reduce((sum, p, i) => (i ? sum + dist(points[i - 1]!, p) : 0), 0);
      const lengthM = (floor + socketAt[2] + 2 * exit.sillM + riseM) * SLACK;
      const crosses = crossed(openings, lens, from.s, along, way, exit.through);
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
  openings: readonly [string, Place['openings'][string]][],
  lens: readonly number[],
  from: number,
  along: number,
  way: number,
  through: string | undefined,
): string[] {
  const round = lens.reduce((a, b) => a + b, 0);
  const out: string[] = [];
  for (const [id, o] of openings) {
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
