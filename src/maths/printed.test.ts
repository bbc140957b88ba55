/** A reader who subtracts what is printed finds what is printed. Arithmetic; no source. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { printedDifference } from './printed.ts';

test('4.4 and 4.9 differ by 0.5, whatever stands behind them', () => {
  // Truly 0.58 apart, printed 4.4 and 4.9.
  expect((4.94 - 4.36).toFixed(1)).toBe('0.6');
  expect(printedDifference(4.36, 4.94, 1)).toBe(0.5);
  // Lux whole, mired whole: the same.
  expect(printedDifference(100.4, 101.5, 0)).toBe(2);
});

test('any two figures and their difference add up as printed, within one of the last place of the truth', () => {
  const v = fc.double({ min: -500, max: 500, noNaN: true });
  fc.assert(
    fc.property(v, v, fc.integer({ min: 0, max: 2 }), (a, b, digits) => {
      const by = printedDifference(a, b, digits);
      // In whole units of the last place, as one reckons on paper.
      const unit = (x: number) => Math.round(Number(x.toFixed(digits)) * 10 ** digits);
      expect(unit(a) + unit(by) - unit(b)).toBeCloseTo(0, 9);
      expect(Math.abs(by - (b - a))).toBeLessThanOrEqual(10 ** -digits + 1e-9);
    }),
    { seed: 20 },
  );
});
