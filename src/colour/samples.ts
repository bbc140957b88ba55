/**
 * Twelve wavelengths instead of eighty-one: reflectances are multiplied along a path at SAMPLE_NM, and a light's own
 * spectrum enters once, as a 3 × 12 matrix from those products to XYZ.
 */
import { solveLinear } from '../maths/linear.ts';
import { LUMENS_PER_WATT, X_BAR, Y_BAR, Z_BAR } from './observer.ts';
import { skin } from './reflectance.ts';
import { smoothReflectance } from './reflectance.ts';
import { xyzOfRgb } from './rgb.ts';
import type { Spectrum } from './spectrum.ts';
import { atSamples, constant, product, SAMPLES, SPECTRUM_LENGTH, STEP_NM } from './spectrum.ts';
import { CIE_TEST_COLOURS } from './tables/reflectances.ts';
import type { XYZ } from './xyz.ts';

/** Reflectances the fit learns from: CIE test colours, skins, smooth curves over the colour solid, a grey. */
function trainingSet(): Spectrum[] {
  const set: Spectrum[] = CIE_TEST_COLOURS.map((r) => Float64Array.from(r));
  for (const c of ['very-light', 'light', 'intermediate', 'tan', 'brown', 'very-dark'] as const)
    set.push(skin(c).reflectance);
  // Smooth curves: hues round the circle, moderate and strong, at two lightnesses.
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
  set.push(constant(0.5));
  return set;
}

let basis: Float64Array | undefined;

/**
 * 12 × 81: takes a weighting over wavelengths to weights at the samples. Weighted least squares over the training
 * set, its products by two and by three; exact for a constant reflectance. Rows are weighted so that errors count as
 * the eye sees them (cube-root lightness). Made once, about 50 ms.
 */
export function sampleBasis(): Float64Array {
  if (basis === undefined) basis = makeBasis(trainingSet());
  return basis;
}

/** The fit over a given training set (for judging how much the choice of set matters). */
export function makeBasis(set: readonly Spectrum[], ridge = 1e-5): Float64Array {
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
    const w = Math.max(Y / sum, 0.002) ** (-4 / 3);
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

/**
 * The 3 × 12 matrix M (row-major) of a light of spectral power `light` (W/nm per lumen, or W/nm): XYZ ≈ M · r at the
 * sample wavelengths; Y in lumen-like units, 683.002·Σ s·ȳ·5. Exact for constant reflectance. Judged on a 24-patch
 * chart kept apart (samples.test.ts). A few microseconds.
 */
export function fitMatrix(light: Spectrum): Float64Array {
  const P = sampleBasis();
  const n = SPECTRUM_LENGTH;
  const M = new Float64Array(3 * SAMPLES);
  const bars = [X_BAR, Y_BAR, Z_BAR];
  for (let k = 0; k < 3; k++) {
    const bar = bars[k]!;
    for (let i = 0; i < n; i++) {
      const d = LUMENS_PER_WATT * STEP_NM * light[i]! * bar[i]!;
      if (d === 0) continue;
      for (let a = 0; a < SAMPLES; a++) M[k * SAMPLES + a]! += d * P[a * n + i]!;
    }
  }
  return M;
}

/** XYZ of a product of reflectances at the 12 samples under the light of `matrix`. */
export function xyzOfSamples(matrix: Float64Array, r: ArrayLike<number>): XYZ {
  let X = 0;
  let Y = 0;
  let Z = 0;
  for (let a = 0; a < SAMPLES; a++) {
    const v = r[a]!;
    X += matrix[a]! * v;
    Y += matrix[SAMPLES + a]! * v;
    Z += matrix[2 * SAMPLES + a]! * v;
  }
  return [X, Y, Z];
}
