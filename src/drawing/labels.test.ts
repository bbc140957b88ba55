/** Words on the plan: off lines, off one another, on the page. Geometry only. */
import { expect, test } from 'vitest';
import type { DrawMark, Point } from './display.ts';
import { type Box, inside, placeWords, widthOf } from './labels.ts';

const PAGE = { x: 0, y: 0, w: 400, h: 300 };
const px = (p: Point): Point => [p[0] * 40, 300 - p[1] * 40];
const name = (id: string, at: Point, text = 'h 2.20 ↓21°'): Extract<DrawMark, { kind: 'words' }> => ({
  kind: 'words',
  at,
  text,
  tone: 'lamp:1',
  size: 'small',
  anchor: 'start',
  clearM: 0.12,
  ref: { kind: 'lamp', id },
});
function boxes(marks: readonly DrawMark[]): Box[] {
  return [...placeWords(marks, px, 40, PAGE)].map(([i, put]) => {
    const m = marks[i] as Extract<DrawMark, { kind: 'words' }>;
    const [x, y] = px(m.at);
    const w = widthOf(m);
    return { x: x + put.dx - (put.anchor === 'middle' ? w / 2 : 0), y: y + put.dy - 9, w, h: 18 };
  });
}
const meet = (a: Box, b: Box) =>
  a.x < b.x + b.w - 1e-6 && b.x < a.x + a.w - 1e-6 && a.y < b.y + b.h - 1e-6 && b.y < a.y + a.h - 1e-6;

test('the length of a line inside a box', () => {
  const box = { x: 0, y: 0, w: 10, h: 10 };
  expect(inside([-5, 5], [15, 5], box)).toBeCloseTo(10, 12);
  expect(inside([0, 0], [10, 10], box)).toBeCloseTo(Math.hypot(10, 10), 12);
  expect(inside([2, 2], [4, 2], box)).toBeCloseTo(2, 12);
  expect(inside([-5, 12], [15, 12], box)).toBe(0);
});

test('two lamps side by side: their words do not meet', () => {
  const [a, b] = boxes([name('L1', [4, 4]), name('L2', [4.6, 4])]);
  expect(meet(a!, b!)).toBe(false);
});

test('words keep off a line that runs through their first place, and on the page', () => {
  // A wall along the top of the thing: over it there is no room.
  const wall: DrawMark = {
    kind: 'line',
    points: [
      [0, 4.45],
      [10, 4.45],
    ],
    tone: 'wall',
    weight: 'heavy',
  };
  const [box] = boxes([wall, name('L1', [4, 4])]);
  const y = px([0, 4.45])[1];
  expect(y < box!.y || y > box!.y + box!.h).toBe(true);
  for (const at of [
    [0.1, 7.3],
    [9.9, 7.3],
    [9.9, 0.1],
    [0.1, 0.1],
  ] as const) {
    const [corner] = boxes([name('L1', at)]);
    expect(corner!.x).toBeGreaterThanOrEqual(0);
    expect(corner!.x + corner!.w).toBeLessThanOrEqual(400);
    expect(corner!.y).toBeGreaterThanOrEqual(0);
    expect(corner!.y + corner!.h).toBeLessThanOrEqual(300);
  }
});
