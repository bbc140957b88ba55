/** A lamp's identity in black: a line pattern beside its number. Four, then the four again with a doubled line. */
import type { At, PageMark } from './page.ts';

/** Drawn and left out, millimetres, at a weight of 0.4: whole, long dash, dots, dash and dot. */
const PATTERNS: readonly (readonly number[] | undefined)[] = [
  undefined,
  [3, 1.5],
  [0.01, 1.15],
  [3, 1.1, 0.01, 1.1],
];

export const patternDash = (identity: number): readonly number[] | undefined =>
  PATTERNS[(Math.max(1, identity) - 1) % 4];
export const doubled = (identity: number): boolean => Math.floor((Math.max(1, identity) - 1) / 4) % 2 === 1;

/** A line in a lamp's pattern. */
export function patternLine(points: readonly At[], identity: number, weightMm: number): PageMark[] {
  const dash = patternDash(identity);
  const dotted = dash?.some((d) => d < 0.1) ?? false;
  const line: PageMark = {
    kind: 'line',
    points,
    weightMm: doubled(identity) ? weightMm * 2.6 : weightMm,
    ...(dash ? { dashMm: dash } : {}),
    ...(dotted ? { round: true as const } : {}),
  };
  return doubled(identity)
    ? [line, { kind: 'line', points, weightMm: weightMm * 1.1, ink: 'paper' as const }]
    : [line];
}
