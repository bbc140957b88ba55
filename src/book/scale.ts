/** The scale of a drawing: chosen from those that a scale rule has, stated, and drawn as a bar. */
import { type At, type PageMark, PT } from './page.ts';
import { SIZE, word } from './type.ts';
import type { Units } from './units.ts';

/** Preferred scales [ISO-5455]; with feet, half, quarter, eighth and sixteenth of an inch to the foot (common practice). */
const METRIC = [20, 50, 100, 200, 500] as const;
const FEET = [24, 48, 96, 192, 384] as const;

/** The largest scale at which the width and height (metres) fit the room (millimetres). */
export function chooseScale(
  sizeM: readonly [number, number],
  roomMm: readonly [number, number],
  u: Units,
): number {
  const scales = u.imperial ? FEET : METRIC;
  return (
    scales.find((s) => (sizeM[0] * 1000) / s <= roomMm[0] && (sizeM[1] * 1000) / s <= roomMm[1]) ??
    scales.at(-1)!
  );
}

const FOOT: Record<number, string> = { 24: '½', 48: '¼', 96: '1/8', 192: '1/16', 384: '1/32' };
export const scaleWords = (scale: number): string =>
  FOOT[scale] ? `1:${scale} (${FOOT[scale]}" to 1')` : `1:${scale}`;

/** A bar of alternate black and white; its left end at `at`. */
export function scaleBar(
  at: At,
  scale: number,
  u: Units,
  mostMm = 70,
): { marks: PageMark[]; widthMm: number } {
  const unitM = u.imperial ? 0.3048 : 1;
  const step = [1, 2, 5, 10, 20].find((n) => (n * unitM * 1000) / scale >= 12) ?? 20;
  const mm = (step * unitM * 1000) / scale;
  const steps = Math.max(2, Math.min(5, Math.floor(mostMm / mm)));
  const [x, y] = at;
  const h = 1.6;
  const marks: PageMark[] = [];
  for (let i = 0; i < steps; i++)
    marks.push({
      kind: 'shape',
      points: [
        [x + i * mm, y],
        [x + (i + 1) * mm, y],
        [x + (i + 1) * mm, y + h],
        [x + i * mm, y + h],
      ],
      fill: i % 2 ? 'paper' : 'ink',
      weightMm: 0.2,
    });
  for (let i = 0; i <= steps; i++)
    marks.push(
      word([x + i * mm, y - 0.9], i === steps ? `${i * step} ${u.imperial ? 'ft' : 'm'}` : String(i * step), {
        sizeMm: SIZE.small,
        anchor: i === steps ? 'start' : 'middle',
      }),
    );
  return { marks, widthMm: steps * mm + 8 };
}

/** A line of known length: laid against a rule, it tells whether the printer kept the size. */
export function checkLine(at: At, u: Units): PageMark[] {
  const long = u.imperial ? 50.8 : 50;
  const [x, y] = at;
  return [
    {
      kind: 'line',
      points: [
        [x, y - 1.2],
        [x, y + 1.2],
      ],
      weightMm: 0.25,
    },
    {
      kind: 'line',
      points: [
        [x, y],
        [x + long, y],
      ],
      weightMm: 0.25,
    },
    {
      kind: 'line',
      points: [
        [x + long, y - 1.2],
        [x + long, y + 1.2],
      ],
      weightMm: 0.25,
    },
    word([x + long / 2, y - 0.9], `printed at 100 % this is ${u.imperial ? '2 inches' : '50 mm'}`, {
      sizeMm: 7 * PT,
      anchor: 'middle',
    }),
  ];
}

/** North, by the bearing of the plan's up from it, degrees. */
export function northArrow(at: At, northDeg: number | undefined): PageMark[] {
  const [x, y] = at;
  const a = (-(northDeg ?? 0) * Math.PI) / 180;
  const turn = (dx: number, dy: number): At => [
    x + dx * Math.cos(a) - dy * Math.sin(a),
    y + dx * Math.sin(a) + dy * Math.cos(a),
  ];
  return [
    { kind: 'line', points: [turn(0, 5), turn(0, -5)], weightMm: 0.3 },
    { kind: 'shape', points: [turn(0, -6.2), turn(1.5, -2.2), turn(0, -3)], fill: 'ink', weightMm: 0.15 },
    { kind: 'shape', points: [turn(0, -6.2), turn(-1.5, -2.2), turn(0, -3)], fill: 'paper', weightMm: 0.15 },
    word([x + 4, y + 1], northDeg === undefined ? 'north not told' : 'N', {
      sizeMm: SIZE.body,
      face: northDeg === undefined ? 'plain' : 'bold',
    }),
  ];
}
