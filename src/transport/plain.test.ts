import { expect, test } from 'vitest';
import { rngOf } from '../maths/sampling.ts';
import { boxQuads, lamp, matte, pointsInside, probeAt, stageOf } from './box.ts';
import { plainTracer } from './plain.ts';
import { describeTracer } from './suite.ts';

describeTracer('plain', plainTracer);

test('others get a turn, and a call can be cancelled half way', async () => {
  const signal = { aborted: false };
  let pauses = 0;
  const tracer = plainTracer({
    pause: async () => {
      pauses++;
      if (pauses === 3) signal.aborted = true;
    },
  });
  const bulb = lamp('bulb', {
    shape: { kind: 'sphere', centre: [2, 2, 2], axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.1 },
    beam: { kind: 'isotropic', cd: 100 },
  });
  await tracer.load({ stage: stageOf(boxQuads([0, 0, 0], [4, 4, 4], 'in', matte(0.5))), layers: [bulb] });
  const at = probeAt(pointsInside([0, 0, 0], [4, 4, 4], 5000, rngOf(1)).at);
  await expect(tracer.trace(at, { seed: 1, paths: 16, signal })).rejects.toMatchObject({
    name: 'AbortError',
  });
  expect(pauses).toBe(3);
  await expect(tracer.direct(at, 5, { seed: 1, samples: 1 })).rejects.toThrow('no layer 5');
  await expect(plainTracer().links(at, 1, { seed: 1 })).rejects.toThrow('load(scene) first');
});
