import { expect, test } from 'vitest';
import { meanOf, studentTails } from './student.ts';

// Two-sided critical values of Student's t, as printed in statistics handbooks (from memory):
// 31 and 30 degrees of freedom and the closed forms for 1 and 2.
test('tails of Student’s t', () => {
  expect(studentTails(2.042, 30)).toBeCloseTo(0.05, 4);
  expect(studentTails(2.75, 30)).toBeCloseTo(0.01, 5);
  expect(studentTails(3.646, 30)).toBeCloseTo(0.001, 6);
  for (const t of [0.1, 1, 5, 400]) {
    expect(studentTails(t, 1)).toBeCloseTo(1 - (2 / Math.PI) * Math.atan(t), 12);
    expect(studentTails(t, 2)).toBeCloseTo(1 - t / Math.sqrt(2 + t * t), 12);
  }
  expect(studentTails(0, 7)).toBe(1);
  // Many degrees of freedom: the normal distribution; 1.96 leaves 5 %.
  expect(studentTails(1.959964, 1e6)).toBeCloseTo(0.05, 6);
});

test('mean and its error', () => {
  const { mean, error } = meanOf([1, 2, 3, 4]);
  expect(mean).toBe(2.5);
  expect(error).toBeCloseTo(Math.sqrt(5 / 3 / 4), 12);
});
