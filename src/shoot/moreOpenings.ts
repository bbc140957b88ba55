/**
 * Windows, doors and gaps found by typing their name and set into the wall that is tapped; what hangs at them. Sizes are
 * those of ordinary ones (common practice, no source), corrected by measuring.
 */
import type { Edit } from './edits.ts';
import { finder } from './found.ts';
import { type HungKind, type HungMeasure, hungAt, hungFor } from './hung.ts';
import { clearAlong, heightOf, roomOf } from './openings.ts';
import { wallBy } from './rooms.ts';
import type { Furniture, Opening, Place } from './schema.ts';
import { freeId } from './tell.ts';
import { GUESSED } from './usualRoom.ts';
import { atWall, nearestWall, type Point, wallLengthM } from './walls.ts';

export interface OpeningKind {
  id: string;
  words: string;
  found: readonly string[];
  kind: Opening['kind'];
  fill: Opening['fill'];
  leafDeg?: number;
  barsAcross?: number;
  widthM: number;
  sillM: number;
  headM: number;
}

export const OPENING_KINDS: readonly OpeningKind[] = [
  {
    ...{ id: 'window', words: 'window', found: ['glass', 'pane', 'opening', 'casement', 'sash'] },
    ...{ kind: 'window', fill: 'glass', widthM: 1.2, sillM: 0.95, headM: 2.1 },
  },
  {
    ...{
      id: 'small-window',
      words: 'small high window',
      found: ['bathroom', 'toilet', 'kitchen', 'opening'],
    },
    ...{ kind: 'window', fill: 'glass', widthM: 0.6, sillM: 1.4, headM: 2.1 },
  },
  {
    ...{ id: 'wide-window', words: 'wide window', found: ['shop', 'picture', 'bay', 'opening'] },
    ...{ kind: 'window', fill: 'glass', widthM: 2.4, sillM: 0.7, headM: 2.2, barsAcross: 1 },
  },
  {
    ...{ id: 'garden-door', words: 'glazed garden door', found: ['french', 'patio', 'balcony', 'terrace'] },
    ...{ kind: 'window', fill: 'glass', widthM: 1.6, sillM: 0, headM: 2.1, barsAcross: 1 },
  },
  {
    ...{ id: 'door', words: 'door', found: ['leaf', 'opening'] },
    ...{ kind: 'door', fill: 'shut', widthM: 0.8, sillM: 0, headM: 2 },
  },
  {
    ...{ id: 'open-door', words: 'door that stands open', found: ['leaf', 'opening', 'ajar'] },
    ...{ kind: 'door', fill: 'open', leafDeg: 90, widthM: 0.8, sillM: 0, headM: 2 },
  },
  {
    ...{ id: 'doorway', words: 'doorway without a door', found: ['gap', 'arch', 'opening', 'hole'] },
    ...{ kind: 'gap', fill: 'open', widthM: 0.9, sillM: 0, headM: 2 },
  },
  {
    ...{ id: 'hatch', words: 'serving hatch', found: ['gap', 'opening', 'hole'] },
    ...{ kind: 'gap', fill: 'open', widthM: 0.9, sillM: 1, headM: 1.7 },
  },
];

export const openingKind = (id: string): OpeningKind | undefined => OPENING_KINDS.find((k) => k.id === id);
const find = finder(OPENING_KINDS);
export const searchOpenings = (text: string, limit = 4): OpeningKind[] => find(text, limit);

/**
 * An opening of a kind in the wall nearest to a point, clear of those that are there; what was only supposed of its
 * sort gives way. Or why there is no room for it.
 */
export function tellOpeningOf(
  place: Place,
  placeId: string,
  k: OpeningKind,
  tap: Point,
): { id: string; edits: Edit[] } | string {
  const { room, ...w } = wallBy(place, tap);
  const long = wallLengthM(room.outline, w.wall);
  const high = heightOf(room);
  const supposed = Object.entries(place.openings).filter(([, o]) => o.kind === k.kind && o.guessed);
  const left: Place = {
    ...place,
    openings: Object.fromEntries(
      Object.entries(place.openings).filter(([, o]) => !supposed.some(([, s]) => s === o)),
    ),
  };
  const headM = +Math.min(k.headM, high - 0.05).toFixed(3);
  const [first, ...more] = supposed.map(([o]) => o);
  const id = first ?? freeId(place.openings, k.kind);
  // As wide as is usual, narrower where there is less wall.
  for (const share of [1, 0.75, 0.5]) {
    const wide = Math.min(k.widthM * share, long * 0.9);
    const fromM = w.alongM - wide / 2;
    const opening: Opening = {
      ...{ kind: k.kind, wall: w.wall, fromM, toM: fromM + wide },
      ...{ sillM: Math.min(k.sillM, +(headM / 2).toFixed(3)), headM, fill: k.fill },
      ...(room.id === undefined ? {} : { room: room.id }),
      ...(k.kind === 'door' ? { finish: GUESSED.door } : {}),
      ...(k.leafDeg === undefined ? {} : { leafDeg: k.leafDeg }),
      ...(k.barsAcross === undefined ? {} : { barsAcross: k.barsAcross }),
    };
    const from = clearAlong(left, id, opening, fromM);
    if (from === undefined) continue;
    Object.assign(opening, { fromM: from, toM: +(from + wide).toFixed(3) });
    return {
      id,
      edits: [
        ...more.map((o): Edit => ({ edit: 'setOpening', args: { place: placeId, id: o } })),
        { edit: 'setOpening', args: { place: placeId, id, opening } },
      ],
    };
  }
  return 'There is no room for it in that wall: other openings are in the way';
}

/** The middle of the longest stretch of wall of the place's own room with nothing in it, sockets counted. */
export function freeWall(place: Place): Point {
  const taken: Point[] = [
    ...Object.values(place.openings).flatMap((o): Point[] => {
      const room = roomOf(place, o);
      return room && o.wall < room.outline.length
        ? [atWall(room.outline, o.wall, (o.fromM + o.toM) / 2)]
        : [];
    }),
    ...Object.values(place.supply.sockets).map((s): Point => [s.at[0], s.at[1]]),
  ];
  let best: Point = atWall(place.outline, 0, 1);
  let most = -1;
  const [mx, my] = place.outline.reduce(
    ([x, y], p) => [x + p[0] / place.outline.length, y + p[1] / place.outline.length],
    [0, 0],
  );
  place.outline.forEach((_, wall) => {
    for (let along = 0.6; along < 60; along += 0.3) {
      const p = atWall(place.outline, wall, along);
      if (nearestWall(place.outline, p).offM > 0.01) break;
      const clear = Math.min(...taken.map((q) => Math.hypot(q[0] - p[0], q[1] - p[1])), 9);
      const d = clear - 0.01 * Math.hypot(p[0] - mx!, p[1] - my!);
      if (d > most) [best, most] = [p, d];
    }
  });
  return best;
}

/** Hung there, or taken from there, as edits. */
export function hang(place: Place, placeId: string, o: Opening, kind: HungKind): Edit[] {
  const there = hungAt(place, o).filter((h) => h.is.kind === kind);
  if (there.length)
    return there.map(({ id }): Edit => ({ edit: 'setFurniture', args: { place: placeId, id } }));
  const furniture = hungFor(place, o, kind);
  if (!furniture) return [];
  const id = freeId(place.furniture, kind);
  return [{ edit: 'setFurniture', args: { place: placeId, id, furniture } }];
}

/** How far it is drawn or let down, or how its slats are tilted, as an edit; shares 0–1, degrees. */
export function drawn(placeId: string, id: string, f: Furniture, q: HungMeasure, value: number): Edit {
  const v = +Math.max(q.least, Math.min(q.most, value)).toFixed(3);
  return {
    edit: 'setFurniture',
    args: { place: placeId, id, furniture: { ...f, detail: { ...f.detail, [q.key]: v } } },
  };
}

/** Taken out of its wall, with what hangs at it. */
export function wallUp(place: Place, placeId: string, id: string): Edit[] {
  const o = place.openings[id];
  return [
    { edit: 'setOpening', args: { place: placeId, id } },
    ...(o ? hungAt(place, o) : []).map(
      (h): Edit => ({ edit: 'setFurniture', args: { place: placeId, id: h.id } }),
    ),
  ];
}
