import { expect, test } from 'vitest';
import type { StandMap } from './standMap.ts';
import { walk, walked } from './walk.ts';

/** A floor 4 m square under one small lamp at its middle's south edge: over = −2 log2 d, the inverse square in stops. */
function floor(stepM = 0.1): StandMap {
  const n = Math.round(4 / stepM) + 1;
  const index = new Int32Array(n * n);
  const points = Array.from({ length: n * n }, (_, k) => {
    index[k] = k;
    const at: [number, number] = [stepM * (k % n), stepM * Math.floor(k / n)];
    const d = Math.hypot(at[0] - 2, at[1] + 1);
    return { at, overStops: -2 * Math.log2(d), key: 'L1', side: 'left' as const, eyes: 2 };
  });
  return { grid: { x0: 0, y0: 0, stepM, nx: n, ny: n, index, points: points.map((p) => p.at) }, points };
}

test('walking away from a lamp from 1 m to 4 m loses four stops, the inverse square at every step', () => {
  const steps = walk(floor(), [2, 0], [2, 3]);
  expect(steps.at(-1)!.alongM).toBeCloseTo(3, 9);
  for (const s of steps) expect(Math.abs(s.overStops! + 2 * Math.log2(1 + s.alongM))).toBeLessThan(0.02);
  const w = walked(steps, 0, 0.5)!;
  expect(w.most.overStops - w.least.overStops).toBeCloseTo(4, 1);
  // Half a stop is lost where d = 2^¼ = 1.19 m: 0.19 m into the walk, read off every 0.1 m.
  expect(w.leavesM).toBeCloseTo(0.2, 5);
  // The slope of −2 log2 d at 1 m is 2 / ln 2 = 2.89 stops a metre.
  expect(Math.abs(w.steepest!.stopsPerM)).toBeGreaterThan(2.6);
  expect(Math.abs(w.steepest!.stopsPerM)).toBeLessThan(2.9);
  expect(w.unknown).toBe(0);
});

test('across where nobody can stand nothing is known, and that is said', () => {
  const map = floor();
  // A table over the middle metre.
  map.points.forEach((p, k) => {
    if (p.at[1] > 1 && p.at[1] < 2) map.grid.index[k] = -1;
  });
  const steps = walk(map, [2, 0.5], [2, 2.5]);
  const w = walked(steps, 0, 9)!;
  expect(w.unknown).toBeGreaterThan(0.3);
  expect(steps.find((s) => Math.abs(s.alongM - 1) < 0.01)!.overStops).toBeUndefined();
  expect(walked(walk(map, [2, 1.3], [2, 1.7]), 0, 1)).toBeUndefined();
});
