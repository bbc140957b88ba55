import { expect, test } from 'vitest';
import { SAMPLES, spectrumOf } from '../../colour/spectrum.ts';
import { fastTracer } from '../../engine/fast.ts';
import { rngOf } from '../../maths/sampling.ts';
import type { Stage } from '../../stage/stage.ts';
import { boxQuads, lamp, matte, pointsInside, probeAt, stageOf } from '../box.ts';
import { plainTracer } from '../plain.ts';
import type { Layer } from '../scene.ts';
import type { Tracer } from '../tracer.ts';
import { accuracy } from './accuracy.ts';
import { gather, guideOf, NO_GUIDE } from './gather.ts';
import { glossShare } from './patches.ts';
import { paletteOf, picture } from './picture.ts';
import { fieldOf, LINKS, probeLinks, quickLayer, quickProbes, roomOf, sightOf } from './quick.ts';
import { noiseOf, refine, refinement } from './refine.ts';
import { closedLinks, solve } from './solve.ts';
import { bulb, spot, stillLife } from './stillLife.ts';
import { TAP_UNIT, TAPS } from './thin.ts';

const options = { seed: 5 };

/** Plainly, and with long sums in WebAssembly. */
const ways = [plainTracer, fastTracer].map((make) => ({ way: make().name, make }));

async function loaded(stage: Stage, layers: Layer[], make: () => Tracer = plainTracer) {
  const tracer = make();
  await tracer.load({ stage, layers });
  const room = await roomOf(tracer, stage, options);
  return { tracer, room };
}

// Conservation of energy in a closed box: what the walls swallow is what the lamp sends out.
for (const { way, make, rho } of ways.flatMap((w) => [0.3, 0.8].map((rho) => ({ ...w, rho })))) {
  test(`a closed box of reflectance ${rho} swallows the lamp's flux, within 1 %, ${way}`, async () => {
    const stage = stageOf(boxQuads([0, 0, 0], [4, 3, 2.5], 'in', matte(rho), 0.25));
    const layer = lamp('bulb', bulb([1, 1.2, 1.9], 100));
    const { tracer, room } = await loaded(stage, [layer], make);
    const { field } = await fieldOf(tracer, room, layer, 0, options);
    let swallowed = 0;
    for (let p = 0; p < stage.patchCount; p++)
      swallowed += ((room.patches.areaM2[p]! * field.exitance[p * SAMPLES]!) / rho) * (1 - rho);
    expect(Math.abs(swallowed / (4 * Math.PI * 100) - 1)).toBeLessThan(0.01);
  });
}

test.each(ways)(
  'an even furnace: E / (1 − ρ) falls everywhere, at every wavelength, $way',
  async ({ make }) => {
    const rho = spectrumOf((nm) => 0.2 + (0.7 * (nm - 380)) / 400);
    const stage = stageOf(boxQuads([0, 0, 0], [4, 3, 2.5], 'in', matte(rho, 'slope'), 0.5));
    const { room } = await loaded(stage, [], make);
    const even = new Float32Array(stage.patchCount).fill(10);
    const { exitance, bounces } = solve(
      room.patches,
      room.links,
      LINKS,
      even,
      undefined,
      undefined,
      room.sums,
    );
    for (let k = 0; k < SAMPLES; k++) {
      const r = room.patches.reflectance[k]!;
      for (const p of [0, 7, stage.patchCount - 1])
        expect(exitance[p * SAMPLES + k]! / ((10 * r) / (1 - r))).toBeCloseTo(1, 3);
    }
    expect(bounces).toBeLessThan(61);
  },
);

test('a one-percent loss per bounce would be noticed by the furnace', async () => {
  const stage = stageOf(boxQuads([0, 0, 0], [4, 3, 2.5], 'in', matte(0.8), 0.5));
  const { room } = await loaded(stage, []);
  const leaky = { ...room.patches, reflectance: room.patches.reflectance.map((r) => r * 0.99) };
  const { exitance } = solve(leaky, room.links, LINKS, new Float32Array(stage.patchCount).fill(10));
  expect(Math.abs(exitance[0]! / 40 - 1)).toBeGreaterThan(0.03);
});

test.each([
  ['alone', 0],
  // Beyond the wall a lamp as near its own wall lights that far more: nobody inside sees it.
  ['with a brighter place outside', 50_000],
])('guided rays, %s: the same light as many cosine rays alone, and much quieter', async (_, outsideLm) => {
  // A spot bounced off the ceiling: nearly all light leaves a few patches.
  const outside = boxQuads([6, 0, 0], [11, 4, 2.7], 'in', matte(0.6), 0.25);
  const stage = stageOf([
    ...boxQuads([0, 0, 0], [5, 4, 2.7], 'in', matte(0.6), 0.25),
    ...(outsideLm > 0 ? outside : []),
  ]);
  const up = lamp('up', spot([2.5, 3.4, 1.6], [2.5, 3.3, 2.7], 0.05, 5000, 30));
  const beyond = lamp('beyond', spot([8.5, 3.4, 1.6], [8.5, 3.3, 2.7], 0.05, outsideLm, 30));
  const layer = outsideLm > 0 ? { ...up, emitters: [...up.emitters, ...beyond.emitters] } : up;
  const { tracer, room } = await loaded(stage, [layer]);
  const { field } = await fieldOf(tracer, room, layer, 0, options);
  const { at } = pointsInside([0, 0, 0], [5, 4, 2.7], 60, rngOf(3));
  const probes = probeAt(at);
  const per = 8_000;
  const many = closedLinks(await tracer.links(probes, per, { seed: 9 }), room.patches.count);
  const guide = guideOf(room.patches, field, many);
  expect(guide.unevenness).toBeGreaterThan(20);
  const exact = await gather(tracer, room.patches, field, NO_GUIDE, probes, many, per, {
    seed: 1,
    guided: 0,
  });
  const miss = async (guided: number): Promise<{ rms: number; bias: number }> => {
    let square = 0;
    let sum = 0;
    let n = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const links = closedLinks(await tracer.links(probes, LINKS, { seed }), room.patches.count);
      const got = await gather(tracer, room.patches, field, guide, probes, links, LINKS, { seed, guided });
      for (let i = 0; i < probes.count; i++) {
        const e = got[i * SAMPLES]! / exact[i * SAMPLES]! - 1;
        square += e * e;
        sum += e;
        n++;
      }
    }
    return { rms: Math.sqrt(square / n), bias: sum / n };
  };
  const alone = await miss(0);
  const led = await miss(4);
  expect(led.rms).toBeLessThan(alone.rms / 2);
  // 720 estimates of about 0.2 rms: five standard errors of the mean, and the reference's own noise.
  expect(Math.abs(led.bias)).toBeLessThan((5 * led.rms) / Math.sqrt(720) + 0.01);
});

const { stage, layers, view } = stillLife();

test('quick against paths: under .15 stop rms on skin and whole, .3 at shadow edges (the goal)', async () => {
  for (const l of [0, 1]) {
    const { whole, skin, edge } = await accuracy(plainTracer(), { stage, layers }, view, l, {
      width: 240,
      points: 70,
      paths: 160,
      samples: 128,
      seed: 5,
    });
    expect(skin.points).toBeGreaterThan(40);
    expect(skin.rmsStops).toBeLessThan(0.15);
    expect(whole.rmsStops).toBeLessThan(0.15);
    if (l === 0) expect(edge.points).toBeGreaterThan(40);
    expect(edge.rmsStops).toBeLessThan(0.3);
  }
});

test('probes against paths, and the same seed gives the same numbers', async () => {
  const { tracer, room } = await loaded(stage, layers);
  const probes = probeAt([
    [
      [1.9, 2.18, 1.2],
      [0, -1, 0],
    ],
    [
      [3, 3, 1],
      [0, 0, 1],
    ],
    [
      [1, 1, 1.5],
      [1, 0, 0],
    ],
  ]);
  const links = await probeLinks(tracer, room, probes, options);
  const ref = await tracer.trace(probes, { seed: 4, paths: 6000 });
  for (const [l, layer] of layers.entries()) {
    const lit = await fieldOf(tracer, room, layer, l, options);
    const got = await quickProbes(tracer, room, probes, links, l, lit, options);
    for (let i = 0; i < probes.count; i++) {
      const want = ref.layers[l]!.direct.diffuse[i]! + ref.layers[l]!.bounced[i * SAMPLES + 5]!;
      expect(Math.abs(Math.log2((got.direct[i]! + got.bounced[i * SAMPLES + 5]!) / want))).toBeLessThan(0.1);
    }
    const again = await quickProbes(tracer, room, probes, links, l, lit, options);
    expect([...again.bounced, ...again.direct]).toEqual([...got.bounced, ...got.direct]);
  }
});

test('a picture: layers add, weights scale, a matte card reads ρE/π, products of reflectances by wavelength', async () => {
  const { tracer, room } = await loaded(stage, layers);
  const hits = await tracer.hits(view, 64, 36, options);
  const sight = await sightOf(tracer, room, view, hits, options);
  const lights = await Promise.all(
    layers.map(async (layer, l) =>
      quickLayer(tracer, room, sight, await fieldOf(tracer, room, layer, l, options), options),
    ),
  );
  const palette = paletteOf(stage, hits, sight.coarse);
  const even = new Float64Array(36).fill(1 / 12);
  const odd = Float64Array.from({ length: 36 }, (_, i) => ((i * 7) % 12) / 66);
  const dark = new Float64Array(36);
  const show = (a: Float64Array, b: Float64Array) =>
    picture(hits, sight.coarse, palette, lights, [{ matrix: a }, { matrix: b }]);
  const one = show(even, dark);
  const two = show(dark, odd);
  const both = show(even, odd);
  const half = show(
    even.map((v) => v / 2),
    dark,
  );
  for (let i = 0; i < one.length; i++) {
    expect(Math.abs(one[i]! + two[i]! - both[i]!)).toBeLessThan(1e-4 * Math.max(1, both[i]!));
    expect(Math.abs(half[i]! * 2 - one[i]!)).toBeLessThan(1e-4 * Math.max(1, one[i]!));
  }
  // From the definition, point by point: Σ over wavelengths of M ρ (E + B) / π, and the gloss.
  for (let p = 0; p < 64 * 36; p += 37) {
    const want = [0, 0, 0];
    for (let i = hits.pixelStart[p]!; i < hits.pixelStart[p + 1]!; i++) {
      const m = stage.materials[hits.points.material[i]!]!;
      const f0 = m.gloss?.f0 ?? 0;
      for (let c = 0; c < 3; c++) {
        let v = lights[1]!.direct.gloss[i]! * odd.slice(c * 12, c * 12 + 12).reduce((a, b) => a + b, 0);
        for (let k = 0; k < 12; k++) {
          let b = 0;
          for (let t = 0; t < TAPS; t++)
            b +=
              (sight.coarse.tapWeight[i * TAPS + t]! / TAP_UNIT) *
              lights[1]!.bounced[sight.coarse.tap[i * TAPS + t]! * 12 + k]!;
          const rho = m.reflectance[10]!;
          // The share itself is held to quadrature in patches.test.ts.
          const sheen = glossShare(f0, m.gloss?.roughness ?? 1);
          v += (odd[c * 12 + k]! * (rho * lights[1]!.direct.diffuse[i]! + (rho + sheen) * b)) / Math.PI;
        }
        want[c]! += hits.weight[i]! * v;
      }
    }
    for (let c = 0; c < 3; c++)
      expect(Math.abs(two[p * 3 + c]! - want[c]!)).toBeLessThan(1e-3 * Math.max(0.1, want[c]!));
  }
});

test('refining: the mean of steps is one long run of paths, and noise falls by the square root', async () => {
  const { tracer, room } = await loaded(stage, layers);
  const hits = await tracer.hits(view, 32, 18, options);
  const sight = await sightOf(tracer, room, view, hits, options);
  const so = refinement(sight, layers.length);
  const step = { seed: 3, paths: 16, samples: 4 };
  await refine(tracer, sight, so, step);
  const first = noiseOf(sight, so)!;
  for (let i = 0; i < 7; i++) await refine(tracer, sight, so, step);
  expect(so.paths).toBe(128);
  const whole = await tracer.trace(sight.coarse.points, { seed: 3, paths: 128 });
  for (let l = 0; l < layers.length; l++) {
    for (let i = 5; i < so.light[l]!.bounced.length; i += 97) {
      expect(Math.abs(so.light[l]!.bounced[i]! - whole.layers[l]!.bounced[i]!)).toBeLessThan(
        1e-3 * Math.max(1, whole.layers[l]!.bounced[i]!),
      );
    }
  }
  // Eight times the paths: √8 = 2.8 for plain chance, more for even sequences.
  const last = noiseOf(sight, so)!;
  expect(first.medianStops / last.medianStops).toBeGreaterThan(2);
  expect(last.p90Stops).toBeGreaterThan(last.medianStops);
});

test('a cancelled layer stops with an AbortError', async () => {
  const { tracer, room } = await loaded(stage, layers);
  const hits = await tracer.hits(view, 32, 18, options);
  const sight = await sightOf(tracer, room, view, hits, options);
  const lit = await fieldOf(tracer, room, layers[0]!, 0, options);
  const signal = { aborted: true };
  await expect(quickLayer(tracer, room, sight, lit, { seed: 1, signal })).rejects.toMatchObject({
    name: 'AbortError',
  });
});

test('chance goes by place in the list: a list cut in two gives the numbers of the whole', async () => {
  const { tracer } = await loaded(stage, layers);
  const { at } = pointsInside([0, 0, 0], [4, 4, 2.6], 20, rngOf(1));
  const whole = probeAt(at);
  const late = { ...probeAt(at.slice(8)), firstIndex: 8 };
  const a = await tracer.trace(whole, { seed: 2, paths: 4 });
  const b = await tracer.trace(late, { seed: 2, paths: 4 });
  expect([...b.layers[1]!.bounced]).toEqual([...a.layers[1]!.bounced.subarray(8 * SAMPLES)]);
  expect([...(await tracer.links(late, 8, { seed: 2 }))]).toEqual([
    ...(await tracer.links(whole, 8, { seed: 2 })).subarray(64),
  ]);
  const patches = await tracer.patchDirect(0, { seed: 2, samples: 4 });
  const some = await tracer.patchDirect(0, { seed: 2, samples: 4, patches: { from: 30, to: 60 } });
  expect([...some.subarray(30, 60)]).toEqual([...patches.subarray(30, 60)]);
  const rows = await tracer.hits(view, 64, 36, { seed: 2, rows: { from: 10, to: 20 } });
  const all = await tracer.hits(view, 64, 36, { seed: 2 });
  const [from, to] = [all.pixelStart[640]!, all.pixelStart[1280]!];
  expect([...rows.points.position]).toEqual([...all.points.position.subarray(from * 3, to * 3)]);
  expect(rows.pixelStart[64 * 36]).toBe(to - from);
});
