/** Stray light: the veil against the index it is defined by, the hood's worked sizes, the halo's energy. */
import { expect, test } from 'vitest';
import { isotropicBeam } from '../light/beam.ts';
import { glassShare, hoodShadesBeyond, VEIL_INDEX, veilCdM2 } from '../light/veil.ts';
import { boxQuads, lamp, matte, stageOf } from './box.ts';
import { emitterSet } from './emitter.ts';
import { plainTracer } from './plain.ts';
import type { View } from './scene.ts';
import { glassLux, halfDiagonal, throughLens } from './veil.ts';

const DEG = Math.PI / 180;

test('a black spot in a bright field all round comes out at the index', () => {
  // [ISO-9358]: luminance L all round lights the glass with π L.
  expect(veilCdM2(Math.PI * 100) / 100).toBeCloseTo(VEIL_INDEX, 12);
});

test('the hood of the worked table: r 40, l 120, half field 20 and 10 degrees', () => {
  // [CHECKS-CAMERA §5]: fully shaded above 45.9 and 40.1 degrees.
  expect(hoodShadesBeyond(20 * DEG) / DEG).toBeCloseTo(45.9, 1);
  expect(hoodShadesBeyond(10 * DEG) / DEG).toBeCloseTo(40.1, 1);
  expect(glassShare(19.9 * DEG, 20 * DEG)).toBe(1);
  expect(glassShare(46 * DEG, 20 * DEG)).toBe(0);
  expect(glassShare(120 * DEG, 20 * DEG)).toBe(0);
  const half = glassShare(35 * DEG, 20 * DEG);
  expect(half).toBeGreaterThan(0.2);
  expect(half).toBeLessThan(0.8);
});

const view: View = {
  eye: [1, 1, 1],
  forward: [1, 0, 0],
  right: [0, -1, 0],
  up: [0, 0, 1],
  tanH: 0.36,
  tanV: 0.2,
};
const ball = (x: number, y: number) =>
  lamp('a', {
    shape: { kind: 'sphere', centre: [x, y, 1], axis: [0, 0, -1], up: [1, 0, 0], radiusM: 0.02 },
    beam: isotropicBeam(400 * Math.PI),
  });

test('light on the glass by inverse square, cosine and hood; a board in the way keeps it off; linear', async () => {
  const tracer = plainTracer();
  const room = boxQuads([0, 0, 0], [6, 4, 3], 'in', matte(0.5), 0.25);
  const layers = [ball(4, 1), ball(3, 3)];
  await tracer.load({ stage: stageOf(room), layers });
  const on = async (l: number) => glassLux(tracer, view, emitterSet(layers[l]!.emitters), { seed: 1 });
  // Straight ahead at 3 m: 100 / 9 lx.
  expect(await on(0)).toBeCloseTo(100 / 9, 1);
  // 45° off: past this hood (its corner at 22.4°) little is left.
  const left = glassShare(45 * DEG, halfDiagonal(view));
  expect(await on(1)).toBeCloseTo((100 / 8) * Math.SQRT1_2 * left, 1);
  const board = boxQuads([2, 0.8, 0.8], [2.02, 1.2, 1.2], 'out', matte(0.1), 0.25);
  await tracer.load({ stage: stageOf([...room, ...board]), layers });
  expect(await on(0)).toBe(0);

  const white = [0.95, 1, 1.09];
  const black = new Float32Array(3 * 32 * 18);
  const one = throughLens(black, 32, 18, [{ glassLx: 90, white }]);
  const two = throughLens(black, 32, 18, [
    { glassLx: 90, white },
    { glassLx: 45, white },
  ]);
  expect(one[1]).toBeCloseTo(veilCdM2(90), 5);
  expect(one[3 * 200]).toBeCloseTo(0.95 * veilCdM2(90), 5);
  two.forEach((v, i) => {
    expect(v).toBeCloseTo(1.5 * one[i]!, 5);
  });
});

test('a halo takes nothing and adds nothing, and falls with the distance', () => {
  const [w, h] = [320, 180];
  const xyz = new Float32Array(3 * w * h);
  for (let y = 88; y < 92; y++)
    for (let x = 158; x < 162; x++) for (let c = 0; c < 3; c++) xyz[3 * (y * w + x) + c] = 1e4;
  const out = throughLens(xyz, w, h, []);
  const sum = (a: Float32Array) => a.reduce((s, v) => s + v, 0);
  expect(Math.abs(sum(out) / sum(xyz) - 1)).toBeLessThan(0.01);
  const at = (x: number) => out[3 * (90 * w + 160 + x) + 1]!;
  for (const x of [8, 12, 16, 24, 32]) expect(at(2 * x)).toBeLessThan(at(x));
  // By the square, give or take: twice as far, between a half and an eighth.
  for (const x of [8, 16]) {
    expect(at(2 * x) / at(x)).toBeLessThan(1 / 2);
    expect(at(2 * x) / at(x)).toBeGreaterThan(1 / 9);
  }
});
