/** Scattering by angle against the published function and our tables of it [CHECKS-LIGHT §7]. */
import { expect, test } from 'vitest';
import {
  backOverFront,
  bandMean,
  extinctionOfRange,
  fogFit,
  fogPhase,
  henyeyGreenstein,
  passed,
  phaseOf,
  rangeOfExtinction,
} from './haze.ts';

const at = (deg: number) => Math.cos((deg * Math.PI) / 180);

test('every phase function sends out what it takes, and its mean cosine is what it says', () => {
  for (const [phase, g] of [
    [0, 0],
    [0.3, 0.3],
    [0.75, 0.75],
    [0.85, 0.85],
    [-0.4, -0.4],
    ['haze', 0.71],
    ['fog', 0.8642],
    ['snow', 0.75],
    ['rain', undefined],
  ] as const) {
    const p = phaseOf(phase);
    // Solid angle by the midpoint rule in the angle, fine enough for fog's sharp lobe.
    const n = 100_000;
    let all = 0;
    let turned = 0;
    for (let i = 0; i < n; i++) {
      const angle = (Math.PI * (i + 0.5)) / n;
      const c = Math.cos(angle);
      const part = p(c) * 2 * Math.PI * Math.sin(angle) * (Math.PI / n);
      all += part;
      turned += c * part;
    }
    expect(all, `${phase}`).toBeCloseTo(1, 4);
    if (g !== undefined) expect(Math.abs(turned - g), `${phase}`).toBeLessThan(0.002);
  }
});

test('one lobe: the table of the published function', () => {
  const table: [number, Record<number, number>][] = [
    [0.3, { 0: 0.211124, 30: 0.168105, 90: 0.0636344, 150: 0.0354608, 180: 0.0329611 }],
    [0.75, { 0: 2.22817, 30: 0.257449, 90: 0.0178254, 150: 0.00719232, 180: 0.00649612 }],
    [0.85, { 0: 6.54304, 45: 0.0588199, 135: 0.00441527, 160: 0.00365048 }],
  ];
  for (const [g, values] of table)
    for (const [deg, p] of Object.entries(values))
      expect(henyeyGreenstein(g, at(Number(deg))) / p, `g ${g}, ${deg}°`).toBeCloseTo(1, 4);
  for (const g of [0.5, 0.7, 0.9])
    expect(henyeyGreenstein(g, 1) / henyeyGreenstein(g, -1)).toBeCloseTo(((1 + g) / (1 - g)) ** 3, 6);
});

test('fog: the published fit at 10 µm', () => {
  const { g, gDraine, alpha, share } = fogFit(10);
  expect(g).toBeCloseTo(0.988177, 5);
  expect(gDraine).toBeCloseTo(0.555671, 5);
  expect(alpha).toBeCloseTo(21.99552, 3);
  expect(share).toBeCloseTo(0.481955, 5);
  expect(fogPhase(10, at(30))).toBeCloseTo(0.18409, 5);
  expect(fogPhase(10, at(90))).toBeCloseTo(0.00172563, 6);
  expect(fogPhase(10, at(150))).toBeCloseTo(0.0106748, 6);
  expect(fogPhase(10, -1)).toBeCloseTo(0.012715, 6);
});

test('lit from behind against lit from the front: within the spread of the sums over droplets', () => {
  const haze = phaseOf('haze');
  // Glycol-like, 1 µm, ± 10 %.
  expect(Math.abs(backOverFront(haze) / 8.9 - 1)).toBeLessThan(0.1);
  expect(Math.abs(bandMean(haze, 20, 40) / bandMean(haze, 80, 100) / 14 - 1)).toBeLessThan(0.1);
  // The reading for droplets of a micrometre and more: 8 to 18 times.
  expect(backOverFront(haze)).toBeGreaterThan(8);
  expect(backOverFront(haze)).toBeLessThan(18);
  expect(Math.abs(backOverFront(phaseOf('fog')) / 17.4 - 1)).toBeLessThan(0.02);
  for (const [g, r] of [
    [0.7, 30.6],
    [0.75, 36.9],
    [0.8, 43.4],
  ] as const)
    expect(Math.abs(backOverFront(phaseOf(g)) / r - 1), `g ${g}`).toBeLessThan(0.01);
  const rain = phaseOf('rain');
  expect(Math.abs(backOverFront(rain) / 15.2 - 1)).toBeLessThan(0.05);
  expect(Math.abs(bandMean(rain, 20, 40) / bandMean(rain, 80, 100) / 159 - 1)).toBeLessThan(0.05);
});

test('what comes through: each metre takes the same share; one sees as far as it was said', () => {
  const beta = extinctionOfRange(60);
  expect(passed(beta, 60)).toBeCloseTo(0.05, 12);
  expect(rangeOfExtinction(beta)).toBeCloseTo(60, 9);
  expect(passed(beta, 7) * passed(beta, 11)).toBeCloseTo(passed(beta, 18), 12);
});
