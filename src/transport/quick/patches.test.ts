/** What a gloss sends back of even light, against plain quadrature of the lobe over directions and Schlick's mean. */
import { expect, test } from 'vitest';
import { alphaOf, gloss, lobe } from '../brdf.ts';
import { glossShare } from './patches.ts';

/** ∬ f cos cos over both hemispheres ÷ π, by the midpoint rule in cos² and azimuth: no sampling of the lobe. */
function byQuadrature(f0: number, roughness: number): number {
  const alpha = alphaOf(roughness);
  const [E, N, M] = [40, 120, 90];
  let sum = 0;
  for (let e = 0; e < E; e++) {
    const ez = Math.sqrt((e + 0.5) / E);
    const ex = Math.sqrt(1 - ez * ez);
    for (let i = 0; i < N; i++) {
      const lz = Math.sqrt((i + 0.5) / N);
      const s = Math.sqrt(1 - lz * lz);
      for (let j = 0; j < M; j++) {
        const phi = (2 * Math.PI * (j + 0.5)) / M;
        gloss(f0, alpha, 0, 0, 1, s * Math.cos(phi), s * Math.sin(phi), lz, ex, 0, ez);
        sum += (Math.PI * lobe.value) / (E * N * M);
      }
    }
  }
  return sum;
}

for (const [f0, roughness] of [
  [0.04, 0.55],
  [0.04, 0.9],
  [0.2, 0.7],
] as const)
  test(`share of a gloss of ${f0} and roughness ${roughness} is the integral of the lobe`, () => {
    expect(Math.abs(glossShare(f0, roughness) / byQuadrature(f0, roughness) - 1)).toBeLessThan(0.02);
  });

test('a smooth gloss sends back Schlick’s mean over the cosine hemisphere, f0 + (1 - f0) / 21; none, nothing', () => {
  for (const f0 of [0.02, 0.04, 0.3]) expect(glossShare(f0, 0.02)).toBeCloseTo(f0 + (1 - f0) / 21, 3);
  expect(glossShare(0, 0.5)).toBe(0);
});

test('rougher gloss sends back less of even light: masking is not made up for', () => {
  const shares = [0.1, 0.3, 0.5, 0.7, 0.9].map((r) => glossShare(0.04, r));
  for (let i = 1; i < shares.length; i++) expect(shares[i]!).toBeLessThan(shares[i - 1]!);
});
