/** What stands in the place, seen from above, for the plan. */

import { outlinesOf } from '../../scheme/planFacts.ts';
import type { Outlines, Wanted } from '../messages.ts';
import { keep, type Means } from './means.ts';
import { idOf, type Shown } from './shown.ts';

/** What stands there from above, for the plan; once for each geometry. */
export function sendOutlines(on: Means, s: Shown, w: Wanted): void {
  if (on.outlined.get(idOf(s.ref)) === s.geometry.transport.stage.key) return;
  on.outlined.set(idOf(s.ref), s.geometry.transport.stage.key);
  const of = outlinesOf(s.geometry.transport.stage);
  const outlines: Outlines = {};
  for (const part of s.geometry.transport.stage.parts) {
    if (!/^(person|furniture|outside):/.test(part.id)) continue;
    const still = part.moving ? undefined : `${s.geometry.transport.stage.stillKey}|${part.id}`;
    let made = still === undefined ? undefined : on.outlinesKept.get(still);
    made ??= of(part.id) ?? [];
    if (still !== undefined) keep(on.outlinesKept, still, made, 400);
    const mark = s.rig.scene.marks[part.id.replace(/^person:/, '')];
    outlines[part.id] = { loops: made, at: mark?.at ?? [0, 0] };
  }
  on.say({ kind: 'outlines', turn: w.turn, angle: s.ref.angle, outlines });
}
