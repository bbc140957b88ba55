/** What an act did to faces: who is told of, from how much on, in which order and words. */
import { expect, test } from 'vitest';
import { differences, differencesAloud, differenceWords } from './differences.ts';
import type { AngleResult } from './messages.ts';

/** An angle in which faces stand so many stops over; those in brackets are not seen. */
const read = (over: Record<string, number>, seen = Object.keys(over)) =>
  ({
    facesSeen: seen,
    marks: Object.entries(over).map(([mark, overStops]) => ({ mark, overStops })),
  }) as unknown as AngleResult;

test('over a third of a stop, seen faces only, the greatest first', () => {
  const list = differences(
    { W: read({ A: 0, B: 0 }), CA: read({ A: 0, B: 0 }), CB: read({ B: 0 }) },
    { W: read({ A: -0.7, B: 0.4 }), CA: read({ A: -1.2, B: 3 }, ['A']), CB: read({ B: 0.33 }) },
  );
  expect(list.map(differenceWords)).toEqual(['CA: A −1.2', 'W: A −0.7', 'W: B +0.4']);
  expect(differencesAloud(list)).toBe('In CA, A minus 1.2 stops. In W, A minus 0.7, B plus 0.4 stops.');
});

test('nothing differs, or nothing was read before: nothing is said', () => {
  expect(differencesAloud(differences({ W: read({ A: 0.3 }) }, { W: read({ A: 0.6 }) }))).toBe('');
  expect(differences({}, { W: read({ A: 2 }) })).toEqual([]);
  expect(differences({ W: read({ A: Number.NEGATIVE_INFINITY }) }, { W: read({ A: 0 }) })).toEqual([]);
});
