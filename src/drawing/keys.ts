/**
 * The same hands by keys: every press goes on with what the presses before began, so that a run of presses is one
 * step back. Arrows carry, Page keys raise, brackets turn, comma and full stop narrow and widen.
 */

import { LEAF_DEG, misfit, onPlan, withLeaf } from '../shoot/openings.ts';
import type { Point, Ref } from './display.ts';
import { type Hand, moved, type Taken, take } from './hands.ts';

export interface Press {
  key: string;
  /** Finer: 1 cm, 1°, 1 %. */
  shift: boolean;
  /** What a lamp or a camera looks at, instead of itself. */
  alt: boolean;
}
export interface Run {
  hand: Hand;
  /** Whose keys these are. */
  of: string;
  dx: number;
  dy: number;
  steps: number;
}

const ARROWS: Record<string, Point> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
const PAGES: Record<string, number> = { PageUp: 1, PageDown: -1 };
const TURNS: Record<string, number> = { '[': 1, ']': -1, '{': 1, '}': -1 };
const WIDENS: Record<string, number> = { ',': -1, '.': 1, '<': -1, '>': 1 };

/** What a press takes hold of, of a thing that has the focus. */
function grip(of: Ref, press: Press): Ref['kind'] | undefined {
  if (press.key in ARROWS) {
    if (!press.alt) return of.kind;
    return of.kind === 'lamp' ? 'aim' : of.kind === 'camera' ? 'look' : undefined;
  }
  if (press.key in PAGES)
    return of.kind === 'lamp' ? 'height' : of.kind === 'opening' ? 'opening' : undefined;
  if (press.key in TURNS)
    return of.kind === 'lamp'
      ? 'wedge'
      : of.kind === 'mark'
        ? 'facing'
        : of.kind === 'furniture' || of.kind === 'flag' || of.kind === 'opening'
          ? of.kind
          : undefined;
  if (press.key in WIDENS)
    return of.kind === 'lamp'
      ? 'beam'
      : of.kind === 'camera'
        ? 'lens'
        : of.kind === 'opening'
          ? 'opening'
          : undefined;
  return undefined;
}

/** Where such a grip is, metres. */
function placeOf(kind: Ref['kind'], id: string, { rig }: Taken): Point | undefined {
  const point = (v: readonly number[] | undefined): Point | undefined => v && [v[0]!, v[1]!];
  if (kind === 'aim' || kind === 'wedge') return point(rig.lamps[id]?.aim);
  if (kind === 'lamp' || kind === 'height' || kind === 'beam') return point(rig.lamps[id]?.at);
  if (kind === 'rigPlace') return point(rig.scene.rig.lamps[id]?.at);
  if (kind === 'camera' || kind === 'lens') return point(rig.scene.angles[id]?.at);
  if (kind === 'look') return point(rig.scene.angles[id]?.lookAt);
  if (kind === 'mark' || kind === 'facing') return point(rig.scene.marks[id]?.at);
  if (kind === 'flag') return point(rig.flags[id]?.at);
  if (kind === 'furniture') return point(rig.place.furniture[id]?.at);
  const opening = kind === 'opening' ? rig.place.openings[id] : undefined;
  if (opening) return onPlan(rig.place, opening)?.middle;
  return undefined;
}

/** A flag or a piece of furniture that is carried, turned besides by so many degrees. */
function turnedTo(hand: Hand, deg: number): Hand {
  const { rig, scene } = hand.taken;
  const says = `turned ${Math.abs(deg)}°`;
  const f = rig.place.furniture[hand.ref.id];
  if (hand.ref.kind === 'furniture' && f)
    return {
      ...hand,
      says,
      edits: hand.edits.map((e) => ({ ...e, args: { ...e.args, turnDeg: ((f.turnDeg ?? 0) + deg) % 360 } })),
    };
  const flag = rig.flags[hand.ref.id];
  if (hand.ref.kind !== 'flag' || !flag) return hand;
  const a = (deg * Math.PI) / 180;
  const [x, y, z] = flag.facing;
  const facing = [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a), z].map(
    (v) => +v.toFixed(4),
  );
  return {
    ...hand,
    says,
    edits: hand.edits.map((e) => ({ ...e, args: { ...e.args, scene, facing } })),
  };
}

/** An opening raised or widened by so many centimetres, or its leaf swung by so many degrees. */
function changedBy(hand: Hand, how: 'up' | 'leaf' | 'wide', steps: number): Hand {
  const { place } = hand.taken.rig;
  const o = place.openings[hand.ref.id]!;
  let to = { ...o };
  const by = steps / 100;
  let says: string;
  if (how === 'leaf') {
    // A shut leaf begins at nought; a hole without one has none to swing.
    if (o.kind !== 'door' || o.fill === 'glass') return hand;
    const deg = Math.max(
      -LEAF_DEG,
      Math.min(LEAF_DEG, Math.round((o.fill === 'shut' ? 0 : (o.leafDeg ?? 0)) + steps)),
    );
    to = withLeaf(o, deg);
    says = deg === 0 ? 'shut' : `open ${Math.abs(deg)}°${deg < 0 ? ', outward' : ''}`;
  } else if (how === 'up') {
    to.sillM = +(o.sillM + by).toFixed(3);
    to.headM = +(o.headM + by).toFixed(3);
    says = `sill ${to.sillM.toFixed(2)} m`;
  } else {
    to.fromM = +(o.fromM - by / 2).toFixed(3);
    to.toM = +(o.toM + by / 2).toFixed(3);
    says = `${(to.toM - to.fromM).toFixed(2)} m wide`;
  }
  delete to.guessed;
  const why = misfit(place, hand.ref.id, to);
  if (why) return { ...hand, refused: { at: hand.from, why: why.replace(/\.$/, '') } };
  const edits = [
    { edit: 'setOpening', args: { place: hand.taken.rig.scene.place, id: hand.ref.id, opening: to } },
  ];
  const { refused: _, ...rest } = hand;
  return { ...rest, edits, says };
}

/** One press: a run begun, gone on with, or (undefined) a press that is not of the hands. */
export function pressed(run: Run | undefined, of: Ref, press: Press, taken: Taken): Run | undefined {
  const kind = grip(of, press);
  if (!kind) return undefined;
  // An opening that is carried, one that is raised, one whose door is swung: a step each.
  const how =
    of.kind !== 'opening'
      ? ''
      : press.key in ARROWS
        ? ''
        : press.key in PAGES
          ? 'up'
          : press.key in TURNS
            ? 'leaf'
            : 'wide';
  const name = `${kind}${how}:${of.id}`;
  let on = run?.of === name ? run : undefined;
  if (!on) {
    const at = placeOf(kind, of.id, taken);
    const hand = at && take({ kind, id: of.id }, at, taken);
    if (!hand) return undefined;
    on = { hand, of: name, dx: 0, dy: 0, steps: 0 };
  }
  const { hand } = on;
  const { rig, scene } = hand.taken;
  const arrow = ARROWS[press.key] ?? [0, 0];
  const size = press.shift ? 0.01 : 0.05;
  let [dx, dy] = [on.dx + arrow[0] * size, on.dy + arrow[1] * size];
  const by = (PAGES[press.key] ?? TURNS[press.key] ?? WIDENS[press.key] ?? 0) * (press.shift ? 1 : 5);
  const steps = on.steps + by;
  const touch = { free: press.shift, reachM: 0.02, upPx: steps };
  const next = (to: Point) => moved(hand, { ...touch, to });
  const round = (c: Point, p: Point, deg: number): Point => {
    const a = (deg * Math.PI) / 180;
    const [x, y] = [p[0] - c[0], p[1] - c[1]];
    return [c[0] + x * Math.cos(a) - y * Math.sin(a), c[1] + x * Math.sin(a) + y * Math.cos(a)];
  };

  let after: Hand;
  if (kind === 'beam') {
    const lamp = rig.lamps[of.id]!;
    const focus = Math.max(0, Math.min(1, +(lamp.focus + steps / 100).toFixed(2)));
    const angle = hand.taken.alone ? { angle: hand.taken.angle } : {};
    after = {
      ...hand,
      edits: [{ edit: 'focusLamp', args: { scene, ...angle, lamp: of.id, focus } }],
      says: `${Math.round(focus * 100)} % to spot`,
    };
  } else if (kind === 'lens') {
    const focalMm = Math.max(1, rig.scene.angles[of.id]!.focalMm + steps);
    after = {
      ...hand,
      edits: [{ edit: 'setLens', args: { scene, angle: of.id, focalMm } }],
      says: `${focalMm} mm`,
    };
  } else if (how !== '') {
    after = changedBy(hand, how, steps);
  } else if (kind === 'wedge') {
    const lamp = rig.lamps[of.id]!;
    after = next(round([lamp.at[0], lamp.at[1]], hand.from, steps));
  } else if (kind === 'facing') {
    const m = rig.scene.marks[of.id]!;
    const index = rig.angle.facings?.[of.id] ?? 0;
    after = next(round(m.at, [m.at[0] + 1, m.at[1]], (m.facings[index] ?? m.facings[0]!) + steps));
  } else {
    after = next([hand.from[0] + dx, hand.from[1] + dy]);
    if (steps) after = turnedTo(after, steps);
  }

  // What stopped on its way goes on from where it stopped.
  const { carrying } = after;
  if (carrying && after.refused) {
    dx = carrying.here.at[0] - carrying.lamp.at[0];
    dy = carrying.here.at[1] - carrying.lamp.at[1];
  }
  const stopped = (kind === 'height' || how !== '') && after.refused ? on.steps : steps;
  return { hand: after, of: name, dx, dy, steps: stopped };
}
