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
  let inside = true;
  for (let i = 0; i < n; i++) {
    const x = next(s);
    inside &&= x >= 0 && x < 1;
    sum += x;
    square += x * x;
    lag += (x - 0.5) * (last - 0.5);
    last = x;
  }
  expect(inside).toBe(true);
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
  const rng = rngOf(1);
  const error = (at: (i: number) => number) => {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += at(i);
    return (sum / n - exact) ** 2;
  };
  let spread = 0;
  let chance = 0;
  for (let round = 0; round < 100; round++) {
    const [u, v] = [rng(), rng()];
    spread += error((i) => f(r2x(i, u), r2y(i, v)));
    chance += error(() => f(rng(), rng()));
  }
  expect(Math.sqrt(spread)).toBeLessThan(Math.sqrt(chance) / 4);
});
