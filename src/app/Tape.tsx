/** The meter’s tape: thirds of a stop sliding under a fixed line, the prediction with its band standing on it. */
import { useRef } from 'react';
import { THIRD } from '../shoot/thirds.ts';

const MARKS: Record<number, string> = {
  [-4]: '0.25',
  [-3]: '0.35',
  [-2]: '0.5',
  [-1]: '0.7',
  0: '1',
  1: '1.4',
  2: '2',
  3: '2.8',
  4: '4',
  5: '5.6',
  6: '8',
  7: '11',
  8: '16',
  9: '22',
  10: '32',
  11: '45',
  12: '64',
};
/** Pixels that a third takes. */
const STEP = 56;
const H = 104;

export function Tape(p: {
  /** The reading, thirds from T1. */
  thirds: number;
  /** The prediction, thirds from T1, and half its 90 % interval in stops. */
  planned: number;
  bandStops: number;
  onThirds: (thirds: number) => void;
  label: string;
  says: string;
}) {
  const held = useRef<{ x: number; thirds: number } | undefined>(undefined);
  const x = (thirds: number) => 220 + (thirds - p.thirds) * STEP;
  const ticks = Array.from({ length: 9 }, (_, i) => Math.round(p.thirds) - 4 + i).filter(
    (t) => Math.abs(t - p.thirds) <= 3.3,
  );
  const band = 3 * p.bandStops * STEP;
  const at = x(p.planned);
  return (
    <div
      className="tape"
      role="slider"
      tabIndex={0}
      aria-label={p.label}
      aria-valuenow={p.thirds}
      aria-valuetext={p.says}
      onPointerDown={(e) => {
        held.current = { x: e.clientX, thirds: p.thirds };
        e.currentTarget.setPointerCapture(e.pointerId);
      }}
      onPointerMove={(e) => {
        const h = held.current;
        if (!h) return;
        const to = Math.round(h.thirds - (e.clientX - h.x) / STEP);
        if (to !== p.thirds) p.onThirds(to);
      }}
      onPointerUp={() => {
        held.current = undefined;
      }}
      onPointerCancel={() => {
        held.current = undefined;
      }}
      onKeyDown={(e) => {
        const by =
          e.key === 'ArrowRight' || e.key === 'ArrowUp'
            ? 1
            : e.key === 'ArrowLeft' || e.key === 'ArrowDown'
              ? -1
              : 0;
        if (!by) return;
        e.preventDefault();
        e.stopPropagation();
        p.onThirds(Math.round(p.thirds) + by);
      }}
    >
      <svg viewBox={`0 0 440 ${H}`} preserveAspectRatio="xMidYMid slice" height={H} aria-hidden="true">
        {band > 1 ? (
          <line
            className="tape-band"
            x1={at - band}
            x2={at + band}
            y1={5}
            y2={5}
            strokeWidth={9}
            strokeDasharray="1.5 4"
          />
        ) : null}
        {Math.abs(at - 220) < 185 ? (
          <path className="tape-plan" d={`M${at - 8} 0 h16 l-8 9 z`} />
        ) : (
          <path className="tape-plan" d={at < 220 ? 'M40 9 l14 -8 v16 z' : 'M400 9 l-14 -8 v16 z'} />
        )}
        {ticks.map((t) => {
          const third = ((t % 3) + 3) % 3;
          const whole = Math.floor(t / 3);
          const here = t === Math.round(p.thirds);
          return (
            <g key={t} className={here ? 'here' : ''}>
              <line x1={x(t)} x2={x(t)} y1={third ? 80 : 58} y2={H} />
              {third ? (
                <text className="third" x={x(t)} y={68} textAnchor="middle">
                  {THIRD[third]}
                </text>
              ) : (
                <text className="whole" x={x(t)} y={44} textAnchor="middle">
                  {MARKS[whole] ?? ''}
                </text>
              )}
            </g>
          );
        })}
        <line className="tape-here" x1={220} x2={220} y1={0} y2={24} />
      </svg>
    </div>
  );
}
