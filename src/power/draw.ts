/** Adding up: the amps of several loads, and the length of a phasor. */
import type { Phasor } from './loadflow.ts';
import type { Load } from './network.ts';
import type { Draw } from './verdict.ts';

/** Amps of some loads by a rule, split by how long they last. */
export function drawOf(loads: Iterable<Load>, amps: (load: Load) => number): Draw {
  let longA = 0;
  let briefA = 0;
  for (const load of loads) {
    if (load.brief) briefA += amps(load);
    else longA += amps(load);
  }
  return { longA, briefA };
}

/** Length of a phasor; 0 when there is none. */
export const size = (p: Phasor | undefined): number => (p ? Math.hypot(p.re, p.im) : 0);
/** Long and brief together. */
export const sum = (d: Draw): number => d.longA + d.briefA;
