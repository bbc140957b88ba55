/**
 * The ruler in stops under every picture: −6 … +6 about a grey card. A face is a bar from its shadow side to
 * its lit side, its ends breaking into hairlines as long as the doubt; walls a square, glass a diamond,
 * shining things a ring. Hatched where the camera clips, dotted where it drowns.
 */
import { useId, useLayoutEffect, useRef, useState } from 'react';

export interface RulerFace {
  kind: 'face';
  id: string;
  fromStops: number;
  toStops: number;
  bandStops: number;
  says: string;
  /** A reading was made there: filled; else hollow. */
  metered: boolean;
  want?: string;
  wish?: { fromStops: number; toStops: number };
}
export interface RulerThing {
  kind: 'wall' | 'glass' | 'shining';
  id: string;
  words: string;
  stops: number;
  metered: boolean;
}
export type RulerMark = RulerFace | RulerThing;

/** Height with two faces; each further face takes a row more, up to five rows. */
const TWO = 54;
const ROW = 12;
const MOST = 5;
const held = (v: number) => Math.max(-6, Math.min(6, v));

export function Ruler(p: {
  marks: RulerMark[];
  clipStops: number;
  floorStops: number;
  ramp?: (stops: number) => string;
  /** Rows to leave room for: the most faces that any angle of the wall has. */
  rows?: number;
  /** A face, wall or glass was pressed. */
  onPick?: (mark: RulerMark) => void;
}) {
  const id = useId();
  const el = useRef<SVGSVGElement>(null);
  const [W, setW] = useState(448);
  useLayoutEffect(() => {
    const seen = new ResizeObserver(() => {
      const w = Math.round(el.current?.getBoundingClientRect().width ?? 0);
      if (w > 0) setW(w);
    });
    if (el.current) seen.observe(el.current);
    return () => seen.disconnect();
  }, []);
  const pick = (m: RulerMark) =>
    p.onPick && m.kind !== 'shining'
      ? {
          className: 'pick',
          onClick: (e: React.MouseEvent) => {
            e.stopPropagation();
            p.onPick!(m);
          },
        }
      : {};
  const x = (stops: number) => ((held(stops) + 6) / 12) * W;
  const H = TWO + ROW * (Math.max(2, Math.min(MOST, p.rows ?? 2)) - 2);
  const all = p.marks.filter((m): m is RulerFace => m.kind === 'face');
  // Of more faces than there are rows: those that are wished for, then those furthest from grey.
  const faces = all.length > MOST ? worst(all).slice(0, MOST - 1) : all;
  const others = all.filter((f) => !faces.includes(f));
  const things = p.marks.filter((m): m is RulerThing => m.kind !== 'face').slice(0, 4);
  const rowH = faces.length > 2 ? 12 : 13;
  const top = 4;
  const low = top + (faces.length + (others.length ? 1 : 0)) * rowH + 3;
  // Names stand right of their mark, or left near the clip; two that would meet: the second has its mark only.
  let end = -1;
  const placed = [...things]
    .sort((a, b) => a.stops - b.stops)
    .map((t) => {
      const px = Math.max(6, Math.min(W - 7, x(t.stops)));
      const left = px > W * 0.8;
      const wide = t.words.length * 6.2 + 12;
      const from = left ? px - wide : px;
      const named = from > end;
      if (named) end = from + wide + 6;
      return { t, px, left, named };
    });
  return (
    <svg ref={el} className="ruler" viewBox={`0 0 ${W} ${H}`} height={H} role="img" aria-label={say(p.marks)}>
      <defs>
        <pattern
          id={`${id}h`}
          width="6"
          height="6"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <line x1="0" y1="0" x2="0" y2="6" stroke="var(--ink3)" strokeWidth="2" />
        </pattern>
        <pattern id={`${id}d`} width="5" height="5" patternUnits="userSpaceOnUse">
          <circle cx="1.5" cy="1.5" r="0.8" fill="var(--ink3)" />
        </pattern>
      </defs>
      <rect x={0} y={0} width={x(-p.floorStops)} height={H} fill={`url(#${id}d)`} opacity={0.6} />
      <rect
        x={x(p.clipStops)}
        y={0}
        width={W - x(p.clipStops)}
        height={H}
        fill={`url(#${id}h)`}
        opacity={0.55}
      />
      {[-5, -4, -3, -2, -1, 1, 2, 3, 4, 5].map((s) => (
        <line key={s} x1={x(s)} x2={x(s)} y1={0} y2={H} stroke="var(--rule)" strokeWidth={1} opacity={0.7} />
      ))}
      {p.ramp
        ? Array.from({ length: 48 }, (_, i) => -6 + (i + 0.5) / 4).map((s) => (
            <rect
              key={s}
              x={((s + 6 - 0.125) / 12) * W}
              y={H - 6}
              width={W / 48 + 0.5}
              height={6}
              fill={p.ramp!(s)}
            />
          ))
        : null}
      <line x1={x(0)} x2={x(0)} y1={0} y2={H} stroke="var(--ink2)" strokeWidth={1.5} />
      {[-4, -2, 0, 2, 4].map((s) =>
        s + 0.6 < p.clipStops ? (
          <text key={s} className="scale" x={x(s) + 3} y={H - (p.ramp ? 9 : 4)}>
            {s === 0 ? 'grey' : s > 0 ? `+${s}` : `−${-s}`}
          </text>
        ) : null,
      )}
      {faces.map((f, i) => {
        const y = top + i * rowH + 3;
        const a = x(f.fromStops);
        const b = x(f.toStops);
        const d = Math.max(3, (f.bandStops / 12) * W);
        const right = b + d + 7 < W - 92;
        return (
          <g key={f.id} {...pick(f)}>
            {p.onPick ? (
              <rect x={a - d - 22} y={y - 4} width={b - a + 2 * d + 44} height={rowH} fill="transparent" />
            ) : null}
            {f.wish ? (
              <path
                d={`M${x(f.wish.fromStops)} ${y + 1} v-3 H${x(f.wish.toStops)} v3`}
                stroke="var(--ember)"
                strokeWidth={1.2}
                fill="none"
              />
            ) : null}
            <rect
              x={a + 0.75}
              y={y + 0.75}
              width={Math.max(2, b - a - 1.5)}
              height={4.5}
              className={f.metered ? 'face-bar metered' : 'face-bar'}
            />
            {[
              { at: a, way: -1 },
              { at: b, way: 1 },
            ].flatMap(({ at, way }) =>
              [0.4, 0.7, 1].map((k) => (
                <line
                  key={`${way}${k}`}
                  x1={at + way * d * k}
                  x2={at + way * d * k}
                  y1={y}
                  y2={y + 6}
                  stroke="var(--ink)"
                  opacity={1 - k * 0.5}
                />
              )),
            )}
            <text x={Math.max(10, a - d - 6)} y={y + 8} textAnchor="end" className="strong">
              {f.id}
            </text>
            <text
              x={right ? b + d + 7 : Math.max(24, a - d - 24)}
              y={y + 8}
              textAnchor={right ? 'start' : 'end'}
            >
              <tspan className="strong">{f.says}</tspan>
              {f.want ? <tspan> want {f.want}</tspan> : null}
            </text>
          </g>
        );
      })}
      {others.length ? (
        <text x={x(0) + 6} y={top + faces.length * rowH + 11}>
          {others.length} more: {others.map((f) => f.id).join(', ')}, {range(others)}
        </text>
      ) : null}
      {placed.map(({ t, px, left, named }) => (
        <g key={`${t.kind}${t.id}`} {...pick(t)}>
          {t.kind === 'wall' ? (
            <rect
              x={px - 3}
              y={low + 0.5}
              width={6.5}
              height={6.5}
              fill={t.metered ? 'var(--ink2)' : 'var(--card)'}
              stroke="var(--ink2)"
              strokeWidth={1.5}
            />
          ) : t.kind === 'glass' ? (
            <path
              d={`M${px} ${low - 1} l5 5 l-5 5 l-5 -5 z`}
              fill={t.metered ? 'var(--plan-glass)' : 'var(--card)'}
              stroke="var(--plan-glass)"
              strokeWidth={1.5}
            />
          ) : (
            <circle
              cx={px}
              cy={low + 4}
              r={4}
              fill="none"
              stroke={t.stops > p.clipStops ? 'var(--trouble)' : 'var(--ember)'}
              strokeWidth={2}
            />
          )}
          {named ? (
            <text x={left ? px - 8 : px + 8} y={low + 8} textAnchor={left ? 'end' : 'start'}>
              {t.words}
            </text>
          ) : null}
        </g>
      ))}
    </svg>
  );
}

const worst = (faces: RulerFace[]): RulerFace[] =>
  [...faces].sort(
    (a, b) =>
      Number(b.want !== undefined) - Number(a.want !== undefined) ||
      Math.abs(b.toStops) - Math.abs(a.toStops),
  );
const sign = (v: number) => `${v >= 0 ? '+' : '−'}${Math.abs(v).toFixed(1)}`;
const range = (faces: RulerFace[]) =>
  `${sign(Math.min(...faces.map((f) => f.fromStops)))} … ${sign(Math.max(...faces.map((f) => f.toStops)))}`;

const aloud = (v: number) => `${v >= 0 ? 'plus' : 'minus'} ${Math.abs(v).toFixed(1)}`;
const say = (marks: RulerMark[]) =>
  marks
    .map((m) =>
      m.kind === 'face'
        ? `${m.id}: from ${aloud(m.fromStops)} to ${aloud(m.toStops)} stops about grey, ${m.says}, plus or minus ${m.bandStops.toFixed(1)}, ${m.metered ? 'metered' : 'not metered'}`
        : `${m.words}: ${aloud(m.stops)} stops${m.metered ? ', metered' : ''}`,
    )
    .join('; ') || 'Nothing read yet';
