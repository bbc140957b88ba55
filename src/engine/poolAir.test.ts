/** Haze goes with the stage to whoever traces: a pool, and the faster rays, lose as much in it as the plain tracer. */
import { expect, test } from 'vitest';
import type { Air } from '../stage/air.ts';
import { boxQuads, lamp, matte, probeAt, stageOf } from '../transport/box.ts';
import { plainTracer } from '../transport/plain.ts';
import type { TransportScene, View } from '../transport/scene.ts';
import type { Tracer } from '../transport/tracer.ts';
import { fastTracer } from './fast.ts';
import { inPagePort } from './inPage.ts';
import { poolTracer } from './pool.ts';

const air: Air = { extinctionPerM: 0.1, phase: 'haze' };
const room = stageOf(boxQuads([-3, -3, -2], [3, 5, 2], 'in', matte(0.5)));
const scene: TransportScene = {
  stage: { ...room, air, key: `${room.key} hazy` },
  layers: [
    lamp('bulb', {
      shape: { kind: 'sphere', centre: [0, 3, 0], axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.05 },
      beam: { kind: 'isotropic', cd: 900 },
    }),
  ],
};
const view: View = {
  eye: [0, -2, 0],
  forward: [0, 1, 0],
  right: [1, 0, 0],
  up: [0, 0, 1],
  tanH: 0.5,
  tanV: 0.3,
};

async function read(tracer: Tracer) {
  await tracer.load(scene);
  const hits = await tracer.hits(view, 24, 16, { seed: 1, samples: 1 });
  const probe = probeAt([
    [
      [0, 0, 0],
      [0, 1, 0],
    ],
  ]);
  const direct = (await tracer.direct(probe, 0, { seed: 1, samples: 8 })).diffuse[0]!;
  const passes = (await tracer.passes(Float32Array.of(0, 0, 0), Float32Array.of(0, 2, 0)))[0]!;
  tracer.dispose();
  return { air: hits.air, weight: hits.weight[200]!, depth: hits.depth[200]!, direct, passes };
}

test('a pool of workers, and fast rays, lose as much in haze as one plain tracer', async () => {
  const plain = await read(plainTracer());
  expect(await read(poolTracer(() => inPagePort(), 2, { share: false }))).toEqual(plain);
  const fast = await read(fastTracer());
  for (const k of ['weight', 'direct', 'passes'] as const) expect(fast[k] / plain[k], k).toBeCloseTo(1, 5);
  expect(plain.air).toEqual(air);
  // e^(−βd): over two metres, over 2.95 m to the bulb (900 cd: 100 lx), to the wall that is seen.
  expect(plain.passes).toBeCloseTo(Math.exp(-0.2), 5);
  expect(plain.direct / (100 * Math.exp(-0.2975))).toBeCloseTo(1, 2);
  expect(plain.weight).toBeCloseTo(Math.exp(-0.1 * plain.depth), 5);
});
