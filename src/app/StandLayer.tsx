/** Where can they stand, painted under the plan's things; a pixel is `px` metres. */
import { memo } from 'react';
import type { Point } from '../drawing/display.ts';
import type { StandDrawing } from '../drawing/standHatch.ts';

const figure = (stops: number) => (stops === 0 ? '0' : `${stops < 0 ? '−' : '+'}${Math.abs(stops)}`);

export const StandLayer = memo(function StandLayer({
  drawing,
  px,
  walk,
}: {
  drawing: StandDrawing;
  px: number;
  /** From and to, of a walk that is asked about. */
  walk?: readonly [Point, Point] | undefined;
}) {
  const { strokes, dots, lines } = drawing;
  return (
    <g className="stands">
      <path
        className="holds"
        strokeWidth={1.1 * px}
        d={strokes
          .map(
            ([a, b]) => `M${a[0].toFixed(3)} ${(-a[1]).toFixed(3)}L${b[0].toFixed(3)} ${(-b[1]).toFixed(3)}`,
          )
          .join('')}
      />
      <path
        className="level"
        strokeWidth={2.4 * px}
        strokeLinecap="round"
        d={dots.map(([x, y]) => `M${x.toFixed(3)} ${(-y).toFixed(3)}h0`).join('')}
      />
      {lines.map(({ stops, points, label }, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a drawing is replaced whole
        <g key={i}>
          <path
            className="iso"
            strokeWidth={(stops === 0 ? 1.6 : 0.9) * px}
            d={points.map(([x, y], k) => `${k ? 'L' : 'M'}${x.toFixed(3)} ${(-y).toFixed(3)}`).join('')}
          />
          <text
            x={label[0]}
            y={-label[1]}
            fontSize={13 * px}
            strokeWidth={5 * px}
            textAnchor="middle"
            dominantBaseline="central"
          >
            {figure(stops)}
          </text>
        </g>
      ))}
      {walk ? (
        <path
          className="walks"
          strokeWidth={2 * px}
          strokeDasharray={`${6 * px} ${4 * px}`}
          d={`M${walk[0][0]} ${-walk[0][1]}L${walk[1][0]} ${-walk[1][1]}`}
        />
      ) : null}
    </g>
  );
});
