/** The plan on screen: a display list painted as SVG, with lamps, aims and cameras to drag. */
import { type PointerEvent, useMemo, useRef, useState } from 'react';
import type { Drawing, DrawMark, Point, Ref, Tone } from '../drawing/display.ts';
import { lampColour, lampDash } from './identity.ts';

export interface PlanDrag {
  ref: Ref;
  /** Where the pointer is, metres. */
  to: Point;
  /** Where it went down. */
  from: Point;
  free: boolean;
}

const TONES: Partial<Record<Tone, string>> = {
  wall: 'var(--plan-wall)',
  furniture: 'var(--ink3)',
  faint: 'var(--ink3)',
  glass: '#6f9fd8',
  person: 'var(--ink)',
  camera: 'var(--ink)',
  seen: 'var(--plan-seen)',
  outside: 'var(--ink3)',
  rigging: 'var(--ink3)',
  socket: 'var(--ink2)',
  flag: 'var(--ink)',
  trouble: 'var(--trouble)',
  ghost: 'var(--ink3)',
};

const identityOf = (tone: Tone): number | undefined =>
  tone.startsWith('lamp:') || tone.startsWith('beam:') ? Number(tone.slice(5)) : undefined;
const colourOf = (tone: Tone): string => {
  const id = identityOf(tone);
  return id ? lampColour(id) : (TONES[tone] ?? 'var(--ink2)');
};
const WEIGHT = { heavy: 5, medium: 2.4, light: 1.3, hair: 0.8 } as const;
const DASH = { dash: '5 4', dot: '1.5 4', dashdot: '8 4 2 4' } as const;

export function PlanView(p: {
  drawing: Drawing;
  chosenLamp?: string | undefined;
  /** Where the chosen lamp is aimed: a cross to take hold of. */
  aim?: Point | undefined;
  onDrag: (drag: PlanDrag, phase: 'begin' | 'move' | 'end' | 'leave') => void;
  onChoose: (ref: Ref) => void;
  label: string;
  /** Only to look at. */
  still?: boolean;
}) {
  const svg = useRef<SVGSVGElement>(null);
  const [held, setHeld] = useState<{ ref: Ref; from: Point } | undefined>();
  const b = p.drawing.bounds;
  // One pixel in metres, so that lines and words keep their size whatever the room's.
  const [px, setPx] = useState(0.012);
  // Room for the numbers over the lamps, and for a lamp's words at the right.
  const pad = 0.3;
  const more = p.still ? { up: 0, right: 0 } : { up: 26, right: 52 };
  const span = { x: b.x1 - b.x0 + 2 * pad, y: b.y1 - b.y0 + 2 * pad };
  const [x0, y0, w, h] = [
    b.x0 - pad,
    -b.y1 - pad - more.up * px,
    span.x + more.right * px,
    span.y + more.up * px,
  ];
  const measure = (el: SVGSVGElement | null) => {
    (svg as { current: SVGSVGElement | null }).current = el;
    if (!el) return;
    const r = el.getBoundingClientRect();
    const next = Math.max(
      span.x / Math.max(40, r.width - more.right),
      span.y / Math.max(40, r.height - more.up),
    );
    if (r.width > 0 && Math.abs(next - px) > px * 0.01) setPx(next);
  };
  const at = (e: PointerEvent): Point => {
    const el = svg.current!;
    const m = el.getScreenCTM()!.inverse();
    const q = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
    return [q.x, -q.y];
  };
  const take = (e: PointerEvent, ref: Ref) => {
    if (p.still) return;
    e.preventDefault();
    svg.current?.setPointerCapture(e.pointerId);
    const from = at(e);
    setHeld({ ref, from });
    p.onChoose(ref);
    p.onDrag({ ref, from, to: from, free: e.shiftKey }, 'begin');
  };
  const marks = useMemo(() => p.drawing.marks, [p.drawing]);
  return (
    <div className="plan-box">
      <svg
        ref={measure}
        viewBox={`${x0} ${y0} ${w} ${h}`}
        role="img"
        aria-label={p.label}
        onPointerMove={(e) => {
          if (held) p.onDrag({ ...held, to: at(e), free: e.shiftKey }, 'move');
        }}
        onPointerUp={(e) => {
          if (held) p.onDrag({ ...held, to: at(e), free: e.shiftKey }, 'end');
          setHeld(undefined);
        }}
        onPointerCancel={(e) => {
          if (held) p.onDrag({ ...held, to: at(e), free: false }, 'leave');
          setHeld(undefined);
        }}
      >
        <title>{p.label}</title>
        {marks.map((m, i) => (
          <Mark
            // biome-ignore lint/suspicious/noArrayIndexKey: a drawing is replaced whole
            key={i}
            mark={m}
            px={px}
            onDown={take}
          />
        ))}
        {p.aim && p.chosenLamp ? (
          <g
            style={{ cursor: 'grab' }}
            data-ref={`aim:${p.chosenLamp}`}
            onPointerDown={(e) => take(e, { kind: 'aim', id: p.chosenLamp! })}
          >
            <circle cx={p.aim[0]} cy={-p.aim[1]} r={11 * px} fill="transparent" />
            <path
              d={`M${p.aim[0] - 7 * px} ${-p.aim[1]}h${14 * px}M${p.aim[0]} ${-p.aim[1] - 7 * px}v${14 * px}`}
              stroke="var(--ember)"
              strokeWidth={1.6 * px}
            />
          </g>
        ) : null}
      </svg>
    </div>
  );
}

const path = (points: readonly Point[], close: boolean) =>
  points.map(([x, y], i) => `${i ? 'L' : 'M'}${x.toFixed(3)} ${(-y).toFixed(3)}`).join('') +
  (close ? 'Z' : '');

function Mark({
  mark,
  px,
  onDown,
}: {
  mark: DrawMark;
  px: number;
  onDown: (e: PointerEvent, ref: Ref) => void;
}) {
  const ref = mark.ref;
  const grab = ref && ['lamp', 'beam', 'camera', 'mark'].includes(ref.kind);
  const common = {
    ...(ref ? { 'data-ref': `${ref.kind}:${ref.id}` } : {}),
    ...(grab ? { style: { cursor: 'grab' } } : { pointerEvents: 'none' as const }),
    ...(ref && grab ? { onPointerDown: (e: PointerEvent) => onDown(e, ref) } : {}),
  };
  if (mark.kind === 'area') {
    const identity = identityOf(mark.tone);
    const lamp = mark.tone.startsWith('lamp:');
    return (
      <path
        d={path(mark.points, true)}
        fill={
          mark.colour ??
          (mark.tone === 'person' || mark.tone === 'camera' || lamp ? 'var(--card)' : colourOf(mark.tone))
        }
        fillOpacity={mark.opacity ?? 1}
        stroke={mark.outline ? colourOf(mark.outline) : 'none'}
        strokeWidth={(lamp ? 2.2 : 1.4) * px}
        strokeDasharray={identity && lamp ? scaled(lampDash(identity), px) : undefined}
        {...common}
        {...(mark.tone.startsWith('beam:') ? { pointerEvents: 'none' as const } : {})}
      />
    );
  }
  if (mark.kind === 'line') {
    const identity = identityOf(mark.tone);
    const line = (
      <path
        d={path(mark.points, false)}
        fill="none"
        stroke={colourOf(mark.tone)}
        strokeWidth={WEIGHT[mark.weight] * px}
        strokeDasharray={
          mark.dash
            ? scaled(DASH[mark.dash], px)
            : identity && mark.weight === 'light'
              ? scaled(lampDash(identity), px)
              : undefined
        }
        {...common}
      />
    );
    // A wide unseen line to take hold of.
    return grab ? (
      <g {...common}>
        {line}
        <path d={path(mark.points, false)} fill="none" stroke="transparent" strokeWidth={12 * px} />
      </g>
    ) : (
      line
    );
  }
  if (mark.kind === 'circle')
    return (
      <circle
        cx={mark.centre[0]}
        cy={-mark.centre[1]}
        r={mark.radiusM}
        fill={mark.fill ? colourOf(mark.tone) : mark.tone === 'socket' ? 'var(--card)' : 'none'}
        stroke={colourOf(mark.tone)}
        strokeWidth={1.2 * px}
        strokeDasharray={mark.dash ? scaled(DASH[mark.dash], px) : undefined}
        {...common}
      />
    );
  const size = mark.size === 'number' ? 14 : mark.size === 'label' ? 13.5 : 13;
  const [tx, ty] = [mark.at[0] + (mark.dx ?? 0) * px, -mark.at[1] + (mark.dy ?? 0) * px];
  const identity = identityOf(mark.tone);
  return (
    <g {...common}>
      {mark.size === 'number' ? (
        <rect
          x={tx - 10 * px}
          y={ty - 13 * px}
          width={20 * px}
          height={18 * px}
          rx={2 * px}
          fill={colourOf(mark.tone)}
        />
      ) : null}
      <text
        x={tx}
        y={ty}
        fontSize={size * px}
        paintOrder="stroke"
        stroke={mark.size === 'number' ? 'none' : 'var(--card)'}
        strokeWidth={3 * px}
        strokeLinejoin="round"
        textAnchor={mark.anchor}
        fill={
          mark.size === 'number' ? 'var(--on-lamp)' : identity ? colourOf(mark.tone) : colourOf(mark.tone)
        }
        fontWeight={mark.size === 'number' ? 700 : mark.size === 'label' ? 600 : 400}
        dominantBaseline={mark.size === 'label' ? 'central' : undefined}
      >
        {mark.text}
      </text>
    </g>
  );
}

const scaled = (dash: string, px: number): string | undefined =>
  dash === 'none'
    ? undefined
    : dash
        .split(' ')
        .map((v) => Number(v) * px)
        .join(' ');
