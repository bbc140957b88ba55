/**
 * What stands in rooms: things found by typing their name and set down with a tap. Sizes are those of ordinary ones
 * (common practice, no source) and are corrected by measuring; reflectances are guesses and say so.
 */
import { finder } from './found.ts';
import type { Finish, Furniture } from './schema.ts';

export interface RoomThing {
  id: string;
  /** A body the stage can build. */
  kind: string;
  words: string;
  found: readonly string[];
  /** Width (local x), depth (local y), height, metres. */
  sizeM: readonly [number, number, number];
  finish: Finish;
  /** Which local side looks into the room when it stands at a wall: seats along +x, cases along −y; absent: stands free. */
  front?: 'x' | '-y';
  /** Lowest point over the floor, metres. */
  baseM?: number;
  detail?: Readonly<Record<string, number>>;
}

const finish = (words: string, reflectance: number, colour: string): Finish => ({
  words,
  reflectance,
  colour,
  guessed: true,
});
const WOOD = finish('wood', 0.28, '#b08a5c');
const DARK_WOOD = finish('dark wood', 0.15, '#6a4a33');
const CLOTH = finish('grey cloth', 0.25, '#8b8a86');
const LINEN = finish('pale linen', 0.55, '#ded8cc');
const PAINTED = finish('painted', 0.5, '#e4ddcf');
const ENAMEL = finish('white enamel', 0.7, '#f0f0ee');
const STEEL = finish('grey steel', 0.3, '#8d9296');
const BLACK = finish('black', 0.05, '#242424');

export const THINGS: readonly RoomThing[] = [
  {
    id: 'table',
    kind: 'table',
    words: 'table',
    found: ['desk', 'kitchen'],
    sizeM: [0.8, 1.2, 0.74],
    finish: WOOD,
  },
  {
    id: 'table-small',
    kind: 'table',
    words: 'small table',
    found: ['cafe', 'bistro', 'bedside', 'side'],
    sizeM: [0.6, 0.6, 0.74],
    finish: WOOD,
  },
  {
    id: 'table-low',
    kind: 'table',
    words: 'low table',
    found: ['coffee table', 'sofa'],
    sizeM: [0.55, 1, 0.42],
    finish: DARK_WOOD,
  },
  {
    id: 'table-long',
    kind: 'table',
    words: 'long table',
    found: ['dining', 'conference', 'meeting'],
    sizeM: [0.9, 2, 0.74],
    finish: WOOD,
  },
  {
    id: 'desk',
    kind: 'table',
    words: 'desk',
    found: ['writing table', 'office', 'bureau'],
    sizeM: [1.4, 0.7, 0.74],
    finish: WOOD,
    front: '-y',
  },
  {
    id: 'chair',
    kind: 'chair',
    words: 'chair',
    found: ['seat', 'dining'],
    sizeM: [0.44, 0.42, 0.85],
    finish: DARK_WOOD,
    detail: { seatM: 0.45 },
  },
  {
    id: 'armchair',
    kind: 'sofa',
    words: 'armchair',
    found: ['easy chair', 'lounge'],
    sizeM: [0.85, 0.9, 0.85],
    finish: CLOTH,
    front: 'x',
  },
  {
    id: 'sofa',
    kind: 'sofa',
    words: 'sofa',
    found: ['couch', 'settee', 'lounge'],
    sizeM: [0.88, 1.9, 0.82],
    finish: CLOTH,
    front: 'x',
  },
  {
    id: 'bed-double',
    kind: 'bed',
    words: 'double bed',
    found: ['mattress'],
    sizeM: [2, 1.4, 0.9],
    finish: LINEN,
    front: 'x',
  },
  {
    id: 'bed-single',
    kind: 'bed',
    words: 'single bed',
    found: ['mattress', 'bunk', 'cot'],
    sizeM: [2, 0.9, 0.9],
    finish: LINEN,
    front: 'x',
  },
  {
    id: 'shelves',
    kind: 'shelves',
    words: 'shelves',
    found: ['bookcase', 'book case', 'rack', 'shelf'],
    sizeM: [0.8, 0.3, 1.9],
    finish: WOOD,
    front: '-y',
  },
  {
    id: 'wardrobe',
    kind: 'base-unit',
    words: 'wardrobe',
    found: ['closet', 'tall cupboard', 'armoire', 'locker'],
    sizeM: [1, 0.58, 1.95],
    finish: PAINTED,
    front: '-y',
  },
  {
    id: 'chest',
    kind: 'base-unit',
    words: 'low cupboard',
    found: ['sideboard', 'dresser', 'chest of drawers', 'cabinet', 'base unit'],
    sizeM: [1, 0.45, 0.85],
    finish: WOOD,
    front: '-y',
  },
  {
    id: 'cupboard',
    kind: 'cupboard',
    words: 'wall cupboard',
    found: ['kitchen unit', 'hanging cabinet'],
    sizeM: [0.8, 0.32, 0.6],
    finish: PAINTED,
    front: '-y',
    baseM: 1.45,
  },
  {
    id: 'worktop',
    kind: 'base-unit',
    words: 'kitchen unit with worktop',
    found: ['counter', 'worktop', 'bench', 'base unit'],
    sizeM: [1.2, 0.6, 0.9],
    finish: PAINTED,
    front: '-y',
  },
  {
    id: 'sink',
    kind: 'sink-unit',
    words: 'sink unit',
    found: ['kitchen sink', 'basin'],
    sizeM: [1, 0.6, 0.9],
    finish: PAINTED,
    front: '-y',
    detail: { bowlFromM: 0.25, bowlToM: 0.75 },
  },
  {
    id: 'cooker',
    kind: 'cooker',
    words: 'cooker',
    found: ['stove', 'oven', 'hob', 'range'],
    sizeM: [0.6, 0.6, 0.9],
    finish: ENAMEL,
    front: '-y',
  },
  {
    id: 'fridge',
    kind: 'fridge',
    words: 'fridge',
    found: ['refrigerator', 'freezer', 'icebox'],
    sizeM: [0.6, 0.62, 1.7],
    finish: ENAMEL,
    front: '-y',
  },
  {
    id: 'piano',
    kind: 'box',
    words: 'upright piano',
    found: ['organ'],
    sizeM: [1.45, 0.6, 1.2],
    finish: BLACK,
    front: '-y',
  },
  {
    id: 'bath',
    kind: 'box',
    words: 'bath, as a plain box',
    found: ['tub', 'bathtub'],
    sizeM: [1.7, 0.7, 0.56],
    finish: ENAMEL,
    front: '-y',
  },
  {
    id: 'stove',
    kind: 'box',
    words: 'stove or fireplace, as a plain box',
    found: ['fireplace', 'wood burner', 'hearth', 'chimney breast', 'radiator'],
    sizeM: [1.2, 0.4, 1.2],
    finish: finish('brick', 0.2, '#8a5a48'),
    front: '-y',
  },
  {
    id: 'screen',
    kind: 'box',
    words: 'television, as a dark box',
    found: ['tv', 'telly', 'monitor', 'screen'],
    sizeM: [1.1, 0.25, 0.7],
    finish: BLACK,
    front: '-y',
    baseM: 0.5,
  },
  {
    id: 'workbench',
    kind: 'workbench',
    words: 'workbench',
    found: ['bench', 'work table', 'garage'],
    sizeM: [1.6, 0.65, 0.85],
    finish: WOOD,
    front: '-y',
  },
  {
    id: 'trestle',
    kind: 'trestle',
    words: 'trestle',
    found: ['saw horse', 'sawhorse'],
    sizeM: [1, 0.5, 0.75],
    finish: WOOD,
  },
  {
    id: 'drum',
    kind: 'drum',
    words: 'steel drum',
    found: ['barrel', 'oil drum', 'bin'],
    sizeM: [0.58, 0.58, 0.88],
    finish: STEEL,
  },
  {
    id: 'box',
    kind: 'box',
    words: 'box',
    found: ['crate', 'case', 'carton', 'trunk', 'stool'],
    sizeM: [0.6, 0.4, 0.4],
    finish: WOOD,
  },
  {
    id: 'column',
    kind: 'cylinder',
    words: 'column',
    found: ['pillar', 'post', 'round'],
    sizeM: [0.4, 0.4, 2.2],
    finish: PAINTED,
  },
  {
    id: 'partition',
    kind: 'box',
    words: 'partition',
    found: ['screen', 'divider', 'wall', 'room divider'],
    sizeM: [1.8, 0.08, 1.8],
    finish: PAINTED,
  },
];

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
    ...(t.detail ? { detail: { ...t.detail } } : {}),
  };
}
