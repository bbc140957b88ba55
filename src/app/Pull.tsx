/**
 * The light pulled in the picture: a face is pressed, the strongest lamp on it appears as a bead on a dotted ring
 * round the head, seen from above with the camera at 6. Along the ring: the clock; the bead up its stem: the
 * height; wheel, pinch, plus and minus: the distance. Another press on the face goes on to the next lamp.
 */
import { useEffect, useRef, useState } from 'react';
import type { Point } from '../drawing/display.ts';
import { farther, onRing, ringAngle } from '../drawing/pull.ts';
import { onFrame, viewOf } from '../setup/view.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { lengthWords } from '../shoot/units.ts';
import { lampColour } from './identity.ts';
import { useStore } from './store.ts';
import { learn } from './teaching.ts';
import { useHands } from './useHands.ts';
import { useSaid, useUnits } from './useUnits.ts';
import { clockWord } from './views.ts';

/** A pull under way: where the lamp was, and what has been asked of it since. */
interface Held {
  what: 'ring' | 'stem' | 'far';
  at: readonly [number, number, number];
  from: { x: number; y: number };
  /** Farther, times; round, radians; up, metres. */
  times: number;
  round: number;
  up: number;
}

/** The picture is 160 × 90 of these units. */
const W = 160;
const H = 90;
/** Half width of the ring, and how flat it lies, in shares of the picture's width. */
const RX = 0.19;
const RY = 0.055;
/** Height of picture, in shares of its width, that a metre up the stem takes. */
const METRE = 0.055;
/** Wheel and keys rest this long before what they did is a step, milliseconds. */
const RESTS_MS = 800;
/** A finger's target, pixels. */
const FINGER_PX = 44;

/** Whether anybody at this page has pulled a light yet: until then the chosen picture says that one can. */
let pulledOnce = false;

export function Pull(p: { shoot: Shoot; scene: string; angle: string; chosen: boolean }) {
  const result = useStore((s) => s.results[p.angle]);
  const scope = useStore((s) => s.scope);
  // The demo says it in a line of its own (Teach).
  const demo = useStore((s) => s.origin?.kind === 'demo');
  const [on, setOn] = useState<{ mark: string; lamp: string }>();
  const held = useRef<Held | undefined>(undefined);
  const rest = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const fingers = useRef(new Map<number, { x: number; y: number }>());
  const box = useRef<SVGSVGElement>(null);
  const hands = useHands({ shoot: p.shoot, scene: p.scene, angle: p.angle });
  const units = useUnits();
  const said = useSaid();
  const { set } = useStore.getState();
  const rig = rigFor(p.shoot, { scene: p.scene, angle: p.angle });
  const view = viewOf(rig.angle);
  const faces = (result?.facesSeen ?? []).flatMap((id) => {
    const m = rig.scene.marks[id];
    if (!m) return [];
    const f = onFrame(view, [m.at[0], m.at[1], m.eyeM]);
    const top = onFrame(view, [m.at[0], m.at[1], m.eyeM + 0.13]);
    if (!(f.depthM > 0) || Math.abs(f.x) > 1 || Math.abs(f.y) > 1) return [];
    return [
      {
        id,
        x: ((f.x + 1) / 2) * W,
        y: ((1 - f.y) / 2) * H,
        r: Math.max(4, Math.abs(((top.y - f.y) / 2) * H)),
        lamps: [...(result?.marks.find((r) => r.mark === id)?.lamps ?? [])]
          .filter((l) => rig.lamps[l.lamp]?.on && l.directLx > 0)
          .sort((a, b) => b.directLx - a.directLx)
          .map((l) => l.lamp),
      },
    ];
  });
  const face = faces.find((f) => f.id === on?.mark);
  const lamp = on ? rig.lamps[on.lamp] : undefined;
  const mark = on ? rig.scene.marks[on.mark] : undefined;

  const begin = (what: Held['what'], from = { x: 0, y: 0 }): boolean => {
    if (!lamp || !on) return false;
    clearTimeout(rest.current);
    if (held.current?.what === what) return true;
    end();
    const at = lamp.at;
    if (!hands.take({ kind: what === 'stem' ? 'height' : 'lamp', id: on.lamp }, [at[0], at[1]])) return false;
    held.current = { what, at, from, times: 1, round: 0, up: 0 };
    return true;
  };
  const to = (point: Point, upM = 0) => hands.move({ to: point, upPx: upM * 100, free: true, reachM: 0.02 });
  const end = () => {
    clearTimeout(rest.current);
    if (held.current) hands.end();
    held.current = undefined;
  };
  /** After a turn of the wheel or a key: what it did is a step when nothing follows. */
  const soon = () => {
    clearTimeout(rest.current);
    rest.current = setTimeout(() => last.current(), RESTS_MS);
  };
  const last = useRef(end);
  last.current = end;
  useEffect(() => () => last.current(), []);

  const far = (times: number) => {
    if (!mark || !begin('far')) return;
    const h = held.current!;
    h.times *= times;
    to(farther(mark.at, h.at, h.times));
    soon();
  };
  const wheel = useRef<(e: WheelEvent) => void>(() => undefined);
  wheel.current = (e) => {
    if (!on || !lamp) return;
    e.preventDefault();
    far(Math.exp(e.deltaY * 0.0008));
  };
  useEffect(() => {
    const el = box.current;
    if (!el) return;
    const hear = (e: WheelEvent) => wheel.current(e);
    el.addEventListener('wheel', hear, { passive: false });
    return () => el.removeEventListener('wheel', hear);
  }, []);

  const where = (e: React.PointerEvent) => {
    const r = box.current!.getBoundingClientRect();
    return { x: ((e.clientX - r.left) / r.width) * W, y: ((e.clientY - r.top) / r.height) * H };
  };
  const grab = (e: React.PointerEvent, what: 'ring' | 'stem') => {
    e.stopPropagation();
    // The face keeps the focus, and with it the keys.
    e.preventDefault();
    if (fingers.current.size || !begin(what, where(e))) return;
    fingers.current.set(e.pointerId, where(e));
    box.current?.setPointerCapture(e.pointerId);
  };
  const move = (e: React.PointerEvent) => {
    if (!fingers.current.has(e.pointerId) || !mark || !face) return;
    const before = [...fingers.current.values()];
    const q = where(e);
    fingers.current.set(e.pointerId, q);
    const h = held.current;
    if (fingers.current.size === 2) {
      const after = [...fingers.current.values()];
      const gap = (v: { x: number; y: number }[]) =>
        Math.max(4, Math.hypot(v[0]!.x - v[1]!.x, v[0]!.y - v[1]!.y));
      far(gap(before) / gap(after));
      clearTimeout(rest.current);
    } else if (h?.what === 'stem') {
      const up = (h.from.y - q.y) / (METRE * W);
      to([h.at[0], h.at[1]], Math.round(up * 20) / 20);
    } else if (h?.what === 'ring')
      to(onRing(mark.at, view.eye, h.at, -Math.atan2((q.x - face.x) / (RX * W), (q.y - face.y) / (RY * W))));
  };
  const down = (e: React.PointerEvent) => {
    if (!on) return;
    // A second finger anywhere: nearer and farther.
    if (e.pointerType !== 'mouse') {
      fingers.current.set(e.pointerId, where(e));
      if (fingers.current.size === 2) {
        box.current?.setPointerCapture(e.pointerId);
        end();
        return;
      }
    }
    if (e.pointerType === 'mouse') shut();
  };
  const up = (e: React.PointerEvent) => {
    const alone = fingers.current.size === 1;
    const took = held.current !== undefined;
    if (!fingers.current.delete(e.pointerId)) return;
    if (e.type === 'pointercancel') {
      hands.leave();
      held.current = undefined;
    } else if (took) end();
    else if (alone && e.target === box.current) shut();
  };
  const shut = () => {
    end();
    setOn(undefined);
  };
  const press = (f: (typeof faces)[number]) => {
    end();
    pulledOnce = true;
    learn('pull');
    const now = on?.mark === f.id ? f.lamps.indexOf(on.lamp) : -1;
    const next = f.lamps[(now + 1) % Math.max(1, f.lamps.length)];
    if (!next) return setOn(undefined);
    const own = rig.angle.cheats[next]?.at !== undefined;
    set({ angle: p.angle, lamp: next, ...(on?.lamp === next ? {} : { scope: own ? 'angle' : 'rig' }) });
    setOn({ mark: f.id, lamp: next });
  };
  const key = (e: React.KeyboardEvent) => {
    const fine = e.shiftKey;
    if (e.key === 'Escape') {
      if (held.current) {
        hands.leave();
        held.current = undefined;
      } else shut();
    } else if (e.key === 'ArrowLeft' || e.key === 'ArrowRight') {
      if (!mark || !begin('ring')) return;
      const h = held.current!;
      // The ring's near side is at its foot: to the left is back in time.
      h.round += (e.key === 'ArrowLeft' ? 1 : -1) * (fine ? 1 : 5) * (Math.PI / 180);
      to(onRing(mark.at, view.eye, h.at, ringAngle(mark.at, view.eye, h.at) + h.round));
      soon();
    } else if (e.key === 'ArrowUp' || e.key === 'ArrowDown') {
      if (!begin('stem')) return;
      const h = held.current!;
      h.up += (e.key === 'ArrowUp' ? 1 : -1) * (fine ? 0.01 : 0.05);
      to([h.at[0], h.at[1]], h.up);
      soon();
    } else if (e.key === '+' || e.key === '=') far(1 / 1.05);
    else if (e.key === '-') far(1.05);
    else return;
    e.preventDefault();
    e.stopPropagation();
  };

  const ids = Object.keys(rig.lamps);
  let bead: { x: number; y: number; base: number } | undefined;
  if (face && lamp && mark) {
    const b = -ringAngle(mark.at, view.eye, lamp.at);
    const base = face.y + Math.cos(b) * RY * W;
    bead = {
      x: face.x + Math.sin(b) * RX * W,
      base,
      y: Math.max(3, Math.min(H - 3, base - (lamp.at[2] - mark.eyeM) * METRE * W)),
    };
  }
  const reading = on
    ? result?.marks.find((m) => m.mark === on.mark)?.lamps.find((l) => l.lamp === on.lamp)
    : undefined;
  const cheated = on ? rig.angle.cheats[on.lamp]?.at !== undefined : false;
  const alone = scope === 'angle' || cheated;
  const unit = W / Math.max(160, box.current?.clientWidth ?? 448);
  const finger = (FINGER_PX / 2) * unit;
  const refused = hands.holding?.refused?.why;
  return (
    <>
      {/* biome-ignore lint/a11y/useSemanticElements: things drawn over a picture, not fields of a form */}
      <svg
        ref={box}
        className="pull"
        viewBox={`0 0 ${W} ${H}`}
        preserveAspectRatio="none"
        data-pulling={on !== undefined}
        data-chosen={p.chosen}
        role="group"
        aria-label={`Faces of ${p.angle}: press one to pull its light`}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
        onPointerDown={down}
        onTouchStart={(e) => on && e.stopPropagation()}
        onTouchEnd={(e) => on && e.stopPropagation()}
      >
        {faces.map((f) => (
          // biome-ignore lint/a11y/useSemanticElements: a face in a picture
          <g
            key={f.id}
            className="face"
            data-face={f.id}
            role="button"
            tabIndex={0}
            aria-label={`Pull the light on ${f.id} in ${p.angle}`}
            onPointerDown={(e) => {
              e.stopPropagation();
              press(f);
            }}
            onKeyDown={(e) => {
              if (e.key === 'Enter' || e.key === ' ') press(f);
              else return on ? key(e) : undefined;
              e.preventDefault();
              e.stopPropagation();
            }}
            onBlur={() => fingers.current.size === 0 && end()}
          >
            <circle cx={f.x} cy={f.y} r={Math.max(f.r * 1.25, p.chosen ? finger : 0)} className="hit" />
            {on?.mark === f.id ? null : (
              <ellipse cx={f.x} cy={f.y} rx={f.r * 1.5} ry={f.r * 0.5} className="hint" />
            )}
          </g>
        ))}
        {face && bead && on ? (
          <g style={{ '--lamp': lampColour(ids.indexOf(on.lamp) + 1) } as React.CSSProperties}>
            <ellipse className="ring" cx={face.x} cy={face.y} rx={RX * W} ry={RY * W} />
            <line className="stem" x1={bead.x} x2={bead.x} y1={bead.base} y2={bead.y} />
            <g className="base" data-pull="ring" onPointerDown={(e) => grab(e, 'ring')}>
              <circle cx={bead.x} cy={bead.base} r={finger * 0.8} className="hit" />
              <circle cx={bead.x} cy={bead.base} r={2.4} className="dot" />
            </g>
            <g className="bead" data-pull="stem" onPointerDown={(e) => grab(e, 'stem')}>
              <circle cx={bead.x} cy={bead.y} r={Math.max(4.2, Math.min(finger * 0.8, 7))} className="hit" />
              <circle cx={bead.x} cy={bead.y} r={4.2} className="dot" />
              <text x={bead.x} y={bead.y + 1.7} textAnchor="middle" fontSize={Math.max(5, 13.5 * unit)}>
                {lamp?.number}
              </text>
            </g>
          </g>
        ) : null}
      </svg>
      {on && lamp ? (
        <div className="pull-says">
          <span className="scope">
            {lamp.number}:{' '}
            <button
              type="button"
              aria-pressed={!alone}
              disabled={cheated}
              title={cheated ? `${p.angle} cheats it: its rig place is on the plan` : undefined}
              onClick={() => set({ scope: 'rig' })}
            >
              whole rig
            </button>
            <button type="button" aria-pressed={alone} onClick={() => set({ scope: 'angle' })}>
              {p.angle} only
            </button>
          </span>
          {refused ? (
            <span className="bad">{said(refused)}</span>
          ) : reading ? (
            <span>
              {clockWord(reading.clock)}, h {lengthWords(lamp.at[2], units)},{' '}
              {lengthWords(reading.distanceM, units)}
            </span>
          ) : null}
        </div>
      ) : p.chosen && faces.length > 0 && !pulledOnce && !demo ? (
        <div className="pull-says hint">
          <em>press a face: its light comes to hand</em>
        </div>
      ) : null}
    </>
  );
}
