/** A wall between two rooms: closed as a body, its doorway as told, its leaf as far open as told. */
import { expect, test } from 'vitest';
import { DEG, type Vec3 } from '../../maths/vec3.ts';
import { buildThing } from '../furniture.ts';
import { measure, meet } from '../measure.ts';

const wall = (detail: Record<string, number>) =>
  buildThing({
    id: 'w',
    words: 'wall',
    kind: 'inner-wall',
    at: [0, 0, 0],
    sizeM: [3, 0.1, 2.4],
    finish: { reflectance: 0.5 },
    detail,
  }).body;

test('an inner wall is a closed body less its doorway or hatch', () => {
  for (const [detail, hole] of [
    [{}, 0],
    [{ fromM: 1, toM: 1.8, headM: 2 }, 0.8 * 2],
    [{ fromM: 1, toM: 1.8, sillM: 1, headM: 1.6 }, 0.8 * 0.6],
  ] as const) {
    const m = measure(wall(detail));
    expect(m.gapM2).toBeLessThan(1e-6);
    expect(m.volumeM3).toBeCloseTo(0.1 * (3 * 2.4 - hole), 5);
    expect(m.widestPatchM).toBeLessThan(0.3);
  }
});

test('light goes through its doorway and nowhere else; the open leaf stands where it was told', () => {
  const body = wall({ fromM: 1, toM: 1.8, headM: 2, leafDeg: 60 });
  const from = (x: number, z: number): Vec3 => [x, 2, z];
  // 1.2 and 1.75 m along it lie at −0.3 and 0.25; the leaf hangs toward −y from −0.5.
  expect(meet([body], from(-0.1, 2.2), [0, -1, 0])!.t).toBeCloseTo(1.95, 6);
  expect(meet([body], from(-0.7, 1), [0, -1, 0])!.t).toBeCloseTo(1.95, 6);
  expect(meet([body], from(0.25, 1), [0, -1, 0])).toBeUndefined();
  // The leaf's middle line crosses x = −0.3 at tan 60° of 0.195 m beyond the face; its near skin half its thickness off.
  const met = meet([body], from(-0.3, 1), [0, -1, 0])!;
  const line = 2.05 + 0.195 * Math.tan(60 * DEG);
  expect(Math.abs(met.t - (line - 0.0175 / Math.cos(60 * DEG)))).toBeLessThan(1e-3);
});
