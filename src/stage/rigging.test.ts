/** Beams against the measures of a published scene (S13: tie beams, gantry bar). */
import { expect, test } from 'vitest';
import { measure } from './measure.ts';
import { buildRigging } from './rigging.ts';

const finish = { reflectance: 0.12 };

test('S13: a tie beam is 0.15 wide and 0.20 deep, its underside at z 3.60', () => {
  const b = buildRigging({
    id: 'beam1',
    words: 'the west tie beam',
    kind: 'beam',
    from: [1.5, 0, 3.6],
    to: [1.5, 5.5, 3.6],
    widthM: 0.15,
    depthM: 0.2,
    finish,
  });
  const m = measure(b);
  expect(m.lo.map((v) => Math.round(v * 1e4) / 1e4)).toEqual([1.425, 0, 3.6]);
  expect(m.hi.map((v) => Math.round(v * 1e4) / 1e4)).toEqual([1.575, 5.5, 3.8]);
  expect(m.volumeM3).toBeCloseTo(0.15 * 0.2 * 5.5, 5);
  expect(b.part).toMatchObject({ id: 'rigging:beam1', moving: false });
});

test('a sloping rail keeps its section, a pipe is round, an upright one builds', () => {
  const one = { id: 'r', words: 'r', widthM: 0.05, depthM: 0.08, finish };
  const slope = measure(buildRigging({ ...one, kind: 'rail', from: [0, 0, 2], to: [3, 0, 6] }));
  expect(slope.volumeM3).toBeCloseTo(0.05 * 0.08 * 5, 5);
  const pipe = measure(buildRigging({ ...one, kind: 'pipe', from: [0, 0, 2], to: [2, 2, 2] }));
  expect(pipe.lo[2]).toBeCloseTo(2, 4);
  expect(pipe.hi[2]).toBeCloseTo(2.05, 4);
  const post = measure(buildRigging({ ...one, kind: 'rail', from: [1, 1, 0], to: [1, 1, 2] }));
  expect(post.hi[2]).toBeCloseTo(2, 5);
});
