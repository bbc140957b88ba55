/**
 * Twelve wavelengths instead of eighty-one: reflectances are multiplied along a path at SAMPLE_NM, and a light's own
 * spectrum enters once, as a 3 × 12 matrix from those products to XYZ.
 */
import { LUMENS_PER_WATT, X_BAR, Y_BAR, Z_BAR } from './observer.ts';
import type { Spectrum } from './spectrum.ts';
import { SAMPLES, SPECTRUM_LENGTH, STEP_NM } from './spectrum.ts';
import { SAMPLE_BASIS } from './tables/sampleBasis.ts';
import type { XYZ } from './xyz.ts';

const BASIS = Float64Array.from(SAMPLE_BASIS);

/**
 * The 3 × 12 matrix M (row-major) of a light of spectral power `light` (W/nm per lumen, or W/nm): XYZ ≈ M · r at the
 * sample wavelengths; Y in lumen-like units, 683.002·Σ s·ȳ·5. Exact for constant reflectance. How good: samples.test.ts leaves out each published set in turn and
 * judges the fit on it. Under 0.1 ms.
 */
export function fitMatrix(light: Spectrum, P: Float64Array = BASIS): Float64Array {
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
