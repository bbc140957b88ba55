/** Cloth near the lens: geometry of the finer surface, and that folds are what was baked. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { FOLD_STEP_M, finer, finerPlaces, fold } from './cloth.ts';
import { decodePeople, type Garment } from './decode.ts';

const data = decodePeople(
  new Uint8Array(readFileSync(new URL('../../../data/people/people.bin', import.meta.url))),
);

/** An octahedron on the unit sphere as if it were a garment. */
const level = { triangles: new Uint16Array(0), slot: new Uint8Array(0) };
const ball: Garment = {
  triangles: Uint16Array.from([0, 2, 4, 2, 1, 4, 1, 3, 4, 3, 0, 4, 2, 0, 5, 1, 2, 5, 3, 1, 5, 0, 3, 5]),
  slot: new Uint8Array(8),
  slots: ['top'],
  bones: new Uint8Array(24),
  amounts: new Uint8Array(24),
  medium: level,
  far: level,
};
const corners = Float32Array.from([1, 0, 0, -1, 0, 0, 0, 1, 0, 0, -1, 0, 0, 0, 1, 0, 0, -1]);

test('each triangle in four: Euler’s count holds, no edge is split twice', () => {
  const f = finer(ball);
  expect(f.triangles.length / 3).toBe(32);
  // V − E + F = 2 with E = 3F/2 on a closed surface.
  expect(f.count - 48 + 32).toBe(2);
  const edges = new Map<string, number>();
  for (let t = 0; t < f.triangles.length; t += 3)
    for (let k = 0; k < 3; k++) {
      const key = `${f.triangles[t + k]}>${f.triangles[t + ((k + 1) % 3)]}`;
      edges.set(key, (edges.get(key) ?? 0) + 1);
    }
  for (const [key, n] of edges) {
    expect(n).toBe(1);
    expect(edges.has(key.split('>').reverse().join('>'))).toBe(true);
  }
});

test('a halved edge of a ball lies near the ball, not on the chord', () => {
  const f = finer(ball);
  const p = finerPlaces(f, corners, corners);
  // By hand [PN-TRI]: the cubic through two corners a right angle apart has its middle at (4a + 4b + a + b)/8 = 5√2/8.
  for (let v = f.first; v < f.count; v++)
    expect(Math.hypot(p[3 * v]!, p[3 * v + 1]!, p[3 * v + 2]!)).toBeCloseTo((5 * Math.SQRT2) / 8, 6);
});

test('a fold of so many steps along the normal moves that far and no other way', () => {
  const f = finer(ball);
  const p = finerPlaces(f, corners, corners);
  const before = p.slice();
  const folds = new Int8Array(3 * f.count);
  folds[0] = 50;
  fold(f, p, before, folds);
  expect(p[0]! - before[0]!).toBeCloseTo(50 * FOLD_STEP_M, 6);
  expect([...p.subarray(1)]).toEqual([...before.subarray(1)]);
});

test('every suit has hung in both postures, held at its hems and never inside the body', () => {
  for (const who of data.people)
    for (const g of who.garments) {
      const garment = data.garments[g.name]!;
      if (!garment.slots.includes('top')) continue;
      const f = finer(garment);
      for (const posture of ['standing', 'seated'] as const) {
        const folds = g.folds[posture];
        expect(folds?.length, `${who.id} ${posture}`).toBe(3 * f.count);
        const off = Array.from({ length: f.count }, (_, v) => folds![3 * v]! * FOLD_STEP_M);
        // It is not the drawn surface any more: some of it stands off by a centimetre.
        expect(off.filter((m) => m > 0.01).length / off.length).toBeGreaterThan(0.05);
        // 98 of 100 points are outside the drawn surface but for 6 mm.
        expect(off.filter((m) => m < -0.006).length / off.length).toBeLessThan(0.02);
      }
    }
});
