/** Tolerances as they are typed. */
import { expect, test } from 'vitest';
import { readTolerance, toleranceWords } from './typingMatch.ts';

test('third stops in any usual writing; what is out of range says what was expected', () => {
  const stops = readTolerance('stops', 0.05, 3);
  for (const t of ['1/3', '⅓', '1/3 stop']) expect(stops(t)).toBeCloseTo(1 / 3, 3);
  expect(stops('0.5 stops')).toBe(0.5);
  expect(stops('1 1/3')).toBeCloseTo(4 / 3, 3);
  for (const t of ['', 'near', '0', '4', '-1/3']) expect(stops(t)).toBe('stops from 0.05 to 3');
  expect(readTolerance('mired', 1, 300)('25 mired')).toBe(25);
  expect(readTolerance('hours', 0.1, 6)('1.5 h')).toBe(1.5);
  expect([1 / 3, 0.5, 0.4, 1].map(toleranceWords)).toEqual(['1/3', '1/2', '0.4', '1.0']);
});
