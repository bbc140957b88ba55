/** Light under skin against the published skins and the closed forms of the profile. */
import { expect, test } from 'vitest';
import { SKIN_CLASSES, skin } from '../colour/reflectance.ts';
import {
  dipoleReflectance,
  meanFreePathM,
  profile,
  profileLengthM,
  SPREADS_M,
  spreadShares,
  within,
} from './underSkin.ts';

// [JENSEN-2001] figure 5: reduced scattering and absorption, 1/mm, and the diffuse reflectance printed beside them.
const JENSEN = [
  { s: [0.74, 0.88, 1.01], a: [0.032, 0.17, 0.48], r: [0.44, 0.22, 0.13] },
  { s: [1.09, 1.59, 1.79], a: [0.013, 0.07, 0.145], r: [0.63, 0.44, 0.34] },
];

test('the dipole returns what is printed for two skins', () => {
  for (const { s, a, r } of JENSEN)
    s.forEach((scatter, c) => {
      // Printed to two places.
      expect(Math.abs(dipoleReflectance(scatter / (scatter + a[c]!)) - r[c]!)).toBeLessThan(0.011);
    });
});

test('a mean free path lies between those of the two skins measured, where its reflectance does', () => {
  // Red, half way between 0.44 and 0.63: by the printed coefficients 3.67 and 8.4 mm.
  const free = (s: number, a: number) => 1e-3 / Math.sqrt(3 * a * (a + s));
  const red = meanFreePathM(0.535, 610);
  expect(red).toBeGreaterThan(free(0.74, 0.032));
  expect(red).toBeLessThan(free(1.09, 0.013));
});

test('the profile and its shares add up to one', () => {
  for (const d of [0.0001, 0.0004, 0.0013]) {
    let sum = 0;
    const step = d / 400;
    for (let r = step / 2; r < 40 * d; r += step) {
      sum += profile(r, d) * 2 * Math.PI * r * step;
      if (Math.abs(r - 2 * d) < step) expect(sum).toBeCloseTo(within(r + step / 2, d), 3);
    }
    expect(sum).toBeCloseTo(1, 4);
    expect(spreadShares(d).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  }
});

/** Share of a round profile that comes out beyond a straight line `x` from where it went in, by its cumulative integral. */
function beyond(x: number, d: number): number {
  const steps = 4000;
  let sum = 0;
  let before = 0;
  for (let i = 1; i <= steps; i++) {
    const inside = within(60 * d * (i / steps) ** 2, d);
    const r = 60 * d * ((i - 0.5) / steps) ** 2;
    if (r > x) sum += (inside - before) * (Math.acos(x / r) / Math.PI);
    before = inside;
  }
  return sum;
}

/** The normal law's tail, by its own integral. */
function tail(x: number, sigma: number): number {
  if (sigma === 0) return x > 0 ? 0 : 0.5;
  let sum = 0;
  const step = sigma / 200;
  for (let v = x + step / 2; v < x + 9 * sigma; v += step)
    sum += (Math.exp((-v * v) / (2 * sigma * sigma)) / (sigma * Math.sqrt(2 * Math.PI))) * step;
  return sum;
}

test('at a straight edge of light the bell curves stand for the profile, for every skin and wavelength', () => {
  let worst = 0;
  for (const name of SKIN_CLASSES)
    for (const nm of [450, 540, 610, 660]) {
      const d = profileLengthM(skin(name).reflectance[(nm - 380) / 5]!, nm);
      const shares = spreadShares(d);
      // From where a pixel of a close-up can tell: a quarter of a millimetre.
      for (const x of [0.25e-3, 0.5e-3, 1e-3, 2e-3, 4e-3, 8e-3]) {
        const ours = shares.reduce((sum, w, j) => sum + w * tail(x, SPREADS_M[j]!), 0);
        worst = Math.max(worst, Math.abs(ours - beyond(x, d)));
      }
    }
  // A hundredth and a half of the light: less than a code value's step in the shade.
  expect(worst).toBeLessThan(0.016);
});

test('red goes farther than green, green than blue, in every skin', () => {
  for (const name of SKIN_CLASSES) {
    const at = (nm: number) => profileLengthM(skin(name).reflectance[(nm - 380) / 5]!, nm);
    expect(at(650)).toBeGreaterThan(at(540));
    expect(at(540)).toBeGreaterThan(at(450));
  }
});
