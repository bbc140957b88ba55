/**
 * A metal's gloss has its colour: what it sends back is the light times the metal's own curve, wavelength by wavelength, and
 * nothing else changes. Gold's reflectance at normal incidence rises from about .35 in the blue to .95 in the red
 * (Johnson and Christy 1972, from memory; here only a slope of that sort).
 */
import { expect, test } from 'vitest';
import { atSamples, SAMPLES, spectrumOf } from '../colour/spectrum.ts';
import type { Material } from '../stage/stage.ts';
import { boxQuads, lamp, matte, stageOf } from './box.ts';
import { addPass, newPhotograph } from './photograph.ts';
import { plainTracer } from './plain.ts';
import { paletteOf, picture } from './quick/picture.ts';
import { fieldOf, quickLayer, roomOf, sightOf } from './quick/quick.ts';
import { bulb, look } from './quick/stillLife.ts';

const gold = spectrumOf((nm) => Math.min(1, 0.35 + (0.65 * (nm - 430)) / 200));
const PICKED = [0, 5, 11];
/** An observer with three narrow bands, so that a pixel says what comes at three wavelengths. */
const matrix = Float64Array.from({ length: 36 }, (_, i) =>
  PICKED[Math.floor(i / SAMPLES)] === i % SAMPLES ? 1 : 0,
);
const view = look([2, 0.6, 1.5], [2, 3, 0.9], 0.3);
const bare: Material = {
  name: 'metal',
  reflectance: spectrumOf(() => 0),
  kind: 'opaque',
  gloss: { f0: 0.9, roughness: 0.4 },
};

/** XYZ of a frame filled by a metal plate in a dark room, by each way a picture is made. */
async function plate(material: Material): Promise<{ photo: number[]; quick: number[] }> {
  const stage = stageOf([
    ...boxQuads([0, 0, 0], [4, 4, 2.6], 'in', matte(0.12), 0.5),
    { corner: [1, 3, 0], sideU: [2, 0, 0], sideV: [0, 0, 2], material, cells: [8, 8] },
  ]);
  const layer = lamp('bulb', bulb([1.4, 1, 2.2], 100));
  const tracer = plainTracer();
  await tracer.load({ stage, layers: [layer] });
  const photo = newPhotograph(24, 14);
  for (let pass = 0; pass < 6; pass++)
    await addPass(tracer, stage, view, [{ matrix, white: [1, 1, 1] }], photo, { seed: 3 });
  const mean = (list: ArrayLike<number>): number[] =>
    [0, 1, 2].map((c) => Array.from(list).reduce((v, x, i) => (i % 3 === c ? v + x : v), 0));
  const options = { seed: 5 };
  const room = await roomOf(tracer, stage, options);
  const hits = await tracer.hits(view, 24, 14, options);
  const sight = await sightOf(tracer, room, view, hits, options);
  const light = await quickLayer(
    tracer,
    room,
    sight,
    await fieldOf(tracer, room, layer, 0, options),
    options,
  );
  const quick = picture(hits, sight.coarse, paletteOf(stage, hits, sight.coarse), [light], [{ matrix }]);
  return { photo: mean(photo.sum), quick: mean(quick) };
}

test('the same plate with and without colour: each band is as the curve has it, in photograph and quick picture', async () => {
  const white = await plate(bare);
  const yellow = await plate({ ...bare, gloss: { ...bare.gloss!, tint: gold } });
  const own = atSamples(gold);
  for (const [c, s] of PICKED.entries()) {
    // The same rays: only what the plate sends back to the room and gets again may differ: at most .12 × .9 of it,
    // and less than a third of that meets the plate.
    expect(yellow.photo[c]! / white.photo[c]! / own[s]!).toBeGreaterThan(0.965);
    expect(yellow.photo[c]! / white.photo[c]! / own[s]!).toBeLessThan(1.001);
    expect(yellow.quick[c]! / white.quick[c]! / own[s]!).toBeGreaterThan(0.965);
    expect(yellow.quick[c]! / white.quick[c]! / own[s]!).toBeLessThan(1.001);
  }
  // And it is no small thing: blue against red.
  expect(yellow.photo[0]! / yellow.photo[2]!).toBeLessThan(0.45);
});
