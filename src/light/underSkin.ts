/**
 * Light that goes into skin and comes out beside where it went in: how far, by wavelength, from the same spectrum that
 * says how much comes out at all. Diffusion: a dipole's total [JENSEN-2001], a profile normalised to it [CHRISTENSEN-2015].
 */
import { linearAt } from '../maths/interpolate.ts';
import { bisect } from '../maths/roots.ts';

/** Index of refraction taken for skin [JENSEN-2001]. */
const INDEX = 1.3;
/** Internal reflection at the boundary as a polynomial of the index [JENSEN-2001], and the factor it makes. */
const F_DR = -1.44 / INDEX ** 2 + 0.71 / INDEX + 0.668 + 0.0636 * INDEX;
const A_BOUNDARY = (1 + F_DR) / (1 - F_DR);

/**
 * Reduced scattering of skin, 1/mm: geometric mean of the two skins measured in [JENSEN-2001] (0.74 0.88 1.01 and 1.09
 * 1.59 1.79 for red, green, blue). They differ by half, and so may a face; at which wavelengths the three lie is ours.
 */
const SCATTERING_NM = [450, 540, 610];
const SCATTERING_PER_MM = [Math.sqrt(1.01 * 1.79), Math.sqrt(0.88 * 1.59), Math.sqrt(0.74 * 1.09)];

/** Diffuse reflectance of a half-space of reduced albedo α′, lit evenly: the dipole's total [JENSEN-2001 eq. 15]. */
export function dipoleReflectance(alpha: number): number {
  const root = Math.sqrt(3 * (1 - alpha));
  return (alpha / 2) * (1 + Math.exp((-4 / 3) * A_BOUNDARY * root)) * Math.exp(-root);
}

/** The reduced albedo that returns `reflectance` (0–1) of even light. */
export const albedoOf = (reflectance: number): number =>
  bisect((a) => dipoleReflectance(a) - Math.min(0.98, Math.max(0.001, reflectance)), 1e-6, 1 - 1e-9, 1e-10);

/** Diffuse mean free path, metres: 1 / √(3 σa (σa + σs′)), from what the skin returns at that wavelength. */
export function meanFreePathM(reflectance: number, nm: number): number {
  const s = linearAt(SCATTERING_NM, SCATTERING_PER_MM, nm);
  const alpha = albedoOf(reflectance);
  const total = s / alpha;
  return 1e-3 / Math.sqrt(3 * (total - s) * total);
}

/**
 * Length d of the normalised profile, metres, at `nm`: the mean free path over s = 3.5 + 100 (R − 0.33)⁴
 * [CHRISTENSEN-2015]. `reflectance`: 0–1.
 */
export const profileLengthM = (reflectance: number, nm: number): number =>
  meanFreePathM(reflectance, nm) / (3.5 + 100 * (reflectance - 0.33) ** 4);

/** Share of the light that comes out within `r` of where it went in: 1 − ¼ e^(−r/d) − ¾ e^(−r/3d) [CHRISTENSEN-2015]. */
export const within = (r: number, d: number): number =>
  1 - 0.25 * Math.exp(-r / d) - 0.75 * Math.exp(-r / (3 * d));

/** The profile itself, per square metre (integrates to 1 over the plane): (e^(−r/d) + e^(−r/3d)) / (8 π d r). */
export const profile = (r: number, d: number): number =>
  (Math.exp(-r / d) + Math.exp(-r / (3 * d))) / (8 * Math.PI * d * r);

/**
 * Widths (sigma, metres) of the bell curves that stand for every profile; the first is no spread at all. So that a
 * lamp's light is spread five times at most whatever the colours, and wavelengths are weights.
 */
export const SPREADS_M = [0, 0.12e-3, 0.35e-3, 0.9e-3, 2.2e-3, 5e-3];

/** Steps in which the half-normal law is taken, up to five times its scale. */
const STEPS = 500;

/**
 * What each of `SPREADS_M` counts for in the profile of length `d` (metres); they add up to 1. Not fitted: e^(−r/d) / (2π
 * d r) is a mixture of bell curves whose sigma follows the half-normal law of scale d (Laplace's integral); each sigma is
 * shared between the two widths it lies between. Held to the profile at a straight edge of light by a test.
 */
export function spreadShares(d: number): Float64Array {
  const out = new Float64Array(SPREADS_M.length);
  const last = SPREADS_M.length - 1;
  for (const [part, scale] of [
    [0.25, d],
    [0.75, 3 * d],
  ] as const) {
    const share = new Float64Array(SPREADS_M.length);
    let whole = 0;
    for (let k = 0; k < STEPS; k++) {
      const z = (5 * (k + 0.5)) / STEPS;
      const sigma = z * scale;
      const much = Math.exp((-z * z) / 2);
      whole += much;
      let j = 0;
      while (j < last && sigma >= SPREADS_M[j + 1]!) j++;
      const up = j === last ? 0 : (sigma - SPREADS_M[j]!) / (SPREADS_M[j + 1]! - SPREADS_M[j]!);
      share[j]! += much * (1 - up);
      if (j < last) share[j + 1]! += much * up;
    }
    for (let j = 0; j <= last; j++) out[j]! += (part * share[j]!) / whole;
  }
  return out;
}
