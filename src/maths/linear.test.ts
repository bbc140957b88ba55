/** Bordered systems against general elimination: the same numbers by another way. */
import { expect, test } from 'vitest';
import { solveBordered, solveLinear } from './linear.ts';
import { rngOf } from './sampling.ts';

test('a bordered system is solved as general elimination solves it, second differences alone included', () => {
  const next = rngOf(7);
  for (let round = 0; round < 20; round++) {
    const [n, m] = [12, 3];
    const size = n + m;
    const diagonal = Float64Array.from(
      { length: n },
      (_, i) => (i === 0 || i === n - 1 ? 2 : 4) + (round ? next() : 0),
    );
    const border = Array.from({ length: m }, () => Float64Array.from({ length: n }, () => next() - 0.3));
    const b = Float64Array.from({ length: size }, () => next() - 0.5);
    const whole = new Float64Array(size * size);
    for (let i = 0; i < n; i++) {
      whole[i * size + i] = diagonal[i]!;
      if (i > 0) whole[i * size + i - 1] = -2;
      if (i < n - 1) whole[i * size + i + 1] = -2;
      for (let k = 0; k < m; k++) {
        whole[i * size + n + k] = border[k]![i]!;
        whole[(n + k) * size + i] = border[k]![i]!;
      }
    }
    const expected = solveLinear(whole, b, size);
    const got = solveBordered(diagonal, -2, border, b);
    for (let i = 0; i < size; i++) expect(got[i]).toBeCloseTo(expected[i]!, 8);
  }
});
