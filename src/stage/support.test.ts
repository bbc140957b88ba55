/** Stands in corners and feet on drums: what holds a head keeps clear of what stands there. */
import { expect, test } from 'vitest';
import { measure } from './measure.ts';
import { buildSupport, legDegWithin } from './support.ts';

const kitchen = [
  [0, 0],
  [4.2, 0],
  [4.2, 3.4],
  [0, 3.4],
] as const;
const stand = (x: number, y: number, legDeg: number) =>
  measure(
    buildSupport({ id: 'L1', words: 'stand', kind: 'stand', top: [x, y, 2], baseZ: 0, footM: 0.35, legDeg }),
  );

test('S01: a stand drawn in to 0.35 m, 0.30 m from two walls, keeps its feet inside with a leg in the corner', () => {
  const deg = legDegWithin([3.9, 3.1, 2], 0.35, kitchen);
  // One leg at 45°: reaches 0.35 cos 45° = 0.247 m toward each wall; feet are 12 mm thick.
  expect(deg % 120).toBe(45);
  const m = stand(3.9, 3.1, deg);
  expect(m.hi[0]).toBeLessThan(4.2);
  expect(m.hi[1]).toBeLessThan(3.4);
  // Turned otherwise it would stand in the wall.
  expect(stand(3.9, 3.1, 90).hi[1]).toBeGreaterThan(3.4);
  // The other corner is the mirror.
  const west = stand(0.3, 3.1, legDegWithin([0.3, 3.1, 2], 0.35, kitchen));
  expect(west.lo[0]).toBeGreaterThan(0);
  expect(west.hi[1]).toBeLessThan(3.4);
});

test('along one wall two legs straddle it; in the open, and outside, nothing is turned', () => {
  const south = stand(2, 0.2, legDegWithin([2, 0.2, 2], 0.35, kitchen));
  expect(south.lo[1]).toBeGreaterThan(0);
  expect(legDegWithin([2, 1.7, 2], 0.35, kitchen)).toBe(90);
  expect(legDegWithin([2, 5.6, 2], 0.35, kitchen)).toBe(90);
});

test('S13: the foot of a floodlight stands on the drum, not in it, and holds the housing on both sides', () => {
  const m = measure(
    buildSupport({
      id: 'L4',
      words: 'foot',
      kind: 'foot',
      base: [7, 2.6, 0.55],
      end: [7, 2.56, 0.69],
      widthM: 0.24,
      facing: [0, 1, 0.2],
    }),
  );
  // A tube of 9 mm drawn with six sides lies on the lid or, on a corner's flat, 9 mm × (1 − cos 30°) over it.
  expect(m.lo[2]).toBeGreaterThan(0.55 - 1e-6);
  expect(m.lo[2]).toBeLessThan(0.55 + 0.009 * (1 - Math.cos(Math.PI / 6)) + 1e-6);
  expect(m.hi[2]).toBeGreaterThan(0.685);
  expect(m.hi[2]).toBeLessThan(0.71);
  expect(m.hi[0] - m.lo[0]).toBeCloseTo(0.24 + 4 * 0.009, 2);
  // Within the drum's lid, radius 0.28.
  for (const y of [m.lo[1], m.hi[1]]) expect(Math.hypot(0.14, y - 2.6)).toBeLessThan(0.28);
});
