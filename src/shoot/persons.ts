/**
 * Who may stand on a mark: the figures of people.bin, with their eyes in each posture at their own size on a seat of
 * 0.45 m. Heights and colours are the bake's own; persons.test.ts builds every figure and measures it again.
 */
import { type Findable, finder } from './found.ts';
import type { Mark, Place } from './schema.ts';

export type Posture = Mark['posture'];
export const POSTURE_WORDS: Record<Posture, string> = {
  standing: 'standing',
  walking: 'walking',
  leaning: 'leaning',
  seated: 'seated',
  crouching: 'crouching',
  lying: 'lying',
};

export interface Figure {
  id: string;
  words: string;
  found: readonly string[];
  eyesM: Readonly<Record<Posture, number>>;
  /** Of their own, where the mark says nothing else. */
  complexion: string;
  hair: string;
  top: string;
  bottom: string;
}

/** Eyes standing, walking, leaning, seated, crouching, lying on the floor, metres. */
const eyes = (...[standing, walking, leaning, seated, crouching, lying]: number[]): Figure['eyesM'] => ({
  standing: standing!,
  walking: walking!,
  leaning: leaning!,
  seated: seated!,
  crouching: crouching!,
  lying: lying!,
});
const figure = (
  id: string,
  found: readonly string[],
  eyesM: Figure['eyesM'],
  complexion: string,
  [hair, top, bottom]: readonly [string, string, string],
): Figure => ({
  id,
  words: id.replace('-', ' of '),
  found,
  eyesM,
  complexion,
  hair,
  top,
  bottom,
});

export const FIGURES: readonly Figure[] = [
  figure('man-34', ['he', 'male'], eyes(1.67, 1.68, 1.66, 1.22, 1.07, 0.24), 'intermediate', [
    '#3a2a1e',
    '#56657a',
    '#2c2e33',
  ]),
  figure('woman-28', ['she', 'female', 'young'], eyes(1.57, 1.58, 1.56, 1.2, 1.08, 0.2), 'light', [
    '#5a351d',
    '#8c3f3a',
    '#2f3b56',
  ]),
  figure('man-68', ['he', 'male', 'old', 'grandfather'], eyes(1.63, 1.64, 1.61, 1.2, 1.06, 0.23), 'light', [
    '#a9a6a0',
    '#4d5a48',
    '#3b352e',
  ]),
  figure(
    'woman-66',
    ['she', 'female', 'old', 'grandmother'],
    eyes(1.52, 1.53, 1.51, 1.19, 1.06, 0.21),
    'light',
    ['#b7b2aa', '#6e5a6e', '#34363c'],
  ),
  figure('man-26', ['he', 'male', 'young', 'black'], eyes(1.7, 1.71, 1.69, 1.24, 1.08, 0.23), 'dark', [
    '#15110e',
    '#a49b86',
    '#27303f',
  ]),
  figure('woman-42', ['she', 'female', 'black'], eyes(1.56, 1.57, 1.55, 1.22, 1.07, 0.21), 'very-dark', [
    '#17120f',
    '#9a4632',
    '#2b2b30',
  ]),
  figure('woman-33', ['she', 'female', 'asian'], eyes(1.54, 1.55, 1.53, 1.22, 1.1, 0.23), 'light', [
    '#14110f',
    '#3f5f66',
    '#26282d',
  ]),
  figure(
    'man-47',
    ['he', 'male', 'heavy', 'stout'],
    eyes(1.65, 1.66, 1.64, 1.21, 1.06, 0.24),
    'intermediate',
    ['#2e2119', '#3d4657', '#3a342c'],
  ),
  figure(
    'boy-8',
    ['he', 'male', 'child', 'kid', 'young'],
    eyes(1.18, 1.18, 1.17, 1.06, 0.84, 0.17),
    'light',
    ['#4a3524', '#7f8f5a', '#3a4a63'],
  ),
];

export const figureOf = (id: string | undefined): Figure | undefined => FIGURES.find((f) => f.id === id);
const find = finder(FIGURES);
export const searchFigures = (text: string, limit = 8): Figure[] => find(text, limit);

/** What one can sit or lie on, and how high its seat is over its foot, metres (common practice). */
const SEATS: Readonly<Record<string, (heightM: number) => number>> = {
  chair: () => 0.45,
  sofa: () => 0.42,
  wheelchair: () => 0.5,
  bed: (h) => Math.min(h, 0.55),
  stool: (h) => h,
  bench: (h) => h,
  'bench-seat': () => 0.45,
  crate: (h) => h,
  box: (h) => h,
};

/** The seat under a point of the floor, metres over the floor; undefined: nothing to sit on there. */
export function seatUnder(place: Place, [x, y]: readonly [number, number]): number | undefined {
  for (const f of Object.values(place.furniture)) {
    const seat = SEATS[f.kind];
    if (!seat) continue;
    const a = (-(f.turnDeg ?? 0) * Math.PI) / 180;
    const [dx, dy] = [x - f.at[0], y - f.at[1]];
    const u = dx * Math.cos(a) - dy * Math.sin(a);
    const v = dx * Math.sin(a) + dy * Math.cos(a);
    // Eyes are over the front edge of a seat, not over its middle.
    if (Math.abs(u) > f.sizeM[0] / 2 + 0.15 || Math.abs(v) > f.sizeM[1] / 2 + 0.15) continue;
    const height = f.at[2] + seat(f.sizeM[2]);
    if (height > 0.25 && height < 1) return +height.toFixed(3);
  }
  return undefined;
}

/**
 * What a mark has to change when its person takes another posture, or another person takes its place: eyes where that
 * figure's are at its own size; who sits takes the seat that is there, who lies goes down to it or to the floor.
 */
export function inPosture(place: Place, mark: Mark, posture: Posture, person = mark.person): Partial<Mark> {
  const base = mark.baseM ?? 0;
  const under = seatUnder(place, mark.at);
  const own = figureOf(person)?.eyesM[posture] ?? figureOf('man-34')!.eyesM[posture];
  const seat = posture === 'seated' ? (under ?? mark.seatM ?? 0.45) : posture === 'lying' ? (under ?? 0) : 0;
  const lift = posture === 'seated' ? seat - 0.45 : posture === 'lying' ? seat : 0;
  return {
    posture,
    eyeM: +(base + own + lift).toFixed(2),
    ...(posture === 'seated' || posture === 'lying' ? { seatM: seat } : {}),
  };
}

/** A colour by the word one says: of hair, of cloth. Screen colours of ordinary ones (judgement). */
export interface Hue extends Findable {
  hex: string;
}
const hue = (words: string, hex: string, ...found: string[]): Hue => ({ words, hex, found });
export const HAIRS: readonly Hue[] = [
  hue('black', '#14110f'),
  hue('dark brown', '#2e2119', 'brunette'),
  hue('brown', '#5a351d', 'chestnut'),
  hue('red', '#7a3a1c', 'auburn', 'ginger'),
  hue('fair', '#a07a4a', 'blond', 'blonde'),
  hue('grey', '#a9a6a0', 'gray'),
  hue('white', '#d6d2ca', 'silver'),
];
export const CLOTHS: readonly Hue[] = [
  hue('white', '#e8e5de', 'shirt'),
  hue('cream', '#d8cbb0', 'ivory', 'beige'),
  hue('grey', '#7f8084', 'gray'),
  hue('black', '#17181a'),
  hue('navy', '#232c44', 'dark blue'),
  hue('blue', '#3f5f8a', 'denim', 'jeans'),
  hue('green', '#4d5a48', 'olive'),
  hue('red', '#8c2f2c'),
  hue('wine', '#5a2430', 'burgundy', 'maroon'),
  hue('mustard', '#a8802c', 'yellow', 'ochre'),
  hue('brown', '#5a4230', 'tan'),
  hue('pink', '#b98088', 'rose'),
];

/** #rrggbb out of a colour's word or its figures; or what was expected. */
export function readHue(list: readonly Hue[], text: string): { hex: string } | string {
  const t = text.trim().toLowerCase();
  const six = /^#?([0-9a-f]{6})$/.exec(t);
  if (six) return { hex: `#${six[1]}` };
  const found = finder(list)(t, 1)[0];
  return found ? { hex: found.hex } : `a colour such as ${list[0]!.words}, ${list[2]!.words} or #3a2a1e`;
}

const channels = (hex: string): number[] => [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16));
/** The word for a colour: that of the nearest in the list, or its figures where none is near. */
export function hueWords(list: readonly Hue[], hex: string): string {
  const c = channels(hex);
  const off = (h: Hue) => Math.hypot(...channels(h.hex).map((v, i) => v - c[i]!));
  const best = [...list].sort((a, b) => off(a) - off(b))[0]!;
  return off(best) < 60 ? best.words : hex;
}
