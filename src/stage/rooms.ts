/** Several rooms under one roof: each a closed shell of its own, joined where an opening of one looks at another's wall. */
import { signedArea, type Vec2 } from './outline.ts';
import { beyond } from './party.ts';
import { buildRoom, type Made, type OpeningSpec, patchOfRoom, type RoomSpec } from './room.ts';
import { planesOf, under } from './slope.ts';

/** One more room: openings name it by its number. */
export interface RoomsSpec {
  /** The first has the ground outside; ids and names of the rest are told. */
  rooms: readonly (Omit<RoomSpec, 'openings'> & { openings: Readonly<Record<string, OpeningSpec>> })[];
}

const OPEN_WALL_M = 3;
/** An opening between rooms stays clear of either wall's ends by so much, metres. */
const CLEAR_M = 0.001;

const counter = (o: readonly Vec2[]): readonly Vec2[] => (signedArea(o) < 0 ? [...o].reverse() : o);

/** Bodies of all rooms and notes. A single room is built as ever. */
export function buildRooms({ rooms }: RoomsSpec): Made {
  if (rooms.length === 1) return buildRoom(rooms[0]!);
  const outlines = rooms.map((r) => counter(r.outline));
  const heights = rooms.map((r) => r.ceilingM ?? OPEN_WALL_M);
  const notes: string[] = [];
  const cuts: { wall: number; u0: number; u1: number; v0: number; v1: number }[][] = rooms.map(() => []);
  const top = (k: number, x: number, y: number): number => {
    const r = rooms[k]!;
    return r.slopes?.length && r.ceilingM !== undefined
      ? under(planesOf(outlines[k]!, r.slopes, r.ceilingM), x, y)
      : heights[k]!;
  };

  // Openings that lead into another room: as wide and high as both walls allow, cut in both.
  const openings = rooms.map((room, k) =>
    Object.fromEntries(
      Object.entries(room.openings).map(([id, o]): [string, OpeningSpec] => {
        const far = beyond(outlines, k, o.wall, Math.min(o.fromM, o.toM), Math.max(o.fromM, o.toM));
        if (!far) return [id, o];
        const own = outlines[k]!;
        const a = own[o.wall]!;
        const b = own[(o.wall + 1) % own.length]!;
        const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
        const fromM = Math.max(CLEAR_M, far.fromM + CLEAR_M, Math.min(o.fromM, o.toM));
        const toM = Math.min(l - CLEAR_M, far.toM - CLEAR_M, Math.max(o.fromM, o.toM));
        const tops = [fromM, toM].flatMap((u) => {
          const at: Vec2 = [a[0] + ((b[0] - a[0]) * u) / l, a[1] + ((b[1] - a[1]) * u) / l];
          return [top(k, at[0], at[1]), top(far.room, at[0], at[1])];
        });
        const headM = Math.min(o.headM, ...tops.map((z) => z - CLEAR_M));
        const sillM = Math.max(0, o.sillM);
        if (fromM > o.fromM + 0.002 || toM < o.toM - 0.002 || headM < o.headM - 0.002)
          notes.push(`${o.words ?? id}: was cut to fit the walls on both sides.`);
        if (toM - fromM > CLEAR_M && headM - sillM > CLEAR_M)
          cuts[far.room]!.push({
            wall: far.wall,
            u0: far.there(toM),
            u1: far.there(fromM),
            v0: sillM,
            v1: headM,
          });
        return [id, { ...o, fromM, toM, sillM, headM, deepM: far.gapM }];
      }),
    ),
  );

  // One size of patch for all, so that together they are not more than one room has.
  const patchM = Math.sqrt(rooms.reduce((s, r) => s + Math.max(0, patchOfRoom(r) ** 2 - 0.0625), 0.0625));
  const bodies = rooms.flatMap((room, k) => {
    const made = buildRoom({
      ...room,
      patchM: room.patchM ?? patchM,
      openings: openings[k]!,
      cuts: cuts[k]!,
      beside: rooms.flatMap((_, j) => (j === k ? [] : [{ outline: outlines[j]!, heightM: heights[j]! }])),
    });
    notes.push(...made.notes);
    return made.bodies;
  });
  return { bodies, notes };
}
