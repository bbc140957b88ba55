/**
 * Carrying a lamp over the plan: a state that each touch turns into the next. A stand keeps to where it can stand, a
 * clamp to what it can hold; between the two they change as the kit allows. What cannot be says why.
 */

import type { RigLamp, Support } from '../shoot/schema.ts';
import { onFloor } from '../shoot/walls.ts';
import type { Point } from './display.ts';
import type { Ground, Touch, Vec } from './ground.ts';
import { stepped, toHolder, toWalls } from './snap.ts';

export interface Place {
  at: Vec;
  support: Support;
}
export interface Carry {
  /** The lamp as it was when the hand took it, and where the hand was. */
  lamp: Pick<RigLamp, 'at' | 'support'>;
  from: Point;
  /** Where it is now: the last place at which it can be. */
  here: Place;
  /** What holds it there, in a few words. */
  says?: string;
  /** Where the hand wants it and it cannot be. */
  refused?: { at: Point; why: string };
}

/** A lamp on a beam stays on it until the hand is this far off, metres. */
const LEAVES_M = 0.6;
/** A clamp's lamp hangs at least this far under what holds it, metres. */
const UNDER_M = 0.15;

export const beginCarry = (lamp: Carry['lamp'], from: Point): Carry => ({
  lamp,
  from,
  here: { at: lamp.at, support: lamp.support },
});

const footOf = (s: Support): number => (s.kind === 'stand' ? (s.footM ?? 0.45) : 0);
const same = (a: Place, b: Place) =>
  a.at.every((v, k) => Math.abs(v - b.at[k]!) < 1e-9) && a.support === b.support;

/** Where the hand would have it, before anybody asks whether it can be there. */
function wanted(c: Carry, ground: Ground, touch: Touch): Place & { says?: string; why?: string } {
  const { lamp } = c;
  const p: Point = [
    stepped(lamp.at[0] + touch.to[0] - c.from[0], touch.free),
    stepped(lamp.at[1] + touch.to[1] - c.from[1], touch.free),
  ];
  const raw: Point = [lamp.at[0] + touch.to[0] - c.from[0], lamp.at[1] + touch.to[1] - c.from[1]];
  const hangs = c.here.support.kind === 'clamp';

  // A beam or rail: what hangs there already stays longer than what comes to it.
  const own = lamp.support.kind === 'clamp';
  const clamp = own ? lamp.support : ground.clamp;
  const reach = hangs ? LEAVES_M : own ? Math.max(touch.reachM, 0.3) : touch.free ? 0 : touch.reachM;
  const held = clamp && toHolder(ground.holders, raw, reach, touch.free);
  if (held) {
    const drop = own ? (lamp.support.dropM ?? UNDER_M) : Math.max(UNDER_M, held.at[2] - lamp.at[2]);
    const z = +(held.at[2] - drop).toFixed(3);
    const support: Support =
      own && lamp.support.on === held.holder.id
        ? lamp.support
        : {
            kind: 'clamp',
            ...(clamp.kit === undefined ? {} : { kit: clamp.kit }),
            on: held.holder.id,
            dropM: +drop.toFixed(3),
            bond: true,
          };
    return { at: [held.at[0], held.at[1], z], support, says: `clamped to ${held.holder.words}` };
  }
  if (own || hangs) {
    // Off every beam: back on its own stand, or on one that is free.
    const back = lamp.support.kind === 'clamp' ? undefined : lamp.support;
    if (!back && !ground.stand) {
      const near = toHolder(ground.holders, [lamp.at[0], lamp.at[1]], LEAVES_M, true);
      // What never was within reach of anything is only carried.
      if (!near && own) return { at: [p[0], p[1], lamp.at[2]], support: lamp.support };
      return {
        ...c.here,
        at: [p[0], p[1], c.here.at[2]],
        why: 'there is nothing there to clamp it to, and no stand of the kit is free',
      };
    }
    if (!back && ground.stand) {
      const { support, lowestM, highestM } = ground.stand;
      const z = Math.max(lowestM, Math.min(highestM, lamp.at[2]));
      const set = against(ground, support, p, touch);
      return { at: [set.at[0], set.at[1], z], support, says: 'on a stand' };
    }
  }
  const support = lamp.support;
  if (support.kind === 'foot') {
    const under = ground.restsOn(p);
    const z = +(lamp.at[2] - (support.baseM ?? 0) + under.heightM).toFixed(3);
    const { on: _on, ...rest } = support;
    const moved = under.on === support.on && under.heightM === (support.baseM ?? 0);
    return {
      at: [p[0], p[1], z],
      support: moved ? support : { ...rest, ...(under.on ? { on: under.on } : {}), baseM: under.heightM },
    };
  }
  const set = against(ground, support, p, touch);
  return { at: [set.at[0], set.at[1], lamp.at[2]], support, ...(set.says ? { says: set.says } : {}) };
}

/** A stand's foot against a wall that is near. */
function against(ground: Ground, support: Support, p: Point, touch: Touch): { at: Point; says?: string } {
  const foot = footOf(support);
  const wall =
    foot > 0 && !touch.free
      ? toWalls(ground.rooms?.find((r) => onFloor(r, p)) ?? ground.outline, p, foot, touch.reachM)
      : undefined;
  return wall ? { at: wall, says: 'its foot at the wall' } : { at: p };
}

/** The lamp where this touch brings it. */
export function carry(c: Carry, ground: Ground, touch: Touch): Carry {
  const want = wanted(c, ground, touch);
  const before = { lamp: c.lamp, from: c.from };
  // What could not be when the hand took it does not bind the hand: it has to get out of there.
  const atFirst = new Set(ground.refuses(c.lamp.support, c.lamp.at).map((r) => r.kind));
  const whyNot = (place: Place): string | undefined => {
    if (same(place, { at: c.lamp.at, support: c.lamp.support })) return undefined;
    const why = ground
      .refuses(place.support, place.at)
      .filter((r) => r.kind === 'foot' || !atFirst.has(r.kind) || place.support !== c.lamp.support)
      .map((r) => r.why);
    return why.length ? why.join('; ') : undefined;
  };
  const why = want.why ?? whyNot(want);
  if (why === undefined)
    return {
      ...before,
      here: { at: want.at, support: want.support },
      ...(want.says ? { says: want.says } : {}),
    };

  // It goes as near as it can: along its way there, then aside along either axis.
  const refused = { at: [want.at[0], want.at[1]] as Point, why };
  const at = (x: number, y: number, z: number): Place => ({ at: [x, y, z], support: c.here.support });
  let near: Place = c.here;
  if (want.why === undefined && want.support.kind === c.here.support.kind) {
    const [x, y, z] = c.here.at;
    const n = Math.min(40, Math.ceil(Math.hypot(want.at[0] - x, want.at[1] - y) / 0.05));
    for (let i = 1; i <= n; i++) {
      const place = at(
        stepped(x + ((want.at[0] - x) * i) / n, touch.free),
        stepped(y + ((want.at[1] - y) * i) / n, touch.free),
        z,
      );
      if (whyNot(place) !== undefined) break;
      near = place;
    }
    for (const place of [at(want.at[0], near.at[1], z), at(near.at[0], want.at[1], z)]) {
      const closer = (p: Place) => Math.hypot(p.at[0] - want.at[0], p.at[1] - want.at[1]);
      if (closer(place) < closer(near) - 1e-9 && whyNot(place) === undefined) near = place;
    }
  }
  return { ...before, here: near, refused };
}
