/** Rounded boxes against the volume and area that geometry books give for a box with edges of radius r (Steiner's formula). */
import { expect, test } from 'vitest';
import { neutral } from '../colour/reflectance.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { cushion, pillow } from './furniture/soft.ts';
import { measure } from './measure.ts';
import { bodyOf, type Draft, draft, slotOf } from './mesh.ts';
import { roundBox } from './roundBox.ts';

const made = (build: (d: Draft, slot: number) => void) => {
  const d = draft();
  build(d, slotOf(d, { name: 'm', reflectance: neutral(0.5), kind: 'opaque' }));
  return measure(bodyOf(d, { id: 'x', words: 'x', kind: 'furniture', moving: false }));
};
const lo: Vec3 = [-0.4, -0.3, 0];
const hi: Vec3 = [0.4, 0.3, 0.5];

test('volume and area of the inner box grown by r: Steiner 1840, as many strips bring it within one per cent', () => {
  const r = 0.1;
  const [a, b, c] = [0.6, 0.4, 0.3];
  const volume =
    a * b * c + 2 * r * (a * b + b * c + c * a) + Math.PI * r * r * (a + b + c) + (4 / 3) * Math.PI * r ** 3;
  const area = 2 * (a * b + b * c + c * a) + 2 * Math.PI * r * (a + b + c) + 4 * Math.PI * r * r;
  for (const [steps, within] of [
    [1, 0.05],
    [4, 0.005],
  ] as const) {
    const m = made((d, s) => roundBox(d, lo, hi, r, s, { steps }));
    expect(m.gapM2).toBeLessThan(1e-6);
    expect(Math.abs(m.volumeM3 / volume - 1)).toBeLessThan(within);
    expect(Math.abs(m.areaM2 / area - 1)).toBeLessThan(within);
    // One strip turns by 45°; three of them meet in a corner.
    expect(m.worstNormal).toBeGreaterThan(Math.cos((45 * Math.PI) / 180));
    lo.forEach((v, k) => {
      expect(m.lo[k]!).toBeCloseTo(v, 5);
      expect(m.hi[k]!).toBeCloseTo(hi[k]!, 5);
    });
  }
});

test('where a face is left out the sides go straight down to it', () => {
  const m = made((d, s) => roundBox(d, lo, hi, 0.05, s, { without: ['z-'] }));
  expect(m.lo[2]).toBeCloseTo(0, 6);
  // The hole is the foot less its corners: each quarter circle is drawn by two chords of 45°, whose sectors have r² sin 45°.
  expect(m.gapM2).toBeCloseTo(0.8 * 0.6 - 4 * (1 - Math.SQRT1_2) * 0.05 ** 2, 5);
});

test('cushions are open only where they lie, pillows closed; they keep to their box, and their normals look the way of their faces', () => {
  for (const up of [0, 2] as const) {
    const m = made((d, s) => cushion(d, lo, hi, s, { up, fullM: 0.03, seed: 2 }));
    // The side it lies on or leans with is left out; corners of that are rounded off.
    const broad = up === 2 ? 0.8 * 0.6 : 0.6 * 0.5;
    expect(m.gapM2).toBeLessThan(broad);
    expect(m.gapM2).toBeGreaterThan(0.9 * broad);
    lo.forEach((v, k) => {
      expect(m.lo[k]!).toBeGreaterThan(v - 1e-6);
      expect(m.hi[k]!).toBeLessThan(hi[k]! + 1e-6);
    });
    expect(m.worstNormal).toBeGreaterThan(0.8);
  }
  const m = made((d, s) => pillow(d, [0, 0, 0], [0.45, 0.65, 0.14], s));
  expect(m.gapM2).toBeLessThan(1e-3);
  expect(m.hi[2]).toBeLessThan(0.15);
  expect(m.widestPatchM).toBeLessThan(0.3);
});
