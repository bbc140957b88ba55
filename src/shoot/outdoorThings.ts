/** What stands in streets and gardens, at the sizes of ordinary ones (common practice, no source). */
import type { RoomThing } from './roomThing.ts';
import { BARK, BLACK, BLUE, BRICK, LEAF, PLASTIC, RED_LENS, STEEL, WOOD } from './usualFinishes.ts';

export const OUTDOOR_THINGS: readonly RoomThing[] = [
  {
    id: 'car',
    kind: 'car',
    words: 'family car',
    found: ['vehicle', 'motor'],
    sizeM: [4.2, 1.75, 1.48],
    finish: BLUE,
    finishes: { bumpers: PLASTIC, tail: RED_LENS },
  },
  {
    id: 'tree',
    kind: 'tree',
    words: 'tree',
    found: ['wood', 'garden'],
    sizeM: [3.0, 3.0, 5.0],
    finish: LEAF,
    finishes: { bark: BARK },
  },
  {
    id: 'hedge',
    kind: 'hedge',
    words: 'hedge',
    found: ['bush', 'shrub', 'garden'],
    sizeM: [2.0, 0.6, 1.5],
    finish: LEAF,
  },
  {
    id: 'fence',
    kind: 'fence',
    words: 'garden fence',
    found: ['pales', 'boards'],
    sizeM: [2.4, 0.1, 1.2],
    finish: WOOD,
  },
  {
    id: 'lamp-post',
    kind: 'lamp-post',
    words: 'lamp-post',
    found: ['street lamp', 'street light'],
    sizeM: [1.5, 0.3, 6.0],
    finish: STEEL,
  },
  {
    id: 'facade',
    kind: 'facade',
    words: 'house front',
    found: ['facade', 'building', 'street', 'terrace'],
    sizeM: [6.0, 0.3, 6.0],
    finish: BRICK,
  },
  {
    id: 'puddle',
    kind: 'puddle',
    words: 'puddle',
    found: ['water', 'wet', 'rain'],
    sizeM: [1.6, 1.0, 0.01],
    finish: BLACK,
  },
];
