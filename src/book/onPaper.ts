/** A drawing in metres laid on paper in black: true to scale, tones as weights and patterns, lamps by their line. */
import type { Drawing, DrawMark, Point, Tone } from '../drawing/display.ts';
import { patternDash, patternLine } from './identity.ts';
import type { At, PageMark } from './page.ts';

/** Where the drawing lies: a point of it (metres) and where that comes to lie (millimetres). */
export interface Laid {
  /** 50 for 1:50. */
  scale: number;
  /** Left lower corner of what is shown, metres. */
  from: Point;
  /** Where that corner is on the page. */
  at: At;
}

export const toPage = (l: Laid, [x, y]: Point): At => [
  l.at[0] + ((x - l.from[0]) * 1000) / l.scale,
  l.at[1] - ((y - l.from[1]) * 1000) / l.scale,
];

const WEIGHT = { heavy: 0.85, medium: 0.45, light: 0.25, hair: 0.13 } as const;
const DASH = { dash: [2, 1.2], dot: [0.5, 1], dashdot: [2.4, 0.9, 0.4, 0.9] } as const;

const identityOf = (tone: Tone): number | undefined => {
  const lamp = /^lamp:(\d+)$/.exec(tone);
  return lamp ? Number(lamp[1]) : undefined;
};

/** Words are left out: `placeLabels` sets them. So are tints: what the camera sees is hatched by the caller. */
export function onPaper(drawing: Drawing, laid: Laid): PageMark[] {
  return drawing.marks.flatMap((m) => painted(m, laid));
}

function painted(m: DrawMark, laid: Laid): PageMark[] {
  const k = 1000 / laid.scale;
  const points = (list: readonly Point[]) => list.map((p) => toPage(laid, p));
  if (m.kind === 'words') return [];
  if (m.kind === 'area') {
    if (!m.outline || m.tone === 'seen') return [];
    const identity = identityOf(m.outline);
    const dash = identity === undefined ? undefined : patternDash(identity);
    const weightMm = identity !== undefined ? 0.5 : m.tone === 'camera' ? 0.3 : 0.22;
    return [
      {
        kind: 'shape',
        points: points(m.points),
        fill: m.tone === 'camera' || m.tone === 'rigging' ? 'ink' : 'paper',
        weightMm: dash ? 0.2 : weightMm,
      },
      // The pattern goes round the body too; a small body shows little of it, so the body keeps a whole outline.
      ...(dash && identity !== undefined
        ? patternLine([...points(m.points), toPage(laid, m.points[0]!)], identity, 0.5)
        : []),
    ];
  }
  if (m.kind === 'line') {
    const identity = identityOf(m.tone);
    // A lead: short strokes, thin, whatever lamp it feeds.
    if (identity !== undefined && m.weight === 'hair')
      return [
        {
          kind: 'line',
          points: points(m.points),
          weightMm: 0.16,
          dashMm: m.dash === 'dash' ? DASH.dash : [0.9, 0.7],
        },
      ];
    if (identity !== undefined && m.weight === 'light' && !m.dash)
      return patternLine(points(m.points), identity, 0.22);
    return [
      {
        kind: 'line',
        points: points(m.points),
        weightMm: m.tone === 'flag' ? 1.1 : WEIGHT[m.weight],
        ...(m.dash ? { dashMm: DASH[m.dash] } : {}),
      },
    ];
  }
  return [
    {
      kind: 'circle',
      centre: toPage(laid, m.centre),
      radiusMm: m.radiusM * k,
      ...(m.fill
        ? { fill: 'ink' as const }
        : m.tone === 'socket' || m.tone === 'person'
          ? { fill: 'paper' as const }
          : {}),
      weightMm: m.tone === 'socket' || m.tone === 'person' ? 0.25 : 0.14,
      ...(m.dash ? { dashMm: DASH[m.dash] } : {}),
    },
  ];
}
