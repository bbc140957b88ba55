/** Tristimulus values: sums over the spectrum, and chromaticities. */
import { LUMENS_PER_WATT, X_BAR, Y_BAR, Z_BAR } from './observer.ts';
import type { Spectrum } from './spectrum.ts';
import { SPECTRUM_LENGTH, STEP_NM } from './spectrum.ts';
import { X_BAR_1NM, Y_BAR_1NM, Z_BAR_1NM } from './tables/observer1nm.ts';

export type XYZ = readonly [number, number, number];

/**
 * XYZ of spectral power per nm (W/nm …): 683.002·Σ s·x̄·5 and so on; Y comes in lumen-like units. Sums by 5 nm, as
 * the CIE allows; lines narrower than that are as good as their table.
 */
export function xyzOf(s: Spectrum): XYZ {
  let X = 0;
  let Y = 0;
  let Z = 0;
  for (let i = 0; i < SPECTRUM_LENGTH; i++) {
    X += s[i]! * X_BAR[i]!;
    Y += s[i]! * Y_BAR[i]!;
    Z += s[i]! * Z_BAR[i]!;
  }
  const k = LUMENS_PER_WATT * STEP_NM;
  return [k * X, k * Y, k * Z];
}

/** XYZ of a surface of reflectance `r` under `light`, relative to a perfect white with Y = `whiteY`. */
export function xyzOfSurface(r: Spectrum, light: Spectrum, whiteY = 1): XYZ {
  const white = luminousOf(light);
  const [X, Y, Z] = xyzOf(r.map((v, i) => v * light[i]!));
  return [(X / white) * whiteY, (Y / white) * whiteY, (Z / white) * whiteY];
}

/** Luminous value of spectral power per nm: lm if W/nm. */
export const luminousOf = (s: Spectrum): number => xyzOf(s)[1];

/** XYZ by 1 nm sums over 360–830 nm of a function of wavelength; Y in lumen-like units as above. */
export function xyzOfFunction(power: (nm: number) => number): XYZ {
  let X = 0;
  let Y = 0;
  let Z = 0;
  for (let i = 0; i < X_BAR_1NM.length; i++) {
    const p = power(360 + i);
    X += p * X_BAR_1NM[i]!;
    Y += p * Y_BAR_1NM[i]!;
    Z += p * Z_BAR_1NM[i]!;
  }
  return [LUMENS_PER_WATT * X, LUMENS_PER_WATT * Y, LUMENS_PER_WATT * Z];
}

export interface Chromaticity {
  x: number;
  y: number;
}

export const xyOf = ([X, Y, Z]: XYZ): Chromaticity => ({ x: X / (X + Y + Z), y: Y / (X + Y + Z) });

/** XYZ of a chromaticity at luminance `Y`. */
export const xyzOfXy = ({ x, y }: Chromaticity, Y = 1): XYZ => [(x / y) * Y, Y, ((1 - x - y) / y) * Y];

/** CIE 1960 u, v: the plane in which correlated colour temperature is defined. */
export const uvOf = ([X, Y, Z]: XYZ): { u: number; v: number } => {
  const d = X + 15 * Y + 3 * Z;
  return { u: (4 * X) / d, v: (6 * Y) / d };
};

export const uvOfXy = ({ x, y }: Chromaticity): { u: number; v: number } => {
  const d = -2 * x + 12 * y + 3;
  return { u: (4 * x) / d, v: (6 * y) / d };
};

export const xyOfUv = (u: number, v: number): Chromaticity => {
  const d = 2 * u - 8 * v + 4;
  return { x: (3 * u) / d, y: (2 * v) / d };
};
