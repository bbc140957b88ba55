/** A belief changed by observations, against the closed forms of the normal law and against itself in any order. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  covarianceOf,
  independent,
  meanOf,
  type Observation,
  observed,
  shares,
  sigmaOf,
  varianceOf,
} from './belief.ts';

const linear = (k: Record<string, number>, value: number, noise: number): Observation => {
  const slope = new Map(Object.entries(k));
  return {
    value,
    noise,
    model: (of) => ({ value: [...slope].reduce((s, [n, v]) => s + v * of(n), 0), slope }),
  };
};

test('one quantity read once: the weighted mean of prior and reading [JCGM-106 §6]', () => {
  // Prior 0 ± 0.3, reading −1 ± 0.1: mean −1 · 0.09/(0.09 + 0.01), variance 0.09 · 0.01/(0.09 + 0.01).
  const b = observed(independent(new Map([['a', 0.3]])), [linear({ a: 1 }, -1, 0.1)]);
  expect(meanOf(b, 'a')).toBeCloseTo(-0.9, 9);
  expect(sigmaOf(b, 'a')).toBeCloseTo(Math.sqrt(0.009), 9);
});

test('a sum read once: each cause takes its share of the variance, and they are bound together from then on', () => {
  const b = observed(
    independent(
      new Map([
        ['kind', 0.4],
        ['head', 0.3],
      ]),
    ),
    [linear({ kind: 1, head: 1 }, -1, 1e-6)],
  );
  expect(meanOf(b, 'kind')).toBeCloseTo(-0.64, 6);
  expect(meanOf(b, 'head')).toBeCloseTo(-0.36, 6);
  expect(sigmaOf(b, 'kind')).toBeCloseTo(0.4 * Math.sqrt(0.36), 6);
  // Their sum is known, their difference is not: covariance −σ₁²σ₂²/(σ₁² + σ₂²).
  expect(
    varianceOf(
      b,
      new Map([
        ['kind', 1],
        ['head', 1],
      ]),
    ),
  ).toBeCloseTo(0, 9);
  expect(covarianceOf(b, new Map([['kind', 1]]), new Map([['head', 1]]))).toBeCloseTo(-0.0576, 6);
});

/** Slopes and values of up to six readings of four quantities. */
const readings = fc.array(
  fc.record({
    k: fc.record({ a: slopes(), b: slopes(), c: slopes(), d: slopes() }),
    value: fc.double({ min: -2, max: 2, noNaN: true }),
    noise: fc.double({ min: 0.05, max: 0.5, noNaN: true }),
  }),
  { minLength: 1, maxLength: 6 },
);
function slopes() {
  return fc.double({ min: -1.5, max: 1.5, noNaN: true });
}
const prior = independent(
  new Map([
    ['a', 0.3],
    ['b', 0.12],
    ['c', 0.06],
    ['d', 0.35],
  ]),
);

test('in any order, at once or one after the other, the same is believed', () => {
  fc.assert(
    fc.property(readings, (list) => {
      const all = list.map((r) => linear(r.k, r.value, r.noise));
      const once = observed(prior, all);
      const back = observed(prior, [...all].reverse());
      const turns = all.reduce((b, o) => observed(b, [o]), prior);
      for (const other of [back, turns]) {
        other.mean.forEach((v, i) => {
          expect(v).toBeCloseTo(once.mean[i]!, 7);
        });
        other.covariance.forEach((v, i) => {
          expect(v).toBeCloseTo(once.covariance[i]!, 7);
        });
      }
    }),
    { numRuns: 200, seed: 5 },
  );
});

test('no observation makes anything less sure, and shares of a variance sum to it', () => {
  fc.assert(
    fc.property(readings, (list) => {
      const b = observed(
        prior,
        list.map((r) => linear(r.k, r.value, r.noise)),
      );
      for (const name of prior.names)
        expect(sigmaOf(b, name)!).toBeLessThanOrEqual(sigmaOf(prior, name)! + 1e-9);
      const slope = new Map([
        ['a', 1],
        ['b', -0.4],
        ['else', 0.5],
      ]);
      const each = [...shares(b, slope, () => 0.2).values()];
      expect(each.reduce((s, v) => s + v, 0)).toBeCloseTo(
        varianceOf(b, slope, () => 0.2),
        12,
      );
      expect(varianceOf(b, slope, () => 0.2)).toBeGreaterThanOrEqual(0.01 - 1e-12);
    }),
    { numRuns: 200, seed: 6 },
  );
});

test('a curved model: the slope of the posterior density is nought where Gauss and Newton stop', () => {
  // One quantity, y = 2^x + noise: d/dx [ (y − 2^x)²/2r² + x²/2s² ] = 0.
  const y = 1.7;
  const noise = 0.2;
  const s = 0.6;
  const b = observed(independent(new Map([['x', s]])), [
    {
      value: y,
      noise,
      model: (of) => ({ value: 2 ** of('x'), slope: new Map([['x', 2 ** of('x') * Math.LN2]]) }),
    },
  ]);
  const x = meanOf(b, 'x');
  expect((-(y - 2 ** x) * 2 ** x * Math.LN2) / noise ** 2 + x / s ** 2).toBeCloseTo(0, 3);
});
