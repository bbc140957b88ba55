/**
 * A flare's figure end to end: what the trouble says of a lamp on the lens is what is laid over the picture that is
 * shown. The figure comes from a meter at the lens and the lamp's middle, the veil from rays to all of its face.
 */
import { expect, test } from 'vitest';
import { fastTracer } from '../src/engine/fast.ts';
import { VEIL_INDEX } from '../src/light/veil.ts';
import { surveyAngle } from '../src/scheme/survey.ts';
import { geometryOf } from '../src/setup/geometry.ts';
import { relayed, withRelays } from '../src/setup/relays.ts';
import { weightsOf } from '../src/setup/weights.ts';
import { applyEdit } from '../src/shoot/edits.ts';
import type { AngleRef } from '../src/shoot/rigFor.ts';
import type { Shoot } from '../src/shoot/schema.ts';
import { paletteOf, picture } from '../src/transport/quick/picture.ts';
import { fieldOf, quickLayer, roomOf, sightOf } from '../src/transport/quick/quick.ts';
import { peopleData, shootNamed, troubleOf } from './demo.ts';

const small = { seed: 7, width: 96, height: 54 };

/** The shoot with one lamp burning in an angle. */
function only(shoot: Shoot, { scene, angle }: AngleRef, lamp: string): Shoot {
  let lit = shoot;
  for (const other of Object.keys(shoot.scenes[scene]!.rig.lamps))
    lit = applyEdit(lit, {
      edit: 'switchLamp',
      args: { scene, angle, lamp: other, on: other === lamp },
    }).shoot;
  return lit;
}

/** Mean luminance of the same quick picture before the lens, cd/m². */
async function beforeLens(shoot: Shoot, ref: AngleRef): Promise<number> {
  const tracer = fastTracer();
  const { seed, width, height } = small;
  const angle = await withRelays(tracer, geometryOf(shoot, ref, peopleData(), 'far'), { seed });
  const weights = relayed(angle, weightsOf(shoot, ref).weights);
  await tracer.load(angle.transport);
  const { stage, layers } = angle.transport;
  const hits = await tracer.hits(angle.view, width, height, { seed, samples: 4 });
  const room = await roomOf(tracer, stage, { seed });
  const sight = await sightOf(tracer, room, angle.view, hits, { seed });
  const light = [];
  for (const [l, layer] of layers.entries()) {
    // A lamp that is out adds nothing.
    const dark = weights.layers[l]!.white[1] === 0;
    const field = dark ? undefined : await fieldOf(tracer, room, layer, l, { seed });
    light.push(field && (await quickLayer(tracer, room, sight, field, { seed, layer: l })));
  }
  return mean(picture(hits, sight.coarse, paletteOf(stage, hits, sight.coarse), light, weights.layers));
}

const mean = (xyz: Float32Array): number => {
  let sum = 0;
  for (let i = 1; i < xyz.length; i += 3) sum += xyz[i]!;
  return sum / (xyz.length / 3);
};

test('kitchen OA: the veil over the picture is what the flare of 2, out of frame, is said to make', async () => {
  // Part of the glass lies in the hood's shade.
  const ref = { scene: 'rent', angle: 'OA' };
  const lamp = 'L2';
  const shoot = only(shootNamed('kitchen'), ref, lamp);
  const survey = await surveyAngle(fastTracer(), shoot, ref, peopleData(), {
    ...small,
    quick: true,
    detail: 'far',
    cures: false,
  });
  const flare = troubleOf(survey, 'flare', lamp)!;
  expect(flare).toBeDefined();
  // A share of the exposure's own level; a bright field of luminance L lights the glass with π L [ISO-9358].
  const said = (VEIL_INDEX * flare.size * survey.exposure.eRefLx) / Math.PI;
  // The halo takes as much as it gives: what the picture has more is the veil.
  const laid = mean(survey.xyz) - (await beforeLens(shoot, ref));
  expect(Math.abs(Math.log2(laid / said))).toBeLessThan(0.05);
  const stops = Number(/up to ([-\d.]+) stops under grey/.exec(flare.says)![1]);
  expect(Math.abs(Math.log2(survey.exposure.greyCdM2 / laid) - stops)).toBeLessThan(0.1);
});
