/**
 * What stands or hangs in a beam, found by typing its name: flags, nets, boards, frames and sheets in the sizes they
 * are mostly had in (common practice, no source), corrected by measuring.
 */
import { finder } from './found.ts';
import type { Finish, RigFlag } from './schema.ts';

export interface BeamThing {
  id: string;
  words: string;
  found: readonly string[];
  kind: RigFlag['kind'];
  /** Width and height, metres. */
  sizeM: readonly [number, number];
  /** In the way of a lamp, or turned to a face. */
  stands: 'before a lamp' | 'before a face';
  sheet?: string;
  finish?: Finish;
  /** Cut in it, or hanging in its place (`src/stage/patterns/`), at its usual measures. */
  pattern?: string;
}

const finish = (words: string, reflectance: number, more: Partial<Finish> = {}): Finish => ({
  words,
  reflectance,
  guessed: true,
  ...more,
});
const lamp = 'before a lamp';
const face = 'before a face';

/** A black card with a pattern in it. */
const patterned = (
  pattern: string,
  words: string,
  sizeM: BeamThing['sizeM'],
  found: readonly string[],
): BeamThing => ({
  id: `pattern-${pattern}`,
  words,
  found,
  kind: 'flag',
  sizeM,
  stands: lamp,
  pattern,
  finish: finish('black card', 0.05),
});

export const BEAM_THINGS: readonly BeamThing[] = [
  {
    id: 'flag',
    words: 'flag',
    found: ['black', 'solid', 'gobo'],
    kind: 'flag',
    sizeM: [0.45, 0.6],
    stands: lamp,
  },
  {
    id: 'flag-large',
    words: 'large flag',
    found: ['floppy', 'black', 'solid'],
    kind: 'flag',
    sizeM: [1.2, 1.2],
    stands: lamp,
  },
  {
    id: 'cutter',
    words: 'cutter',
    found: ['strip', 'flag', 'black'],
    kind: 'flag',
    sizeM: [0.25, 1],
    stands: lamp,
  },
  {
    id: 'dot',
    words: 'small round flag',
    found: ['finger', 'dot', 'lollipop'],
    kind: 'flag',
    sizeM: [0.15, 0.15],
    stands: lamp,
  },
  {
    id: 'net-half',
    words: 'half net',
    found: ['single', 'scrim'],
    kind: 'net-half',
    sizeM: [0.45, 0.6],
    stands: lamp,
  },
  {
    id: 'net-full',
    words: 'full net',
    found: ['double', 'scrim'],
    kind: 'net-full',
    sizeM: [0.45, 0.6],
    stands: lamp,
  },
  {
    id: 'frame',
    words: 'diffusion frame',
    found: ['diff', 'soft', 'butterfly', 'white', '4x4'],
    kind: 'frame',
    sizeM: [1.2, 1.2],
    stands: lamp,
    sheet: 'full-white',
  },
  {
    id: 'frame-small',
    words: 'small diffusion frame',
    found: ['diff', 'soft', 'opal'],
    kind: 'frame',
    sizeM: [0.6, 0.6],
    stands: lamp,
    sheet: 'half-white',
  },
  {
    id: 'hung-sheet',
    words: 'hung bed sheet',
    found: ['muslin', 'cotton', 'shower curtain', 'cloth', 'soft'],
    kind: 'frame',
    sizeM: [2, 2],
    stands: lamp,
    sheet: 'muslin',
  },
  {
    id: 'bounce',
    words: 'white bounce board',
    found: ['poly', 'polystyrene', 'reflector', 'foamcore', 'card', 'fill'],
    kind: 'bounce',
    sizeM: [0.6, 1.2],
    stands: face,
    finish: finish('white board', 0.85),
  },
  {
    id: 'bounce-cloth',
    words: 'white bounce cloth',
    found: ['sheet', 'reflector', 'fill'],
    kind: 'bounce',
    sizeM: [2, 2],
    stands: face,
    finish: finish('white cloth', 0.75),
  },
  {
    id: 'bounce-silver',
    words: 'silver bounce board',
    found: ['reflector', 'foil', 'shiny', 'fill'],
    kind: 'bounce',
    sizeM: [0.6, 1.2],
    stands: face,
    finish: finish('crumpled silver foil', 0.7, { glossF0: 0.7, roughness: 0.35 }),
  },
  {
    id: 'board',
    words: 'black board',
    found: ['card', 'velvet', 'negative fill', 'showcard'],
    kind: 'board',
    sizeM: [0.5, 0.7],
    stands: face,
  },
  {
    id: 'black-cloth',
    words: 'black cloth',
    found: ['negative fill', 'drape', 'velvet'],
    kind: 'board',
    sizeM: [2, 2],
    stands: face,
  },
  patterned('panes', 'card with window panes', [0.6, 0.8], ['gobo', 'window', 'cookie', 'pattern', 'bars']),
  patterned(
    'slats',
    'card with a blind’s slats',
    [0.9, 0.9],
    ['gobo', 'venetian', 'blinds', 'pattern', 'noir'],
  ),
  patterned('slot', 'card with a slot', [0.6, 0.4], ['gobo', 'slit', 'slash', 'eye light', 'door ajar']),
  patterned('round', 'card with a round hole', [0.5, 0.5], ['gobo', 'porthole', 'iris', 'circle', 'snoot']),
  patterned(
    'leaves',
    'card with leaves cut in it',
    [0.6, 0.6],
    ['gobo', 'cookie', 'dapple', 'foliage', 'breakup'],
  ),
  {
    ...patterned('branch', 'leafy branch', [0.9, 0.6], ['gobo', 'leaves', 'foliage', 'dapple', 'twig']),
    finish: finish('green leaves', 0.12),
  },
];

export const beamThing = (id: string): BeamThing | undefined => BEAM_THINGS.find((t) => t.id === id);
const find = finder(BEAM_THINGS);
export const searchBeam = (text: string, limit = 6): BeamThing[] => find(text, limit);
