import { expect, test } from 'vitest';
import { hash32, next, r2x, r2y, rngOf, stream } from './sampling.ts';

// Laws of chance stated from textbooks: uniform moments, no correlation, discrepancy below chance's.
test('a stream is uniform, without memory, and repeats', () => {
  const s = stream(1, 2);
  const n = 200_000;
  let sum = 0;
  let square = 0;
  let lag = 0;
  let last = 0.5;
  for (let i = 0; i < n; i++) {
    const x = next(s);
    expect(x >= 0 && x < 1).toBe(true);
    sum += x;
    square += x * x;
    lag += (x - 0.5) * (last - 0.5);
    last = x;
  }
  // Six standard errors: 2e-9 false alarm each.
  expect(Math.abs(sum / n - 1 / 2)).toBeLessThan(6 * Math.sqrt(1 / 12 / n));
  expect(Math.abs(square / n - 1 / 3)).toBeLessThan(6 * Math.sqrt(4 / 45 / n));
  expect(Math.abs(lag / n)).toBeLessThan((6 / 12) * Math.sqrt(1 / n));
  const a = rngOf(5);
  const b = rngOf(5);
  const c = rngOf(6);
  expect([a(), a(), a()]).toEqual([b(), b(), b()]);
  expect(a()).not.toBe(c());
});

test('streams of neighbouring keys have nothing to do with each other', () => {
  const n = 100_000;
  let both = 0;
  for (let i = 0; i < n; i++) {
    const x = next(stream(hash32(7, i), 0));
    const y = next(stream(hash32(7, i + 1), 0));
    both += (x - 0.5) * (y - 0.5);
  }
  expect(Math.abs(both / n)).toBeLessThan((6 / 12) * Math.sqrt(1 / n));
});

test('the low-discrepancy sequence integrates a smooth function better than chance would', () => {
  const f = (x: number, y: number) => Math.sin(3 * x) * Math.exp(y);
  const exact = ((1 - Math.cos(3)) / 3) * (Math.E - 1);
  const n = 1024;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += f(r2x(i, 0.3), r2y(i, 0.7));
  expect(Math.abs(sum / n - exact)).toBeLessThan(0.002);
});
