/** One mark of a plan as SVG; a pixel is `px` metres, so that lines and words keep their size however near one looks. */
import { memo } from 'react';
import type { DrawMark, Point, Tone } from '../drawing/display.ts';
import { type Put, widthOf } from '../drawing/labels.ts';
import { lampColour, lampDash } from './identity.ts';

const TONES: Partial<Record<Tone, string>> = {
  wall: 'var(--plan-wall)',
  furniture: 'var(--ink3)',
  faint: 'var(--ink3)',
  glass: 'var(--plan-glass)',
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
const WEIGHT = { heavy: 5, medium: 2.4, light: 1.3, hair: 0.8 } as const;
const DASH = { dash: '5 4', dot: '1.5 4', dashdot: '8 4 2 4' } as const;

const identityOf = (tone: Tone): number | undefined =>
  tone.startsWith('lamp:') || tone.startsWith('beam:') ? Number(tone.slice(5)) : undefined;
const colourOf = (tone: Tone): string => {
  const id = identityOf(tone);
  return id ? lampColour(id) : (TONES[tone] ?? 'var(--ink2)');
};
const path = (points: readonly Point[], close: boolean) =>
  points.map(([x, y], i) => `${i ? 'L' : 'M'}${x.toFixed(3)} ${(-y).toFixed(3)}`).join('') +
  (close ? 'Z' : '');
const scaled = (dash: string, px: number): string | undefined =>
  dash === 'none'
    ? undefined
    : dash
        .split(' ')
        .map((v) => Number(v) * px)
        .join(' ');

export const PlanMark = memo(function PlanMark({
  mark,
  px,
  put,
}: {
  mark: DrawMark;
  px: number;
  put?: Put | undefined;
}) {
  const named = mark.ref ? { 'data-ref': `${mark.ref.kind}:${mark.ref.id}` } : {};
  const identity = identityOf(mark.tone);
  if (mark.kind === 'area') {
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
        {...named}
      />
    );
  }
  if (mark.kind === 'line')
    return (
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
        {...named}
      />
    );
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
        {...named}
      />
    );
  const number = mark.size === 'number';
  const size = number ? 14 : mark.size === 'label' ? 13.5 : 13;
  const [x, y] = [
    mark.at[0] + (put?.dx ?? mark.dx ?? 0) * px,
    -mark.at[1] + (put?.dy ?? (number ? (mark.dy ?? 0) - 4 : (mark.dy ?? 0))) * px,
  ];
  const wide = widthOf(mark);
  return (
    <g {...named}>
      {number ? (
        <rect
          x={x - (wide / 2) * px}
          y={y - 9 * px}
          width={wide * px}
          height={18 * px}
          rx={2 * px}
          fill={colourOf(mark.tone)}
        />
      ) : null}
      <text
        x={x}
        y={y + 0.5 * px}
        fontSize={size * px}
        paintOrder="stroke"
        stroke={number ? 'none' : 'var(--card)'}
        strokeWidth={4 * px}
        strokeLinejoin="round"
        textAnchor={put?.anchor ?? mark.anchor}
        fill={number ? 'var(--on-lamp)' : colourOf(mark.tone)}
        fontWeight={number ? 700 : mark.size === 'label' ? 600 : 400}
        dominantBaseline="central"
      >
        {mark.text}
      </text>
    </g>
  );
});
