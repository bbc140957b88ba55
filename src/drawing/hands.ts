/**
 * Hands on the plan as small state machines: take a thing, move, and say which named edits that amounts to. Each
 * edit is of the shoot as it was when the hand took the thing, so that a drag stays one step.
 */
import type { Edit } from '../shoot/edits.ts';
import { clearAlong, onPlan, roomOf } from '../shoot/openings.ts';
import type { RigForAngle } from '../shoot/rigFor.ts';
import { nearestWall } from '../shoot/walls.ts';
import { beginCarry, type Carry, carry } from './carry.ts';
import type { Point, Ref } from './display.ts';
import type { Ground, Touch, Vec } from './ground.ts';
import { stepped } from './snap.ts';

export interface Taken {
  scene: string;
  /** The angle that is looked at. */
  angle: string;
  /** Whether a lamp's edit is that angle's alone. */
  alone: boolean;
  rig: RigForAngle;
  ground: Ground;
  /** Focus of a lamp at which its beam's half-angle comes nearest to so many degrees. */
  focusAt: (lamp: string, halfDeg: number) => number;
}

export interface Hand {
  ref: Ref;
  from: Point;
  taken: Taken;
  edits: Edit[];
  /** Beside the thing, while it is held. */
  says?: string;
  refused?: { at: Point; why: string };
  carrying?: Carry;
}

const DEG = Math.PI / 180;
/** A mark this near draws an aim to its eyes, metres. */
const EYES_M = 0.25;
const HEIGHT_M_PER_PX = 0.01;

/** −180 … 180. */
const turned = (deg: number): number => ((((deg + 180) % 360) + 360) % 360) - 180;
const towards = (a: readonly number[], p: Point): number => Math.atan2(p[1] - a[1]!, p[0] - a[0]!) / DEG;

/** What a grip changes of a lamp. */
const CHANGES: Partial<Record<Ref['kind'], 'at' | 'aim' | 'focus'>> = {
  lamp: 'at',
  height: 'at',
  aim: 'aim',
  wedge: 'aim',
  beam: 'focus',
};

/**
 * Takes hold of a thing; undefined: it cannot be taken. What the hand takes is what moves: a lamp that this angle
 * cheats is the angle's own, its dashed place is the rig's.
 */
export function take(ref: Ref, from: Point, given: Taken): Hand | undefined {
  const { rig } = given;
  const key = CHANGES[ref.kind];
  const cheat = Object.hasOwn(rig.angle.cheats, ref.id) ? rig.angle.cheats[ref.id] : undefined;
  const taken = key && cheat?.[key] !== undefined ? { ...given, alone: true } : given;
  const lamp = rig.lamps[ref.id];
  const base: Hand = { ref, from, taken, edits: [] };
  switch (ref.kind) {
    case 'lamp':
      return lamp && { ...base, carrying: beginCarry(lamp, from) };
    case 'rigPlace': {
      const own = rig.scene.rig.lamps[ref.id];
      return own && { ...base, carrying: beginCarry(own, from) };
    }
    case 'aim':
    case 'beam':
    case 'wedge':
    case 'height':
      return lamp && base;
    case 'camera':
    case 'look':
    case 'lens':
      return rig.scene.angles[ref.id] && base;
    case 'mark':
    case 'facing':
      return rig.scene.marks[ref.id] && base;
    case 'flag':
      return rig.flags[ref.id] && base;
    case 'furniture':
      return rig.place.furniture[ref.id] && base;
    case 'opening':
      return rig.place.openings[ref.id] && base;
    default:
      return undefined;
  }
}

/** The hand where this touch brings it. */
export function moved(hand: Hand, touch: Touch): Hand {
  const { ref, from, taken } = hand;
  const { rig, scene } = taken;
  const step = (v: number) => stepped(v, touch.free);
  const done = (edits: Edit[], says?: string): Hand => ({
    ref,
    from,
    taken,
    edits,
    ...(says ? { says } : {}),
  });
  const where = { scene, ...(taken.alone ? { angle: taken.angle } : {}), lamp: ref.id };
  const lamp = rig.lamps[ref.id];
  const [dx, dy] = [touch.to[0] - from[0], touch.to[1] - from[1]];
  const shifted = (at: readonly number[]): Point => [step(at[0]! + dx), step(at[1]! + dy)];

  switch (ref.kind) {
    case 'lamp':
    case 'rigPlace': {
      const c = carry(hand.carrying!, taken.ground, touch);
      const to = ref.kind === 'rigPlace' ? { scene, lamp: ref.id } : where;
      const edits: Edit[] = [{ edit: 'moveLamp', args: { ...to, to: [...c.here.at] } }];
      if (c.here.support !== c.lamp.support)
        edits.push({ edit: 'setSupport', args: { ...to, support: c.here.support } });
      return {
        ...done(edits, c.refused ? undefined : c.says),
        carrying: c,
        ...(c.refused ? { refused: c.refused } : {}),
      };
    }
    case 'height': {
      const z = Math.max(0.05, step(lamp!.at[2] + touch.upPx * HEIGHT_M_PER_PX));
      return raised(hand, where, lamp!, z, done);
    }
    case 'aim': {
      const eyes = Math.min(EYES_M, 2 * touch.reachM);
      const mark = touch.free
        ? undefined
        : Object.entries(rig.scene.marks).find(
            ([, m]) => Math.hypot(m.at[0] - touch.to[0], m.at[1] - touch.to[1]) < eyes,
          );
      if (mark) return done([{ edit: 'aimLamp', args: { ...where, mark: mark[0] } }], `at ${mark[0]}’s eyes`);
      const at = [step(touch.to[0]), step(touch.to[1]), lamp!.aim[2]];
      return done([{ edit: 'aimLamp', args: { ...where, at } }]);
    }
    case 'wedge': {
      // Swung about the lamp; how far off it aims, and how high, stays.
      const by = turned(towards(lamp!.at, touch.to) - towards(lamp!.at, from));
      const flat = Math.hypot(lamp!.aim[0] - lamp!.at[0], lamp!.aim[1] - lamp!.at[1]);
      const now = towards(lamp!.at, [lamp!.aim[0], lamp!.aim[1]]);
      const to = (touch.free ? now + by : stepped(now + by, false, 1)) * DEG;
      const at: Vec = [lamp!.at[0] + flat * Math.cos(to), lamp!.at[1] + flat * Math.sin(to), lamp!.aim[2]];
      return done(
        [{ edit: 'aimLamp', args: { ...where, at: at.map((v) => +v.toFixed(3)) } }],
        `swung ${Math.abs(Math.round(by))}°`,
      );
    }
    case 'beam': {
      // The edge follows the hand: half the beam is as wide as the hand is off the axis.
      const axis = towards(lamp!.at, [lamp!.aim[0], lamp!.aim[1]]);
      const want = Math.min(88, Math.abs(turned(towards(lamp!.at, touch.to) - axis)));
      const focus = +taken.focusAt(ref.id, want).toFixed(touch.free ? 3 : 2);
      return done(
        [{ edit: 'focusLamp', args: { ...where, focus } }],
        focus <= 0.005 ? 'full flood' : focus >= 0.995 ? 'full spot' : `${Math.round(focus * 100)} % to spot`,
      );
    }
    case 'camera': {
      const a = rig.scene.angles[ref.id]!;
      return done([{ edit: 'moveCamera', args: { scene, angle: ref.id, to: [...shifted(a.at), a.at[2]] } }]);
    }
    case 'look': {
      const a = rig.scene.angles[ref.id]!;
      const at = [step(touch.to[0]), step(touch.to[1]), a.lookAt[2]];
      return done([{ edit: 'aimCamera', args: { scene, angle: ref.id, at } }]);
    }
    case 'lens': {
      const a = rig.scene.angles[ref.id]!;
      const axis = towards(a.at, [a.lookAt[0], a.lookAt[1]]);
      const half = Math.max(0.5, Math.min(75, Math.abs(turned(towards(a.at, touch.to) - axis))));
      const mm = a.sensorMm[0] / (2 * Math.tan(half * DEG));
      const focalMm = touch.free ? +mm.toFixed(1) : Math.max(1, Math.round(mm));
      return done([{ edit: 'setLens', args: { scene, angle: ref.id, focalMm } }], `${focalMm} mm`);
    }
    case 'mark':
      return done([
        { edit: 'moveMark', args: { scene, mark: ref.id, to: shifted(rig.scene.marks[ref.id]!.at) } },
      ]);
    case 'facing': {
      const m = rig.scene.marks[ref.id]!;
      const deg = stepped(turned(towards(m.at, touch.to)), false, touch.free ? 1 : 5);
      const own = taken.alone ? { angle: taken.angle } : {};
      return done([{ edit: 'setFacing', args: { scene, ...own, mark: ref.id, deg } }], `faces ${deg}°`);
    }
    case 'flag': {
      const f = rig.flags[ref.id]!;
      return done([{ edit: 'moveFlag', args: { scene, flag: ref.id, to: [...shifted(f.at), f.at[2]] } }]);
    }
    case 'furniture': {
      const f = rig.place.furniture[ref.id]!;
      const to = [...shifted(f.at), f.at[2]];
      return done([{ edit: 'moveFurniture', args: { place: rig.scene.place, id: ref.id, to } }]);
    }
    case 'opening':
      return slid(hand, touch, done);
    default:
      return hand;
  }
}

/** Along the walls of its room, beside what is in them already. */
function slid(hand: Hand, touch: Touch, done: (edits: Edit[], says?: string) => Hand): Hand {
  const { ref, from, taken } = hand;
  const { place } = taken.rig;
  const o = taken.rig.place.openings[ref.id]!;
  const room = roomOf(place, o);
  const was = onPlan(place, o);
  if (!room || !was) return hand;
  const to: Point = [was.middle[0] + touch.to[0] - from[0], was.middle[1] + touch.to[1] - from[1]];
  const w = nearestWall(room.outline, to);
  const wide = o.toM - o.fromM;
  // In steps from where it was, so that a metered place is not rounded away.
  const want =
    w.wall === o.wall
      ? o.fromM + stepped(w.alongM - wide / 2 - o.fromM, touch.free)
      : stepped(w.alongM - wide / 2, touch.free);
  const fromM = clearAlong(place, ref.id, { ...o, wall: w.wall }, want);
  if (fromM === undefined)
    return { ...done(hand.edits), refused: { at: to, why: 'there is no room for it in that wall' } };
  const says = `${fromM.toFixed(2)} m from the corner`;
  const args = { place: taken.rig.scene.place, id: ref.id, wall: w.wall, fromM };
  return done([{ edit: 'moveOpening', args }], says);
}

/** Up or down: a clamp’s drop pipe takes it up, a stand its reach; the ceiling ends both. */
function raised(
  hand: Hand,
  where: Record<string, unknown>,
  lamp: RigForAngle['lamps'][string],
  z: number,
  done: (edits: Edit[], says?: string) => Hand,
): Hand {
  const { ground } = hand.taken;
  const at: Vec = [lamp.at[0], lamp.at[1], z];
  const holder =
    lamp.support.kind === 'clamp' ? ground.holders.find((h) => h.id === lamp.support.on) : undefined;
  const drop = holder ? +(holder.from[2] - z).toFixed(3) : undefined;
  const support = drop === undefined ? lamp.support : { ...lamp.support, dropM: Math.max(0, drop) };
  const before = new Set(ground.refuses(lamp.support, lamp.at).map((r) => r.kind));
  const why =
    drop !== undefined && drop < 0.05
      ? [`it hangs under ${holder!.words}`]
      : ground.refuses(support, at).flatMap((r) => (before.has(r.kind) ? [] : [r.why]));
  if (why.length)
    // It stays where it last could be.
    return {
      ...done(hand.edits),
      refused: { at: [lamp.at[0], lamp.at[1]], why: why.join('; ') },
    };
  const edits: Edit[] = [{ edit: 'raiseLamp', args: { ...where, heightM: z } }];
  if (drop !== undefined) edits.push({ edit: 'setSupport', args: { ...where, support } });
  return done(edits, `h ${z.toFixed(2)} m`);
}
