/** Laws of light in the air: the integral along a ray, shadow, what is lost on the way, from behind against from the front. */
import { expect, test } from 'vitest';
import { backOverFront, henyeyGreenstein, phaseOf } from '../light/haze.ts';
import { rngOf } from '../maths/sampling.ts';
import type { Vec3 } from '../maths/vec3.ts';
import type { Air } from '../stage/air.ts';
import type { Stage } from '../stage/stage.ts';
import { airLight, airMore, airSample } from './airlight.ts';
import { boxQuads, lamp, matte, meanAt, probeAt, type Quad, stageOf } from './box.ts';
import { dropPattern } from './drops.ts';
import { emitterSet } from './emitter.ts';
import { plainTracer } from './plain.ts';
import { glance } from './quick/quick.ts';
import { airNoiseOf, refine, refinement } from './quick/refine.ts';
import type { Emitter, Layer, View } from './scene.ts';

const inAir = (stage: Stage, air: Air): Stage => ({
  ...stage,
  air,
  key: `${stage.key} ${JSON.stringify(air)}`,
});
const bulb = (centre: Vec3, cd = 1000): Emitter => ({
  shape: { kind: 'sphere', centre, axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.01 },
  beam: { kind: 'isotropic', cd },
});
/** From the origin northward, so narrow that all its rays are one. */
const narrow: View = {
  eye: [0, 0, 0],
  forward: [0, 1, 0],
  right: [1, 0, 0],
  up: [0, 0, 1],
  tanH: 1e-4,
  tanV: 1e-4,
};
const wide: View = { ...narrow, tanH: 0.6, tanV: 0.34 };
const black = matte(0);
/** A black wall across the view, six metres off. */
const back: Quad = { corner: [-8, 6, -8], sideU: [16, 0, 0], sideV: [0, 0, 16], material: black };

async function seen(stage: Stage, layer: Layer, view: View, width: number, height: number) {
  const tracer = plainTracer();
  await tracer.load({ stage, layers: [layer] });
  const hits = await tracer.hits(view, width, height, { seed: 3, samples: 1 });
  return { tracer, hits, set: emitterSet(layer.emitters) };
}

/** Mean over all pixels of many unbiased passes, and the error of the mean. */
async function unbiased(stage: Stage, layer: Layer, view: View, passes = 400) {
  const [width, height] = [16, 9];
  const { tracer, hits, set } = await seen(stage, layer, view, width, height);
  const means: number[] = [];
  for (let k = 0; k < passes; k++)
    means.push(
      meanAt(await airSample(tracer, view, hits, { from: 0, to: height }, set, { seed: 1000 + 7 * k })),
    );
  const mean = meanAt(means);
  const spread = means.reduce((s, v) => s + (v - mean) ** 2, 0) / (passes - 1);
  return { mean, error: Math.sqrt(spread / passes) };
}

/** The same by the book: ∫ σ p(θ) I/d² e^(−β(s + d)) ds along the axis, by 20,000 midpoints. */
function byTheBook(at: Vec3, cd: number, beta: number, phase: (cos: number) => number, to: number): number {
  let sum = 0;
  const n = 20_000;
  for (let i = 0; i < n; i++) {
    const s = (to * (i + 0.5)) / n;
    const d = Math.hypot(at[0], at[1] - s, at[2]);
    sum += (beta * phase((at[1] - s) / d) * cd * Math.exp(-beta * (s + d)) * (to / n)) / (d * d);
  }
  return sum;
}

for (const [beta, phase] of [
  [0.02, 0],
  [0.3, 0.75],
  [0.1, 'haze'],
] as const)
  test(`a bulb beside the ray, β ${beta}, ${phase}: the integral along it`, async () => {
    const at: Vec3 = [0.7, 3, 0.4];
    const stage = inAir(stageOf([back]), { extinctionPerM: beta, phase });
    const { mean, error } = await unbiased(stage, lamp('bulb', bulb(at)), narrow);
    const want = byTheBook(at, 1000, beta, phaseOf(phase), 6);
    expect(error / want).toBeLessThan(0.01);
    expect(Math.abs(mean / want - 1)).toBeLessThan(0.002 + 5 * (error / want));
    // And the quick one.
    const { tracer, hits, set } = await seen(stage, lamp('bulb', bulb(at)), narrow, 160, 90);
    const quick = (await airLight(tracer, narrow, hits, set, { seed: 3 }))!;
    expect(Math.abs(meanAt(quick.luminance) / want - 1)).toBeLessThan(0.02);
    expect((quick.behind + quick.front) / want).toBeCloseTo(1, 1);
  });

test('lit from behind against from the front: the ratio of the phase function, and the lamps change places', async () => {
  // Far off and small, so that all the air before the wall is lit at one angle: 30° and 150° round.
  const s = 400;
  const from = (deg: number): Vec3 => [
    s * Math.sin((deg * Math.PI) / 180),
    3 + s * Math.cos((deg * Math.PI) / 180),
    0,
  ];
  const open: Quad = { ...back, corner: [-0.01, 6, -0.01], sideU: [0.02, 0, 0], sideV: [0, 0, 0.02] };
  const stage = inAir(stageOf([open]), { extinctionPerM: 1e-4, phase: 0.7 });
  const at = async (deg: number) =>
    (await unbiased(stage, lamp(`${deg}`, bulb(from(deg), 1e6)), narrow, 8)).mean;
  // 30.38 [CHECKS-LIGHT §7.1]; the lamp is not quite at one angle along six metres.
  expect(Math.abs((await at(30)) / (await at(150)) / 30.38 - 1)).toBeLessThan(0.01);
  expect(
    henyeyGreenstein(0.7, Math.cos(Math.PI / 6)) / henyeyGreenstein(0.7, -Math.cos(Math.PI / 6)),
  ).toBeCloseTo(30.38, 2);
  expect(backOverFront(phaseOf(0.7))).toBeCloseTo(30.6, 0);
});

test('air in the shadow of a board is dark, and the picture says from which side it is lit', async () => {
  const lit = lamp('behind', bulb([0, 5.5, 0.5]));
  const board: Quad = { corner: [-4, 5, -4], sideU: [8, 0, 0], sideV: [0, 0, 8], material: black };
  const free = inAir(stageOf([back]), { extinctionPerM: 0.05, phase: 'haze' });
  const cut = inAir(stageOf([back, board]), { extinctionPerM: 0.05, phase: 'haze' });
  const of = async (stage: Stage) => {
    const { tracer, hits, set } = await seen(stage, lit, wide, 320, 180);
    return (await airLight(tracer, wide, hits, set, { seed: 3 }))!;
  };
  const [a, b] = [await of(free), await of(cut)];
  expect(meanAt(a.luminance)).toBeGreaterThan(0.1);
  // At the board's outline a coarse ray that passes it lends its neighbour a little.
  expect(meanAt(b.luminance)).toBeLessThan(0.01 * meanAt(a.luminance));
  expect(a.behind / a.front).toBeGreaterThan(5);
});

test('quick against unbiased in a room with a shaft: within an eighth of a stop over the frame and its quarters', async () => {
  // A spot through a slot in a wall, its shaft across the view.
  const wall = (x0: number, x1: number): Quad => ({
    corner: [x0, 4, -2],
    sideU: [x1 - x0, 0, 0],
    sideV: [0, 0, 4],
    material: black,
  });
  const stage = inAir(stageOf([wall(-6, -0.6), wall(-0.2, 6), back]), {
    extinctionPerM: 0.05,
    phase: 'haze',
  });
  const spot: Emitter = {
    shape: { kind: 'disc', centre: [-1.2, 5.6, 0.8], axis: [0.5, -0.8, -0.33], up: [0, 0, 1], radiusM: 0.05 },
    beam: { kind: 'cosine', peakCd: 20_000, exponent: 20 },
  };
  const [width, height] = [240, 135];
  const { tracer, hits, set } = await seen(stage, lamp('spot', spot), wide, width, height);
  const quick = (await airLight(tracer, wide, hits, set, { seed: 3 }))!.luminance;
  const true_ = new Float64Array(width * height);
  const passes = 12;
  for (let k = 0; k < passes; k++) {
    const one = await airSample(tracer, wide, hits, { from: 0, to: height }, set, { seed: 50 + k });
    for (let p = 0; p < one.length; p++) true_[p]! += one[p]! / passes;
  }
  for (const [x0, x1] of [
    [0, 240],
    [120, 180],
    [180, 240],
  ] as const) {
    const over = (f: ArrayLike<number>) =>
      meanAt(Array.from(f).filter((_, p) => p % width >= x0 && p % width < x1));
    expect(
      Math.abs(Math.log2(over(quick) / over(true_))),
      `${x0}–${x1}: ${over(quick)} ${over(true_)}`,
    ).toBeLessThan(0.125);
  }
});

test('haze lessens what it is seen through and what comes through it: e^(−βd), each way', async () => {
  const beta = 0.1;
  const bulbAt = lamp('bulb', bulb([0, 4, 0], 1600));
  const stage = stageOf(boxQuads([-5, -5, -5], [5, 6, 5], 'in', matte(0.5)));
  const probe = probeAt([
    [
      [0, 0.5, 0],
      [0, 1, 0],
    ],
  ]);
  const read = async (s: Stage) => {
    const { tracer, hits } = await seen(s, bulbAt, narrow, 3, 3);
    const direct = (await tracer.direct(probe, 0, { seed: 1, samples: 4 })).diffuse[0]!;
    const path = (await tracer.trace(probe, { seed: 1, paths: 64 })).layers[0]!.direct.diffuse[0]!;
    return { direct, path, weight: hits.weight[4]!, glow: hits.glow.luminance[0]! };
  };
  const clear = await read(stage);
  const hazy = await read(inAir(stage, { extinctionPerM: beta, phase: 'haze' }));
  // The bulb’s near side is a centimetre nearer.
  expect(hazy.direct / clear.direct).toBeCloseTo(Math.exp(-beta * 3.495), 3);
  expect(hazy.path / clear.path).toBeCloseTo(Math.exp(-beta * 3.495), 3);
  expect(hazy.weight / clear.weight).toBeCloseTo(Math.exp(-beta * 6), 4);
  expect(hazy.glow / clear.glow).toBeCloseTo(Math.exp(-beta * 3.99), 3);
});

test('rain falls outside only; drops are spread, their light is not changed', async () => {
  const pattern = dropPattern('rain', 160, 90, 3);
  expect(meanAt(pattern)).toBeCloseTo(1, 5);
  expect(pattern.reduce((a, b) => Math.max(a, b), 0)).toBeGreaterThan(5);
  const rooms = [
    {
      outline: [
        [-4, -1],
        [4, -1],
        [4, 3],
        [-4, 3],
      ] as [number, number][],
      fromM: -3,
      toM: 3,
    },
  ];
  const layer = lamp('bulb', bulb([1, 5, 0.5]));
  const of = async (view: View) => {
    const stage = inAir(stageOf([back]), {
      extinctionPerM: 0,
      phase: 'haze',
      falling: { kind: 'rain', scatteringPerM: 0.003, rooms },
    });
    const { tracer, hits, set } = await seen(stage, layer, view, 64, 36);
    return meanAt((await airLight(tracer, view, hits, set, { seed: 3 }))!.luminance);
  };
  // Outward through where it rains; and inside, at a wall of the room.
  expect(await of(wide)).toBeGreaterThan(0.05);
  expect(await of({ ...wide, eye: [0, 2, 0], forward: [0, -1, 0], right: [-1, 0, 0] })).toBeGreaterThan(0);
  const inside = {
    ...rooms[0]!,
    outline: rooms[0]!.outline.map(([x, y]) => [9 * x, 20 * y] as [number, number]),
  };
  const dry = inAir(stageOf([back]), {
    extinctionPerM: 0,
    phase: 'haze',
    falling: { kind: 'rain', scatteringPerM: 0.003, rooms: [{ ...inside, fromM: -50, toM: 50 }] },
  });
  const { tracer, hits, set } = await seen(dry, layer, wide, 32, 18);
  expect(meanAt((await airLight(tracer, wide, hits, set, { seed: 3 }))!.luminance)).toBe(0);
});

test('every layer for itself: two lamps together are the sum of each', async () => {
  const stage = inAir(stageOf([back]), { extinctionPerM: 0.05, phase: 0.5 });
  const rng = rngOf(5);
  const one = bulb([rng() - 0.5, 2, 1]);
  const two = bulb([rng() - 0.5, 4, -1], 500);
  const of = async (...emitters: Emitter[]) =>
    (await unbiased(stage, lamp('x', ...emitters), narrow, 48)).mean;
  const [a, b, both] = [await of(one), await of(two), await of(one, two)];
  expect(Math.abs(both / (a + b) - 1)).toBeLessThan(0.03);
});

test('refined: each step goes on where the last one stopped, and the mean comes to the integral by the book', async () => {
  const beta = 0.08;
  const at: Vec3 = [1.5, 3, 0.4];
  const stage = inAir(stageOf([back]), { extinctionPerM: beta, phase: 0.5 });
  const { tracer, hits, set } = await seen(stage, lamp('bulb', bulb(at)), narrow, 16, 9);
  const expected = byTheBook(at, 1000, beta, (cos) => henyeyGreenstein(0.5, cos), 6);
  let mean = 0;
  const off: number[] = [];
  for (let step = 0; step < 16; step++) {
    const more = (await airMore(tracer, narrow, hits, set, { seed: 5, begun: 4 * step, places: 4 }))!;
    mean += (meanAt(more.luminance) - mean) / (step + 1);
    off.push(Math.abs(mean / expected - 1));
    // The lamp stands on this side of some of the air and beyond the rest.
    expect(more.behind + more.front).toBeCloseTo(meanAt(more.luminance), 4);
  }
  expect(off.at(-1)).toBeLessThan(0.003);
});

test('refined: a picture in haze moves less and less, and says about by how much', async () => {
  const stage = inAir(stageOf([back]), { extinctionPerM: 0.08, phase: 'haze' });
  const { tracer, hits, set } = await seen(stage, lamp('bulb', bulb([1.5, 3, 0.4])), wide, 48, 27);
  const so = refinement(glance(wide, hits), 1, [set]);
  const xyz = new Float32Array(3 * 48 * 27);
  const noise: (number | undefined)[] = [];
  let early = new Float32Array(0);
  for (let step = 1; step <= 64; step++) {
    await refine(tracer, glance(wide, hits), so, { seed: 5, paths: 2, samples: 1 });
    const { luminance } = so.air!.light[0]!;
    for (let p = 0; p < luminance.length; p++) xyz[3 * p + 1] = luminance[p]!;
    noise[step] = airNoiseOf(so, [1], xyz);
    if (step === 8) early = luminance.slice();
  }
  const last = so.air!.light[0]!.luminance;
  const moved = Array.from(early, (v, p) => Math.abs(Math.log2(v / last[p]!))).sort((a, b) => a - b);
  const middle = moved[moved.length >> 1]!;
  expect(noise[1]).toBeUndefined();
  // Eight times the places, a noise smaller by √8 at the least.
  expect(noise[64]!).toBeLessThan(noise[8]! / Math.sqrt(8));
  // What was said after eight steps is no less than what the middle pixel still had to go, and not ten times as much.
  expect(noise[8]!).toBeGreaterThan(middle);
  expect(noise[8]!).toBeLessThan(10 * middle);
});
