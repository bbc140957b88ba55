/** All laws that a tracer must keep. */
import type { Law } from './judge.ts';
import { closedForms, energy, formFactors, highlights, panes, shadows } from './lawsDirect.ts';
import { furnace, images, linear, sheen, swap, variance } from './lawsPaths.ts';

export const LAWS: readonly Law[] = [
  closedForms,
  energy,
  shadows,
  panes,
  highlights,
  formFactors,
  furnace,
  images,
  linear,
  swap,
  sheen,
  variance,
];
