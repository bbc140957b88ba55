/** Spectral reflectances: from a colour and how much light it returns, neutrals, human skin. */
import { monotoneCubic } from '../maths/interpolate.ts';
import { solveBordered } from '../maths/linear.ts';
import { bisect } from '../maths/roots.ts';
import { dIlluminant } from './daylight.ts';
import type { RGB } from './rgb.ts';
import { rgbOfHex, xyzOfRgb } from './rgb.ts';
import type { Spectrum } from './spectrum.ts';
import { constant, SPECTRUM_LENGTH, spectrumOf } from './spectrum.ts';
import type { XYZ } from './xyz.ts';
import { xyzOf, xyzOfSurface } from './xyz.ts';

/** A grey that returns the same share `rho` (0–1) at every wavelength. */
export const neutral = (rho: number): Spectrum => constant(Math.min(1, Math.max(0, rho)));

let d65: Spectrum | undefined;
const daylight65 = (): Spectrum => {
  d65 ??= dIlluminant(6500);
  return d65;
};

/** Share of the light returned, as the eye weighs it, under D65. */
export const luminousReflectance = (r: Spectrum, light: Spectrum = daylight65()): number =>
  xyzOfSurface(r, light)[1];

/**
 * The smoothest curve between 0 and 1 with given XYZ (Y of white = 1) under D65: least squared slope of
 * z = artanh(2ρ − 1), by Newton steps on the Lagrange conditions [BURNS-2020] ('least hyperbolic tangent slope
 * squared'). Undefined if no such surface was found (too vivid for its lightness).
 */
export function smoothReflectance(xyz: XYZ): Spectrum | undefined {
  const n = SPECTRUM_LENGTH;
  asSeen ??= seenUnderDaylight();
  const { A, own, named } = asSeen;
  const target = xyz.map((v, k) => (v * own[k]!) / named[k]!);
  const z = new Float64Array(n).fill(Math.atanh(2 * Math.min(0.98, Math.max(0.02, xyz[1])) - 1));
  const lambda = new Float64Array(3);
  // The Lagrange conditions' matrix: three diagonals, bordered by the rows and columns of X, Y, Z.
  const diagonal = new Float64Array(n);
  const border = [0, 1, 2].map(() => new Float64Array(n));
  const F = new Float64Array(n + 3);
  for (let step = 0; step < 60; step++) {
    F.fill(0);
    for (let i = 0; i < n; i++) {
      // Slope term: D·z with D the second difference.
      const ends = i === 0 || i === n - 1;
      F[i] = (ends ? 2 : 4) * z[i]!;
      if (i > 0) F[i]! -= 2 * z[i - 1]!;
      if (i < n - 1) F[i]! -= 2 * z[i + 1]!;
      const th = Math.tanh(z[i]!);
      const d1 = (1 - th * th) / 2;
      const d2 = -th * (1 - th * th);
      let bent = ends ? 2 : 4;
      for (let k = 0; k < 3; k++) {
        const a = A[k]![i]!;
        F[i]! += d1 * a * lambda[k]!;
        bent += d2 * a * lambda[k]!;
        border[k]![i] = d1 * a;
        F[n + k]! += (a * (th + 1)) / 2;
      }
      diagonal[i] = bent;
    }
    for (let k = 0; k < 3; k++) F[n + k]! -= target[k]!;
    let delta: Float64Array;
    try {
      delta = solveBordered(diagonal, -2, border, F);
    } catch {
      return undefined;
    }
    // Damp wild first steps.
    let largest = 0;
    for (let i = 0; i < n; i++) largest = Math.max(largest, Math.abs(delta[i]!));
    const damp = largest > 1 ? 1 / largest : 1;
    for (let i = 0; i < n; i++) z[i]! -= damp * delta[i]!;
    for (let k = 0; k < 3; k++) lambda[k]! -= damp * delta[n + k]!;
    if (!Number.isFinite(largest)) return undefined;
    if (largest < 1e-9) return z.map((v) => (Math.tanh(v) + 1) / 2);
  }
  return undefined;
}

let asSeen: ReturnType<typeof seenUnderDaylight> | undefined;
/**
 * Rows of A: what each wavelength adds to X, Y, Z. `own` and `named`: white of this table's D65 and of the colour
 * space, so that a neutral asks for a flat curve.
 */
function seenUnderDaylight() {
  const light = daylight65();
  const white = xyzOf(light)[1];
  const unit = new Float64Array(SPECTRUM_LENGTH);
  const A = [0, 1, 2].map(() => new Float64Array(SPECTRUM_LENGTH));
  for (let i = 0; i < SPECTRUM_LENGTH; i++) {
    unit[i] = light[i]!;
    xyzOf(unit).forEach((v, k) => {
      A[k]![i] = v / white;
    });
    unit[i] = 0;
  }
  return { A, own: xyzOf(light).map((v) => v / white), named: xyzOfRgb([1, 1, 1]) };
}

const cache = new Map<string, Spectrum>();

/**
 * A smooth reflectance of the hue of `colour` (`#rrggbb` or linear BT.709) that returns `rho` (0–1) of D65 light as
 * the eye weighs it. A colour too vivid to exist at that lightness is made paler until it can.
 */
export function reflectanceFromColour(colour: string | RGB, rho: number): Spectrum {
  const rgb = typeof colour === 'string' ? (rgbOfHex(colour) ?? [1, 1, 1]) : colour;
  const key = `${rgb.join()}|${rho}`;
  const known = cache.get(key);
  if (known) return known.slice();
  const Y = Math.min(0.98, Math.max(0.002, rho));
  const xyz = xyzOfRgb(rgb);
  const grey = xyzOfRgb([Y, Y, Y]);
  let result: Spectrum | undefined;
  if (xyz[1] > 1e-9) {
    const full = xyz.map((v) => (v / xyz[1]) * Y);
    for (let keep = 1; keep > 0 && result === undefined; keep -= 0.05) {
      const tried: XYZ = [0, 1, 2].map((k) => grey[k]! + (full[k]! - grey[k]!) * keep) as [
        number,
        number,
        number,
      ];
      result = smoothReflectance(tried);
    }
  }
  result ??= neutral(Y);
  // Bounded memory: a shoot has a few dozen colours.
  if (cache.size > 500) cache.clear();
  cache.set(key, result);
  return result.slice();
}

/** Wavelengths of the skin table, nm. */
const SKIN_NM = [400, 420, 450, 480, 500, 540, 560, 575, 600, 620, 650, 700, 750];

/**
 * Mean forearm reflectance by class of skin, 100 people [NIST-SKIN], class limits by ITA (from memory). The sample
 * holds few dark skins.
 */
const SKIN: Record<'very-light' | 'light' | 'intermediate' | 'tan' | 'brown', readonly number[]> = {
  'very-light': [0.243, 0.232, 0.315, 0.375, 0.397, 0.374, 0.378, 0.378, 0.511, 0.584, 0.615, 0.649, 0.639],
  light: [0.193, 0.191, 0.263, 0.321, 0.341, 0.327, 0.332, 0.335, 0.461, 0.537, 0.573, 0.615, 0.611],
  intermediate: [0.133, 0.143, 0.2, 0.251, 0.272, 0.276, 0.286, 0.295, 0.401, 0.471, 0.516, 0.572, 0.581],
  tan: [0.086, 0.099, 0.136, 0.168, 0.187, 0.21, 0.227, 0.236, 0.321, 0.377, 0.426, 0.497, 0.533],
  brown: [0.066, 0.073, 0.095, 0.116, 0.129, 0.15, 0.164, 0.175, 0.232, 0.275, 0.322, 0.401, 0.457],
};

export type SkinClass = keyof typeof SKIN | 'dark' | 'very-dark';
export const SKIN_CLASSES: readonly SkinClass[] = [
  'very-light',
  'light',
  'intermediate',
  'tan',
  'brown',
  'dark',
  'very-dark',
];

/** Luminous reflectance asked of the two classes beyond the measured ones (from memory, [CHECKS-CAMERA §1.9]). */
const BEYOND = { dark: 0.1, 'very-dark': 0.055 };

export interface Skin {
  reflectance: Spectrum;
  /** Under D65. */
  luminousReflectance: number;
  /** Darker (or lighter) than any class measured: continued from the two nearest, a guess. */
  extrapolated: boolean;
}

const measured = (name: keyof typeof SKIN): Spectrum => {
  const curve = monotoneCubic(SKIN_NM, SKIN[name]);
  return spectrumOf(curve);
};

/**
 * Skin by class, or by its luminous reflectance under D65 (0–1). Between 13 measured wavelengths a curve that does
 * not overshoot; below 400 and above 750 nm the end values (ours). Between classes logarithms are mixed; darker than
 * 'brown' the step from tan to brown is continued in the logarithm (more of the same pigment) and flagged.
 */
export function skin(which: SkinClass | number): Skin {
  if (typeof which === 'string' && which !== 'dark' && which !== 'very-dark') {
    const reflectance = measured(which);
    return { reflectance, luminousReflectance: luminousReflectance(reflectance), extrapolated: false };
  }
  const asked = typeof which === 'number' ? which : BEYOND[which];
  const names = ['very-light', 'light', 'intermediate', 'tan', 'brown'] as const;
  const curves = names.map(measured);
  const Y = curves.map((c) => luminousReflectance(c));
  const target = Math.min(0.6, Math.max(0.02, asked));
  let i = 0;
  while (i < names.length - 2 && target < Y[i + 1]!) i++;
  const mixed = (t: number): Spectrum =>
    curves[i]!.map((v, k) =>
      Math.min(0.98, Math.exp(Math.log(v) * (1 - t) + Math.log(curves[i + 1]![k]!) * t)),
    );
  const t = bisect((s) => luminousReflectance(mixed(s)) - target, -3, 12, 1e-10);
  const reflectance = mixed(t);
  return {
    reflectance,
    luminousReflectance: luminousReflectance(reflectance),
    extrapolated: target < Y[names.length - 1]! - 1e-6 || target > Y[0]! + 1e-6,
  };
}
