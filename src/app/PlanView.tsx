/**
 * The plan on screen: a display list painted as SVG, a window on it (wheel, pinch, drag the paper), and hands that
 * take hold of what is under them, by mouse, touch, pen and keys.
 */
import { type PointerEvent, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { Drawing, DrawMark, Point, Ref } from '../drawing/display.ts';
import { type Grips, thingUnder, under } from '../drawing/grips.ts';
import type { Touch } from '../drawing/ground.ts';
import type { Press } from '../drawing/keys.ts';
import { type Put, placeWords, widthOf } from '../drawing/labels.ts';
import { along, isWhole, nearer, type Window } from '../drawing/paper.ts';
import { lengthWords } from '../shoot/units.ts';
import { PlanMark } from './PlanMark.tsx';
import type { Holding } from './useHands.ts';
import { useSaid, useUnits } from './useUnits.ts';

/** A thing that can be come to by keys. */
export interface Thing {
  ref: Ref;
  at: Point;
  /** Said aloud: what it is, where it is, which keys move it. */
  says: string;
}

export interface PlanHands {
  holding: Holding | undefined;
  take: (ref: Ref, from: Point) => boolean;
  move: (touch: Touch) => void;
  end: () => void;
  leave: () => void;
  press: (of: Ref, press: Press) => boolean;
}

const HINTS: Partial<Record<Ref['kind'], string>> = {
  lamp: 'drag to move',
  rigPlace: 'its place in the rig: drag to move the rig’s',
  height: 'drag up or down for height',
  aim: 'drag to aim',
  wedge: 'drag to swing',
  beam: 'an edge: drag to flood or spot',
  camera: 'drag to move',
  look: 'what it looks at: drag',
  lens: 'an edge: drag for the lens',
  mark: 'drag to move',
  facing: 'drag to turn',
  flag: 'drag to move',
  furniture: 'drag to move',
  opening: 'drag along the wall',
};
const CURSOR: Partial<Record<Ref['kind'], string>> = {
  height: 'ns-resize',
  beam: 'ew-resize',
  lens: 'ew-resize',
};

/** Metres kept free about the drawing. */
const PAD_M = 0.35;
/** How far a pointer may miss: a mouse, a finger or pen, pixels. */
const MOUSE_PX = 7;
const FINGER_PX = 22;
/** Walls and beams draw a thing from so near, pixels and at most metres. */
const DRAWS_PX = 12;
const DRAWS_M = 0.15;

export function PlanView(p: {
  drawing: Drawing;
  chosen?: Ref | undefined;
  /** Points to take besides what is drawn: an aim, what a camera looks at. */
  points?: { ref: Ref; at: Point }[];
  things?: Thing[];
  hands?: PlanHands;
  onChoose?: (ref: Ref | undefined) => void;
  /** What a thing is called, in a hint. */
  nameOf?: (ref: Ref) => string;
  /** Over the paper's foot: scale bar, north. */
  foot?: (pxPerM: number) => React.ReactNode;
  /** Under everything. */
  under?: React.ReactNode;
  /** On the floor, under all that stands. */
  floor?: ((px: number) => React.ReactNode) | undefined;
  /** Something waits to be set down by the next tap. */
  putting?: { says: string; put: (at: Point) => void } | undefined;
  label: string;
}) {
  const { hands } = p;
  const said = useSaid();
  const svg = useRef<SVGSVGElement>(null);
  const box = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState({ w: 400, h: 300 });
  const [seen, setSeen] = useState<Window>();
  const [hover, setHover] = useState<Ref>();
  const pointers = useRef(new Map<number, { x: number; y: number }>());
  const grab = useRef<
    | { what: 'thing'; y: number; finger: boolean }
    | { what: 'paper'; x: number; y: number; seen: Window; went: boolean }
    | { what: 'pinch'; far: number; x: number; y: number; seen: Window }
    | undefined
  >(undefined);

  // The paper keeps its size under a hand, whatever the page about it does; it is measured again when the hand lets go.
  const busy = hands?.holding !== undefined;
  useLayoutEffect(() => {
    const el = box.current;
    if (!el || busy) return;
    const measure = () => {
      const { width: w, height: h } = el.getBoundingClientRect();
      if (w > 0 && h > 0 && !grab.current) setSize((s) => (s.w === w && s.h === h ? s : { w, h }));
    };
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(el);
    return () => watch.disconnect();
  }, [busy]);

  // The whole drawing in the shape of the cell, with room at its sides for words.
  const b = p.drawing.bounds;
  const span = { x: b.x1 - b.x0 + 2 * PAD_M, y: b.y1 - b.y0 + 2 * PAD_M };
  const words = hands ? { x: 40, y: 50 } : { x: 0, y: 0 };
  const wholePx = Math.max(span.x / Math.max(40, size.w - words.x), span.y / Math.max(40, size.h - words.y));
  const whole: Window = {
    w: size.w * wholePx,
    h: size.h * wholePx,
    x: (b.x0 + b.x1) / 2 - (size.w * wholePx) / 2,
    y: -(b.y0 + b.y1) / 2 - (size.h * wholePx) / 2,
  };
  const win = seen && !isWhole(seen, whole) ? { ...seen, h: (seen.w * size.h) / size.w } : whole;
  const px = win.w / size.w;

  // Words find their places when the paper comes to rest; under a hand they stay beside their things.
  const kept = useRef(new Map<string, Put>());
  const { marks } = p.drawing;
  const puts = useMemo(() => {
    const known = (m: DrawMark) =>
      m.kind !== 'words' || m.clearM === undefined || !m.ref || kept.current.has(keyOf(m));
    if (busy && marks.every(known)) return kept.current;
    const placed = placeWords(marks, ([x, y]) => [(x - win.x) / px, (-y - win.y) / px], 1 / px, {
      x: 2,
      y: 2,
      w: size.w - 4,
      h: size.h - 4,
    });
    const next = new Map<string, Put>();
    for (const [i, put] of placed) {
      const key = keyOf(marks[i]!);
      next.set(key, (busy ? kept.current.get(key) : undefined) ?? put);
    }
    kept.current = next;
    return next;
  }, [marks, win.x, win.y, px, size, busy]);

  const grips = (): Grips => ({
    marks,
    chosen: p.chosen,
    points: p.points ?? [],
    words: marks.flatMap((m) => {
      if (m.kind !== 'words' || !m.ref || (m.ref.kind !== 'height' && m.size !== 'number')) return [];
      const put = puts.get(keyOf(m));
      if (!put) return [];
      const w = widthOf(m) * px;
      const x = m.at[0] + put.dx * px - (put.anchor === 'middle' ? w / 2 : 0);
      return [{ ref: m.ref, box: { x, y: m.at[1] - put.dy * px - 9 * px, w, h: 18 * px } }];
    }),
  });
  const at = (e: { clientX: number; clientY: number }): Point => {
    const r = svg.current!.getBoundingClientRect();
    return [win.x + (e.clientX - r.left) * px, -(win.y + (e.clientY - r.top) * px)];
  };
  const isFinger = (e: PointerEvent) => e.pointerType !== 'mouse';
  const middle = () => {
    const [a, c] = [...pointers.current.values()];
    return {
      x: (a!.x + c!.x) / 2,
      y: (a!.y + c!.y) / 2,
      far: Math.max(20, Math.hypot(a!.x - c!.x, a!.y - c!.y)),
    };
  };
  const down = (e: PointerEvent) => {
    if (!hands || e.button > 1) return;
    pointers.current.set(e.pointerId, { x: e.clientX, y: e.clientY });
    svg.current?.setPointerCapture(e.pointerId);
    if (pointers.current.size === 2) {
      // A second finger: what the first had taken is let go where it was.
      if (grab.current?.what === 'thing') hands.leave();
      grab.current = { what: 'pinch', ...middle(), seen: win };
      return;
    }
    e.preventDefault();
    const finger = isFinger(e);
    const from = at(e);
    if (p.putting && e.button === 0) {
      pointers.current.delete(e.pointerId);
      p.putting.put(from);
      return;
    }
    const ref = e.button === 0 ? under(grips(), from, (finger ? FINGER_PX : MOUSE_PX) * px) : undefined;
    if (ref && hands.take(ref, from)) {
      p.onChoose?.(ref);
      grab.current = { what: 'thing', y: e.clientY, finger };
      focus(ref);
    } else grab.current = { what: 'paper', x: e.clientX, y: e.clientY, seen: win, went: false };
  };
  const focus = (ref: Ref) =>
    svg.current
      ?.querySelector<SVGElement>(`[data-thing="${THING[ref.kind] ?? ref.kind}:${ref.id}"]`)
      ?.focus({ preventScroll: true });
  const move = (e: PointerEvent) => {
    if (!hands) return;
    const g = grab.current;
    if (!pointers.current.has(e.pointerId)) {
      const ref = isFinger(e) ? undefined : under(grips(), at(e), MOUSE_PX * px);
      if (ref?.kind !== hover?.kind || ref?.id !== hover?.id) setHover(ref);
      return;
    }
    pointers.current.set(e.pointerId, { x: e.clientX, y: e.clientY });
    if (g?.what === 'thing')
      hands.move({
        to: at(e),
        upPx: g.y - e.clientY,
        free: e.shiftKey,
        reachM: Math.min(DRAWS_M, DRAWS_PX * px),
      });
    else if (g?.what === 'paper') {
      const [dx, dy] = [e.clientX - g.x, e.clientY - g.y];
      if (!g.went && Math.hypot(dx, dy) < 4) return;
      g.went = true;
      setSeen(along(g.seen, whole, -dx * px, -dy * px));
    } else if (g?.what === 'pinch' && pointers.current.size === 2) {
      const now = middle();
      const r = svg.current!.getBoundingClientRect();
      const was = g.seen.w / size.w;
      const about: Point = [g.seen.x + (g.x - r.left) * was, g.seen.y + (g.y - r.top) * was];
      const zoomed = nearer(g.seen, whole, about, now.far / g.far);
      const k = zoomed.w / size.w;
      setSeen(along(zoomed, whole, -(now.x - g.x) * k, -(now.y - g.y) * k));
    }
  };
  const up = (e: PointerEvent) => {
    if (!pointers.current.delete(e.pointerId)) return;
    const g = grab.current;
    grab.current = undefined;
    if (g?.what === 'thing') {
      if (e.type === 'pointercancel') hands?.leave();
      else hands?.end();
    } else if (g?.what === 'paper' && !g.went && e.type !== 'pointercancel') {
      const [thing, opening] = isFinger(e) ? [FINGER_PX / 2, FINGER_PX] : [MOUSE_PX, MOUSE_PX];
      const ref = thingUnder(marks, at(e), thing * px, p.chosen, opening * px);
      p.onChoose?.(ref);
      // Its keys work at once.
      if (ref) focus(ref);
    }
  };

  const wheel = useRef<(e: WheelEvent) => void>(() => undefined);
  wheel.current = (e) => {
    if (!hands) return;
    e.preventDefault();
    const [x, y] = at(e);
    setSeen(nearer(win, whole, [x, -y], Math.exp(-e.deltaY * (e.ctrlKey ? 0.01 : 0.0016))));
  };
  useEffect(() => {
    const el = svg.current;
    if (!el) return;
    const hear = (e: WheelEvent) => wheel.current(e);
    el.addEventListener('wheel', hear, { passive: false });
    return () => el.removeEventListener('wheel', hear);
  }, []);

  // What lies on the floor goes over what is seen and the beams, under all that stands.
  const onFloor = p.floor ? marks.findIndex((m) => m.tone !== 'seen' && !BEAMS.has(m.ref?.kind ?? '')) : 0;
  const painted = (from: number, to: number) =>
    marks.slice(from, to).map((m, i) => (
      <PlanMark
        // biome-ignore lint/suspicious/noArrayIndexKey: a drawing is replaced whole
        key={from + i}
        mark={m}
        px={px}
        put={m.kind === 'words' ? puts.get(keyOf(m)) : undefined}
      />
    ));

  const { holding } = hands ?? {};
  const name = (ref: Ref) => p.nameOf?.(ref) ?? ref.id;
  const hint = p.putting
    ? p.putting.says
    : holding?.refused
      ? holding.refused.why
      : (holding?.says ?? (hover && HINTS[hover.kind] ? `${name(hover)}: ${HINTS[hover.kind]}` : ''));
  return (
    <div className="plan-box" ref={box}>
      <svg
        ref={svg}
        viewBox={`${win.x} ${win.y} ${win.w} ${win.h}`}
        role={hands ? 'group' : 'img'}
        aria-label={p.label}
        style={{
          width: size.w,
          height: size.h,
          ...(p.putting
            ? { cursor: 'crosshair' }
            : holding
              ? { cursor: 'grabbing' }
              : hover
                ? { cursor: CURSOR[hover.kind] ?? 'grab' }
                : {}),
        }}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
        onPointerLeave={() => setHover(undefined)}
        onDoubleClick={() => setSeen(undefined)}
      >
        {p.under}
        {painted(0, onFloor)}
        {p.floor?.(px)}
        {painted(onFloor, marks.length)}
        {p.chosen?.kind === 'furniture' || p.chosen?.kind === 'opening'
          ? marks.map((m, i) =>
              m.kind === 'line' && m.ref?.kind === p.chosen?.kind && m.ref?.id === p.chosen?.id ? (
                <path
                  // biome-ignore lint/suspicious/noArrayIndexKey: a drawing is replaced whole
                  key={i}
                  className="plan-chosen"
                  d={m.points.map(([x, y], k) => `${k ? 'L' : 'M'}${x} ${-y}`).join('')}
                  strokeWidth={2 * px}
                />
              ) : null,
            )
          : null}
        {(p.points ?? []).map(({ ref, at: [x, y] }) =>
          ref.kind === 'facing' ? (
            <circle
              key={ref.kind}
              cx={x}
              cy={-y}
              r={4 * px}
              fill="var(--ember)"
              data-ref={`facing:${ref.id}`}
            />
          ) : (
            <path
              key={ref.kind}
              data-ref={`${ref.kind}:${ref.id}`}
              d={`M${x - 7 * px} ${-y}h${14 * px}M${x} ${-y - 7 * px}v${14 * px}`}
              stroke="var(--ember)"
              strokeWidth={1.6 * px}
            />
          ),
        )}
        {holding?.ghost ? <Ghost {...holding.ghost} px={px} /> : null}
        {holding?.refused ? (
          <g className="refused" data-refused>
            <circle
              cx={holding.refused.at[0]}
              cy={-holding.refused.at[1]}
              r={9 * px}
              strokeWidth={1.8 * px}
              strokeDasharray={`${4 * px} ${3 * px}`}
            />
            <path
              d={`M${holding.refused.at[0] - 6 * px} ${-holding.refused.at[1] - 6 * px}l${12 * px} ${12 * px}m0 ${-12 * px}l${-12 * px} ${12 * px}`}
              strokeWidth={1.8 * px}
            />
          </g>
        ) : null}
        {(p.things ?? []).map((t) => (
          // biome-ignore lint/a11y/useSemanticElements: a thing of the drawing that takes keys
          <g
            key={`${t.ref.kind}${t.ref.id}`}
            className="thing"
            role="button"
            tabIndex={0}
            data-thing={`${t.ref.kind}:${t.ref.id}`}
            aria-label={t.says}
            onFocus={() => p.onChoose?.(t.ref)}
            onBlur={() => !grab.current && hands?.end()}
            onKeyDown={(e) => {
              if (e.ctrlKey || e.metaKey) return;
              if (e.key === 'Escape') {
                if (!hands?.holding) e.currentTarget.blur();
                hands?.leave();
              } else if (!hands?.press(t.ref, { key: e.key, shift: e.shiftKey, alt: e.altKey })) return;
              e.preventDefault();
              e.stopPropagation();
            }}
          >
            <circle cx={t.at[0]} cy={-t.at[1]} r={17 * px} strokeWidth={2 * px} />
          </g>
        ))}
      </svg>
      {hands ? (
        <p className={holding?.refused ? 'plan-hint bad' : 'plan-hint'} role={holding ? 'status' : undefined}>
          {said(hint)}
        </p>
      ) : null}
      {hands && seen && !isWhole(seen, whole) ? (
        <button type="button" className="plan-whole" onClick={() => setSeen(undefined)}>
          whole
        </button>
      ) : null}
      {p.foot?.(1 / px)}
    </div>
  );
}

const BEAMS: ReadonlySet<string> = new Set(['wedge', 'beam', 'lens']);

/** Whose keys a grip's are. */
const THING: Partial<Record<Ref['kind'], string>> = {
  height: 'lamp',
  aim: 'lamp',
  wedge: 'lamp',
  beam: 'lamp',
  rigPlace: 'lamp',
  look: 'camera',
  lens: 'camera',
  facing: 'mark',
};
const keyOf = (m: DrawMark): string => `${m.ref?.kind}:${m.ref?.id}:${m.kind === 'words' ? m.size : ''}`;

/** Where a thing came from, and how far it has come. */
function Ghost({ from, to, px }: { from: Point; to: Point; px: number }) {
  const units = useUnits();
  const words = (m: number) => lengthWords(m, units);
  const far = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return (
    <g className="plan-ghost">
      <circle
        cx={from[0]}
        cy={-from[1]}
        r={8 * px}
        strokeWidth={1.4 * px}
        strokeDasharray={`${3 * px} ${3 * px}`}
      />
      <path
        d={`M${from[0]} ${-from[1]}L${to[0]} ${-to[1]}`}
        strokeWidth={1.2 * px}
        strokeDasharray={`${4 * px} ${4 * px}`}
      />
      <text
        x={from[0]}
        y={-from[1] + (to[1] > from[1] ? 24 : -14) * px}
        fontSize={13 * px}
        strokeWidth={4 * px}
        textAnchor="middle"
      >
        {words(far)}
      </text>
    </g>
  );
}
