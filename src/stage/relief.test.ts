import { describe, expect, test } from 'vitest';
import { rngOf } from '../maths/sampling.ts';
import { type Relief, reliefAt, spot, type Tube } from './relief.ts';

const TRUNK: Tube = {
  from: [0, 0, 1.4],
  along: [0, 0, -1],
  out: [0, -1, 0],
  across: [1, 0, 0],
  girthM: 1.04,
  endM: 0.55,
  reachM: 9,
};
const ALL: Relief[] = [
  { kind: 'knit', tubes: [TRUNK] },
  { kind: 'woven', tubes: [TRUNK] },
  { kind: 'skin', fingers: [] },
  { kind: 'lips' },
];
const NEAR_M = 5e-5;

/** A random place on a tube of 16 cm, over hem and trunk. */
const place = (rng: () => number): [number, number, number] => {
  const angle = 2 * Math.PI * rng();
  return [0.165 * Math.sin(angle), -0.165 * Math.cos(angle), 0.87 + 0.5 * rng()];
};

describe.each(ALL)('relief of $kind', (relief) => {
  test('its gradient is one of a height: round any small ring it adds up to nothing', () => {
    // A field of slopes that belongs to a height has no curl; a wrong derivative in any term does.
    const rng = rngOf(11);
    const h = 2e-6;
    let worst = 0;
    let steepest = 0;
    for (let i = 0; i < 300; i++) {
      const [x, y, z] = place(rng);
      const slope = (dx: number, dy: number, dz: number): [number, number, number] => {
        reliefAt(relief, x + dx, y + dy, z + dz, NEAR_M);
        return [spot[0]!, spot[1]!, spot[2]!];
      };
      const [xa, xb] = [slope(h, 0, 0), slope(-h, 0, 0)];
      const [ya, yb] = [slope(0, h, 0), slope(0, -h, 0)];
      const [za, zb] = [slope(0, 0, h), slope(0, 0, -h)];
      const curl = [
        ya[2] - yb[2] - za[1] + zb[1],
        za[0] - zb[0] - xa[2] + xb[2],
        xa[1] - xb[1] - ya[0] + yb[0],
      ].map((c) => c / (2 * h));
      const turn = Math.hypot(
        ...[xa, ya, za].flatMap((s, k) => [xb, yb, zb][k]!.map((q, j) => (s[j]! - q) / (2 * h))),
      );
      steepest = Math.max(steepest, turn);
      // At the groove between two columns, and where a band begins, a height has an edge: a few places of all.
      if (turn > 0 && Math.hypot(...curl) / turn > 0.02) worst++;
    }
    expect(steepest).toBeGreaterThan(1);
    expect(worst).toBeLessThanOrEqual(9);
  });

  test('on the mean it is neither lighter nor darker, and level', () => {
    const rng = rngOf(5);
    const n = 40_000;
    let shade = 0;
    let square = 0;
    const tilt = [0, 0, 0];
    for (let i = 0; i < n; i++) {
      const [x, y, z] = place(rng);
      reliefAt(relief, x, y, z, NEAR_M);
      shade += spot[3]! - 1;
      square += (spot[3]! - 1) ** 2;
      for (let k = 0; k < 3; k++) tilt[k]! += spot[k]! / n;
    }
    // Lumps of 34 mm make some hundred independent places here, each within a few hundredths.
    expect(Math.abs(shade / n)).toBeLessThan(0.01);
    expect(Math.hypot(...tilt)).toBeLessThan(0.02);
    expect(Math.sqrt(square / n)).toBeGreaterThan(0.01);
    expect(Math.sqrt(square / n)).toBeLessThan(0.35);
  });

  test('what is finer than a pixel is not there', () => {
    const rng = rngOf(7);
    for (let i = 0; i < 200; i++) {
      const [x, y, z] = place(rng);
      reliefAt(relief, x, y, z, 0.03);
      expect([...spot]).toEqual([0, 0, 0, 1]);
    }
  });

  test('never so steep that a surface lit at right angles loses a tenth', () => {
    const rng = rngOf(9);
    let cosine = 0;
    for (let i = 0; i < 5000; i++) {
      const [x, y, z] = place(rng);
      reliefAt(relief, x, y, z, NEAR_M);
      cosine += 1 / Math.sqrt(1 + spot[0]! ** 2 + spot[1]! ** 2 + spot[2]! ** 2);
    }
    expect(cosine / 5000).toBeGreaterThan(0.9);
  });
});

test('stitches go round a jumper without a seam, twenty to 10 cm', () => {
  const knit: Relief = { kind: 'knit', tubes: [TRUNK] };
  const at = (angle: number): number => {
    reliefAt(knit, 0.165 * Math.sin(angle), -0.165 * Math.cos(angle), 1.2, 1e-4);
    return spot[3]!;
  };
  // Half of the girth of this tube: the count goes by the usual girth of 1.04 m, in whole ribs of four.
  let ridges = 0;
  const n = 20_000;
  const shade = Array.from({ length: n }, (_, i) => at(-Math.PI + (2 * Math.PI * i) / n));
  for (let i = 0; i < n; i++) {
    const [a, b, c] = [shade[i]!, shade[(i + 1) % n]!, shade[(i + 2) % n]!];
    if (b > a && b >= c) ridges++;
  }
  // Two legs to a stitch.
  expect(ridges).toBeGreaterThan(2 * 200);
  expect(ridges).toBeLessThan(2 * 220);
  // No more apart than any two stitches may be.
  expect(Math.abs(at(Math.PI - 1e-7) - at(-Math.PI + 1e-7))).toBeLessThan(0.14);
});

test('a neckband: ribs from the opening to its seam, none beyond, and level on the mean', () => {
  const n = 36;
  const collar = { off: new Array(n).fill(0.08), at: new Array(n).fill(0), ribM: 0.008 };
  const banded: Relief = { kind: 'woven', tubes: [{ ...TRUNK, collar }] };
  const plain: Relief = { kind: 'woven', tubes: [TRUNK] };
  const steps = 7200;
  /** What the band alone changes of the shade, round the neck `d` metres below the opening. */
  const round = (d: number): number[] =>
    Array.from({ length: steps }, (_, i) => {
      const angle = (2 * Math.PI * i) / steps;
      const at = [0.08 * Math.sin(angle), -0.08 * Math.cos(angle), 1.4 - d] as const;
      reliefAt(plain, ...at, 1e-4);
      const without = spot[3]!;
      reliefAt(banded, ...at, 1e-4);
      return spot[3]! - without;
    });
  const ribs = round(0.01);
  let ridges = 0;
  ribs.forEach((v, i) => {
    if (v > ribs[(i + steps - 1) % steps]! && v >= ribs[(i + 1) % steps]!) ridges++;
  });
  // A girth of 50 cm in ribs of 8 mm.
  expect(ridges).toBe(2 * Math.round((Math.PI * 0.08) / 0.008));
  expect(Math.abs(ribs.reduce((a, b) => a + b, 0) / steps)).toBeLessThan(1e-6);
  expect(round(0.022)[0]!).toBeLessThan(-0.2);
  expect(round(0.035).every((v) => v === 0)).toBe(true);
});
