import { expect, test } from 'vitest';
import { cloud, lump, lumps } from './clouds.ts';
import { rngOf } from './sampling.ts';

test('lumps are the cloud, and rise as its differences say', () => {
  const next = rngOf(5);
  const h = 1e-5;
  for (let n = 0; n < 200; n++) {
    const [x, y, z] = [40 * next() - 20, 40 * next() - 20, 40 * next() - 20];
    lumps(x, y, z);
    expect(lump[0]).toBeCloseTo(cloud(x, y, z), 12);
    const slope = [
      cloud(x + h, y, z) - cloud(x - h, y, z),
      cloud(x, y + h, z) - cloud(x, y - h, z),
      cloud(x, y, z + h) - cloud(x, y, z - h),
    ];
    for (let k = 0; k < 3; k++) expect(Math.abs(lump[k + 1]! - slope[k]! / (2 * h))).toBeLessThan(1e-3);
  }
});

test('between −1 and 1, with a mean of nothing', () => {
  let sum = 0;
  let squares = 0;
  const n = 40_000;
  for (let i = 0; i < n; i++) {
    const v = cloud(i * 1.37, i * 0.73 + 0.5, i * 0.21);
    expect(Math.abs(v) <= 1).toBe(true);
    sum += v;
    squares += v * v;
  }
  // Four standard errors of the mean.
  expect(Math.abs(sum / n)).toBeLessThan((4 * Math.sqrt(squares)) / n);
});
