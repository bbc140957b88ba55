/** Every pattern that can stand in a beam: one line each. */
import { branch } from './branch.ts';
import { leaves } from './leaves.ts';
import { panes } from './panes.ts';
import type { Pattern } from './pattern.ts';
import { round } from './round.ts';
import { slats } from './slats.ts';
import { slot } from './slot.ts';

export const PATTERNS: readonly Pattern[] = [panes, slats, slot, round, leaves, branch];
export const patternOf = (kind: string): Pattern | undefined => PATTERNS.find((p) => p.kind === kind);
