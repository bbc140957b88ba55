/** Light on a single hair, by every way the tracer has, against the fibre's own formula. */
import { expect, test } from 'vitest';
import { normalize, type Vec3 } from '../maths/vec3.ts';
import { lamp, matte, stageOf } from './box.ts';
import { fibre, strand } from './fibre.ts';
import { plainTracer } from './plain.ts';
import { glossTable } from './quick/bare.ts';
import { glance, quickDirect, standOf } from './quick/quick.ts';
import type { Emitter, View } from './scene.ts';

const hair = { ...matte(0.2, 'hair'), fibre: { through: 0.4 } };
const up: Vec3 = [0, 0.6, 0.8];
const ball = (centre: Vec3): Emitter => ({
  shape: { kind: 'sphere', centre, axis: [0, 0, -1], up: [0, 1, 0], radiusM: 1e-4 },
  beam: { kind: 'isotropic', cd: 100 },
});
/** Before it, and behind it; the last behind it with a screen in between. */
const LAMPS: Vec3[] = [
  [3, 1, 0.5],
  [-3, -0.4, 0.2],
  [-3, 2.5, 1],
];

const view: View = {
  eye: [2, 0.1, 0],
  forward: [-1, 0, 0],
  right: [0, 1, 0],
  up: [0, 0, 1],
  tanH: 0.05,
  tanV: 0.05,
};

function stage() {
  const made = stageOf(
    [
      // Wider than a hair so that it fills some pixels: the law knows no width.
      {
        corner: [0, -0.02, -0.05],
        sideU: [0, 0.04 * 0.8, -0.04 * 0.6],
        sideV: [0, 0.1 * up[1], 0.1 * up[2]],
        material: hair,
      },
      { corner: [-1.5, 0.9, -0.5], sideU: [0, 1.2, 0], sideV: [0, 0, 2], material: matte(0) },
    ],
    'strand',
  );
  // Along the ribbon from the second corner to the third, in both triangles.
  const [a, b, c] = [made.indices[3]!, made.indices[4]!, made.indices[5]!];
  made.indices.set([b, c, a], 3);
  return made;
}

for (const rays of ['direct', 'paths', 'quick'] as const) {
  test(`a hair by ${rays}: lit before and behind by the fibre's formula, dark behind a screen`, async () => {
    const tracer = plainTracer();
    const scene = { stage: stage(), layers: LAMPS.map((at, i) => lamp(`L${i}`, ball(at))) };
    await tracer.load(scene);
    const hits = await tracer.hits(view, 24, 24, { samples: 1, jitter: false, seed: 1 });
    const { points } = hits;
    const on = Array.from({ length: points.count }, (_, p) => p).filter((p) => points.material[p] === 0);
    expect(on.length).toBeGreaterThan(20);
    for (let l = 0; l < LAMPS.length; l++) {
      const { set, stand } = standOf(scene.layers[l]!);
      const got =
        rays === 'direct'
          ? await tracer.direct(points, l, { seed: 1, samples: 4 })
          : rays === 'paths'
            ? (await tracer.trace(points, { seed: 1, paths: 4, only: [l] })).layers[0]!.direct
            : await quickDirect(tracer, glossTable(scene.stage.materials), glance(view, hits), set, stand, {
                seed: 1,
              });
      for (const p of on) {
        const at = [0, 1, 2].map((k) => points.position[p * 3 + k]!) as unknown as Vec3;
        const to = LAMPS[l]!.map((x, k) => x - at[k]!) as unknown as Vec3;
        const d2 = to[0] ** 2 + to[1] ** 2 + to[2] ** 2;
        const eye = view.eye.map((x, k) => x - at[k]!) as unknown as Vec3;
        fibre(...up, 1, 0, 0, ...normalize(to), ...normalize(eye), 0.4, 0.2);
        const seen = l === 2 ? 0 : 100 / d2;
        expect(Math.abs(got.diffuse[p]! - seen * strand.lux)).toBeLessThan(2e-3 * seen * strand.lux + 1e-6);
        expect(Math.abs(got.gloss[p]! - seen * strand.shine)).toBeLessThan(2e-3 * seen * strand.shine + 1e-6);
      }
    }
  });
}
