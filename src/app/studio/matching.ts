/** What would bring a close-up nearer to its wide, traced; asked for while somebody looks at the cut. */

import { closeOf, nearerTried } from '../../scheme/matchCures.ts';
import { trier } from '../../scheme/tryCures.ts';
import type { AbortSignalLike } from '../../transport/tracer.ts';
import type { Wanted } from '../messages.ts';
import { knownOf } from './curing.ts';
import { stateKeyOf } from './keys.ts';
import { keep, type Means, SEED, turnOver } from './means.ts';
import { facesSeen } from './reading.ts';
import type { Shown } from './shown.ts';

export async function tryMatch(on: Means, s: Shown, w: Wanted, signal: AbortSignalLike): Promise<void> {
  const { match } = w;
  if (!match || match.angle !== s.ref.angle) return;
  const key = `${stateKeyOf(w.shoot, s.ref)}|${match.key}`;
  let found = on.matched.get(key);
  if (!found) {
    const known = knownOf(on, s, w);
    if (!known) return;
    await turnOver(on, signal);
    const close = closeOf(known, facesSeen);
    const trial = trier(on.tracer, known, { seed: SEED, signal });
    found = await nearerTried(w.shoot, match.wide, close, match.tolerance, trial);
    keep(on.matched, key, found, 12);
  }
  on.say({ kind: 'matched', turn: w.turn, angle: s.ref.angle, key: match.key, found });
}
