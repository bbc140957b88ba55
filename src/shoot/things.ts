/**
 * What stands in rooms: things found by typing their name and set down with a tap. Sizes are those of ordinary ones
 * (common practice, no source) and are corrected by measuring; reflectances are guesses and say so.
 */
import { finder } from './found.ts';
import { HOUSE_THINGS } from './houseThings.ts';
import { MORE_THINGS } from './moreThings.ts';
import { OUTDOOR_THINGS } from './outdoorThings.ts';
import type { RoomThing } from './roomThing.ts';
import type { Furniture } from './schema.ts';

export type { RoomThing };

export const THINGS: readonly RoomThing[] = [...HOUSE_THINGS, ...OUTDOOR_THINGS, ...MORE_THINGS];

export const roomThing = (id: string): RoomThing | undefined => THINGS.find((t) => t.id === id);

const find = finder(THINGS);
/** Things that answer to every word typed, best first. */
export const searchThings = (text: string, limit = 8): RoomThing[] => find(text, limit);

/** What the document keeps of it. */
export function furnitureOf(t: RoomThing, x: number, y: number, turnDeg = 0): Furniture {
  return {
    kind: t.kind,
    words: t.words,
    at: [+x.toFixed(3), +y.toFixed(3), t.baseM ?? 0],
    sizeM: [t.sizeM[0], t.sizeM[1], t.sizeM[2]],
    turnDeg: +turnDeg.toFixed(1),
    finish: t.finish,
    ...(t.finishes ? { finishes: { ...t.finishes } } : {}),
    ...(t.detail ? { detail: { ...t.detail } } : {}),
  };
}
