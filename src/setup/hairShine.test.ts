import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { constant } from '../colour/spectrum.ts';
import { decodePeople } from '../stage/people/person.ts';
import type { Stage } from '../stage/stage.ts';
import { stageOf } from '../transport/box.ts';
import { addPass, developed, newPhotograph } from '../transport/photograph.ts';
import { plainTracer } from '../transport/plain.ts';
import { paletteOf, picture } from '../transport/quick/picture.ts';
import { fieldOf, quickLayer, roomOf, sightOf } from '../transport/quick/quick.ts';
import { personOn } from './people.ts';
import { viewOf } from './view.ts';

const chalk = { name: 'chalk', reflectance: constant(0.8), kind: 'opaque' as const };
const soot = { name: 'soot', reflectance: constant(0), kind: 'opaque' as const };

test.each([false, true])(
  'the picture at once counts what hairs send back white; in the shadow of a board: %s',
  async (shaded) => {
    const data = decodePeople(readFileSync(new URL('../../data/people/people.bin', import.meta.url)));
    const mark = {
      ...{ name: 'A', person: 'woman-33', at: [0, 0] as [number, number], eyeM: 1.6, facings: [90] },
      posture: 'standing' as const,
    };
    const { body } = personOn('A', mark as never, 90, undefined, 'far', data)!;
    const hair = body.materials.find((m) => m.fibre)!;
    // A hand's breadth of hairs that run along x; light and eye stand on the two sides of their mirror cone.
    const quad = { corner: [-0.1, -0.1, 0], sideU: [0.2, 0, 0], sideV: [0, 0.2, 0] } as const;
    // From behind black hair sends back white alone. Half way to the first lamp a board keeps its light off.
    const high = shaded ? -2 : 2;
    const board = {
      corner: [-0.3, -0.2, high / 2],
      sideU: [0.6, 0, 0],
      sideV: [0, 0.4, 0],
      material: soot,
    } as const;
    // Beside it something far brighter.
    const black = { ...hair, fibre: { through: 1e-6 } };
    const white = { corner: [0, -0.1, 0], sideU: [0.1, 0, 0], sideV: [0, 0.2, 0], material: chalk } as const;
    const stage: Stage = stageOf(
      shaded
        ? [{ ...quad, sideU: [0.1, 0, 0], material: black }, white, board]
        : [{ ...quad, material: hair }],
    );
    const light = (x: number) => ({
      id: `${x}`,
      lamp: `${x}`,
      key: `${x}`,
      ownParts: [],
      emitters: [
        {
          shape: {
            kind: 'disc' as const,
            centre: [x, 0, high] as const,
            axis: [-x / Math.hypot(x, high), 0, -high / Math.hypot(x, high)] as const,
            up: [0, 1, 0] as const,
            radiusM: 0.05,
          },
          beam: { kind: 'cosine' as const, peakCd: 1000, exponent: 1 },
        },
      ],
    });
    const view = viewOf({ at: [0, -1.2, 2], lookAt: [0, 0, 0], focalMm: 200, sensorMm: [10, 10] });
    const tracer = plainTracer();
    const layers = [light(0), light(2)];
    await tracer.load({ stage, layers });
    const seed = { seed: 1 };
    const hits = await tracer.hits(view, 12, 12, { ...seed, samples: 1 });
    const room = await roomOf(tracer, stage, seed);
    const sight = await sightOf(tracer, room, view, hits, seed);
    const palette = paletteOf(stage, hits, sight.coarse);
    const weight = { matrix: new Float64Array(36).fill(1 / 12), white: [1, 1, 1] as const };
    let shine = 0;
    const mean = async (l: number): Promise<number> => {
      const field = await fieldOf(tracer, room, layers[l]!, l, seed);
      const layer = await quickLayer(tracer, room, sight, field, seed);
      shine = Math.max(...layer.direct.gloss);
      const xyz = picture(hits, sight.coarse, palette, [layer], [weight]);
      return xyz.reduce((a, b) => a + b, 0) / xyz.length;
    };
    const photographed = async (l: number): Promise<number> => {
      const shot = newPhotograph(12, 12);
      const nothing = { ...weight, white: [0, 0, 0] as const };
      const weights = layers.map((_, k) => (k === l ? weight : nothing));
      for (let pass = 0; pass < 32; pass++) await addPass(tracer, stage, view, weights, shot, seed);
      const xyz = developed(shot);
      return xyz.reduce((a, b) => a + b, 0) / xyz.length;
    };
    // Without the white of the fibres the two ways to a picture would differ by half and more.
    for (const l of [0, 1]) {
      const [quick, exact] = [await mean(l), await photographed(l)];
      if (shaded) {
        // Its shadows are asked for where it sends more than a ten-thousandth of the brightest: 1,000 cd from 2 m.
        if (l === 0) {
          expect(exact).toBe(0);
          expect(shine).toBeLessThan((1e-4 * 250) / Math.PI);
        }
        continue;
      }
      expect(exact).toBeGreaterThan(0);
      expect(Math.abs(quick / exact - 1)).toBeLessThan(0.1);
    }
  },
);
