/**
 * What hangs at an opening: curtains, nets, blinds. They are furniture like any other; which opening one belongs to is
 * where it hangs. Sizes follow the opening as people hang them (common practice, no source).
 */
import { onPlan, roomOf } from './openings.ts';
import type { Finish, Furniture, Opening, Place } from './schema.ts';
import { furnitureOf, roomThing } from './things.ts';
import { atWall, wallLengthM } from './walls.ts';

export type HungKind = 'curtains' | 'voiles' | 'net' | 'blind' | 'roller';

/** A measure of how it hangs, as the stage knows it. */
export interface HungMeasure {
  /** The key in `detail`. */
  key: 'openShare' | 'downShare' | 'tiltDeg';
  /** Said before the figure. */
  words: string;
  unit: '%' | '°';
  /** What is meant where nothing is told, and what may be told: shares 0–1, degrees. */
  usual: number;
  least: number;
  most: number;
}
const OPEN: HungMeasure = {
  key: 'openShare',
  words: 'drawn back',
  unit: '%',
  usual: 0.6,
  least: 0,
  most: 0.9,
};
const DOWN: HungMeasure = { key: 'downShare', words: 'let down', unit: '%', usual: 1, least: 0.05, most: 1 };
const TILT: HungMeasure = {
  key: 'tiltDeg',
  words: 'slats tilted',
  unit: '°',
  usual: 35,
  least: -85,
  most: 85,
};

interface Hanging {
  kind: HungKind;
  words: string;
  found: readonly string[];
  /** The thing of the list it is made from. */
  thing: string;
  measures: readonly HungMeasure[];
  /** Wider than the opening on each side, above it and below it, and off the wall's face, metres. */
  sideM: number;
  aboveM: number;
  belowM: number;
  offM: number;
}
export const HANGINGS: readonly Hanging[] = [
  {
    ...{
      kind: 'curtains',
      words: 'curtains',
      found: ['drapes', 'pair'],
      thing: 'curtains',
      measures: [OPEN],
    },
    ...{ sideM: 0.25, aboveM: 0.12, belowM: 0.15, offM: 0.07 },
  },
  {
    ...{ kind: 'voiles', words: 'nets that draw', found: ['voile', 'sheer', 'lace'], thing: 'curtains' },
    ...{ measures: [OPEN], sideM: 0.1, aboveM: 0.06, belowM: 0.1, offM: 0.01 },
  },
  {
    ...{ kind: 'net', words: 'a net across', found: ['net curtain', 'lace', 'sheer'], thing: 'net-curtain' },
    ...{ measures: [], sideM: 0.02, aboveM: 0.02, belowM: 0.02, offM: 0.005 },
  },
  {
    ...{ kind: 'blind', words: 'a venetian blind', found: ['slats', 'louvre'], thing: 'blind' },
    ...{ measures: [DOWN, TILT], sideM: 0.02, aboveM: 0.04, belowM: 0.02, offM: 0.01 },
  },
  {
    ...{ kind: 'roller', words: 'a roller blind', found: ['shade', 'blackout'], thing: 'roller-blind' },
    ...{ measures: [{ ...DOWN, usual: 0.5 }], sideM: 0.04, aboveM: 0.06, belowM: 0.02, offM: 0.01 },
  },
];

/** What a piece of furniture is of these; undefined: it does not hang at a window. */
export function hangingOf(f: Pick<Furniture, 'kind' | 'finish'>): Hanging | undefined {
  if (f.kind === 'curtains') return HANGINGS[f.finish.passes ? 1 : 0];
  return HANGINGS.find((h) => h.kind !== 'voiles' && roomThing(h.thing)!.kind === f.kind);
}

/** It hangs at most so far off its wall, metres. */
const OFF_M = 0.45;

/** What hangs at an opening, by id: its middle before it, near the wall, at its height. */
export function hungAt(place: Place, o: Opening): { id: string; furniture: Furniture; is: Hanging }[] {
  const room = roomOf(place, o);
  const at = onPlan(place, o);
  if (!room || !at) return [];
  const wide = Math.max(0.01, o.toM - o.fromM);
  const [ux, uy] = [(at.to[0] - at.from[0]) / wide, (at.to[1] - at.from[1]) / wide];
  return Object.entries(place.furniture).flatMap(([id, furniture]) => {
    const is = hangingOf(furniture);
    if (!is) return [];
    const [dx, dy] = [furniture.at[0] - at.middle[0], furniture.at[1] - at.middle[1]];
    const along = Math.abs(dx * ux + dy * uy);
    const off = Math.abs(dx * uy - dy * ux);
    const [low, high] = [furniture.at[2], furniture.at[2] + furniture.sizeM[2]];
    const there = along < wide / 2 && off < OFF_M && low < o.headM && high > o.sillM;
    return there ? [{ id, furniture, is }] : [];
  });
}

/** It at an opening, as people hang it. */
export function hungFor(place: Place, o: Opening, kind: HungKind): Furniture | undefined {
  const h = HANGINGS.find((x) => x.kind === kind)!;
  const thing = roomThing(h.thing)!;
  const room = roomOf(place, o);
  const at = onPlan(place, o);
  if (!room || !at) return undefined;
  const long = wallLengthM(room.outline, o.wall);
  const from = Math.max(0.01, o.fromM - h.sideM);
  const to = Math.min(long - 0.01, o.toM + h.sideM);
  const top = Math.min(o.headM + h.aboveM, (room.ceilingM ?? 3) - 0.01);
  // To the floor where the opening all but reaches it.
  const foot = o.sillM < 0.35 ? 0.02 : Math.max(0.02, o.sillM - h.belowM);
  const deep = thing.sizeM[1];
  const [x, y] = atWall(room.outline, o.wall, (from + to) / 2, h.offM + deep / 2);
  const round = (v: number) => +v.toFixed(3);
  const net = roomThing('net-curtain')!;
  const detail = Object.fromEntries(h.measures.map((q) => [q.key, q.usual]));
  const made = furnitureOf(thing, x, y, at.inDeg + 90);
  return {
    ...made,
    words: kind === 'voiles' ? 'nets' : made.words!,
    at: [round(x), round(y), round(foot)],
    sizeM: [round(to - from), deep, round(top - foot)],
    ...(kind === 'voiles' ? { finish: net.finish as Finish } : {}),
    ...(h.measures.length ? { detail } : {}),
  };
}

/** What hung at an opening goes with it to where it is now: along, up, round the corner, wider where it is wider. */
export function goesWith(place: Place, before: Opening, after: Opening, hung: readonly string[]): void {
  const [a, b] = [onPlan(place, before), onPlan(place, after)];
  if (!a || !b) return;
  const turn = ((b.inDeg - a.inDeg) * Math.PI) / 180;
  const round = (v: number) => +v.toFixed(3);
  const wider = after.toM - after.fromM - (before.toM - before.fromM);
  const up = after.headM - before.headM;
  const taller = up - (after.sillM - before.sillM);
  for (const id of hung) {
    const f = place.furniture[id];
    if (!f) continue;
    const [dx, dy] = [f.at[0] - a.middle[0], f.at[1] - a.middle[1]];
    const x = b.middle[0] + dx * Math.cos(turn) - dy * Math.sin(turn);
    const y = b.middle[1] + dx * Math.sin(turn) + dy * Math.cos(turn);
    // What hangs to the floor stays on it.
    const foot = f.at[2] < 0.1 ? f.at[2] : Math.max(0.01, f.at[2] + up - taller);
    const top = f.at[2] + f.sizeM[2] + up;
    f.at = [round(x), round(y), round(foot)];
    f.sizeM = [round(Math.max(0.1, f.sizeM[0] + wider)), f.sizeM[1], round(Math.max(0.1, top - foot))];
    if (Math.abs(turn) > 1e-6) f.turnDeg = +(((f.turnDeg ?? 0) + b.inDeg - a.inDeg) % 360).toFixed(1);
  }
}
