/** Bare light against the tracer's own, shadows off, with many samples. */
import { expect, test } from 'vitest';
import { fastTracer } from '../../engine/fast.ts';
import { dot, normalize, type Vec3 } from '../../maths/vec3.ts';
import { lamp, probeAt } from '../box.ts';
import { gloss, glossRay, lobe, sampleGloss } from '../brdf.ts';
import { emitterSet, meetEmitter, picked, sampleEmitter } from '../emitter.ts';
import { plainTracer } from '../plain.ts';
import type { Emitter } from '../scene.ts';
import { bareAt, glossTable, standFor } from './bare.ts';
import { bulb, spot, stillLife } from './stillLife.ts';
import { bareFromStream, streamAt } from './stream.ts';
import { thin } from './thin.ts';

/** Gloss of a single emitter at a point by so many places each way of emitter and lobe, by the balance heuristic. */
function dense(
  set: ReturnType<typeof emitterSet>,
  f0: number,
  alpha: number,
  { position, normal, toEye }: { position: Float32Array; normal: Float32Array; toEye: Float32Array },
  p: number,
  steps: number,
): number {
  const [at, n, e] = [position, normal, toEye].map(
    (a) => Array.from(a.subarray(3 * p, 3 * p + 3)) as unknown as Vec3,
  ) as [Vec3, Vec3, Vec3];
  let sum = 0;
  for (let i = 0; i < steps; i++)
    for (let j = 0; j < steps; j++) {
      const [u, v] = [(i + 0.5) / steps, (j + 0.5) / steps];
      if (sampleEmitter(set, 0, ...at, u, v)) {
        const l: Vec3 = [picked[0]!, picked[1]!, picked[2]!];
        const [lux, density] = [picked[4]! * dot(l, n), picked[5]!];
        gloss(f0, alpha, ...n, ...l, ...e);
        if (lobe.value > 0) sum += (lobe.value * lux) / (1 + lobe.density / density);
      }
      if (!sampleGloss(alpha, ...n, ...e, u, v)) continue;
      const g: Vec3 = [glossRay[0]!, glossRay[1]!, glossRay[2]!];
      if (!meetEmitter(set, 0, ...at, ...g)) continue;
      const [density, luminance] = [picked[5]!, picked[6]!];
      gloss(f0, alpha, ...n, ...g, ...e);
      if (lobe.value > 0) sum += (lobe.value * dot(g, n) * luminance) / (lobe.density + density);
    }
  return sum / steps ** 2;
}

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

test('the gloss of a lit frame’s cells runs together as its whole does, whatever the gloss: within .15 stop', async () => {
  const [wide, across] = [1.2, 8];
  const rectangle = (x: number, z: number, side: number, peakCd: number): Emitter => ({
    shape: {
      kind: 'rectangle',
      centre: [x, 3, z],
      axis: [0, -1, 0],
      up: [0, 0, 1],
      widthM: side,
      heightM: side,
    },
    beam: { kind: 'cosine', peakCd, exponent: 1 },
  });
  const side = wide / across;
  const grid = emitterSet(
    Array.from({ length: across ** 2 }, (_, i) =>
      rectangle(
        (((i % across) + 0.5) / across - 0.5) * wide,
        1.4 + ((Math.floor(i / across) + 0.5) / across - 0.5) * wide,
        side,
        100 / across ** 2,
      ),
    ),
  );
  const whole = emitterSet([rectangle(0, 1.4, wide, 100)]);
  // A floor before it, seen by an eye that finds the frame mirrored in it.
  const n = 60;
  const positions = Array.from({ length: n }, (_, i): Vec3 => [-0.5 + i / n, 0.6 + (0.6 * i) / n, 0]);
  const points = {
    ...probeAt(positions.map((p): [Vec3, Vec3] => [p, [0, 0, 1]])),
    toEye: Float32Array.from(positions.flatMap((p) => normalize([-p[0] * 0.5, -2 - p[1], 1.4]))),
    material: new Uint16Array(n),
  };
  const thinAll = {
    tap: Uint32Array.from({ length: 4 * n }, (_, t) => Math.floor(t / 4)),
    tapWeight: Uint8Array.from({ length: 4 * n }, (_, t) => (t % 4 === 0 ? 255 : 0)),
  };
  const stand = standFor(grid);
  const stream = streamAt(grid, stand, points, new Float32Array(n).fill(0.01));
  for (const alpha of [0.01, 0.03, 0.06, 0.12, 0.25]) {
    const table = {
      f0: Float64Array.of(0.05),
      alpha: Float64Array.of(alpha),
      through: new Float64Array(1),
      neutral: new Float64Array(1),
    };
    const out = { diffuse: new Float32Array(n), gloss: new Float32Array(n) };
    bareFromStream(grid, stand, table, points, thinAll, stream, out);
    const want = Array.from({ length: n }, (_, p) => dense(whole, table.f0[0]!, alpha, points, p, 100));
    const most = Math.max(...want);
    // Less than a tenth of the greatest counts against that.
    const off = want.map((w, p) => Math.abs(out.gloss[p]! - w) / Math.max(w, most / 10));
    // A mirror's edge comes in steps of its rays: its highlight is right but for where it ends.
    const bright = off.filter((_, p) => want[p]! > most / 2).sort((a, b) => a - b);
    if (alpha < 0.02) expect(bright[Math.floor(0.8 * bright.length)]).toBeLessThan(2 ** 0.15 - 1);
    else expect(Math.max(...off)).toBeLessThan(2 ** 0.15 - 1);
  }
});
