/** Bare light against the tracer's own, shadows off, with many samples. */
import { expect, test } from 'vitest';
import { fastTracer } from '../../engine/fast.ts';
import { normalize } from '../../maths/vec3.ts';
import { lamp } from '../box.ts';
import { emitterSet } from '../emitter.ts';
import { plainTracer } from '../plain.ts';
import type { Emitter } from '../scene.ts';
import { bareAt, bareFromStream, glossTable, standFor, streamAt } from './bare.ts';
import { bulb, spot, stillLife } from './stillLife.ts';
import { thin } from './thin.ts';

const { stage, view } = stillLife();
const cells: Emitter[] = Array.from({ length: 49 }, (_, i) => ({
  shape: {
    kind: 'rectangle',
    centre: [3 + 0.05 * (i % 7), 0.7 + 0.1 * (i % 7), 1.3 + 0.1 * Math.floor(i / 7)],
    axis: normalize([-1, 0.5, 0]),
    up: [0, 0, 1],
    widthM: 0.11,
    heightM: 0.1,
  },
  beam: { kind: 'cosine', peakCd: 10 + (i % 5), exponent: 1 },
}));
const lamps: Record<string, Emitter[]> = {
  'a hard disc': [spot([0.6, 0.5, 2.2], [1.9, 2.4, 1.2], 0.05, 4000, 14)],
  'a large disc near by': [spot([1.2, 1.4, 1.9], [1.9, 2.4, 1.2], 0.45, 900, 2)],
  'a globe': [{ ...bulb([2.6, 1.6, 1.5], 200), gain: 2 }],
  'a tube': [
    {
      shape: { kind: 'tube', from: [1, 1, 2.2], to: [2.2, 1, 2.2], radiusM: 0.019 },
      beam: { kind: 'tube', peakCd: 300 },
    },
  ],
  'a grid of 49': cells,
};

const both = Object.entries(lamps).flatMap(([name, emitters]) =>
  [plainTracer, fastTracer].map((make) => ({ name, emitters, make })),
);
for (const { name, emitters, make } of both) {
  const { name: way, sums } = make();
  test(`bare light of ${name}, ${way}: within 2 % rms in lux, the sum of gloss within 6 %`, async () => {
    const tracer = fastTracer();
    await tracer.load({ stage, layers: [lamp('L', ...emitters)] });
    const hits = await tracer.hits(view, 160, 90, { seed: 1 });
    const n = hits.points.count;
    const set = emitterSet(emitters);
    const stand = standFor(set);
    const out = { diffuse: new Float32Array(n), gloss: new Float32Array(n) };
    const table = glossTable(stage.materials);
    if (stand.emitter.length > 4) {
      const coarse = thin(hits, view, 4);
      const stream = streamAt(set, stand, coarse.points, coarse.footprintM);
      bareFromStream(set, stand, table, hits.points, coarse, stream, out);
    } else bareAt(set, stand, table, hits.points, 0, n, out, sums?.flatLight);
    const samples = Math.max(4, Math.ceil(128 / emitters.length));
    const want = await tracer.direct(hits.points, 0, { seed: 2, samples, shadows: false });
    const most = want.diffuse.reduce((a, b) => Math.max(a, b), 0);
    let square = 0;
    let count = 0;
    let [shine, shineWanted] = [0, 0];
    for (let i = 0; i < n; i++) {
      shine += out.gloss[i]!;
      shineWanted += want.gloss[i]!;
      if (want.diffuse[i]! < 0.01 * most) continue;
      square += (out.diffuse[i]! / want.diffuse[i]! - 1) ** 2;
      count++;
    }
    expect(count).toBeGreaterThan(1000);
    expect(Math.sqrt(square / count)).toBeLessThan(0.02);
    expect(shineWanted).toBeGreaterThan(0);
    expect(Math.abs(shine / shineWanted - 1)).toBeLessThan(0.06);
  });
}
