/** Encodings, differences and adaptation against colorjs.io, a general colour library. */
import Color from 'colorjs.io';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { adaptation } from './cat.ts';
import { deltaE2000, labOf, xyzOfLab } from './lab.ts';
import {
  D65_WHITE,
  decodeSrgb,
  encodeSrgb,
  hexOf,
  inverseOetf709,
  oetf709,
  rgbOfHex,
  rgbOfXyz,
  srgbBytesOfXyz,
  xyzOfRgb,
} from './rgb.ts';
import type { XYZ } from './xyz.ts';

const unit = fc.double({ min: 0, max: 1, noNaN: true });
const near = (got: readonly number[], want: readonly (number | null)[], digits: number): void => {
  want.forEach((w, i) => {
    expect(got[i]!).toBeCloseTo(w ?? 0, digits);
  });
};

test('sRGB to XYZ and back as colorjs.io has it', () => {
  fc.assert(
    fc.property(unit, unit, unit, (r, g, b) => {
      const xyz = xyzOfRgb([decodeSrgb(r), decodeSrgb(g), decodeSrgb(b)]);
      near(xyz, new Color('srgb', [r, g, b]).to('xyz-d65').coords, 6);
      near(rgbOfXyz(xyz).map(encodeSrgb), [r, g, b], 6);
    }),
    { seed: 1, numRuns: 200 },
  );
});

test('Lab under D65 as colorjs.io has it; differences are the same both ways', () => {
  fc.assert(
    fc.property(fc.array(unit, { minLength: 6, maxLength: 6 }), (v) => {
      const one = new Color('srgb', [v[0]!, v[1]!, v[2]!]);
      const two = new Color('srgb', [v[3]!, v[4]!, v[5]!]);
      const ours = [one, two].map((c) => {
        const [r, g, b] = c.coords;
        return labOf(xyzOfRgb([decodeSrgb(r ?? 0), decodeSrgb(g ?? 0), decodeSrgb(b ?? 0)]), D65_WHITE);
      });
      near(ours[0]!, one.to('lab-d65').coords, 3);
      near(xyzOfLab(ours[1]!, D65_WHITE), two.to('xyz-d65').coords, 6);
      expect(deltaE2000(ours[0]!, ours[1]!)).toBeCloseTo(deltaE2000(ours[1]!, ours[0]!), 9);
    }),
    { seed: 2, numRuns: 200 },
  );
});

test('CIEDE2000 on D50 Lab as colorjs.io computes it', () => {
  fc.assert(
    fc.property(fc.array(unit, { minLength: 6, maxLength: 6 }), (v) => {
      const one = new Color('srgb', [v[0]!, v[1]!, v[2]!]).to('lab');
      const two = new Color('srgb', [v[3]!, v[4]!, v[5]!]).to('lab');
      const lab = (c: Color): [number, number, number] => [
        c.coords[0] ?? 0,
        c.coords[1] ?? 0,
        c.coords[2] ?? 0,
      ];
      expect(deltaE2000(lab(one), lab(two))).toBeCloseTo(one.deltaE(two, '2000'), 6);
    }),
    { seed: 3, numRuns: 200 },
  );
});

test('D65 to D50 by Bradford as colorjs.io has it; the white lands on the white', () => {
  const d50 = new Color('srgb', [1, 1, 1]).to('xyz-d50').coords.map((c) => c ?? 0);
  const to: XYZ = [d50[0]!, d50[1]!, d50[2]!];
  const m = adaptation(D65_WHITE, to);
  fc.assert(
    fc.property(unit, unit, unit, (r, g, b) => {
      const xyz = xyzOfRgb([decodeSrgb(r), decodeSrgb(g), decodeSrgb(b)]);
      const want = new Color('srgb', [r, g, b]).to('xyz-d50').coords;
      const got = [0, 1, 2].map((i) => m[3 * i]! * xyz[0] + m[3 * i + 1]! * xyz[1] + m[3 * i + 2]! * xyz[2]);
      near(got, want, 5);
    }),
    { seed: 4, numRuns: 100 },
  );
});

test('curves invert; the two branches of BT.709 are each tested at the joint', () => {
  fc.assert(
    fc.property(unit, (L) => {
      expect(decodeSrgb(encodeSrgb(L))).toBeCloseTo(L, 9);
      if (Math.abs(L - 0.018) > 1e-3) expect(inverseOetf709(oetf709(L))).toBeCloseTo(L, 9);
    }),
    { seed: 5 },
  );
  expect(oetf709(0.018)).toBeCloseTo(0.081248, 6);
  expect(oetf709(0.018 - 1e-12)).toBeCloseTo(0.081, 6);
});

test('bytes and hex', () => {
  expect(srgbBytesOfXyz(D65_WHITE)).toEqual([255, 255, 255]);
  expect(srgbBytesOfXyz([0, 0, 0])).toEqual([0, 0, 0]);
  expect(hexOf([1, 0.5, 0])).toBe('#ff8000');
  expect(rgbOfHex('no')).toBeUndefined();
  expect(rgbOfHex('#ffffff')).toEqual([1, 1, 1]);
});
