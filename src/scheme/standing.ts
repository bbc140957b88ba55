/** Why a lamp so held cannot be where it is wanted: its foot, what a clamp would hold, the ceiling, the reach of its stand. */

import type { Vec3 } from '../maths/vec3.ts';
import { indoors } from '../shoot/rooms.ts';
import type { KitThing, Place, Support } from '../shoot/schema.ts';
import { ceilingOver } from '../stage/slope.ts';
import { clampNear, footHits } from './room.ts';
import { m } from './trouble.ts';

export interface Refusal {
  kind: 'foot' | 'clamp' | 'ceiling' | 'reach';
  why: string;
}
/** Radius of a stand's foot that nobody has measured, metres (common practice, no source). */
export const FOOT_M = 0.45;
/** A clamp's own arm reaches this far beside its drop pipe, metres (common practice, no source). */
const ARM_M = 0.5;
/** Of a head over its middle, metres (judgement); what hangs or is screwed up may sit right under the ceiling. */
const HEAD_M = 0.1;

export function cannotStand(
  place: Place,
  support: Support,
  at: Vec3,
  thing?: Pick<KitThing, 'heightM'>,
): Refusal[] {
  const out: Refusal[] = [];
  const within = indoors(place, [at[0], at[1]]);
  if (support.kind === 'stand') {
    const foot = support.footM ?? FOOT_M;
    const hits = footHits(place, at[0], at[1], foot);
    if (hits) out.push({ kind: 'foot', why: `its foot (${m(foot)} radius) meets ${hits}` });
    const tallM = at[2] - (support.baseM ?? 0);
    const [lowest, highest] = thing?.heightM ?? [0, Number.POSITIVE_INFINITY];
    if (tallM > highest + 0.05)
      out.push({ kind: 'reach', why: `its stand goes no higher than ${m(highest)}` });
    if (tallM < lowest - 0.05) out.push({ kind: 'reach', why: `its stand goes no lower than ${m(lowest)}` });
  }
  if (support.kind === 'clamp' && within && !clampNear(place, at, (support.dropM ?? 0) + ARM_M))
    out.push({ kind: 'clamp', why: 'there is nothing within reach to clamp it to' });
  const ceilingM = within ? ceilingOver(place, at[0], at[1]) : undefined;
  if (
    ceilingM !== undefined &&
    at[2] + (support.kind === 'hung' || support.kind === 'wall' ? 0 : HEAD_M) > ceilingM
  )
    out.push({ kind: 'ceiling', why: `its head is at ${m(at[2])} under a ceiling of ${m(ceilingM)}` });
  return out;
}
