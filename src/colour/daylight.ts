/** CIE daylight, 4000–25 000 K [CIE-15 §4.1.2]. */
import { linearAt } from '../maths/interpolate.ts';
import type { Spectrum } from './spectrum.ts';
import { spectrumOf } from './spectrum.ts';
import { S0_10NM, S1_10NM, S2_10NM } from './tables/daylight.ts';
import type { Chromaticity } from './xyz.ts';

/** Chromaticity of daylight of `cctK` (held to 4000–25 000 K, where the polynomial is defined). */
export function daylightXy(cctK: number): Chromaticity {
  const T = Math.min(25000, Math.max(4000, cctK));
  const t = 1e3 / T;
  const x =
    T <= 7000
      ? -4.607 * t ** 3 + 2.9678 * t ** 2 + 0.09911 * t + 0.244063
      : -2.0064 * t ** 3 + 1.9018 * t ** 2 + 0.24748 * t + 0.23704;
  return { x, y: -3 * x * x + 2.87 * x - 0.275 };
}

/** Weights of S1 and S2. */
export function daylightWeights({ x, y }: Chromaticity): { m1: number; m2: number } {
  const m = 0.0241 + 0.2562 * x - 0.7341 * y;
  return { m1: (-1.3515 - 1.7703 * x + 5.9114 * y) / m, m2: (0.03 - 31.4424 * x + 30.0717 * y) / m };
}

const TENS = Array.from({ length: 41 }, (_, i) => 380 + 10 * i);

/** Spectrum of daylight, 100 at 560 nm. `rounded`: weights to three decimals as the CIE's own tables have them. */
export function daylight(cctK: number, rounded = false): Spectrum {
  let { m1, m2 } = daylightWeights(daylightXy(cctK));
  if (rounded) {
    m1 = Math.round(m1 * 1000) / 1000;
    m2 = Math.round(m2 * 1000) / 1000;
  }
  const tens = TENS.map((_, i) => S0_10NM[i]! + m1 * S1_10NM[i]! + m2 * S2_10NM[i]!);
  return spectrumOf((nm) => linearAt(TENS, tens, nm));
}

/** D50, D55, D65, D75: their nominal temperature by the constant of 1968, e.g. 6500·1.4388/1.438. */
export const dIlluminant = (nominalK: number): Spectrum => daylight((nominalK * 1.4388) / 1.438, true);
