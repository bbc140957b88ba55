/** Our observer's table against an independent copy: the color-space library's, 380–700 nm, five decimals. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { X_BAR, Y_BAR, Z_BAR } from './observer.ts';
import { FIRST_NM, STEP_NM } from './spectrum.ts';
import { X_BAR_1NM, Y_BAR_1NM, Z_BAR_1NM } from './tables/observer1nm.ts';

const entry = createRequire(import.meta.url).resolve('color-space');
const data = JSON.parse(readFileSync(join(dirname(entry), 'data.json'), 'utf8')) as {
  cmf: { rows: [number, number, number, number][] };
};

test('color-space has the same functions, 380 to 700 nm', () => {
  expect(data.cmf.rows).toHaveLength(65);
  for (const [nm, x, y, z] of data.cmf.rows) {
    const i = (nm - FIRST_NM) / STEP_NM;
    expect(Math.abs(X_BAR[i]! - x)).toBeLessThan(6e-5);
    expect(Math.abs(Y_BAR[i]! - y)).toBeLessThan(6e-5);
    expect(Math.abs(Z_BAR[i]! - z)).toBeLessThan(6e-5);
  }
});

test('spot values of the published table [CHECKS-LIGHT §5.1]', () => {
  const at = (nm: number): number[] => [X_BAR_1NM, Y_BAR_1NM, Z_BAR_1NM].map((t) => t[nm - 360]!);
  expect(at(450)).toEqual([0.3362, 0.038, 1.77211]);
  expect(at(500)).toEqual([0.0049, 0.323, 0.272]);
  at(555).forEach((v, k) => {
    expect(v).toBeCloseTo([0.51205, 1, 0.00575][k]!, 4);
  });
  expect(at(600)).toEqual([1.0622, 0.631, 0.0008]);
  expect(X_BAR_1NM).toHaveLength(471);
});
