/** What would help against troubles, tried. */

import type { Known } from '../../scheme/afterEdit.ts';
import { keyOf as troubleKey } from '../../scheme/trouble.ts';
import { freeTogether, trier, withCures } from '../../scheme/tryCures.ts';
import type { AbortSignalLike } from '../../transport/tracer.ts';
import type { Wanted } from '../messages.ts';
import { stateKeyOf } from './keys.ts';
import { bestOf } from './lighting.ts';
import { type Cured, keep, type Means, SEED, turnOver } from './means.ts';
import { measuredOf } from './meters.ts';
import { sendReading } from './reading.ts';
import type { Shown } from './shown.ts';

/** Every trouble's cures, worst first; said as soon as the worst one's are known, and when all are. */
export async function tryCures(on: Means, s: Shown, w: Wanted, signal: AbortSignalLike): Promise<void> {
  const key = stateKeyOf(w.shoot, s.ref);
  const known = knownOf(on, s, w);
  if (on.cured.has(key) || !known) return;
  const trial = trier(on.tracer, known, { seed: SEED, signal });
  const made: Cured = { troubles: new Map(), free: [] };
  const found = [...s.found].sort((a, b) => b.severity - a.severity);
  for (const t of found) {
    if (t.severity < 1 || t.meant !== undefined) continue;
    await turnOver(on, signal);
    made.troubles.set(troubleKey(t), await withCures(t, trial));
    if (made.troubles.size === 1) {
      on.cured.set(key, made);
      sendReading(on, s, w);
      on.cured.delete(key);
    }
  }
  made.free = await freeTogether([...made.troubles.values()], trial);
  keep(on.cured, key, made, 24);
  sendReading(on, s, w);
}

/** The angle as it stands, to try things against; undefined: not read or seen yet, or one lamp alone burns. */
export function knownOf(on: Means, s: Shown, w: Wanted): Known | undefined {
  const measured = measuredOf(s);
  const lit = bestOf(s);
  if (!measured || !lit || w.only !== undefined) return undefined;
  if (lit.light.length !== s.weights.length) return undefined;
  return {
    ...{ shoot: w.shoot, ref: s.ref, people: on.people, detail: 'medium' },
    ...{ angle: s.geometry, weights: s.weighed.weights, supply: s.weighed.supply, measured },
    ...{ hits: lit.sight.hits, coarse: lit.sight.coarse, light: [...lit.light] },
  };
}
