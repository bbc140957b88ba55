/** The black body. */
import type { Spectrum } from './spectrum.ts';
import { spectrumOf } from './spectrum.ts';
import type { Chromaticity } from './xyz.ts';
import { xyOf, xyzOfFunction } from './xyz.ts';

/** Second radiation constant of colorimetry, m·K [CIE-15]; CODATA 2018 has 1.438777e-2. */
export const C2 = 1.4388e-2;

/** Spectral power of a black body at `nm`, relative to its value at 560 nm. */
export const planckAt = (cctK: number, nm: number): number => {
  const x = C2 / (nm * 1e-9 * cctK);
  const x560 = C2 / (560e-9 * cctK);
  return (560 / nm) ** 5 * (Math.expm1(x560) / Math.expm1(x));
};

/** A black body's spectrum, 1 at 560 nm. */
export const planck = (cctK: number): Spectrum => spectrumOf((nm) => planckAt(cctK, nm));

/** Chromaticity of the black body, 1 nm sums over 360–830 nm. */
export const planckXy = (cctK: number): Chromaticity => xyOf(xyzOfFunction((nm) => planckAt(cctK, nm)));
