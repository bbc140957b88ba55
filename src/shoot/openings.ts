/** What may be of an opening: inside its wall, under its ceiling, clear of the others; where it is on the plan. */
import { type RoomShape, roomsIn } from './rooms.ts';
import type { Opening, Place } from './schema.ts';
import { atWall, inwardDeg, type Point, wallLengthM } from './walls.ts';

/** Walls where there is no ceiling, metres: as the stage has them. */
const OPEN_WALL_M = 3;
/** Left of the wall at its ends and above, metres; nothing narrower or lower is an opening. */
const EDGE_M = 0.01;
const LEAST_M = 0.05;

export const roomOf = (place: Place, o: Pick<Opening, 'room'>): RoomShape | undefined =>
  roomsIn(place).find((r) => r.id === o.room);
export const heightOf = (room: RoomShape): number => room.ceilingM ?? OPEN_WALL_M;
const m = (v: number): string => `${v.toFixed(2)} m`;
const nameOf = (o: Opening, id: string): string => o.words ?? id;

/** Whether two openings are the same hole in the same wall, whatever is in it. */
export const sameHole = (a: Opening, b: Opening): boolean =>
  a.room === b.room &&
  a.wall === b.wall &&
  a.fromM === b.fromM &&
  a.toM === b.toM &&
  a.sillM === b.sillM &&
  a.headM === b.headM;

/** Why an opening cannot be so: too small, past its wall's end, over its ceiling, over another. A sentence. */
export function misfit(place: Place, id: string, o: Opening): string | undefined {
  const room = roomOf(place, o);
  if (!room || o.wall >= room.outline.length) return `There is no wall ${o.wall}.`;
  const long = wallLengthM(room.outline, o.wall);
  const name = nameOf(o, id);
  if (o.toM - o.fromM < LEAST_M) return `The ${name} must be ${m(LEAST_M)} wide at least.`;
  if (o.headM - o.sillM < LEAST_M) return `The ${name} must be ${m(LEAST_M)} high at least.`;
  if (o.fromM < -1e-6 || o.toM > long + 1e-6)
    return `The ${name} would reach past the end of its wall, which is ${m(long)} long.`;
  if (o.sillM < -1e-6) return `The ${name} would begin under the floor.`;
  if (o.headM > heightOf(room) + 1e-6)
    return `The ${name} would reach above its wall, which is ${m(heightOf(room))} high.`;
  const other = over(place, id, o);
  return other && `The ${name} would lie over the ${nameOf(other[1], other[0])}.`;
}

/** Another opening that lies over this one in the same wall. */
const over = (place: Place, id: string, o: Opening): [string, Opening] | undefined =>
  Object.entries(place.openings).find(
    ([k, x]) =>
      k !== id &&
      x.room === o.room &&
      x.wall === o.wall &&
      x.fromM < o.toM - 1e-6 &&
      x.toM > o.fromM + 1e-6 &&
      x.sillM < o.headM - 1e-6 &&
      x.headM > o.sillM + 1e-6,
  );

/** Where along its wall, nearest to `fromM`, the opening lies clear of all others; undefined: nowhere. */
export function clearAlong(place: Place, id: string, o: Opening, fromM: number): number | undefined {
  const room = roomOf(place, o);
  if (!room || o.wall >= room.outline.length) return undefined;
  const long = wallLengthM(room.outline, o.wall);
  const wide = o.toM - o.fromM;
  const within = (v: number) => Math.max(EDGE_M, Math.min(long - wide - EDGE_M, v));
  const edges = Object.entries(place.openings)
    .filter(([k, x]) => k !== id && x.room === o.room && x.wall === o.wall)
    .flatMap(([, x]) => [x.fromM - wide, x.toM]);
  return [fromM, ...edges]
    .map((v) => +within(v).toFixed(3))
    .filter((v) => !misfit(place, id, { ...o, fromM: v, toM: +(v + wide).toFixed(3) }))
    .sort((a, b) => Math.abs(a - fromM) - Math.abs(b - fromM))[0];
}

/** Of an opening on the plan: its two ends on the wall's face, and the way into the room, degrees. */
export function onPlan(
  place: Place,
  o: Opening,
): { from: Point; to: Point; middle: Point; inDeg: number } | undefined {
  const room = roomOf(place, o);
  if (!room || o.wall >= room.outline.length) return undefined;
  return {
    from: atWall(room.outline, o.wall, o.fromM),
    to: atWall(room.outline, o.wall, o.toM),
    middle: atWall(room.outline, o.wall, (o.fromM + o.toM) / 2),
    inDeg: inwardDeg(room.outline, o.wall),
  };
}

/** A leaf swings so far at most, either way, degrees. */
export const LEAF_DEG = 170;

/** The opening with its leaf so far open, degrees: into the room, minus outward; 0: shut. */
export function withLeaf(o: Opening, deg: number): Opening {
  const { leafDeg: _, ...rest } = o;
  if (deg === 0) return { ...rest, fill: 'shut' };
  return { ...rest, fill: 'open', leafDeg: Math.max(-LEAF_DEG, Math.min(LEAF_DEG, deg)) };
}
