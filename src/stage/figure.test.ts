/** Figures share a reflectance out and keep its sum; they fade with distance; coursing is that of real bricks. */
import { expect, test } from 'vitest';
import { rngOf } from '../maths/sampling.ts';
import { Finish } from '../shoot/schema.ts';
import { type FigureKind, figureIn, toneAt } from './figure.ts';
import { materialOf } from './finish.ts';

const KINDS: FigureKind[] = Finish.shape.figure.unwrap().options.filter((k) => k !== 'none');

test.each(KINDS)(
  '%s: over a large wall and a large floor the mean is the reflectance that was told',
  (kind) => {
    const next = rngOf(7);
    for (const normal of [
      [0, 1, 0],
      [0.6, 0.8, 0],
      [0, 0, 1],
    ] as const) {
      for (const pixelM of [0.0005, 0.006, 0.08]) {
        let sum = 0;
        let squares = 0;
        let least = 1;
        const n = 6_000;
        for (let i = 0; i < n; i++) {
          const a = 60 * next();
          const b = 60 * next();
          const at = normal[2] ? ([a, b, 0] as const) : ([-normal[1] * a, normal[0] * a, b] as const);
          const t = toneAt({ kind }, [...at], [...normal], pixelM);
          least = Math.min(least, t);
          sum += t;
          squares += t * t;
        }
        const mean = sum / n;
        expect(least).toBeGreaterThanOrEqual(0.1);
        // Four times the mean's own standard error, and the largest clouds' (few of them fit on the wall).
        const error = Math.sqrt(Math.max(0, squares / n - mean * mean) / n);
        expect(Math.abs(mean - 1)).toBeLessThan(4 * error + 0.004);
      }
    }
  },
);

test('a pixel as broad as the wall sees its mean', () => {
  for (const kind of KINDS)
    for (let i = 0; i < 50; i++) {
      const t = toneAt({ kind }, [i * 0.37, 0, i * 0.21], [0, 1, 0], 20);
      expect(Math.abs(t - 1)).toBeLessThan(0.02);
    }
});

// A brick of 215 × 102.5 × 65 mm laid with joints of 10 mm: coordinating 225 × 75 mm (handbook size, from memory).
test('courses of bricks are 75 mm high, and every second one is set off by half', () => {
  const tone = (x: number, z: number) => toneAt({ kind: 'bricks' }, [x, 0, z], [0, -1, 0], 0.0005);
  const mean = (z: number, x0: number) => {
    let s = 0;
    for (let k = 0; k < 200; k++) s += tone(x0 + 0.225 * k, z);
    return s / 200;
  };
  // Beds: at every multiple of 75 mm, and at no other height, all along the course.
  for (let k = 1; k < 20; k++) {
    expect(mean(0.075 * k, 0.05)).toBeGreaterThan(mean(0.075 * k + 0.0375, 0.05) + 0.15);
    expect(Math.abs(mean(0.075 * k + 0.02, 0.05) - mean(0.075 * k + 0.055, 0.05))).toBeLessThan(0.15);
  }
  // On an upright joint the mean over many bricks is the joint's, a quarter brick on it is the body's.
  expect(mean(0.0375, 0)).toBeGreaterThan(mean(0.0375, 0.056) + 0.15);
  expect(mean(0.0375, 0.1125)).toBeLessThan(mean(0.0375, 0) - 0.15);
  expect(mean(0.1125, 0.1125)).toBeGreaterThan(mean(0.1125, 0) + 0.15);
});

test('words name a figure, a word of the finish’s own wins, and a mirror has none', () => {
  expect(figureIn('whitewashed brick')).toMatchObject({ kind: 'bricks', painted: true });
  expect(figureIn('Tarred boards')?.kind).toBe('boards');
  expect(figureIn('blue paint')).toBeUndefined();
  expect(materialOf({ words: 'oak', reflectance: 0.15 }).figure?.kind).toBe('wood');
  expect(materialOf({ words: 'oak', reflectance: 0.15, figure: 'none' }).figure).toBeUndefined();
  expect(materialOf({ words: 'oak mirror', reflectance: 0.9, mirror: true }).figure).toBeUndefined();
  expect(Finish.safeParse({ reflectance: 0.5, figure: 'fur' }).success).toBe(false);
});
