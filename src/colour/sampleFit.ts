/**
 * How the 12-wavelength fit is made: the published and synthetic reflectances it learns from, and the least squares.
 * Run once by scripts/fit-samples.ts; tests leave a set out and judge on it.
 */
import { solveLinear } from '../maths/linear.ts';
import { Y_BAR } from './observer.ts';
import { skin, smoothReflectance } from './reflectance.ts';
import { xyzOfRgb } from './rgb.ts';
import type { Spectrum } from './spectrum.ts';
import { atSamples, constant, product, SAMPLES, SPECTRUM_LENGTH, spectrumOf } from './spectrum.ts';
import { CHART_24 } from './tables/chart24.ts';
import { CIE_TEST_COLOURS } from './tables/reflectances.ts';

/** Smooth curves over the colour solid: hues round the circle, moderate and strong, at two lightnesses. */
export function smoothSet(): Spectrum[] {
  const set: Spectrum[] = [];
  for (let hue = 0; hue < 12; hue++) {
    for (const [keep, Y] of [
      [0.35, 0.5],
      [0.75, 0.2],
    ] as const) {
      const rgb = [0, 1, 2].map((k) => 1 + keep * Math.cos(((hue / 12) * 2 - (k * 2) / 3) * Math.PI));
      const xyz = xyzOfRgb([rgb[0]!, rgb[1]!, rgb[2]!]);
      const r = smoothReflectance([(xyz[0] / xyz[1]) * Y, Y, (xyz[2] / xyz[1]) * Y]);
      if (r !== undefined) set.push(r);
    }
  }
  return set;
}

/**
 * Rippled curves between 0.02 and 0.96: sums of 24 waves with Gaussian wave numbers (correlation length 40 nm), so
 * that the fit does not trust smoothness too far. Ours; the same every time (golden-ratio sequences, no chance).
 */
export function rippledSet(count = 60): Spectrum[] {
  let step = 0;
  const next = (k: number): number => (0.5 + step * k) % 1;
  const set: Spectrum[] = [];
  for (let c = 0; c < count; c++) {
    const waves = Array.from({ length: 24 }, () => {
      step++;
      const radius = Math.sqrt(-2 * Math.log(1 - next(0.8191725134)));
      const turn = 2 * Math.PI * next(0.6710436067);
      return { k: (radius * Math.cos(turn)) / 40, phase: 2 * Math.PI * next(0.5497004779) };
    });
    const level = -2 + 2.4 * next(0.6180339887);
    set.push(
      spectrumOf((nm) => {
        let z = level;
        for (const w of waves) z += 0.6 * Math.sqrt(2 / 24) * Math.cos(w.k * nm + w.phase);
        return 0.02 + 0.94 / (1 + Math.exp(-z));
      }),
    );
  }
  return set;
}

/** Mean skins by class. */
export const skinSet = (): Spectrum[] =>
  (['very-light', 'light', 'intermediate', 'tan', 'brown', 'very-dark'] as const).map(
    (c) => skin(c).reflectance,
  );

export const testColourSet = (): Spectrum[] => CIE_TEST_COLOURS.map((r) => Float64Array.from(r));
export const chartSet = (): Spectrum[] => CHART_24.map((r) => Float64Array.from(r));

/** Everything the shipped fit learns from. */
export const trainingSet = (): Spectrum[] => [
  ...testColourSet(),
  ...chartSet(),
  ...skinSet(),
  ...smoothSet(),
  ...rippledSet(),
  constant(0.5),
];

/**
 * 12 × 81: takes a weighting over wavelengths to weights at the samples. Weighted ridge least squares over a set, its
 * products by two and by three; exact for a constant reflectance. Rows are weighted so that errors count as the eye
 * sees them (cube-root lightness). About half a second for the whole training set.
 */
export function makeBasis(set: readonly Spectrum[], ridge = 1e-4): Float64Array {
  const n = SPECTRUM_LENGTH;
  const G = new Float64Array(SAMPLES * SAMPLES);
  const H = new Float64Array(SAMPLES * n);
  const learn = (r: Spectrum): void => {
    let Y = 0;
    let sum = 0;
    for (let i = 0; i < n; i++) {
      Y += r[i]! * Y_BAR[i]!;
      sum += Y_BAR[i]!;
    }
    const w = Math.max(Y / sum, 0.0089) ** (-4 / 3);
    const s = atSamples(r);
    for (let a = 0; a < SAMPLES; a++) {
      const wa = w * s[a]!;
      for (let b = 0; b < SAMPLES; b++) G[a * SAMPLES + b]! += wa * s[b]!;
      for (let i = 0; i < n; i++) H[a * n + i]! += wa * r[i]!;
    }
  };
  // Direct light, one bounce, two bounces (a thinned choice of triples).
  for (let i = 0; i < set.length; i++) {
    learn(set[i]!);
    for (let j = i; j < set.length; j++) {
      const two = product(set[i]!, set[j]!);
      learn(two);
      learn(product(two, set[(i * 7 + j * 3) % set.length]!));
    }
  }
  let trace = 0;
  for (let a = 0; a < SAMPLES; a++) trace += G[a * SAMPLES + a]!;
  for (let a = 0; a < SAMPLES; a++) G[a * SAMPLES + a]! += (ridge * trace) / SAMPLES;
  // Solve for all wavelengths at once, then move along G⁻¹·1 so that a constant stays exact.
  const P = solveLinear(G, H, SAMPLES);
  const ones = solveLinear(G, new Float64Array(SAMPLES).fill(1), SAMPLES);
  const onesSum = ones.reduce((s, v) => s + v, 0);
  for (let i = 0; i < n; i++) {
    let column = 0;
    for (let a = 0; a < SAMPLES; a++) column += P[a * n + i]!;
    const miss = (1 - column) / onesSum;
    for (let a = 0; a < SAMPLES; a++) P[a * n + i]! += ones[a]! * miss;
  }
  return P;
}
