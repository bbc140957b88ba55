/** Sky and far ground traced: CIE 171 tests 5.11 and 5.12 (as transcribed [CIE-171]), a closed furnace outside, laws. */
import { beforeAll, expect, test } from 'vitest';
import { neutral } from '../colour/reflectance.ts';
import { levelOverZenith, type Sky } from '../light/sky.ts';
import { DEG, type Vec3 } from '../maths/vec3.ts';
import { assemble } from '../stage/assemble.ts';
import { panel } from '../stage/build.ts';
import { PANE } from '../stage/finish.ts';
import { bodyOf, type Draft, draft, slotOf } from '../stage/mesh.ts';
import type { Material, Stage } from '../stage/stage.ts';
import { emitterSet, meetEmitter, picked, sampleEmitter } from './emitter.ts';
import { plainTracer } from './plain.ts';
import { probes } from './points.ts';
import type { Emitter, FarShape, Layer } from './scene.ts';

const BLACK: Material = { name: 'black', reflectance: neutral(0), kind: 'opaque' };

/** Room 4 × 4 × 3 m of no thickness, a window 2 × 1 m in the wall y = 0, sill 1 m. */
function room(glazed: boolean): Stage {
  const d = draft();
  const s = slotOf(d, BLACK);
  panel(d, [0, 0, 0], [4, 0, 0], [0, 0, 3], s, { holes: [{ u0: 1, u1: 3, v0: 1, v1: 2 }] });
  panel(d, [0, 4, 0], [4, 0, 0], [0, 0, 3], s);
  panel(d, [0, 0, 0], [0, 4, 0], [0, 0, 3], s);
  panel(d, [4, 0, 0], [0, 4, 0], [0, 0, 3], s);
  panel(d, [0, 0, 0], [4, 0, 0], [0, 4, 0], s);
  panel(d, [0, 0, 3], [4, 0, 0], [0, 4, 0], s);
  if (glazed) panel(d as Draft, [0.9, 0.0001, 0.9], [2.2, 0, 0], [0, 0, 1.2], slotOf(d, PANE));
  return assemble([bodyOf(d, { id: 'room', words: 'room', kind: 'room', moving: false })]);
}
const rooms = [
  {
    outline: [
      [0, 0],
      [4, 0],
      [4, 4],
      [0, 4],
    ] as [number, number][],
    fromM: 0,
    toM: 3,
  },
];
const portal = { corner: [1, -0.001, 1] as Vec3, u: [2, 0, 0] as Vec3, v: [0, 0, 1] as Vec3 };
const sky = (type: number): Sky => ({ type, sun: [0, -Math.cos(60 * DEG), Math.sin(60 * DEG)] });
/** 100 lx on open level ground. */
const above = (type: number, through?: FarShape['portal']): Emitter => ({
  shape: { kind: 'far', half: 'sky', rooms, ...(through ? { portal: through } : {}) },
  beam: { kind: 'sky', peakCd: 100 / levelOverZenith(sky(type)), sky: sky(type) },
});
const below = (rho: number, through?: FarShape['portal']): Emitter => ({
  shape: { kind: 'far', half: 'ground', rooms, ...(through ? { portal: through } : {}) },
  beam: { kind: 'isotropic', cd: (100 * rho) / Math.PI },
});
const layer = (...emitters: Emitter[]): Layer => ({
  id: 'sky',
  lamp: 'sky',
  emitters,
  key: JSON.stringify(emitters),
  ownParts: [],
});
const UP: Vec3 = [0, 0, 1];
const IN: Vec3 = [0, -1, 0];

test.each([
  [false, 1, { D: 1.51, G: 0.87, K: 5.07, M: 9.33 }],
  [false, 5, { D: 3.09, G: 1.27, K: 5.19, M: 7.99 }],
  [false, 12, { D: 4.93, G: 2.0, K: 9.54, M: 16.35 }],
  [false, 16, { D: 1.71, G: 0.95, K: 4.97, M: 9.11 }],
  [true, 5, { D: 2.72, K: 4.47, M: 6.17 }],
])('CIE 5.11, 5.12: glazed %s, sky %i', async (glazed, type, points) => {
  const tracer = plainTracer();
  await tracer.load({ stage: room(glazed), layers: [layer(above(type, portal), below(0.3, portal))] });
  const at = Object.keys(points).map((p) =>
    p === 'D'
      ? { position: [2, 3.999, 1.25] as Vec3, normal: IN }
      : { position: [2, 3.75 - 0.5 * 'GHIJKLMN'.indexOf(p), 0.001] as Vec3, normal: UP },
  );
  const list = probes(at);
  const direct = await tracer.direct(list, 0, { seed: 3, samples: 8192 });
  // Printed to two digits; 8192 even places leave about 0.2 %.
  Object.entries(points).forEach(([p, percent], i) => {
    expect(Math.abs(direct.diffuse[i]! - percent), p).toBeLessThan(0.02 + 0.005 * percent);
  });
  // Paths ask the same of one place each time: within their own noise.
  const paths = await tracer.trace(list, { seed: 5, paths: 4096 });
  paths.layers[0]!.direct.diffuse.forEach((v, i) => {
    expect(Math.abs(v / direct.diffuse[i]! - 1)).toBeLessThan(0.03);
  });
});

test('outside an even sky and ground of the same luminance light every way alike: π L', async () => {
  const even = (): Layer =>
    layer(above(5), { ...below(1), beam: { kind: 'isotropic', cd: 100 / Math.PI } } as Emitter);
  const d = draft();
  panel(d, [50, 50, 50], [0.01, 0, 0], [0, 0.01, 0], slotOf(d, BLACK));
  const tracer = plainTracer();
  await tracer.load({
    stage: assemble([bodyOf(d, { id: 'speck', words: 'speck', kind: 'room', moving: false })]),
    layers: [even()],
  });
  const ways: Vec3[] = [UP, [0, 0, -1], [1, 0, 0], [0.6, 0, 0.8], [0, -0.8, -0.6]];
  const e = await tracer.direct(
    probes(ways.map((normal) => ({ position: [10, 10, 1] as Vec3, normal }))),
    0,
    {
      seed: 1,
      samples: 4096,
    },
  );
  for (const v of e.diffuse) expect(Math.abs(v - 100)).toBeLessThan(0.5);
});

let set: ReturnType<typeof emitterSet>;
beforeAll(() => {
  set = emitterSet([above(12, portal), above(12)]);
});
test('what is picked is met, with the same density and luminance; inside by the opening, outside by the dome', () => {
  for (const [p, e] of [
    [[2, 2, 1.2], 0],
    [[1, 3, 0.2], 0],
    [[2, -3, 1.5], 1],
  ] as [Vec3, number][])
    for (let i = 0; i < 64; i++) {
      const [u, v] = [(i * 0.61803) % 1, (i * 0.7549) % 1];
      if (!sampleEmitter(set, e, ...p, u, v)) continue;
      const d: Vec3 = [picked[0]!, picked[1]!, picked[2]!];
      const [density, luminance] = [picked[5]!, picked[6]!];
      expect(meetEmitter(set, e, ...p, ...d)).toBe(true);
      expect(picked[5]! / density).toBeCloseTo(1, 9);
      expect(picked[6]! / luminance).toBeCloseTo(1, 9);
      // The other one does not count it as well.
      expect(meetEmitter(set, 1 - e, ...p, ...d)).toBe(false);
      expect(sampleEmitter(set, 1 - e, ...p, u, v)).toBe(false);
    }
});

test('a camera inside sees the sky in the window and nowhere else, brightest toward the sun’s side', async () => {
  const tracer = plainTracer();
  await tracer.load({ stage: room(true), layers: [layer(above(12, portal)), layer(below(0.3, portal))] });
  const view = {
    eye: [2, 3, 1] as Vec3,
    forward: [0, -1, 0] as Vec3,
    right: [-1, 0, 0] as Vec3,
    up: UP,
    tanH: 0.8,
    tanV: 0.45,
  };
  const hits = await tracer.hits(view, 160, 90, { seed: 1, samples: 4 });
  const above0 = new Set<number>();
  const { pixel, layer: of, luminance } = hits.glow;
  for (let i = 0; i < pixel.length; i++) {
    const y = Math.floor(pixel[i]! / 160);
    expect(luminance[i]!).toBeGreaterThan(0);
    if (of[i] === 0) {
      above0.add(pixel[i]!);
      expect(y).toBeLessThan(46);
    } else expect(y).toBeGreaterThan(43);
  }
  // The window is 2 m of 4.8 m wide and, above the eye, 1 m of 2.7 m high at its distance of 3 m.
  const share = above0.size / (160 * 90);
  expect(share).toBeGreaterThan(0.12);
  expect(share).toBeLessThan(0.2);
});
