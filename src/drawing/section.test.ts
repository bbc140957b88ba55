/** A cut through two rooms of other heights: each ceiling a level line of its own, none beyond the cut. */
import { expect, test } from 'vitest';
import { drawSection, type SectionFacts } from './section.ts';

const facts: SectionFacts = {
  lamp: { id: 'L1', identity: 1, at: [0, 2], aim: [6, 1.5], beamHalfDeg: 10, body: [] },
  walls: [-1, 3, 3.1, 9].map((x) => ({ x, opening: undefined })),
  ceilingM: 2.4,
  // Told every 20 cm: 2.4 m up to x = 3, then 3.8 m.
  ceiling: Array.from({ length: 51 }, (_, k): [number, number] => [-1 + 0.2 * k, k < 20 ? 2.4 : 3.8]),
  topM: 2.4,
  groundM: 0,
  fromM: -1,
  toM: 6,
  people: [],
  things: [],
  holds: undefined,
};

test('two ceilings are two level lines that end where the cut ends', () => {
  const level = drawSection(facts).marks.flatMap((m) =>
    m.kind === 'line' && m.tone === 'wall' && m.points.every((p) => p[1] === m.points[0]![1] && p[1] > 2)
      ? [m.points]
      : [],
  );
  expect(level.map((p) => p[0]![1])).toEqual([2.4, 3.8]);
  expect(Math.max(...level.flat().map((p) => p[0]))).toBeLessThanOrEqual(6);
  // Nothing of the ceiling slants from the one to the other.
  const slants = drawSection(facts).marks.filter(
    (m) =>
      m.kind === 'line' &&
      m.tone === 'wall' &&
      m.points.some((p, i) => i > 0 && p[0] !== m.points[i - 1]![0] && p[1] !== m.points[i - 1]![1]),
  );
  expect(slants).toEqual([]);
});
