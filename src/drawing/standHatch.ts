/**
 * Where can they stand, drawn: our own hatch where everything holds, dots where only the level does, and a line for
 * every whole stop with its figure.
 */
import { contour, type Line } from '../maths/contour.ts';
import type { Point } from './display.ts';

/** A point of the floor, judged. */
export interface Judged {
  at: Point;
  overStops: number;
  /** 2: level, side and eyes; 1: the level alone; 0: neither. */
  holds: 0 | 1 | 2;
}

export interface StandDrawing {
  /** Slanting strokes, each from edge to edge of its cell. */
  strokes: [Point, Point][];
  dots: Point[];
  lines: { stops: number; points: Line; label: Point }[];
}

/** Strokes over a cell. */
const STROKES = 2;
/** Stops that are drawn, about what the set stop asks. */
const MOST = 4;
/** More than this from point to point is the edge of a shadow or of a beam. */
const EDGE_STOPS = 1;
/** Shorter lines are left out, steps of the grid. */
const SCRAP = 3;

export function standDrawing(
  grid: { x0: number; y0: number; stepM: number; nx: number; ny: number; index: ArrayLike<number> },
  judged: readonly Judged[],
): StandDrawing {
  const strokes: [Point, Point][] = [];
  const dots: Point[] = [];
  const h = grid.stepM / 2;
  for (const { at, holds } of judged) {
    if (holds === 1) dots.push(at);
    if (holds !== 2) continue;
    // x + y is the same along a stroke, and the strokes of neighbours go on from each other.
    const gap = (2 * h) / STROKES;
    const [west, south] = [at[0] - h, at[1] - h];
    for (let k = 0; k < 2 * STROKES; k++) {
      const along = (k + 0.5) * gap;
      const from: Point = along <= 2 * h ? [west + along, south] : [west + 2 * h, south + along - 2 * h];
      const to: Point = along <= 2 * h ? [west, south + along] : [west + along - 2 * h, south + 2 * h];
      strokes.push([from, to]);
    }
  }
  const values = Array.from({ length: grid.nx * grid.ny }, (_, i) => {
    const n = grid.index[i]!;
    return n < 0 ? Number.NaN : (judged[n]?.overStops ?? Number.NaN);
  });
  const lines: StandDrawing['lines'] = [];
  for (let stops = -MOST; stops <= MOST; stops++)
    for (const points of contour(
      { x0: grid.x0, y0: grid.y0, step: grid.stepM, nx: grid.nx, ny: grid.ny, values },
      stops,
      EDGE_STOPS,
    )) {
      // A scrap of a line says nothing.
      if (lengthOf(points) < SCRAP * grid.stepM) continue;
      lines.push({ stops, points, label: points[Math.floor(points.length / 2)]! });
    }
  return { strokes, dots, lines };
}

const lengthOf = (line: Line): number =>
  line.slice(1).reduce((s, p, i) => s + Math.hypot(p[0] - line[i]![0], p[1] - line[i]![1]), 0);
