/**
 * The light pulled in the picture: a face is pressed, the strongest lamp on it appears as a bead on a dotted ring
 * round the head, seen from above with the camera at 6. Along the ring: the clock; the bead up its stem: the
 * height; the wheel: the distance. A tap on the face goes on to the next lamp.
 */
import { useEffect, useRef, useState } from 'react';
import { onFrame, viewOf } from '../setup/view.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { lampColour } from './identity.ts';
import { useStore } from './store.ts';
import { clockWord } from './views.ts';

interface Held {
  what: 'ring' | 'stem';
  from: { x: number; y: number };
  at: readonly [number, number, number];
}

/** Half width of the ring, and how flat it lies, in shares of the picture's width. */
const RX = 0.19;
const RY = 0.055;
/** Height of picture, in shares of its width, that a metre up the stem takes. */
const METRE = 0.055;

export function Pull(p: { shoot: Shoot; scene: string; angle: string }) {
  const result = useStore((s) => s.results[p.angle]);
  const scope = useStore((s) => s.scope);
  const [on, setOn] = useState<{ mark: string; lamp: string }>();
  const held = useRef<Held | undefined>(undefined);
  const box = useRef<SVGSVGElement>(null);
  const { drag, drop, act, set } = useStore.getState();
  const rig = rigFor(p.shoot, { scene: p.scene, angle: p.angle });
  const view = viewOf(rig.angle);
  const W = 160;
  const H = 90;
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
  const where = { scene: p.scene, ...(scope === 'angle' ? { angle: p.angle } : {}) };

  // Round the mark in plan, 0 toward the camera, growing clockwise seen from above: the clock's 6 is the camera.
  const bearingOf = (x: number, y: number) => {
    const toCamera = Math.atan2(view.eye[1] - mark!.at[1], view.eye[0] - mark!.at[0]);
    return toCamera - Math.atan2(y - mark!.at[1], x - mark!.at[0]);
  };
  const wheel = useRef<(e: WheelEvent) => void>(() => undefined);
  wheel.current = (e) => {
    if (!lamp || !mark || !on) return;
    e.preventDefault();
    const k = Math.exp(e.deltaY * 0.0008);
    const to = [
      mark.at[0] + (lamp.at[0] - mark.at[0]) * k,
      mark.at[1] + (lamp.at[1] - mark.at[1]) * k,
      lamp.at[2],
    ].map((v) => +v.toFixed(3));
    act({ edit: 'moveLamp', args: { ...where, lamp: on.lamp, to } });
  };
  useEffect(() => {
    const el = box.current;
    if (!el) return;
    const hear = (e: WheelEvent) => wheel.current(e);
    el.addEventListener('wheel', hear, { passive: false });
    return () => el.removeEventListener('wheel', hear);
  }, []);

  const at = (e: React.PointerEvent) => {
    const r = box.current!.getBoundingClientRect();
    return { x: ((e.clientX - r.left) / r.width) * W, y: ((e.clientY - r.top) / r.height) * H };
  };
  const begin = (e: React.PointerEvent, what: Held['what']) => {
    e.stopPropagation();
    if (!lamp) return;
    box.current?.setPointerCapture(e.pointerId);
    held.current = { what, from: at(e), at: lamp.at };
  };
  const move = (e: React.PointerEvent) => {
    const h = held.current;
    if (!h || !lamp || !mark || !on || !face) return;
    const q = at(e);
    if (h.what === 'stem') {
      const up = (h.from.y - q.y) / (METRE * W);
      const z = Math.max(0.1, h.at[2] + up);
      drag(
        { edit: 'raiseLamp', args: { ...where, lamp: on.lamp, heightM: Math.round(z * 20) / 20 } },
        { lamp: on.lamp },
      );
      return;
    }
    const ring = Math.atan2((q.x - face.x) / (RX * W), (q.y - face.y) / (RY * W));
    const toCamera = Math.atan2(view.eye[1] - mark.at[1], view.eye[0] - mark.at[0]);
    const d = Math.hypot(h.at[0] - mark.at[0], h.at[1] - mark.at[1]);
    const a = toCamera + ring;
    const to = [mark.at[0] + d * Math.cos(a), mark.at[1] + d * Math.sin(a), h.at[2]].map(
      (v) => +v.toFixed(3),
    );
    drag({ edit: 'moveLamp', args: { ...where, lamp: on.lamp, to } }, { lamp: on.lamp });
  };
  const end = () => {
    if (held.current) drop();
    held.current = undefined;
  };

  const ids = Object.keys(rig.lamps);
  let bead: { x: number; y: number; base: number } | undefined;
  if (face && lamp && mark) {
    const b = -bearingOf(lamp.at[0], lamp.at[1]);
    const x = face.x + Math.sin(b) * RX * W;
    const base = face.y + Math.cos(b) * RY * W;
    bead = { x, base, y: base - (lamp.at[2] - mark.eyeM) * METRE * W };
  }
  const reading = on
    ? result?.marks.find((m) => m.mark === on.mark)?.lamps.find((l) => l.lamp === on.lamp)
    : undefined;
  return (
    // biome-ignore lint/a11y/useSemanticElements: things drawn over a picture, not fields of a form
    <svg
      ref={box}
      className="pull"
      viewBox={`0 0 ${W} ${H}`}
      preserveAspectRatio="none"
      data-pulling={on !== undefined}
      role="group"
      aria-label="Faces: press one to pull its light"
      onPointerMove={move}
      onPointerUp={end}
      onPointerCancel={end}
      onPointerDown={() => on && setOn(undefined)}
    >
      {faces.map((f) => (
        <circle
          key={f.id}
          className="face"
          data-face={f.id}
          cx={f.x}
          cy={f.y}
          r={f.r * 1.25}
          onPointerDown={(e) => {
            e.stopPropagation();
            const now = on?.mark === f.id ? f.lamps.indexOf(on.lamp) : -1;
            const next = f.lamps[(now + 1) % Math.max(1, f.lamps.length)];
            set({ angle: p.angle, ...(next ? { lamp: next } : {}) });
            setOn(next ? { mark: f.id, lamp: next } : undefined);
          }}
        >
          <title>{`Pull the light on ${f.id}`}</title>
        </circle>
      ))}
      {face && bead && on ? (
        <g style={{ '--lamp': lampColour(ids.indexOf(on.lamp) + 1) } as React.CSSProperties}>
          <ellipse className="ring" cx={face.x} cy={face.y} rx={RX * W} ry={RY * W} />
          <line className="stem" x1={bead.x} x2={bead.x} y1={bead.base} y2={bead.y} />
          <circle
            className="base"
            data-pull="ring"
            cx={bead.x}
            cy={bead.base}
            r={2.4}
            onPointerDown={(e) => begin(e, 'ring')}
          />
          <g className="bead" data-pull="stem" onPointerDown={(e) => begin(e, 'stem')}>
            <circle cx={bead.x} cy={bead.y} r={4.2} />
            <text x={bead.x} y={bead.y + 1.7} textAnchor="middle">
              {lamp?.number}
            </text>
          </g>
          <text className="pull-says" x={W / 2} y={H - 3} textAnchor="middle">
            {scope === 'angle' ? `${p.angle} only` : 'whole rig'}
            {reading
              ? `: ${clockWord(reading.clock)}, h ${lamp?.at[2].toFixed(2)}, ${reading.distanceM.toFixed(2)} m`
              : ''}
          </text>
        </g>
      ) : null}
    </svg>
  );
}
