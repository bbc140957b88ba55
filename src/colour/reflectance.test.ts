import fc from 'fast-check';
import { expect, test } from 'vitest';
import { illuminant } from './illuminants.ts';
import { planck } from './planck.ts';
import {
  luminousReflectance,
  neutral,
  reflectanceFromColour,
  SKIN_CLASSES,
  skin,
  smoothReflectance,
} from './reflectance.ts';
import { rgbOfXyz, xyzOfRgb } from './rgb.ts';
import { xyzOfSurface } from './xyz.ts';

test('a colour comes back from its smooth reflectance under D65, between 0 and 1', () => {
  const c = fc.double({ min: 0.05, max: 0.9, noNaN: true });
  fc.assert(
    fc.property(c, c, c, (r, g, b) => {
      const s = smoothReflectance(xyzOfRgb([r, g, b]));
      // Vivid light colours may have no surface.
      if (s === undefined) return;
      expect(s.every((v) => v >= 0 && v <= 1)).toBe(true);
      const back = rgbOfXyz(xyzOfSurface(s, illuminant('D65')));
      // 5 nm D65 differs from the named white by 1e-4.
      [r, g, b].forEach((v, k) => {
        expect(Math.abs(back[k]! - v)).toBeLessThan(2e-3);
      });
    }),
    { seed: 6, numRuns: 60 },
  );
});

test('most of the colour cube has a surface', () => {
  let found = 0;
  let all = 0;
  for (const r of [0.05, 0.35, 0.7]) {
    for (const g of [0.05, 0.35, 0.7]) {
      for (const b of [0.05, 0.35, 0.7]) {
        all++;
        if (smoothReflectance(xyzOfRgb([r, g, b])) !== undefined) found++;
      }
    }
  }
  expect(found).toBe(all);
});

test('the asked luminous reflectance is kept, a grey is flat, a too vivid colour grows paler but keeps it', () => {
  expect(luminousReflectance(reflectanceFromColour('#c04030', 0.2))).toBeCloseTo(0.2, 4);
  const grey = reflectanceFromColour('#808080', 0.42);
  expect(Math.max(...grey) - Math.min(...grey)).toBeLessThan(1e-3);
  const vivid = reflectanceFromColour('#0000ff', 0.6);
  expect(luminousReflectance(vivid)).toBeCloseTo(0.6, 3);
  expect(vivid.every((v) => v >= 0 && v <= 1)).toBe(true);
  expect(luminousReflectance(reflectanceFromColour('#000000', 0.05))).toBeCloseTo(0.05, 6);
  expect(neutral(0.18).every((v) => v === 0.18)).toBe(true);
});

test('the colour asked is not shared with the caller: changing one copy changes no other', () => {
  const a = reflectanceFromColour('#335577', 0.2);
  a[0] = 9;
  expect(reflectanceFromColour('#335577', 0.2)[0]).not.toBe(9);
});

test('skins: class means of the published data, tungsten lifts them about 5 % [NIST-SKIN, class Y computed]', () => {
  const published = {
    'very-light': 0.419,
    light: 0.371,
    intermediate: 0.316,
    tan: 0.244,
    brown: 0.176,
  } as const;
  for (const [name, Y] of Object.entries(published)) {
    const s = skin(name as keyof typeof published);
    // Thirteen wavelengths of 81 are known: within 1 %.
    expect(Math.abs(s.luminousReflectance / Y - 1)).toBeLessThan(0.01);
    expect(s.extrapolated).toBe(false);
  }
  const light = skin('light');
  expect(luminousReflectance(light.reflectance, planck(3200)) / light.luminousReflectance).toBeCloseTo(
    1.05,
    2,
  );
});

test('every class is darker than the one before; beyond the measured ones it says so', () => {
  const Y = SKIN_CLASSES.map((c) => skin(c).luminousReflectance);
  for (let i = 1; i < Y.length; i++) expect(Y[i]!).toBeLessThan(Y[i - 1]!);
  expect(skin('very-dark').extrapolated).toBe(true);
  expect(skin('dark').luminousReflectance).toBeCloseTo(0.1, 4);
  expect(skin(0.07).extrapolated).toBe(true);
  expect(skin(0.3)).toMatchObject({ extrapolated: false });
  expect(skin(0.3).luminousReflectance).toBeCloseTo(0.3, 4);
  expect(skin(0.05).reflectance.every((v) => v > 0 && v < 1)).toBe(true);
});
