/**
 * The generic kit: what a person may own, borrow or hire, in words, with the measures that a plan needs. Sizes, loads
 * and heights are planning values (common practice, no source); the label on the real thing rules. `found` holds other
 * words by which a thing may be found by typing; they are never shown.
 */
import type { KitThing, Supply } from './schema.ts';

export type Region = Supply['region'];
export type KitPart = 'lamps' | 'supports' | 'sheets' | 'flags' | 'leads' | 'multiways';

export interface KitKind {
  id: string;
  part: KitPart;
  words: string;
  found: readonly string[];
  /** Where it is sold; absent: everywhere. */
  regions?: readonly Region[];
  /** Radius of the foot, metres; lowest and highest lamp, metres; what it carries, kg. */
  footM?: number;
  heightM?: readonly [number, number];
  holdsKg?: number;
  /** Cord: copper, length, plug and cord rating; a drum's rating while wound. */
  mm2?: number;
  lengthM?: number;
  ratingA?: number;
  reel?: boolean;
  woundRatingA?: number;
  ways?: number;
  /** Width and height, metres. */
  sizeM?: readonly [number, number];
}

const lamp = (id: string, words: string, ...found: string[]): KitKind => ({
  id,
  part: 'lamps',
  words,
  found,
});
const hold = (
  id: string,
  words: string,
  measures: Pick<KitKind, 'footM' | 'heightM' | 'holdsKg'>,
  ...found: string[]
): KitKind => ({ id, part: 'supports', words, ...measures, found });
const sheet = (id: string, words: string, ...found: string[]): KitKind => ({
  id,
  part: 'sheets',
  words,
  found,
});
const cut = (id: string, words: string, sizeM: readonly [number, number], ...found: string[]): KitKind => ({
  id,
  part: 'flags',
  words,
  sizeM,
  found,
});

const FRACTIONS = [
  ['full', '1'],
  ['three-quarter', '3/4'],
  ['half', '1/2'],
  ['quarter', '1/4'],
  ['eighth', '1/8'],
] as const;
const graded = (grades: readonly string[], id: string, words: string, ...found: string[]): KitKind[] =>
  FRACTIONS.filter(([grade]) => grades.includes(grade)).map(([grade, typed]) =>
    sheet(`${grade}-${id}`, `${grade} ${words}`, typed, ...found),
  );
const ALL = ['full', 'three-quarter', 'half', 'quarter', 'eighth'];
const FOUR = ['full', 'half', 'quarter', 'eighth'];
/** Neutral density: a third of a stop is 0.1. */
const density = (d: number): KitKind =>
  sheet(
    `nd-${d}`,
    `neutral density ${d}`,
    'nd',
    'grey',
    'gray',
    'gel',
    `.${String(d * 100)}`,
    `${(d / 0.3).toFixed(1).replace('.0', '')} stop`,
  );
const colour = (id: string): KitKind =>
  sheet(id, id.replace('-', ' '), 'gel', 'colour', 'color', 'strong', 'party');
const cloth = (id: string, words: string, ...found: string[]): KitKind =>
  sheet(id, words, 'diffusion', 'diff', 'soft', ...found);

/** Leads and blocks of a region: rated amps, copper (AWG 16, 14, 12 where cords are sold so). */
const cords = (regions: readonly Region[], ratingA: number, ...list: (readonly [number, number, string])[]) =>
  list.map(
    ([lengthM, mm2, words]): KitKind => ({
      id: `lead-${regions[0]}-${lengthM}-${String(mm2).replace('.', '')}`,
      part: 'leads',
      words,
      lengthM,
      mm2,
      ratingA,
      regions,
      found: ['lead', 'extension', 'cord', 'cable', 'extension lead', 'stinger'],
    }),
  );
const block = (ways: number, ratingA: number, regions: readonly Region[]): KitKind => ({
  id: `block-${ways}${regions[0] === 'uk' ? '' : `-${regions[0]}`}`,
  part: 'multiways',
  words: `${['', '', 'two', 'three', 'four', 'five', 'six'][ways]}-way block`,
  ways,
  ratingA,
  regions,
  found: ['multiway', 'power strip', 'power board', 'trailing socket', 'gang', 'splitter'],
});

export const KIT: readonly KitKind[] = [
  lamp('fresnel-300', '300 W fresnel', 'tungsten', 'lens', 'spot'),
  lamp('fresnel-650', '650 W fresnel', 'tungsten', 'lens', 'spot'),
  lamp('fresnel-1000', '1 kW fresnel', '1000 w', '1k', 'tungsten', 'lens', 'spot'),
  lamp('fresnel-2000', '2 kW fresnel', '2000 w', '2k', 'tungsten', 'lens', 'spot'),
  lamp('open-face-800', '800 W open-face', 'tungsten', 'halogen', 'flood', 'open faced'),
  lamp('open-face-2000', '2 kW open-face', '2000 w', '2k', 'tungsten', 'halogen', 'flood', 'open faced'),
  lamp(
    'site-flood-500',
    '500 W site floodlight',
    'work light',
    'builder',
    'building site',
    'halogen',
    'garage',
  ),
  lamp('tube-36', '4 ft fluorescent tube, cool white', 'strip light', 'batten', 'neon', '36 w', '1.2 m'),
  lamp('bulb-40', '40 W household bulb', 'light bulb', 'globe', 'tungsten', 'lamp'),
  lamp('bulb-60', '60 W household bulb', 'light bulb', 'globe', 'tungsten', 'lamp'),
  lamp('bulb-100', '100 W household bulb', 'light bulb', 'globe', 'tungsten', 'lamp'),
  lamp('led-bulb', 'LED bulb of unknown quality', 'light bulb', 'globe', 'energy saving'),
  lamp('led-filament-6', '6 W LED filament bulb', 'light bulb', 'globe', 'vintage', 'pendant'),
  lamp('led-flood-50', '50 W LED floodlight of unknown quality', 'work light', 'builder', 'site'),
  lamp('led-panel-60', '60 W bi-colour LED panel', 'bicolour', 'bicolor', 'soft'),
  lamp('led-panel-1ft', '1 ft LED panel', '1x1', 'one by one', 'square', 'soft'),
  lamp('led-spot-200', '200 W daylight LED spot', 'cob', 'point source'),
  lamp('led-small', 'small battery LED', 'camera light', 'on-board', 'pocket'),
  lamp('lantern-60', '0.6 m paper lantern with a 60 W bulb', 'china ball', 'paper ball', 'rice paper'),
  lamp('candle', 'candle', 'flame', 'tea light'),
  lamp('led-spot-60', '60 W narrow LED spot', 'small spot', 'pin'),
  lamp('led-spot-150', '150 W battery LED spot', 'cob', 'point source'),
  lamp('led-spot-300', '300 W daylight LED spot', 'cob', 'point source'),
  lamp('led-spot-600', '600 W daylight LED spot', 'cob', 'point source', 'big'),
  lamp('led-soft-150', '150 W bi-colour LED in a 0.9 m softbox', 'bicolour', 'soft', 'octa'),
  lamp('led-rgb-200', '200 W colour LED', 'rgb', 'party', 'amber'),
  lamp('led-panel-45', '45 W battery LED panel', 'bicolour', 'soft'),
  lamp('led-small-30', '30 W battery LED', 'bicolour', 'pocket'),
  lamp('led-tube-10', '0.6 m battery LED tube', 'stick', 'wand', '2 ft'),
  lamp('led-flame-3', 'LED flame, 3 W', 'lantern', 'candle', 'oil'),
  lamp('led-flame-4', 'LED flame with flicker, 4 W', 'oil lamp', 'candle'),
  lamp('torch-5', 'hand torch, 5 W LED', 'flashlight'),
  lamp('shade-lamp-6', 'standard or table lamp, 6 W LED in its shade', 'practical', 'lampshade', 'bedside'),
  lamp('bulkhead-20', '20 W LED bulkhead', 'stairwell', 'wall light', 'emergency'),
  lamp('strip-12', '12 W LED ceiling strip', 'caravan', 'under cupboard'),
  lamp(
    'tubes-8x58',
    'four twin battens of 1.5 m fluorescent tubes, cool white',
    'neon',
    'strip light',
    'batten',
    '58 w',
  ),
  lamp('street-sodium-100', '100 W sodium street lamp', 'street light', 'lamp-post', 'son'),

  hold('stand', 'light stand', { footM: 0.45, heightM: [1.1, 2.6], holdsKg: 6 }, 'tripod', 'lighting stand'),
  hold('stand-small', 'small light stand', { footM: 0.4, heightM: [0.8, 2], holdsKg: 3 }, 'tripod'),
  hold('stand-tall', 'tall stand', { footM: 0.55, heightM: [1.4, 3.8], holdsKg: 9 }, 'tripod', 'high'),
  hold('stand-low', 'low stand', { footM: 0.45, heightM: [0.5, 1.1], holdsKg: 10 }, 'turtle', 'baby legs'),
  hold('stand-wind', 'wind-up stand', { footM: 0.75, heightM: [1.7, 3.8], holdsKg: 30 }, 'crank', 'heavy'),
  hold(
    'stand-arm',
    'stand with a sliding leg, head and arm',
    { footM: 0.45, heightM: [1.3, 3.1], holdsKg: 9 },
    'c-stand',
    'c stand',
    'grip stand',
  ),
  hold('boom', 'boom arm for a stand', { holdsKg: 4 }, 'menace arm', 'pole'),
  hold(
    'plate',
    'floor plate',
    { footM: 0.15, heightM: [0.05, 0.1], holdsKg: 8 },
    'pigeon',
    'beaver',
    'wall plate',
  ),
  hold('clamp', 'clamp', { holdsKg: 10 }, 'grip', 'spigot clamp', 'g clamp'),
  hold('clamp-beam', 'beam clamp with drop pipe', { holdsKg: 15 }, 'hanger', 'drop arm', 'pole'),
  hold('clip', 'spring clip', { holdsKg: 0.5 }, 'croc', 'pony clip', 'a clamp'),
  hold('arm', 'flag arm', { holdsKg: 3 }, 'knuckle', 'gobo arm', 'head and arm', 'elbow'),
  hold('bag', 'sandbag', {}, 'shot bag', 'weight', 'ballast'),
  hold('bond', 'safety bond', { holdsKg: 30 }, 'safety chain', 'wire', 'cable'),

  ...graded(ALL, 'cto', 'CTO', 'orange', 'warm', 'gel'),
  ...graded(ALL, 'ctb', 'CTB', 'blue', 'cold', 'cool', 'gel'),
  ...graded(FOUR, 'plus-green', 'plus green', '+green', 'gel'),
  ...graded(FOUR, 'minus-green', 'minus green', '-green', 'magenta', 'gel'),
  ...[0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.2].map(density),
  ...['red', 'deep-red', 'amber', 'yellow', 'green', 'cyan', 'blue', 'deep-blue', 'magenta'].map(colour),
  ...FRACTIONS.filter(([grade]) => FOUR.includes(grade)).map(([grade, typed]) =>
    cloth(`${grade}-white`, `${grade} white diffusion`, typed, 'tracing paper', 'frost'),
  ),
  cloth('light-frost', 'light frost'),
  cloth('light-light-frost', 'light light frost'),
  cloth('heavy-frost', 'heavy frost'),
  cloth('full-grid', 'full grid cloth', 'heavy'),
  cloth('light-grid', 'light grid cloth'),
  cloth('quarter-grid', 'quarter grid cloth', '1/4'),
  cloth('full-spun', 'full spun diffusion', 'heavy', 'spun glass'),
  cloth('half-spun', 'half spun diffusion', '1/2', 'spun glass'),
  cloth('quarter-spun', 'quarter spun diffusion', '1/4', 'spun glass'),
  cloth('silk', 'artificial silk'),
  cloth('quarter-silk', 'quarter silk', '1/4'),
  cloth('china-silk', 'china silk'),
  cloth('muslin', 'muslin', 'bed sheet', 'calico', 'cotton'),
  sheet('egg-crate', 'egg-crate', 'grid', 'honeycomb', 'louvre', 'louver'),

  cut('flag', 'flag', [0.45, 0.6], 'black', 'solid', 'floppy', 'gobo'),
  cut('cutter', 'cutter', [0.25, 1], 'strip', 'flag', 'black'),
  cut('dot', 'small round flag', [0.15, 0.15], 'finger', 'dot', 'lollipop'),
  cut('board', 'black board', [0.5, 0.7], 'card', 'velvet', 'negative fill', 'showcard'),
  cut('net-half', 'half net', [0.45, 0.6], 'single', 'net', 'scrim'),
  cut('net-full', 'full net', [0.45, 0.6], 'double', 'net', 'scrim'),
  cut(
    'bounce',
    'white board',
    [0.6, 1.2],
    'bounce',
    'poly',
    'polystyrene',
    'bead board',
    'reflector',
    'foamcore',
  ),
  cut('frame', 'diffusion frame', [1.2, 1.2], 'silk', 'butterfly', '4x4', 'shower curtain', 'diff'),

  {
    id: 'lead',
    part: 'leads',
    words: 'lead',
    found: ['extension', 'cord', 'cable', 'extension lead', 'stinger'],
  },
  ...cords(
    ['uk'],
    13,
    [5, 1.25, '5 m lead, 1.25 mm²'],
    [10, 1.5, '10 m lead, 1.5 mm²'],
    [25, 1.5, '25 m rubber lead, 1.5 mm²'],
    [25, 2.5, '25 m rubber lead, 2.5 mm²'],
  ),
  ...cords(
    ['eu'],
    16,
    [5, 1.5, '5 m lead, 1.5 mm²'],
    [10, 1.5, '10 m lead, 1.5 mm²'],
    [25, 2.5, '25 m rubber lead, 2.5 mm²'],
  ),
  ...cords(
    ['na', 'jp'],
    15,
    [7.6, 2.08, '25 ft cord, 14 gauge'],
    [15.2, 3.31, '50 ft cord, 12 gauge'],
    [30.5, 3.31, '100 ft cord, 12 gauge'],
  ),
  ...cords(
    ['au'],
    10,
    [5, 1, '5 m lead, 1.0 mm²'],
    [10, 1.5, '10 m lead, 1.5 mm²'],
    [25, 1.5, '25 m lead, 1.5 mm²'],
  ),
  {
    // Wound rating: one published drum, 500 W wound and 2300 W unwound [REEL].
    id: 'reel',
    part: 'leads',
    words: '25 m cable reel',
    lengthM: 25,
    mm2: 1.5,
    ratingA: 13,
    reel: true,
    woundRatingA: 2.2,
    regions: ['uk', 'eu', 'au'],
    found: ['drum', 'cable drum', 'cord reel', 'extension'],
  },

  block(4, 13, ['uk']),
  block(6, 13, ['uk']),
  block(3, 16, ['eu']),
  block(6, 15, ['na', 'jp']),
  block(4, 10, ['au']),
  {
    id: 'cube',
    part: 'multiways',
    words: 'three-way tap',
    ways: 3,
    ratingA: 15,
    regions: ['na', 'jp'],
    found: ['cube tap', 'adaptor', 'adapter', 'splitter'],
  },
];

export const kitKind = (id: string): KitKind | undefined => KIT.find((k) => k.id === id);

/** What the document keeps of a thing of this kind. */
export function thingOf(kind: KitKind, count: number, held: KitThing['held']): KitThing {
  const { id, part: _part, words, found: _found, regions: _regions, heightM, sizeM, ...measures } = kind;
  return {
    kind: id,
    words,
    count,
    held,
    ...measures,
    ...(heightM ? { heightM: [heightM[0], heightM[1]] } : {}),
    ...(sizeM ? { sizeM: [sizeM[0], sizeM[1]] } : {}),
  };
}
