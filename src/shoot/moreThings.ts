/**
 * Things found in sheds, streets and workshops: the rest of what the stage can build, at the sizes of ordinary ones
 * (common practice, no source).
 */
import type { RoomThing } from './roomThing.ts';
import type { Finish } from './schema.ts';
import { BRASS, CANVAS, ENAMEL, LINEN, NET, PAPER, PLASTIC, STEEL, STONE, WOOD } from './usualFinishes.ts';

const thing = (
  kind: string,
  words: string,
  sizeM: RoomThing['sizeM'],
  of: Finish,
  found: readonly string[],
  more: Pick<RoomThing, 'front' | 'baseM'> = {},
): RoomThing => ({ id: kind, kind, words, found, sizeM, finish: of, ...more });

export const MORE_THINGS: readonly RoomThing[] = [
  thing('post', 'square post', [0.15, 0.15, 2.4], WOOD, ['pillar', 'upright', 'column']),
  thing('base-unit', 'kitchen base unit', [0.6, 0.58, 0.86], ENAMEL, ['cupboard', 'kitchen'], {
    front: '-y',
  }),
  {
    ...thing('worktop', 'loose worktop', [2.4, 0.6, 0.04], WOOD, ['countertop', 'kitchen', 'board'], {
      baseM: 0.86,
    }),
    // The kitchen unit with its top has the shorter name already.
    id: 'loose-worktop',
  },
  thing('book', 'book', [0.15, 0.22, 0.03], PAPER, ['ledger', 'bible', 'papers'], { baseM: 0.74 }),
  thing('pendant-shade', 'hanging lampshade', [0.4, 0.4, 0.25], LINEN, ['pendant', 'ceiling lamp'], {
    baseM: 1.9,
  }),
  thing('hurricane-lantern', 'hurricane lantern', [0.17, 0.15, 0.32], STEEL, ['storm lantern', 'paraffin'], {
    baseM: 0.74,
  }),
  thing('oil-lamp', 'oil lamp', [0.14, 0.14, 0.42], BRASS, ['paraffin', 'kerosene', 'lantern'], {
    baseM: 0.74,
  }),
  thing('net-curtain', 'net curtain', [1.6, 0.06, 1.2], NET, ['nets', 'voile', 'window'], {
    front: '-y',
    baseM: 0.9,
  }),
  thing('roller-blind', 'roller blind', [1.2, 0.05, 1.2], LINEN, ['shade', 'window'], {
    front: '-y',
    baseM: 0.95,
  }),
  thing('bulkhead', 'bulkhead light', [0.3, 0.1, 0.3], STEEL, ['wall light', 'stairwell'], {
    front: '-y',
    baseM: 2.1,
  }),
  thing('batten', 'ceiling batten', [1.52, 0.1, 0.09], ENAMEL, ['strip light', 'fluorescent'], {
    baseM: 2.3,
  }),
  thing('heater', 'fan heater', [0.3, 0.2, 0.35], PLASTIC, ['electric fire']),
  thing('landing', 'landing', [2.4, 1.2, 0.2], STONE, ['platform', 'rostrum', 'stage']),
  thing('railing', 'railing', [2.4, 0.06, 1], STEEL, ['banister', 'balustrade', 'handrail']),
  thing('pavement', 'pavement', [4, 1.8, 0.12], STONE, ['sidewalk', 'kerb', 'street']),
  thing('bin', 'bin', [0.5, 0.5, 0.75], PLASTIC, ['dustbin', 'trash', 'rubbish']),
  thing('bollard', 'bollard', [0.16, 0.16, 1], STEEL, ['post', 'street']),
  thing('boat-hull', 'small boat', [3.6, 1.4, 0.7], WOOD, ['dinghy', 'hull', 'rowing boat']),
  thing('plank-stack', 'stack of planks', [2.4, 0.5, 0.4], WOOD, ['timber', 'boards', 'lumber']),
  thing('mast', 'mast', [3, 0.12, 0.12], WOOD, ['pole', 'spar'], { baseM: 0.9 }),
  thing('gantry', 'gantry', [3, 0.8, 2.6], STEEL, ['crane', 'hoist', 'frame']),
  thing('smoke-machine', 'smoke machine', [0.4, 0.25, 0.22], PLASTIC, ['fogger', 'haze', 'fog']),
  thing('sheet-cover', 'sheet over a heap', [2, 0.9, 0.6], CANVAS, ['tarpaulin', 'dust sheet', 'cover']),
];
