/**
 * One more room, found by typing its name and set down by a tap: behind the wall nearest to the tap, with a doorway
 * through it. Sizes are those of ordinary ones (common practice, no source), corrected by measuring.
 */
import type { Edit } from './edits.ts';
import { finder } from './found.ts';
import { clearAlong } from './openings.ts';
import { roomsIn, tooNear, wallBy } from './rooms.ts';
import type { Place } from './schema.ts';
import { atWall, type Point, wallLengthM } from './walls.ts';

export interface RoomKind {
  id: string;
  words: string;
  found: readonly string[];
  /** Along the wall it is put behind, and away from it, metres. */
  wideM: number;
  deepM: number;
}

export const ROOM_KINDS: readonly RoomKind[] = [
  {
    id: 'room',
    words: 'one more room',
    found: ['second', 'next', 'other', 'bedroom', 'parlour'],
    wideM: 3.4,
    deepM: 3.2,
  },
  {
    id: 'passage',
    words: 'passage',
    found: ['hall', 'hallway', 'corridor', 'landing', 'room'],
    wideM: 4.2,
    deepM: 1.2,
  },
  { id: 'bathroom', words: 'bathroom', found: ['toilet', 'shower', 'wc', 'room'], wideM: 2.2, deepM: 1.8 },
];

export const roomKind = (id: string): RoomKind | undefined => ROOM_KINDS.find((r) => r.id === id);
const find = finder(ROOM_KINDS);
export const searchRooms = (text: string, limit = 3): RoomKind[] => find(text, limit);

/** Of a wall between two rooms where nobody told it, and of a doorway, metres; common practice. */
const BETWEEN_M = 0.12;
const DOOR_M = 0.82;
const HEAD_M = 2;
/** Nothing smaller is a room, metres. */
const LEAST_M = 0.8;

/** The room as edits; or why there is no room for it. */
export function tellRoom(
  place: Place,
  placeId: string,
  kind: RoomKind,
  tap: Point,
): { id: string; edits: Edit[]; says: string[] } | string {
  const w = wallBy(place, tap);
  const { outline, id: from } = w.room;
  const long = wallLengthM(outline, w.wall);
  const gap = Math.min(BETWEEN_M, Math.max(0.03, place.wallM ?? BETWEEN_M));
  let n = 1;
  while (place.rooms && Object.hasOwn(place.rooms, `${kind.id}${n}`)) n++;
  const id = `${kind.id}${n}`;
  const name = `${kind.id === 'room' ? 'room' : kind.id}${n === 1 && kind.id !== 'room' ? '' : ` ${kind.id === 'room' ? n + 1 : n}`}`;
  const round = ([x, y]: Point): [number, number] => [+x.toFixed(3), +y.toFixed(3)];

  // As large as is usual, smaller where another room is in the way.
  for (const share of [1, 0.8, 0.6, 0.45]) {
    const wide = kind.wideM * share;
    const deep = Math.max(LEAST_M, kind.deepM * share);
    const u0 = Math.max(0, Math.min(long - wide, w.alongM - wide / 2));
    // Counter-clockwise seen from above: back along the wall, then out.
    const corners = [
      atWall(outline, w.wall, u0 + wide, -gap),
      atWall(outline, w.wall, u0, -gap),
      atWall(outline, w.wall, u0, -gap - deep),
      atWall(outline, w.wall, u0 + wide, -gap - deep),
    ];
    const { ceilingM, floor, ceiling, walls } = place;
    const room = {
      name,
      outline: corners.map(round),
      ceilingM: w.room.ceilingM ?? ceilingM ?? 2.4,
      floor,
      walls,
      ...(ceiling ? { ceiling } : {}),
    };
    if (tooNear({ ...place, rooms: { ...place.rooms, [id]: room } }).length) continue;
    const edits: Edit[] = [{ edit: 'setOtherRoom', args: { place: placeId, id, room } }];
    const own = Object.entries(place.openings).filter(
      ([, o]) => o.room === from && o.wall === w.wall && o.fromM >= u0 && o.toM <= u0 + wide && o.sillM < 0.1,
    );
    if (own.length) {
      return { id, edits, says: [`joined by ${own[0]![1].words ?? own[0]![0]}`] };
    }
    const middle = Math.max(
      u0 + DOOR_M / 2 + 0.1,
      Math.min(Math.min(long, u0 + wide) - DOOR_M / 2 - 0.1, w.alongM),
    );
    let d = 1;
    while (Object.hasOwn(place.openings, `way${d}`)) d++;
    const way = {
      kind: 'door' as const,
      words: `door to the ${name}`,
      ...(from === undefined ? {} : { room: from }),
      wall: w.wall,
      fromM: +(middle - DOOR_M / 2).toFixed(3),
      toM: +(middle + DOOR_M / 2).toFixed(3),
      sillM: 0,
      headM: HEAD_M,
      fill: 'open' as const,
      guessed: true,
    };
    // Beside the windows that are in that wall already.
    const fromM = clearAlong(place, `way${d}`, way, way.fromM);
    if (fromM === undefined || fromM < u0 - 0.01 || fromM + DOOR_M > u0 + wide + 0.01)
      return 'There is no room for a doorway in that wall: other openings are in the way.';
    Object.assign(way, { fromM, toM: +(fromM + DOOR_M).toFixed(3) });
    edits.push({ edit: 'setOpening', args: { place: placeId, id: `way${d}`, opening: way } });
    return { id, edits, says: ['with an open doorway, where one taps on the wall'] };
  }
  return `There is no room for it behind that wall: ${roomsIn(place).length > 1 ? 'another room is there' : 'the wall is too short'}.`;
}
