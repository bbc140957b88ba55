import { expect, test } from 'vitest';
import { constant } from '../colour/spectrum.ts';
import { DEG } from '../maths/vec3.ts';
import type { Material } from '../stage/stage.ts';
import { lamp, matte, nowhere, probeAt, stageOf } from './box.ts';
import { plainTracer } from './plain.ts';
import type { Frame } from './relay.ts';
import { relayLayers } from './relay.ts';
import type { Emitter, Layer } from './scene.ts';

/** A small lamp at (0, 0, 1) looking along +x that lights a circle 0.6 m across, 1 m away, evenly with 6500 lx. */
const angles = Array.from({ length: 400 }, (_, i) => (i * 90) / 399);
const evenCircle: Emitter = {
  shape: { kind: 'disc', centre: [0, 0, 1], axis: [1, 0, 0], up: [0, 0, 1], radiusM: 1e-4 },
  beam: {
    kind: 'table',
    table: {
      type: 'C',
      verticalDeg: [
        ...angles.filter((a) => Math.tan(a * DEG) < 0.3),
        Math.atan(0.3) / DEG,
        Math.atan(0.3001) / DEG,
      ],
      horizontalDeg: [0],
      cd: Float64Array.from([
        ...angles.filter((a) => Math.tan(a * DEG) < 0.3).map((a) => 6500 / Math.cos(a * DEG) ** 3),
        6500 / Math.cos(Math.atan(0.3)) ** 3,
        0,
      ]),
    },
  },
};
const frame: Frame = {
  id: 'F1',
  centre: [1, 0, 1],
  axis: [1, 0, 0],
  up: [0, 0, 1],
  widthM: 0.7,
  heightM: 0.7,
  scattered: 2 ** -1.5,
  cells: [28, 28],
};

async function lux(
  layers: Layer[],
  at: readonly [number, number, number],
  stage = nowhere(),
): Promise<number> {
  const tracer = plainTracer();
  await tracer.load({ stage, layers });
  let sum = 0;
  for (let l = 0; l < layers.length; l++) {
    const { diffuse } = await tracer.direct(probeAt([[at, [-1, 0, 0]]]), l, { seed: 3, samples: 4 });
    sum += diffuse[0]!;
  }
  return sum;
}

test('a lit frame gives what the check file works out: 88 lx at 1.5 m behind it [CHECKS-CAMERA §6.1]', async () => {
  const tracer = plainTracer();
  const scene = { stage: nowhere(), layers: [lamp('L1', evenCircle)] };
  await tracer.load(scene);
  const relays = await relayLayers(tracer, scene, [frame], { seed: 1 });
  expect(relays.map((r) => r.id)).toEqual(['L1/F1']);
  expect(relays[0]!.lamp).toBe('L1');
  // Exact disc: π L R² / (R² + D²), L = E τ / π.
  const exact = (6500 * 2 ** -1.5 * 0.3 ** 2) / (0.3 ** 2 + 1.5 ** 2);
  expect(exact).toBeCloseTo(88.4, 1);
  // Cells on the circle's rim are told by four points each: the lit area is right to a percent.
  expect(Math.abs((await lux(relays, [2.5, 0, 1])) / exact - 1)).toBeLessThan(0.015);
  // Nothing goes back to the lamp's side.
  expect(await lux(relays, [0.5, 0, 1])).toBe(0);
});

test('a frame gives on its share of the flux that falls on it, from either side', async () => {
  const tracer = plainTracer();
  for (const side of [1, -1]) {
    const scene = { stage: nowhere(), layers: [lamp('L1', evenCircle)] };
    await tracer.load(scene);
    const [relay] = await relayLayers(tracer, scene, [{ ...frame, axis: [side, 0, 0] }], { seed: 1 });
    // A matte cell of I₀ gives π I₀ lumens.
    let flux = 0;
    for (const e of relay!.emitters) {
      if (e.beam.kind !== 'cosine') throw new Error('a relay is matte');
      flux += Math.PI * e.beam.peakCd * e.gain!;
      expect(e.shape.kind === 'rectangle' && e.shape.axis[0]).toBeCloseTo(1, 6);
    }
    expect(Math.abs(flux / (6500 * 2 ** -1.5 * Math.PI * 0.3 ** 2) - 1)).toBeLessThan(0.01);
  }
});

test('a body before the frame shades its cells; the straight share still gets through the sheet', async () => {
  const sheet: Material = { name: 'sheet', reflectance: constant(0), kind: 'sheet', straight: 0.04 };
  const stage = stageOf([
    { corner: [1, -0.35, 0.65], sideU: [0, 0.7, 0], sideV: [0, 0, 0.7], material: sheet, part: 'sheet:F1' },
    // Covers the upper half of the beam, half way to the frame.
    { corner: [0.5, -0.5, 1], sideU: [0, 1, 0], sideV: [0, 0, 1], material: matte(0), part: 'flag:1' },
  ]);
  const tracer = plainTracer();
  const scene = { stage, layers: [lamp('L1', evenCircle)] };
  await tracer.load(scene);
  const [relay] = await relayLayers(tracer, scene, [frame], { seed: 1 });
  for (const e of relay!.emitters)
    expect(e.shape.kind === 'rectangle' ? e.shape.centre[2] : 9).toBeLessThan(1.001);
  // Below the axis, 1 m behind the sheet: 6500 cd over the square of the distance, 4 % of it, along the way it comes.
  const d = Math.hypot(2, 0.2);
  const straight = await lux(scene.layers, [2, 0, 0.8], stage);
  const cos = 2 / d;
  expect(straight / (((6500 / cos ** 3) * cos * 0.04) / d ** 2)).toBeCloseTo(1, 2);
});
