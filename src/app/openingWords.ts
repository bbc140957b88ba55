/** An opening in words: what is in it, what lies behind it, what hangs at it. */
import { leadsTo } from '../setup/gaps.ts';
import { hungAt } from '../shoot/hung.ts';
import { LEAF_DEG } from '../shoot/openings.ts';
import { outlineOf } from '../shoot/rooms.ts';
import type { Opening, Place } from '../shoot/schema.ts';
import { lengthWords, lightFigure, lightUnit, type Units } from '../shoot/units.ts';
import { wallWord } from '../shoot/walls.ts';

/** What may be in an opening, by its kind; `leafDeg`: a leaf that stands so far open. */
export interface InIt {
  id: string;
  words: string;
  found: string[];
  fill: Opening['fill'];
  leafDeg?: number;
}
const GLASS: InIt = { id: 'glass', words: 'glazed', found: ['glass', 'pane', 'window'], fill: 'glass' };
const NOTHING: InIt = { id: 'open', words: 'open, nothing in it', found: ['gap', 'hole'], fill: 'open' };
const BOARDED: InIt = { id: 'shut', words: 'boarded up', found: ['shut', 'closed', 'black'], fill: 'shut' };
const LEAF: readonly InIt[] = [
  { id: 'shut', words: 'shut', found: ['closed'], fill: 'shut' },
  { id: 'ajar', words: 'ajar', found: ['crack', '15'], fill: 'open', leafDeg: 15 },
  { id: 'half', words: 'half open', found: ['45'], fill: 'open', leafDeg: 45 },
  { id: 'square', words: 'open', found: ['90', 'wide'], fill: 'open', leafDeg: 90 },
  { id: 'wall', words: 'open to the wall', found: ['back', 'wide'], fill: 'open', leafDeg: LEAF_DEG },
  { id: 'out', words: 'open outward', found: ['out', 'away'], fill: 'open', leafDeg: -90 },
  { ...NOTHING, id: 'none', words: 'open, no leaf in it' },
  { ...GLASS, words: 'a pane in a frame' },
];
export const IN_IT: Readonly<Record<Opening['kind'], readonly InIt[]>> = {
  window: [GLASS, NOTHING, BOARDED],
  door: LEAF,
  gap: [NOTHING, BOARDED],
};

/** Which of them it is; a leaf that stands at another angle is the nearest. */
export function inIt(o: Opening): InIt {
  const list = IN_IT[o.kind];
  const of = list.filter((x) => x.fill === o.fill && (x.leafDeg === undefined) === !o.leafDeg);
  const off = (x: InIt) => Math.abs((x.leafDeg ?? 0) - (o.leafDeg ?? 0));
  return [...of].sort((a, b) => off(a) - off(b))[0] ?? { ...GLASS, id: o.fill, words: o.fill, fill: o.fill };
}

/** Neutral sheets of a roll, by density; what each takes in stops (log2 10 × density). */
export const NEUTRALS = [3, 6, 9, 12].map((d) => ({
  id: `nd-${d}`,
  words: `neutral ${(d / 10).toFixed(1)}, ${d / 3} ${d === 3 ? 'stop' : 'stops'}`,
  short: `neutral ${(d / 10).toFixed(1)}`,
}));
export const panesWords = (panes: readonly string[] | undefined): string =>
  panes?.length ? panes.map((p) => NEUTRALS.find((n) => n.id === p)?.short ?? p).join(' and ') : 'bare';

/** What lies behind it, without its level. */
export function behindWords(place: Place, o: Opening, day: boolean): string {
  const far = leadsTo(place, o);
  if (far) return far.id === undefined ? 'the first room' : `the ${place.rooms?.[far.id]?.name ?? far.id}`;
  if (o.inside) return 'another room, dark';
  if (o.light) return o.light.out ? 'the night, lit from in here' : 'a level of its own';
  return day ? 'the day' : 'the night';
}

export const openingName = (o: Opening): string => o.words ?? o.kind;
const capital = (s: string) => s[0]!.toUpperCase() + s.slice(1);

/** “Window over the sink, north wall, 1.20 m wide, sill 1.00 m: glazed; behind it the day; curtains drawn back 60 %.” */
export function openingWords(place: Place, o: Opening, units: Units, day: boolean): string {
  const wall = wallWord(outlineOf(place, o) ?? place.outline, o.wall, place.northDeg);
  const leaf = o.fill === 'open' && o.leafDeg ? ` ${Math.abs(o.leafDeg)}°` : '';
  const level = o.light && !o.inside ? `, ${lightFigure(o.light.lux, units)} ${lightUnit(units)}` : '';
  const hung = hungAt(place, o).map(({ furniture: f, is }) =>
    [
      is.words,
      ...is.measures.map((q) => {
        const v = f.detail?.[q.key] ?? q.usual;
        return `${q.words} ${q.unit === '%' ? Math.round(v * 100) : Math.round(v)}${q.unit === '%' ? ' %' : '°'}`;
      }),
    ].join(' '),
  );
  return [
    `${capital(openingName(o))}, ${wall} wall, ${lengthWords(o.toM - o.fromM, units)} wide, sill ${lengthWords(o.sillM, units)}: ${inIt(o).words}${leaf}`,
    ...(o.fill === 'shut' ? [] : [`behind it ${behindWords(place, o, day)}${level}`]),
    ...hung,
  ].join('; ');
}
