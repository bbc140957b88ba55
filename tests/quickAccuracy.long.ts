import { expect, test } from 'vitest';
import { exposureOf } from '../src/setup/develop.ts';
import { geometryOf } from '../src/setup/geometry.ts';
import { weightsOf } from '../src/setup/weights.ts';
import { anglesOf } from '../src/shoot/rigFor.ts';
import { plainTracer } from '../src/transport/plain.ts';
import { peopleData, shootNamed } from './demo.ts';
import { quickAgainstPaths } from './quickAccuracy.ts';

/** The goal of the project: .15 stop rms on skin and on the whole, .3 at shadow edges, against 3,000 paths and more. */
for (const name of ['slack-water', 'kitchen']) {
  const shoot = shootNamed(name);
  for (const ref of anglesOf(shoot))
    test(`${name} ${ref.angle}: quick against paths`, async () => {
      const angle = geometryOf(shoot, ref, peopleData());
      const { weights } = weightsOf(shoot, ref);
      const exposure = exposureOf(angle.rig.camera, shoot.exposureConstant);
      const miss = await quickAgainstPaths(plainTracer(), angle, weights, exposure, {
        width: 640,
        points: 250,
        paths: 3000,
        samples: 512,
        seed: 11,
      });
      console.log(`${name} ${ref.angle}`, JSON.stringify(miss));
      for (const of of ['skin', 'edge', 'whole'] as const) {
        // A reference noisier than this would hide what is asked.
        expect(miss[of].referenceStops).toBeLessThan(0.1);
      }
      if (miss.skin.points > 20) expect(miss.skin.ownStops).toBeLessThan(0.15);
      if (miss.edge.points > 20) expect(miss.edge.ownStops).toBeLessThan(0.3);
      expect(miss.whole.ownStops).toBeLessThan(0.15);
    }, 1_800_000);
}
