import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cctOf, miredShift, miredWords, shifted } from './cct.ts';
import { planck } from './planck.ts';
import { xyzOf } from './xyz.ts';

test('the 5 nm black body reads its own temperature within a kelvin', () => {
  for (const T of [1900, 2700, 3200, 4300, 5600])
    expect(Math.abs(cctOf(xyzOf(planck(T))).cctK - T)).toBeLessThan(1);
});

test('shift and its inverse', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1800, max: 12000, noNaN: true }),
      fc.double({ min: 1800, max: 12000, noNaN: true }),
      (a, b) => {
        expect(shifted(a, miredShift(a, b))! / b).toBeCloseTo(1, 9);
      },
    ),
    { seed: 7 },
  );
  expect(shifted(6500, -160)).toBeUndefined();
});

test('words', () => {
  expect(miredWords(2)).toBe('the same warmth');
  expect(miredWords(93)).toBe('clearly warmer');
  expect(miredWords(-134)).toBe('far cooler');
});
