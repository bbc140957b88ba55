/** Shapes against solid geometry (Euclid's formulas; divergence theorem for volumes). */
import { expect, test } from 'vitest';
import type { Vec3 } from '../maths/vec3.ts';
import { bar, box, cylinder, lathe, marks, panel, pipe, sheet, sweep } from './build.ts';
import { measure } from './measure.ts';
import { bodyOf, type Draft, draft, upright } from './mesh.ts';

const part = { id: 'x', words: 'x', kind: 'furniture', moving: false } as const;
const made = (work: (d: Draft) => void, d = draft(upright([1, 2, 3], 0.7))) => {
  work(d);
  return measure(bodyOf(d, part));
};

test('boxes of every thinness: area, volume, closed, patches no larger than asked', () => {
  for (const [x, y, z] of [
    [1.3, 0.9, 0.7],
    [1.3, 0.9, 0.03],
    [0.9, 0.015, 1.3],
    [0.018, 0.7, 1.3],
    [1.1, 0.8, 0.01],
    [0.05, 0.05, 0.71],
    [0.1, 1.2, 0.12],
    [0.1, 0.05, 0.12],
    [0.02, 0.01, 0.03],
  ] as Vec3[]) {
    const m = made((d) => box(d, [0, 0, 0], [x, y, z], 0));
    expect(m.areaM2).toBeCloseTo(2 * (x * y + y * z + z * x), 5);
    expect(m.volumeM3).toBeCloseTo(x * y * z, 5);
    expect(m.gapM2).toBeLessThan(1e-6);
    expect(m.worstNormal).toBeGreaterThan(0.9999);
    // Turned by 0.7 rad: an upright cell of 25 cm is at most 25 cm × (cos + sin) wide.
    expect(m.widestPatchM).toBeLessThan(0.25 * (Math.cos(0.7) + Math.sin(0.7)) + 0.1);
  }
});

test('a panel’s holes have their size', () => {
  const m = made((d) =>
    panel(d, [0, 0, 0], [3, 0, 0], [0, 0, 2.4], 0, {
      holes: [
        { u0: 0.31, u1: 1.17, v0: 0, v1: 2.03 },
        { u0: 1.5, u1: 2.7, v0: 0.9, v1: 1.95 },
      ],
    }),
  );
  expect(m.areaM2).toBeCloseTo(3 * 2.4 - 0.86 * 2.03 - 1.2 * 1.05, 5);
  expect(marks(1, [0.3], 0.25)).toEqual([0, 0.15, 0.3, 0.3 + 0.7 / 3, 0.3 + 1.4 / 3, 1]);
});

test('round bars and turned shapes are prisms and frusta of n sides', () => {
  const n = 20;
  // Area of a regular n-gon of circumradius r.
  const gon = (r: number) => (n / 2) * r * r * Math.sin((2 * Math.PI) / n);
  const bars = made((d) => cylinder(d, [0, 0, 0], [0.3, 0.4, 1.2], 0.2, 0, { sides: n }));
  expect(bars.volumeM3).toBeCloseTo(gon(0.2) * 1.3, 5);
  expect(bars.gapM2).toBeLessThan(1e-6);
  const cone = made((d) => cylinder(d, [0, 0, 0], [0, 0, 0.9], 0.3, 0, { sides: n, r1: 0.1 }));
  expect(cone.volumeM3).toBeCloseTo((0.9 / 3) * (gon(0.3) + gon(0.1) + Math.sqrt(gon(0.3) * gon(0.1))), 5);
  const ring = made((d) =>
    lathe(
      d,
      [
        [0.2, 0],
        [0.3, 0],
        [0.3, 0.1],
        [0.2, 0.1],
        [0.2, 0],
      ],
      0,
      { sides: n },
    ),
  );
  expect(ring.volumeM3).toBeCloseTo(0.1 * (gon(0.3) - gon(0.2)), 5);
  expect(ring.gapM2).toBeLessThan(1e-6);
  // Round shading: normals lean from the flats by at most half a side's angle.
  expect(bars.worstNormal).toBeGreaterThan(Math.cos(Math.PI / n) - 1e-4);
});

test('a slanted bar, a bent bar and a curved sheet are closed', () => {
  const slant = made((d) => bar(d, [0, 0, 0], [1, 2, 2], 0.1, 0.05, 0));
  expect(slant.volumeM3).toBeCloseTo(3 * 0.1 * 0.05, 5);
  const straight = made((d) =>
    sweep(
      d,
      [0, 1, 2, 3].map((k): Vec3 => [0, k / 4, k / 4]),
      [1, 0, 0],
      0.05,
      0.04,
      0,
    ),
  );
  expect(straight.volumeM3).toBeCloseTo(Math.SQRT2 * 0.75 * 0.05 * 0.04, 6);
  expect(straight.gapM2).toBeLessThan(1e-6);
  const rib = made((d) =>
    sweep(
      d,
      Array.from({ length: 20 }, (_, k): Vec3 => [0, Math.cos(k / 12), Math.sin(k / 12)]),
      [1, 0, 0],
      0.05,
      0.04,
      0,
    ),
  );
  expect(rib.gapM2).toBeLessThan(1e-6);
  expect(rib.volumeM3).toBeCloseTo((19 / 12) * 0.05 * 0.04, 4);
  const flat = made((d) => sheet(d, (u, v) => [u, v * 0.8, 0], 6, 4, 0.01, 0));
  expect(flat.volumeM3).toBeCloseTo(0.008, 6);
  expect(flat.gapM2).toBeLessThan(1e-6);
  const curved = made((d) => sheet(d, (u, v) => [Math.cos(u), v, Math.sin(u)], 24, 4, 0.02, 0));
  expect(curved.gapM2).toBeLessThan(1e-6);
  expect(Math.abs(curved.volumeM3)).toBeCloseTo(0.02, 2);
  expect(
    made((d) =>
      pipe(
        d,
        [
          [0, 0, 0],
          [0, 0, 1],
          [1, 0, 1],
        ],
        0.02,
        0,
      ),
    ).gapM2,
  ).toBeLessThan(1e-6);
});
