/**
 * A spectrum: 81 values at 380, 385 … 780 nm. What a value means (reflectance 0–1, transmittance 0–1,
 * spectral power in W/nm per lumen …) is said where it is used.
 */
export type Spectrum = Float64Array;

export const SPECTRUM_LENGTH = 81;
export const FIRST_NM = 380;
export const STEP_NM = 5;
export const WAVELENGTHS_NM: readonly number[] = Array.from(
  { length: SPECTRUM_LENGTH },
  (_, i) => FIRST_NM + STEP_NM * i,
);

/**
 * The 12 wavelengths at which reflectances are multiplied along a path. Chosen by search against products
 * of measured reflectances; averaging over bands instead gets products wrong (ARCHITECTURE.md).
 */
export const SAMPLE_NM = [430, 450, 470, 490, 515, 540, 565, 585, 605, 630, 660, 710] as const;
export const SAMPLES = SAMPLE_NM.length;

export const spectrumOf = (f: (nm: number) => number): Spectrum =>
  Float64Array.from(WAVELENGTHS_NM, (nm) => f(nm));

export const constant = (value: number): Spectrum => new Float64Array(SPECTRUM_LENGTH).fill(value);

/** The spectrum's values at the 12 sample wavelengths (all are multiples of 5 nm: no interpolation). */
export const atSamples = (s: Spectrum): Float64Array =>
  Float64Array.from(SAMPLE_NM, (nm) => s[(nm - FIRST_NM) / STEP_NM]!);

export const product = (a: Spectrum, b: Spectrum): Spectrum => a.map((v, i) => v * b[i]!);
