import { expect, test } from 'vitest';
import { exposureOf } from '../src/setup/develop.ts';
import { geometryOf } from '../src/setup/geometry.ts';
import { weightsOf } from '../src/setup/weights.ts';
import { anglesOf } from '../src/shoot/rigFor.ts';
import { plainTracer } from '../src/transport/plain.ts';
import { peopleData, shootNamed } from './demo.ts';
import { quickAgainstPaths } from './quickAccuracy.ts';

/**
 * The goal of the project: .15 stop rms on skin and .3 at shadow edges against 3,000 paths. The kitchen is held
 * to it on skin, and so is the shed but for CA (about .3; fine shadows of hair are suspected, not shown). Edges of hard
 * shadows are .19 to .35, printed and not yet promised.
 */
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
      if (ref.angle !== 'CA' && miss.skin.points > 20) expect(miss.skin.rmsStops).toBeLessThan(0.15);
      expect(miss.whole.rmsStops).toBeLessThan(0.15);
    }, 900_000);
}
