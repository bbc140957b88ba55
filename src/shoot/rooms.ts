/** The rooms of a place: its own outline first, then what else is under the roof. Things belong to the room they stand in. */
import type { Opening, Place, Room } from './schema.ts';
import {
  boundsOf,
  cross,
  nearestWall,
  type OnWall,
  type Outline,
  onFloor,
  type Point,
  throughWall,
} from './walls.ts';

export type RoomShape = Pick<
  Room,
  'outline' | 'ceilingM' | 'slopes' | 'floor' | 'ceiling' | 'walls' | 'wallFinishes'
> & {
  /** Absent: the place's own. */
  id?: string;
  name?: string;
};

export const roomsIn = (place: Place): RoomShape[] => [
  place,
  ...Object.entries(place.rooms ?? {}).map(([id, r]) => ({ ...r, id })),
];

/** The room at a point of the plan; undefined: outside, or in a wall. */
export const roomAt = (place: Place, p: Point): RoomShape | undefined =>
  roomsIn(place).find((r) => onFloor(r.outline, p));

/** The room at a point or, in a wall and outside, the one with the nearest wall. */
export function roomBy(place: Place, p: Point): RoomShape {
  const rooms = roomsIn(place);
  return (
    rooms.find((r) => onFloor(r.outline, p)) ??
    rooms.reduce((best, r) => (nearestWall(r.outline, p).offM < nearestWall(best.outline, p).offM ? r : best))
  );
}

/** The outline that an opening's wall belongs to; undefined: there is no such room. */
export const outlineOf = (place: Place, opening: Pick<Opening, 'room'>): Outline | undefined =>
  opening.room === undefined ? place.outline : place.rooms?.[opening.room]?.outline;

export const indoors = (place: Place, p: Point): boolean => roomAt(place, p) !== undefined;

/** Whether two points of the plan are in the same room, or both in none. */
export const sameRoom = (place: Place, a: Point, b: Point): boolean =>
  roomAt(place, a)?.outline === roomAt(place, b)?.outline;

/** All rooms' corners together. */
export const boundsOfPlace = (place: Place) => boundsOf(roomsIn(place).flatMap((r) => r.outline));

type Vec = readonly [number, number, number];

/** An opening reaches so far through the walls behind it, metres. */
const THROUGH_M = 1.2;

/** Whether a point of a wall lies in an opening that is not shut, on either face of the wall it is in. */
function inAnOpening(place: Place, [x, y, z]: Vec): boolean {
  return Object.values(place.openings).some((o) => {
    if (o.fill === 'shut' || z < o.sillM || z > o.headM) return false;
    const outline = outlineOf(place, o);
    const a = outline?.[o.wall];
    const b = outline?.[(o.wall + 1) % outline.length];
    if (!a || !b) return false;
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along = ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / l;
    const out = ((x - a[0]) * (b[1] - a[1]) - (y - a[1]) * (b[0] - a[0])) / l;
    return along > o.fromM && along < o.toM && out > -0.01 && out < THROUGH_M;
  });
}

/**
 * Whether a wall stands between two points. Where there are several rooms, what passes a doorway passes; in a place of
 * one room every wall stops.
 */
export function wallStops(place: Place, a: Vec, b: Vec): boolean {
  if (!place.rooms) return throughWall(place.outline, [a[0], a[1]], [b[0], b[1]]);
  return roomsIn(place).some((r) =>
    r.outline.some((p, i) => {
      const q = r.outline[(i + 1) % r.outline.length]!;
      if (!cross([a[0], a[1]], [b[0], b[1]], p, q)) return false;
      const [ex, ey] = [q[0] - p[0], q[1] - p[1]];
      const t = ((p[0] - a[0]) * ey - (p[1] - a[1]) * ex) / ((b[0] - a[0]) * ey - (b[1] - a[1]) * ex);
      return !inAnOpening(place, [
        a[0] + (b[0] - a[0]) * t,
        a[1] + (b[1] - a[1]) * t,
        a[2] + (b[2] - a[2]) * t,
      ]);
    }),
  );
}

/** The wall of any room that is nearest. */
export function wallBy(place: Place, p: Point): OnWall & { room: RoomShape } {
  const room = roomBy(place, p);
  return { ...nearestWall(room.outline, p), room };
}

/** Rooms nearer to each other than this are not two, metres. */
const APART_M = 0.02;

/** Pairs of rooms, by name, that share floor or stand so near that no wall fits between. */
export function tooNear(place: Place): [string, string][] {
  const rooms = roomsIn(place);
  const nameOf = (r: RoomShape) => r.id ?? 'its own room';
  const out: [string, string][] = [];
  rooms.forEach((a, i) => {
    for (const b of rooms.slice(i + 1)) {
      const near = [
        [a, b],
        [b, a],
      ] as const;
      const meet = near.some(([p, q]) =>
        p.outline.some(
          (c, k) =>
            onFloor(q.outline, c) ||
            nearestWall(q.outline, c).offM < APART_M - 1e-6 ||
            throughWall(q.outline, c, p.outline[(k + 1) % p.outline.length]!),
        ),
      );
      if (meet) out.push([nameOf(a), nameOf(b)]);
    }
  });
  return out;
}

/** A room's corners when it is told another width or depth, metres: the side by which it hangs together stays. */
export function resized(place: Place, id: string, wideM: number, deepM: number): [number, number][] {
  const { outline } = place.rooms![id]!;
  const b = boundsOf(outline);
  const others = roomsIn(place).filter((r) => r.id !== id);
  const off = (p: Point) => Math.min(...others.map((r) => nearestWall(r.outline, p).offM));
  const [mx, my] = [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2];
  const x = off([b.x1, my]) < off([b.x0, my]) - 1e-6 ? b.x1 : b.x0;
  const y = off([mx, b.y1]) < off([mx, b.y0]) - 1e-6 ? b.y1 : b.y0;
  const [kx, ky] = [wideM / (b.x1 - b.x0), deepM / (b.y1 - b.y0)];
  return outline.map(([px, py]) => [+(x + (px - x) * kx).toFixed(3), +(y + (py - y) * ky).toFixed(3)]);
}
