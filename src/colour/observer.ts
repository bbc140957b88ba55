/** The standard observer: what a spectrum is to the eye. */
import type { Spectrum } from './spectrum.ts';
import { FIRST_NM, SPECTRUM_LENGTH, STEP_NM } from './spectrum.ts';
import { X_BAR_1NM, Y_BAR_1NM, Z_BAR_1NM } from './tables/observer1nm.ts';

/** lm/W at the peak of V(λ): 683.002, the 555 nm value of the definition at 540 THz [CIE-018]. */
export const LUMENS_PER_WATT = 683.002;

export const FIRST_1NM = 360;

const every5 = (table: readonly number[]): Spectrum =>
  Float64Array.from({ length: SPECTRUM_LENGTH }, (_, i) => table[FIRST_NM - FIRST_1NM + STEP_NM * i]!);

/** CIE 1931 2° functions at 380 … 780 nm by 5 nm [CIE-1931]. */
export const X_BAR: Spectrum = every5(X_BAR_1NM);
export const Y_BAR: Spectrum = every5(Y_BAR_1NM);
export const Z_BAR: Spectrum = every5(Z_BAR_1NM);
