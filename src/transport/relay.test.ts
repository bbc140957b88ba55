import { expect, test } from 'vitest';
import { constant } from '../colour/spectrum.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { DEG, dot, length, sub } from '../maths/vec3.ts';
import type { Material } from '../stage/stage.ts';
import { lamp, matte, nowhere, probeAt, stageOf } from './box.ts';
import { plainTracer } from './plain.ts';
import type { Frame } from './relay.ts';
import { relayLayers } from './relay.ts';
import type { Emitter, Layer } from './scene.ts';

/** A small lamp at (0, 0, 1) looking along +x that lights a circle 0.6 m across, 1 m away, evenly with 6500 lx. */
const angles = Array.from({ length: 400 }, (_, i) => (i * 90) / 399);
const evenCircle: Emitter = {
  shape: { kind: 'disc', centre: [0, 0, 1], axis: [1, 0, 0], up: [0, 0, 1], radiusM: 1e-4 },
  beam: {
    kind: 'table',
    table: {
      type: 'C',
      verticalDeg: [
        ...angles.filter((a) => Math.tan(a * DEG) < 0.3),
        Math.atan(0.3) / DEG,
        Math.atan(0.3001) / DEG,
      ],
      horizontalDeg: [0],
      cd: Float64Array.from([
        ...angles.filter((a) => Math.tan(a * DEG) < 0.3).map((a) => 6500 / Math.cos(a * DEG) ** 3),
        6500 / Math.cos(Math.atan(0.3)) ** 3,
        0,
      ]),
    },
  },
};
const frame: Frame = {
  id: 'F1',
  centre: [1, 0, 1],
  axis: [1, 0, 0],
  up: [0, 0, 1],
  widthM: 0.7,
  heightM: 0.7,
  scattered: 2 ** -1.5,
  cells: [28, 28],
};

async function lux(
  layers: Layer[],
  at: readonly [number, number, number],
  stage = nowhere(),
): Promise<number> {
  const tracer = plainTracer();
  await tracer.load({ stage, layers });
  let sum = 0;
  for (let l = 0; l < layers.length; l++) {
    const { diffuse } = await tracer.direct(probeAt([[at, [-1, 0, 0]]]), l, { seed: 3, samples: 4 });
    sum += diffuse[0]!;
  }
  return sum;
}

test('a lit frame gives what the check file works out: 88 lx at 1.5 m behind it [CHECKS-CAMERA §6.1]', async () => {
  const tracer = plainTracer();
  const scene = { stage: nowhere(), layers: [lamp('L1', evenCircle)] };
  await tracer.load(scene);
  const relays = await relayLayers(tracer, scene, [frame], { seed: 1 });
  expect(relays.map((r) => r.id)).toEqual(['L1/F1']);
  expect(relays[0]!.lamp).toBe('L1');
  // Exact disc: π L R² / (R² + D²), L = E τ / π.
  const exact = (6500 * 2 ** -1.5 * 0.3 ** 2) / (0.3 ** 2 + 1.5 ** 2);
  expect(exact).toBeCloseTo(88.4, 1);
  // Cells on the circle's rim are told by four points each: the lit area is right to a percent.
  expect(Math.abs((await lux(relays, [2.5, 0, 1])) / exact - 1)).toBeLessThan(0.015);
  // Nothing goes back to the lamp's side.
  expect(await lux(relays, [0.5, 0, 1])).toBe(0);
});

test('a frame gives on its share of the flux that falls on it, from either side', async () => {
  const tracer = plainTracer();
  for (const side of [1, -1]) {
    const scene = { stage: nowhere(), layers: [lamp('L1', evenCircle)] };
    await tracer.load(scene);
    const [relay] = await relayLayers(tracer, scene, [{ ...frame, axis: [side, 0, 0] }], { seed: 1 });
    // A matte cell of I₀ gives π I₀ lumens.
    let flux = 0;
    for (const e of relay!.emitters) {
      if (e.beam.kind !== 'cosine') throw new Error('a relay is matte');
      flux += Math.PI * e.beam.peakCd * e.gain!;
      expect(e.shape.kind === 'rectangle' && e.shape.axis[0]).toBeCloseTo(1, 6);
    }
    expect(Math.abs(flux / (6500 * 2 ** -1.5 * Math.PI * 0.3 ** 2) - 1)).toBeLessThan(0.01);
  }
});

test('a body before the frame shades its cells; the straight share still gets through the sheet', async () => {
  const sheet: Material = { name: 'sheet', reflectance: constant(0), kind: 'sheet', straight: 0.04 };
  const stage = stageOf([
    { corner: [1, -0.35, 0.65], sideU: [0, 0.7, 0], sideV: [0, 0, 0.7], material: sheet, part: 'sheet:F1' },
    // Covers the upper half of the beam, half way to the frame.
    { corner: [0.5, -0.5, 1], sideU: [0, 1, 0], sideV: [0, 0, 1], material: matte(0), part: 'flag:1' },
  ]);
  const tracer = plainTracer();
  const scene = { stage, layers: [lamp('L1', evenCircle)] };
  await tracer.load(scene);
  const [relay] = await relayLayers(tracer, scene, [frame], { seed: 1 });
  for (const e of relay!.emitters)
    expect(e.shape.kind === 'rectangle' ? e.shape.centre[2] : 9).toBeLessThan(1.001);
  // Below the axis, 1 m behind the sheet: 6500 cd over the square of the distance, 4 % of it, along the way it comes.
  const d = Math.hypot(2, 0.2);
  const straight = await lux(scene.layers, [2, 0, 0.8], stage);
  const cos = 2 / d;
  expect(straight / (((6500 / cos ** 3) * cos * 0.04) / d ** 2)).toBeCloseTo(1, 2);
});

/** Two small lamps of 3000 and 500 cd, all round, at different places behind the frame. */
const bulb = (at: Vec3, cd: number): Emitter => ({
  shape: { kind: 'sphere', centre: at, axis: [1, 0, 0], up: [0, 0, 1], radiusM: 2e-3 },
  beam: { kind: 'isotropic', cd },
});
const pair = [
  { at: [0, -0.3, 1.1] as Vec3, cd: 3000 },
  { at: [0.5, 0.4, 0.8] as Vec3, cd: 500 },
];
const behind: Frame = { ...frame, cells: [20, 20] };

/** Worked out by itself: E(x) = I cosθ/d² on the sheet, then ∫ E τ/π cosθ cosθ′/r² dA by the midpoint rule. */
function throughSheet(lamps: typeof pair, to: Vec3, side = 200): number {
  let sum = 0;
  const dA = (behind.widthM / side) * (behind.heightM / side);
  for (let j = 0; j < side; j++)
    for (let i = 0; i < side; i++) {
      const x: Vec3 = [
        1,
        ((i + 0.5) / side - 0.5) * behind.widthM,
        1 + ((j + 0.5) / side - 0.5) * behind.heightM,
      ];
      let lit = 0;
      for (const l of lamps) {
        const v = sub(x, l.at);
        lit += (l.cd * v[0]) / length(v) ** 3;
      }
      const r = sub(to, x);
      const cos = r[0] / length(r);
      sum += ((lit * behind.scattered) / Math.PI) * cos * cos * (dA / dot(r, r));
    }
  return sum;
}

test('two lamps behind one frame: each makes a layer of its own, the same as if it burned alone', async () => {
  const layers = pair.map((l, i) => lamp(`L${i + 1}`, bulb(l.at, l.cd)));
  const tracer = plainTracer();
  const both = { stage: nowhere(), layers };
  await tracer.load(both);
  const together = await relayLayers(tracer, both, [behind], { seed: 1 });
  expect(together.map((r) => [r.id, r.lamp])).toEqual([
    ['L1/F1', 'L1'],
    ['L2/F1', 'L2'],
  ]);
  for (const [i, layer] of layers.entries()) {
    const one = { stage: nowhere(), layers: [layer] };
    await tracer.load(one);
    const [alone] = await relayLayers(tracer, one, [behind], { seed: 1 });
    expect(together[i]!.emitters).toEqual(alone!.emitters);
  }
  // Near enough that the patch of light each throws on the sheet matters, and off to the side.
  for (const to of [
    [1.6, 0, 1],
    [1.5, -0.4, 1.3],
    [3, 0.5, 1],
  ] as Vec3[]) {
    const sum = await lux(together, to);
    expect(Math.abs(sum / throughSheet(pair, to) - 1)).toBeLessThan(0.01);
    // Either dimmed is a factor on its own part, nothing else.
    for (const [i, l] of pair.entries())
      expect(Math.abs((await lux([together[i]!], to)) / throughSheet([l], to) - 1)).toBeLessThan(0.01);
  }
});

test('two lamps on one frame: what leaves is the sheet’s share of what both throw on it', async () => {
  const layers = pair.map((l, i) => lamp(`L${i + 1}`, bulb(l.at, l.cd)));
  const tracer = plainTracer();
  const scene = { stage: nowhere(), layers };
  await tracer.load(scene);
  const relays = await relayLayers(tracer, scene, [behind], { seed: 1 });
  let flux = 0;
  for (const r of relays)
    for (const e of r.emitters)
      flux += Math.PI * (e.beam.kind === 'cosine' ? e.beam.peakCd : Number.NaN) * e.gain!;
  // Solid angle of a rectangle from a point (van Oosterom and Strackee by its two triangles) times candela.
  const solid = (from: Vec3): number => {
    const corner = (y: number, z: number): Vec3 => sub([1, y * 0.35, 1 + z * 0.35], from);
    const tri = (a: Vec3, b: Vec3, c: Vec3): number => {
      const [la, lb, lc] = [length(a), length(b), length(c)];
      const det =
        a[0] * (b[1] * c[2] - b[2] * c[1]) -
        a[1] * (b[0] * c[2] - b[2] * c[0]) +
        a[2] * (b[0] * c[1] - b[1] * c[0]);
      return 2 * Math.abs(Math.atan2(det, la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb));
    };
    const [p, q, r, s] = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)] as [
      Vec3,
      Vec3,
      Vec3,
      Vec3,
    ];
    return tri(p, q, r) + tri(p, r, s);
  };
  const falls = pair.reduce((sum, l) => sum + l.cd * solid(l.at), 0);
  expect(Math.abs(flux / (falls * behind.scattered) - 1)).toBeLessThan(0.005);
});

test('two lamps on one white board: bounced light is the sum of what each gives alone, and each is known apart', async () => {
  const stage = stageOf([
    { corner: [1, -0.5, 0.5], sideU: [0, 0, 1], sideV: [0, 1, 0], material: matte(0.85), part: 'flag:W' },
  ]);
  const layers = pair.map((l, i) => lamp(`L${i + 1}`, bulb(l.at, l.cd)));
  const to: Vec3 = [0.2, 0, 1];
  const asked = async (list: Layer[]): Promise<number[]> => {
    const tracer = plainTracer();
    await tracer.load({ stage, layers: list });
    const probe = probeAt(Array.from({ length: 16 }, () => [to, [1, 0, 0]] as const));
    const traced = await tracer.trace(probe, { seed: 9, paths: 2048 });
    return traced.layers.map((l) => l.bounced.reduce((a, b) => a + b, 0) / l.bounced.length);
  };
  const together = await asked(layers);
  // The same paths meet the board whoever burns; only chance on the way to a lamp differs.
  for (const [i, l] of layers.entries())
    expect(Math.abs(together[i]! / (await asked([l]))[0]! - 1)).toBeLessThan(0.01);
  // By hand: ∫ E ρ/π cosθ cosθ′/r² dA over the board.
  pair.forEach((l, i) => {
    let want = 0;
    const side = 100;
    for (let j = 0; j < side * side; j++) {
      const x: Vec3 = [1, ((j % side) + 0.5) / side - 0.5, 0.5 + (Math.floor(j / side) + 0.5) / side];
      const v = sub(x, l.at);
      const r = sub(x, to);
      const cos = r[0] / length(r);
      want += ((l.cd * v[0]) / length(v) ** 3) * (0.85 / Math.PI) * ((cos * cos) / dot(r, r)) * side ** -2;
    }
    expect(Math.abs(together[i]! / want - 1)).toBeLessThan(0.02);
  });
});

test('two frames one behind the other: the second is lit by what the first scatters, form factor .1998 [HOWELL-C]', async () => {
  // Two squares opposite each other, as far apart as they are long: the textbook's closed form.
  const root = Math.sqrt(2);
  const factor =
    (2 / Math.PI) * (Math.log(Math.sqrt((2 * 2) / 3)) + 2 * root * Math.atan(1 / root) - 2 * Math.atan(1));
  expect(factor).toBeCloseTo(0.1998, 4);
  const first: Frame = { ...frame, id: 'A', centre: [1, 0, 1], widthM: 1, heightM: 1, scattered: 0.5 };
  const second: Frame = { ...first, id: 'B', centre: [2, 0, 1], scattered: 0.4 };
  // What passes straight does not matter here: the sheets are not on the stage, so the lamp lights the second too.
  const far: Emitter = {
    shape: { kind: 'disc', centre: [-40, 0, 1], axis: [1, 0, 0], up: [0, 0, 1], radiusM: 0.1 },
    beam: { kind: 'cosine', peakCd: 1e6, exponent: 1 },
  };
  const fluxOf = (layers: Layer[], id: string): number =>
    layers
      .find((l) => l.id === id)!
      .emitters.reduce(
        (sum, e) => sum + (e.beam.kind === 'cosine' ? Math.PI * e.beam.peakCd * e.gain! : 0),
        0,
      );
  const tracer = plainTracer();
  const scene = { stage: nowhere(), layers: [lamp('L1', far)] };
  await tracer.load(scene);
  const cells = [8, 8] as const;
  const alone = await relayLayers(tracer, scene, [{ ...second, cells }], { seed: 1 });
  const both = await relayLayers(
    tracer,
    scene,
    [
      { ...first, cells },
      { ...second, cells },
    ],
    { seed: 1 },
  );
  expect(both.map((l) => l.id)).toEqual(['L1/A', 'L1/B']);
  const more = fluxOf(both, 'L1/B') - fluxOf(alone, 'L1/B');
  // Lumens that leave the first, times the factor, times what the second sends on.
  expect(Math.abs(more / (fluxOf(both, 'L1/A') * factor * 0.4) - 1)).toBeLessThan(0.02);
  // Nothing comes back from the second's far side.
  const before = await relayLayers(tracer, scene, [{ ...first, cells }], { seed: 1 });
  expect(fluxOf(both, 'L1/A')).toBeCloseTo(fluxOf(before, 'L1/A'), 6);
  // The scene is in the tracer as before.
  const { diffuse } = await tracer.direct(
    probeAt([
      [
        [0, 0, 1],
        [-1, 0, 0],
      ],
    ]),
    0,
    { seed: 1, samples: 4 },
  );
  expect(diffuse[0]).toBeCloseTo(1e6 / 1600, -1);
});
