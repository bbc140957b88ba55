/** The rooms of a place: its own outline first, then what else is under the roof. Things belong to the room they stand in. */
import type { Opening, Place, Room } from './schema.ts';
import { nearestWall, type OnWall, type Outline, onFloor, type Point, throughWall } from './walls.ts';

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

/** Whether a line in plan meets any room's wall. */
export const meetsWall = (place: Place, a: Point, b: Point): boolean =>
  roomsIn(place).some((r) => throughWall(r.outline, a, b));

/** The wall of any room that is nearest. */
export function wallBy(place: Place, p: Point): OnWall & { room: RoomShape } {
  const room = roomBy(place, p);
  return { ...nearestWall(room.outline, p), room };
}
