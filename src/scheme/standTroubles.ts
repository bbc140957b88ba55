/** Stands that cannot stand where they are told to, clamps with nothing to hold, heads through the ceiling. */

import type { Vec3 } from '../maths/vec3.ts';
import { indoors } from '../shoot/rooms.ts';
import { ceilingOver } from '../stage/slope.ts';
import { rigLamp, type SchemeContext, whole } from './context.ts';
import { carry, hold } from './cureEdits.ts';
import { clampNear, footHits } from './room.ts';
import { cannotStand, FOOT_M, type Refusal } from './standing.ts';
import { type Found, type Idea, m } from './trouble.ts';

/** A stand's foot with its legs drawn in and bagged, metres (common practice, no source). */
const DRAWN_IN_M = 0.35;

export function standTroubles(c: SchemeContext): Found[] {
  const out: Found[] = [];
  for (const lamp of c.angle.lamps) {
    const rig = rigLamp(c, lamp.id);
    const kit = rig.support.kit === undefined ? undefined : c.shoot.kit.supports[rig.support.kit];
    const refusals = cannotStand(c.place, rig.support, lamp.at, kit);
    if (refusals.length === 0) continue;
    out.push({
      kind: 'stand-cannot-stand',
      lamp: lamp.id,
      severity: 3,
      size: refusals.length,
      says: `${rig.number} cannot stand there: ${refusals.map((r) => r.why).join('; ')}.`,
      short: `${rig.number} cannot stand there`,
      at: lamp.at,
      ideas: () => refusals.flatMap((r) => ideasFor(c, lamp.id, r, kit?.heightM)),
    });
  }
  return out;
}

function ideasFor(
  c: SchemeContext,
  id: string,
  { kind }: Refusal,
  heightM: readonly [number, number] | undefined,
): Idea[] {
  const rig = rigLamp(c, id);
  const at: Vec3 = [rig.at[0], rig.at[1], rig.at[2]];
  if (kind === 'foot') return elsewhere(c, id, at, rig.support.footM ?? FOOT_M);
  if (kind === 'clamp') return otherHold(c, id, at);
  const [low, high] = heightM ?? [0, at[2]];
  const base = rig.support.baseM ?? 0;
  const z =
    kind === 'ceiling'
      ? (ceilingOver(c.place, at[0], at[1]) ?? at[2]) - 0.3
      : base + Math.max(low, Math.min(high, at[2] - base));
  return [
    carry(whole(c, id), id, [at[0], at[1], z], `${z < at[2] ? 'Lower' : 'Raise'} ${rig.number} to ${m(z)}`),
    ...(kind === 'reach' ? taller(c, id, at[2] - base) : []),
  ];
}

/** A stand of the kit that reaches, where this one does not. */
function taller(c: SchemeContext, id: string, heightM: number): Idea[] {
  const rig = rigLamp(c, id);
  return Object.entries(c.shoot.kit.supports)
    .filter(
      ([kit, t]) =>
        kit !== rig.support.kit && t.heightM && t.heightM[0] <= heightM && t.heightM[1] >= heightM,
    )
    .slice(0, 2)
    .map(([kit, t]) => ({
      ...hold(
        whole(c, id),
        id,
        {
          support: {
            ...rig.support,
            kit,
            words: t.words ?? kit,
            ...(t.footM === undefined ? {} : { footM: t.footM }),
          },
        },
        `Put ${rig.number} on the ${t.words ?? kit}`,
      ),
    }));
}

/** Clear floor near by, the legs drawn in, or a clamp. */
function elsewhere(c: SchemeContext, id: string, at: Vec3, foot: number): Idea[] {
  const w = whole(c, id);
  const { number, support } = rigLamp(c, id);
  const ideas: Idea[] = [];
  const free = freeFloor(c, at, foot);
  if (free) ideas.push(carry(w, id, free.at, `Stand ${number} ${m(free.d)} away, on clear floor`));
  if (foot > DRAWN_IN_M && footHits(c.place, at[0], at[1], DRAWN_IN_M) === undefined)
    ideas.push({
      ...hold(
        w,
        id,
        { support: { ...support, footM: DRAWN_IN_M } },
        `Draw in the legs of ${number} to ${m(DRAWN_IN_M)} and bag them`,
      ),
      needs: 'a bag',
    });
  const holder = clampNear(c.place, at, 1);
  if (holder)
    ideas.push({
      ...hold(
        w,
        id,
        {
          support: {
            kind: 'clamp',
            on: holder.id,
            bond: true,
            dropM: +Math.max(0, holder.at[2] - at[2]).toFixed(2),
          },
        },
        `Clamp ${number} to ${holder.words} instead`,
      ),
      needs: 'a clamp and a safety bond',
    });
  return ideas;
}

/** What the clamp could hold to, or a stand in its place. */
function otherHold(c: SchemeContext, id: string, at: Vec3): Idea[] {
  const w = whole(c, id);
  const { number } = rigLamp(c, id);
  const ideas: Idea[] = [];
  const holder = clampNear(c.place, at, 3);
  if (holder)
    ideas.push(
      carry(
        w,
        id,
        [holder.at[0], holder.at[1], holder.at[2] - 0.25],
        `Carry ${number} ${m(holder.distanceM)} to under ${holder.words}`,
      ),
    );
  const foot = [FOOT_M, DRAWN_IN_M].find((f) => footHits(c.place, at[0], at[1], f) === undefined);
  if (foot !== undefined && at[2] <= 4)
    ideas.push({
      ...hold(w, id, { support: { kind: 'stand', footM: foot } }, `Put ${number} on a stand there`),
      needs: 'a stand and a bag',
    });
  return ideas;
}

function freeFloor(c: SchemeContext, at: Vec3, foot: number): { at: Vec3; d: number } | undefined {
  for (let d = 0.1; d <= 2; d += 0.1)
    for (let i = 0; i < 16; i++) {
      const a = (i * Math.PI) / 8;
      const to: Vec3 = [at[0] + d * Math.cos(a), at[1] + d * Math.sin(a), at[2]];
      if (indoors(c.place, [to[0], to[1]]) && !footHits(c.place, to[0], to[1], foot)) return { at: to, d };
    }
  return undefined;
}
