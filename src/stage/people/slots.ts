/** What the parts of a person are made of; an index into this list stands at every triangle. */
export const SLOTS = [
  'skin',
  'lips',
  'scalp',
  'mouth',
  'hair',
  'brow',
  'lash',
  'eye-white',
  'iris',
  'pupil',
  'top',
  'bottom',
  'shoes',
  'frame',
  'lens',
  'hat',
  'hair-within',
  'hair-mass',
] as const;
/** Slots that may share a cluster: skin, hair, eyes, and each cloth, spectacles, hats. */
export const KIND = [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 4, 5, 6, 7, 8, 1, 1];
export type PersonSlot = (typeof SLOTS)[number];
