/** Where somebody can stand, on paper: our hatch, dots and lines of whole stops, under the plan's own things. */
import type { StandDrawing } from '../drawing/standHatch.ts';
import { type Laid, toPage } from './onPaper.ts';
import type { PageMark } from './page.ts';
import { SIZE, word } from './type.ts';

const STROKE_MM = 0.16;
const DOT_MM = 0.3;
/** The set stop's own line is the heavier one. */
const LINE_MM = { set: 0.5, other: 0.25 } as const;

export const stopFigure = (stops: number): string =>
  stops === 0 ? '0' : `${stops < 0 ? '−' : '+'}${Math.abs(stops)}`;

/** Hatch, dots and lines; figures come with `standFigures`, over everything else. */
export function standMarks(d: StandDrawing, l: Laid): PageMark[] {
  return [
    ...d.strokes.map(
      ([a, b]): PageMark => ({ kind: 'line', points: [toPage(l, a), toPage(l, b)], weightMm: STROKE_MM }),
    ),
    ...d.dots.map((p): PageMark => ({ kind: 'circle', centre: toPage(l, p), radiusMm: DOT_MM, fill: 'ink' })),
    ...d.lines.map(
      ({ stops, points }): PageMark => ({
        kind: 'line',
        points: points.map((p) => toPage(l, p)),
        weightMm: stops === 0 ? LINE_MM.set : LINE_MM.other,
      }),
    ),
  ];
}

export const standFigures = (d: StandDrawing, l: Laid): PageMark[] =>
  d.lines.map(({ stops, label }) => {
    const [x, y] = toPage(l, label);
    return {
      ...word([x, y + SIZE.small * 0.35], stopFigure(stops), {
        face: 'bold',
        sizeMm: SIZE.small,
        anchor: 'middle',
      }),
      rim: true,
    };
  });
