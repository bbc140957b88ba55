/** Hands on the plan, joined to the page: what is taken, where it goes, one step for each drag or run of keys. */
import { useEffect, useRef, useState } from 'react';
import type { Point, Ref } from '../drawing/display.ts';
import type { Touch } from '../drawing/ground.ts';
import { type Hand, moved, type Taken, take } from '../drawing/hands.ts';
import { type Press, pressed, type Run } from '../drawing/keys.ts';
import { groundOf } from '../scheme/ground.ts';
import { beamDegOf, kindOf } from '../setup/lamps.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { useStore } from './store.ts';

/** What is shown of a hand while it holds something. */
export interface Holding {
  ref: Ref;
  says?: string;
  refused?: Hand['refused'];
  /** Where a lamp stood before, and how far it has come. */
  ghost?: { from: Point; to: Point };
}

/** Keys rest this long before their run is a step, milliseconds. */
const RESTS_MS = 900;

/** Focus at which half the beam comes nearest to so many degrees. */
function focusFor(shoot: Shoot, lamp: Taken['rig']['lamps'][string], halfDeg: number): number {
  const kind = kindOf(shoot.kit.lamps[lamp.head]);
  let best = lamp.focus;
  if (!kind) return best;
  for (let f = 0, least = Number.POSITIVE_INFINITY; f <= 100; f += 2) {
    const off = Math.abs(beamDegOf({ ...lamp, focus: f / 100 }, kind) / 2 - halfDeg);
    if (off < least) [least, best] = [off, f / 100];
  }
  return best;
}

function shown(hand: Hand): Holding {
  const c = hand.carrying;
  const [x, y] = c ? c.lamp.at : [0, 0];
  const to = c?.here.at;
  return {
    ref: hand.ref,
    ...(hand.says ? { says: hand.says } : {}),
    ...(hand.refused ? { refused: hand.refused } : {}),
    ...(to && Math.hypot(to[0] - x, to[1] - y) > 0.01
      ? { ghost: { from: [x, y] as Point, to: [to[0], to[1]] as Point } }
      : {}),
  };
}

export function useHands(p: { shoot: Shoot; scene: string; angle: string }) {
  const hand = useRef<Hand | undefined>(undefined);
  const run = useRef<Run | undefined>(undefined);
  const rest = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const [holding, setHolding] = useState<Holding>();

  const taken = (): Taken => {
    // While something is held the hand works on the shoot as it was when it took it.
    const { history, scope } = useStore.getState();
    const shoot = history?.held?.from ?? history?.shoot ?? p.shoot;
    const ref = { scene: p.scene, angle: p.angle };
    const rig = rigFor(shoot, ref);
    return {
      ...ref,
      alone: scope === 'angle',
      rig,
      ground: groundOf(shoot, ref),
      focusAt: (lamp, half) => focusFor(shoot, rig.lamps[lamp]!, half),
    };
  };
  const show = (h: Hand) => {
    useStore.getState().drag(h.edits, h.ref.kind in OF_LAMP ? { lamp: h.ref.id } : {});
    setHolding(shown(h));
  };
  /** Ends a drag or a run of keys; says why it did not go all the way. */
  const end = () => {
    clearTimeout(rest.current);
    const h = hand.current ?? run.current?.hand;
    hand.current = undefined;
    run.current = undefined;
    setHolding(undefined);
    if (!h) return;
    const steps = () => useStore.getState().history?.done.length ?? 0;
    const before = steps();
    useStore.getState().drop();
    if (!h.refused) return;
    const went = steps() > before;
    const number = h.taken.rig.lamps[h.ref.id]?.number ?? h.ref.id;
    const { line } = useStore.getState();
    const words = `${number} ${went ? 'goes no further' : 'stays where it was'}: ${h.refused.why}.`;
    useStore.setState({
      line: { words: went ? `${line?.words} ${words}` : words, back: went, stamp: Date.now() },
    });
  };
  const leave = () => {
    clearTimeout(rest.current);
    if (hand.current || run.current) useStore.getState().leave();
    hand.current = undefined;
    run.current = undefined;
    setHolding(undefined);
  };
  // A page that goes away lets go.
  const last = useRef(end);
  last.current = end;
  useEffect(() => () => last.current(), []);
  // Esc may have left the drag from elsewhere.
  const held = useStore((s) => s.history?.held !== undefined);
  useEffect(() => {
    if (held || !run.current) return;
    run.current = undefined;
    setHolding(undefined);
  }, [held]);

  return {
    holding,
    take(ref: Ref, from: Point): boolean {
      last.current();
      hand.current = take(ref, from, taken());
      return hand.current !== undefined;
    },
    move(touch: Touch): void {
      if (!hand.current) return;
      hand.current = moved(hand.current, touch);
      show(hand.current);
    },
    end: () => last.current(),
    leave,
    press(of: Ref, press: Press): boolean {
      if (run.current && run.current.hand.ref.id !== of.id) last.current();
      const before = run.current;
      let next = pressed(before, of, press, before?.hand.taken ?? taken());
      if (!next) return false;
      if (before && next.of !== before.of) {
        // Another grip of the same thing: a step of its own.
        last.current();
        next = pressed(undefined, of, press, taken());
        if (!next) return false;
      }
      run.current = next;
      show(next.hand);
      clearTimeout(rest.current);
      rest.current = setTimeout(() => last.current(), RESTS_MS);
      return true;
    },
  };
}
export type Hands = ReturnType<typeof useHands>;

const OF_LAMP: Partial<Record<Ref['kind'], true>> = {
  lamp: true,
  rigPlace: true,
  height: true,
  aim: true,
  wedge: true,
  beam: true,
};
