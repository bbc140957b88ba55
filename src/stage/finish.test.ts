/** Finishes as materials. */
import { expect, test } from 'vitest';
import { dIlluminant } from '../colour/daylight.ts';
import { luminousReflectance } from '../colour/reflectance.ts';
import { rgbOfHex, xyzOfRgb } from '../colour/rgb.ts';
import { xyzOfSurface } from '../colour/xyz.ts';
import { materialOf } from './finish.ts';

test('a finish that passes light is a sheet, and never gives back more than it gets', () => {
  const net = materialOf({ words: 'net', reflectance: 0.35, passes: 0.5 });
  expect(net.kind).toBe('sheet');
  expect(net.straight).toBe(0.5);
  expect(materialOf({ reflectance: 0.7, passes: 0.6 }).straight).toBeCloseTo(0.3, 12);
  expect(materialOf({ reflectance: 0.7, passes: 0 }).kind).toBe('opaque');
});

test('a metal’s gloss has its colour and the lightness that was told; others’ gloss is white', () => {
  const told = { reflectance: 0.02, colour: '#ffe29b', glossF0: 0.6, roughness: 0.3 };
  const brass = materialOf({ ...told, metal: true }).gloss!;
  const own = brass.tint!.map((v) => v * brass.f0);
  expect(luminousReflectance(own)).toBeCloseTo(0.6, 2);
  expect(Math.max(...brass.tint!)).toBe(1);
  // Under its own daylight the curve has the hue of the colour that was told.
  const [x, y, z] = xyzOfSurface(own, dIlluminant(6500));
  const [r, g, b] = xyzOfRgb(rgbOfHex('#ffe29b')!);
  expect(x / y).toBeCloseTo(r / g, 1);
  expect(z / y).toBeCloseTo(b / g, 1);
  expect(materialOf(told).gloss).toEqual({ f0: 0.6, roughness: 0.3 });
});
