/** How true colours look under a light: CIE colour rendering, and similarity of spectra for cameras. */
import { linearAt } from '../maths/interpolate.ts';
import { cctOf } from './cct.ts';
import { daylight, daylightWeights, daylightXy } from './daylight.ts';
import { planck, planckAt } from './planck.ts';
import type { Spectrum } from './spectrum.ts';
import { product, WAVELENGTHS_NM } from './spectrum.ts';
import { S0_10NM, S1_10NM, S2_10NM } from './tables/daylight.ts';
import { CIE_TEST_COLOURS } from './tables/reflectances.ts';
import { uvOf, xyzOf } from './xyz.ts';

const TENS = Array.from({ length: 41 }, (_, i) => 380 + 10 * i);

/** Special indices R1–R14 and their general mean Ra over the first eight [CIE-13.3]. */
export interface ColourRendering {
  Ra: number;
  /** R1 … R14; `special[8]` is R9, strong red. */
  special: number[];
}

/**
 * CIE 13.3-1995: reference black body below 5000 K, CIE daylight from 5000 K, of the same correlated temperature.
 * Within 0.5 of published Ra and 2 of R9 from 5 nm tables.
 */
export function colourRendering(light: Spectrum): ColourRendering {
  const { cctK } = cctOf(xyzOf(light));
  const reference = cctK < 5000 ? planck(cctK) : daylight(cctK);
  const cd = ({ u, v }: { u: number; v: number }): { c: number; d: number } => ({
    c: (4 - u - 10 * v) / v,
    d: (1.708 * v + 0.404 - 1.481 * u) / v,
  });
  const whiteTest = xyzOf(light);
  const whiteRef = xyzOf(reference);
  const uvRef = uvOf(whiteRef);
  const k = cd(uvOf(whiteTest));
  const r = cd(uvRef);
  const star = (Y: number, u: number, v: number): [number, number, number] => {
    const W = 25 * Math.cbrt(Y) - 17;
    return [W, 13 * W * (u - uvRef.u), 13 * W * (v - uvRef.v)];
  };
  const special = CIE_TEST_COLOURS.map((values) => {
    const sample = Float64Array.from(values);
    const t = xyzOf(product(sample, light));
    const o = xyzOf(product(sample, reference));
    // Von Kries: the test white is taken to the reference white.
    const i = cd(uvOf(t));
    const c = (r.c / k.c) * i.c;
    const d = (r.d / k.d) * i.d;
    const q = 16.518 + 1.481 * c - d;
    const a = star((100 * t[1]) / whiteTest[1], (10.872 + 0.404 * c - 4 * d) / q, 5.52 / q);
    const uvO = uvOf(o);
    const b = star((100 * o[1]) / whiteRef[1], uvO.u, uvO.v);
    return 100 - 4.6 * Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
  });
  return { Ra: special.slice(0, 8).reduce((s, v) => s + v, 0) / 8, special };
}

/** A spectrum as a function of wavelength, zero outside what is known. */
const asFunction =
  (s: Spectrum): ((nm: number) => number) =>
  (nm) =>
    nm < 380 || nm > 780 ? 0 : linearAt(WAVELENGTHS_NM, s, nm);

/** Thirty 10 nm sums 380 … 670 by 1 nm trapezoids, scaled to one. */
function tenths(power: (nm: number) => number): number[] {
  const bins = Array.from({ length: 30 }, (_, b) => {
    let sum = 0;
    for (let k = -5; k <= 5; k++) sum += power(380 + 10 * b + k) * (Math.abs(k) === 5 ? 0.5 : 1);
    return sum;
  });
  const total = bins.reduce((s, v) => s + v, 0);
  return bins.map((v) => v / total);
}

/**
 * Spectral similarity index, unrounded, of a test to a reference, each a function of nm over 375–675 [SSI]. 100: the
 * same spectrum to any camera.
 */
export function similarity(test: (nm: number) => number, reference: (nm: number) => number): number {
  const t = tenths(test);
  const r = tenths(reference);
  const weight = (i: number): number =>
    i < 5 ? [12, 22, 32, 40, 44][i]! / 45 : i < 28 ? 1 : i === 28 ? 11 / 15 : 3 / 15;
  const d = t.map((v, i) => ((v - r[i]!) / (r[i]! + 1 / 30)) * weight(i));
  const at = (i: number): number => d[i] ?? 0;
  let sum = 0;
  for (let i = 0; i < 30; i++) sum += (0.22 * at(i - 1) + 0.56 * at(i) + 0.22 * at(i + 1)) ** 2;
  return 100 - 32 * Math.sqrt(sum);
}

/** Similarity of a light to the black body (below 4000 K) or daylight of its own temperature. */
export function similarityToIdeal(light: Spectrum): number {
  const T = Math.round(cctOf(xyzOf(light)).cctK);
  if (T < 4000) return similarity(asFunction(light), (nm) => planckAt(T, nm));
  const { m1, m2 } = daylightWeights(daylightXy(T));
  const tens = TENS.map((_, i) => S0_10NM[i]! + m1 * S1_10NM[i]! + m2 * S2_10NM[i]!);
  return similarity(asFunction(light), (nm) => linearAt(TENS, tens, nm));
}
