import { expect, test } from 'vitest';
import { contour } from './contour.ts';

const grid = (f: (x: number, y: number) => number, n = 41, step = 0.1) => ({
  x0: -2,
  y0: -2,
  step,
  nx: n,
  ny: n,
  values: Array.from({ length: n * n }, (_, k) => f(-2 + step * (k % n), -2 + step * Math.floor(k / n))),
});

test('the level of a cone is a circle, closed, of its radius', () => {
  const lines = contour(
    grid((x, y) => Math.hypot(x, y)),
    1.23,
  );
  expect(lines).toHaveLength(1);
  const line = lines[0]!;
  // Straight between points 0.1 apart a chord of this circle lies within 0.1² / (8 · 1.23) = 1 mm of it.
  for (const [x, y] of line) expect(Math.abs(Math.hypot(x, y) - 1.23)).toBeLessThan(0.0015);
  expect(line[0]).toEqual(line.at(-1));
  const length = line.slice(1).reduce((s, p, i) => s + Math.hypot(p[0] - line[i]![0], p[1] - line[i]![1]), 0);
  expect(length / (2 * Math.PI * 1.23)).toBeCloseTo(1, 2);
});

test('a plane is cut straight; beside what is missing there is no line', () => {
  const g = grid((x, y) => (y > 0.55 ? Number.NaN : x));
  for (const [x, y] of contour(g, 0.05).flat()) {
    expect(x).toBeCloseTo(0.05, 9);
    expect(y).toBeLessThan(0.56);
  }
  expect(contour(g, 9)).toEqual([]);
});

test('two hills are two rings, however near: the saddle between them is not crossed', () => {
  const hill = (x: number, y: number) => Math.exp(-4 * (x * x + y * y));
  const lines = contour(
    grid((x, y) => hill(x - 0.8, y) + hill(x + 0.8, y)),
    0.4,
  );
  expect(lines).toHaveLength(2);
});

test('an edge is no slope: a step higher than the most that is allowed is not drawn', () => {
  const step = grid((x) => (x < 0.03 ? 0 : 4));
  expect(contour(step, 2)).toHaveLength(1);
  expect(contour(step, 2, 1)).toEqual([]);
});
