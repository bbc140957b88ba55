/** Putting a stage together: order, numbers, keys that follow content, time. */
import { expect, test } from 'vitest';
import { assemble, stillHalf, withMoving } from './assemble.ts';
import { box } from './build.ts';
import { buildThing } from './furniture.ts';
import { buildHead } from './lampbody.ts';
import { bodyOf, draft, slotOf } from './mesh.ts';
import { signedArea } from './outline.ts';
import { buildRoom } from './room.ts';
import { footprint } from './silhouette.ts';
import type { Body, FacePoints, Material } from './stage.ts';

const grey = { words: 'grey', reflectance: 0.5 };
const room = () =>
  buildRoom({
    outline: [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ],
    ceilingM: 2.4,
    floor: grey,
    walls: grey,
    ceiling: { words: 'white', reflectance: 0.8 },
    openings: {},
  }).bodies;
const lamp = (x = 1) =>
  buildHead({
    id: 'L1',
    words: 'lamp 1',
    kind: 'fresnel',
    at: [x, 1, 2],
    axis: [1, 0, 0],
    up: [0, 0, 1],
    faceRadiusM: 0.06,
    bodyDepthM: 0.2,
    doors: { top: 30, bottom: 30, left: 30, right: 30 },
  });
const chair = () =>
  buildThing({
    id: 'c',
    words: 'chair',
    kind: 'chair',
    at: [2, 1, 0],
    sizeM: [0.44, 0.42, 0.85],
    finish: grey,
  }).body;
/** A copy to spoil. */
const copy = (b: Body): Body => ({
  part: { ...b.part },
  positions: b.positions.slice(),
  normals: b.normals.slice(),
  indices: b.indices.slice(),
  material: b.material.slice(),
  materials: b.materials.map((m) => ({ ...m, reflectance: m.reflectance.slice() })),
  patch: b.patch.slice(),
});

test('still parts come first, in triangles and in patches; every number is within bounds', () => {
  const bodies = [...lamp(), ...room(), chair()];
  const s = assemble(bodies, {});
  const n = s.material.length;
  expect(n).toBe(bodies.reduce((t, b) => t + b.material.length, 0));
  expect([s.part.length, s.patch.length, s.indices.length / 3]).toEqual([n, n, n]);
  let wrong = 0;
  for (let t = 0; t < n; t++) {
    const still = t < s.stillTriangles;
    if (s.parts[s.part[t]!]!.moving === still) wrong++;
    if (s.patch[t]! < s.stillPatches !== still) wrong++;
    if (s.material[t]! >= s.materials.length) wrong++;
  }
  expect(wrong).toBe(0);
  expect(new Set(s.patch).size).toBe(s.patchCount);
  expect(Math.max(...s.indices)).toBe(s.positions.length / 3 - 1);
  expect(s.parts.length).toBe(bodies.length);
  // Every body keeps materials of its own.
  expect(s.materials.length).toBe(bodies.reduce((t, b) => t + b.materials.length, 0));
  // Each triangle is where its body had it.
  const first = bodies.filter((b) => !b.part.moving)[0]!;
  expect([...s.positions.slice(0, 30)]).toEqual([...first.positions.slice(0, 30)]);
});

test('keys are equal for equal content and differ for any change of it', () => {
  const make = () => [...room(), chair(), ...lamp()];
  const key = assemble(make()).key;
  expect(assemble(make()).key).toBe(key);
  expect(assemble(make().map(copy)).key).toBe(key);
  const seen = new Set([key]);
  const spoilt: [string, (b: Body) => void][] = [
    [
      'a corner',
      (b) => {
        b.positions[7] = b.positions[7]! + 1e-6;
      },
    ],
    [
      'a normal',
      (b) => {
        b.normals[4] = -b.normals[4]! + 0.5;
      },
    ],
    ['a triangle', (b) => b.indices.set([b.indices[1]!, b.indices[0]!], 0)],
    [
      'a patch',
      (b) => {
        b.patch[0] = 1;
      },
    ],
    ['a name', (b) => (b.part.words += '!')],
    [
      'a reflectance',
      (b) => {
        b.materials[0]!.reflectance[40] = 0.123;
      },
    ],
    [
      'a gloss',
      (b) => {
        b.materials[0]!.gloss = { f0: 0.04, roughness: 0.31 };
      },
    ],
    [
      'a kind',
      (b) => {
        b.materials[0]!.kind = 'mirror';
      },
    ],
  ];
  for (const which of [0, 6, 8])
    for (const [, spoil] of spoilt) {
      const bodies = make().map(copy);
      expect(bodies[which]).toBeDefined();
      spoil(bodies[which]!);
      seen.add(assemble(bodies).key);
    }
  expect(seen.size).toBe(1 + 3 * spoilt.length);
  const face = { facing: [1, 0, 0] } as unknown as FacePoints;
  expect(assemble(make(), { 'person:A': face }).key).not.toBe(key);
});

test('a moved lamp leaves the still half as it was', () => {
  const still = stillHalf([...room(), chair()]);
  const a = withMoving(still, lamp(1));
  const b = withMoving(still, lamp(1.1));
  expect(b.stillKey).toBe(a.stillKey);
  expect(b.key).not.toBe(a.key);
  const whole = assemble([...room(), chair(), ...lamp(1)]);
  expect(whole.key).toBe(a.key);
  expect(whole.positions).toEqual(a.positions);
  expect(whole.patch).toEqual(a.patch);
  expect(withMoving(still, []).key).not.toBe(a.key);
});

test('short hashes do not meet: 20,000 stages that differ in one number have 20,000 keys', () => {
  const d = draft();
  box(
    d,
    [0, 0, 0],
    [1, 1, 1],
    slotOf(d, { name: 'm', reflectance: new Float64Array(81), kind: 'opaque' } as Material),
  );
  const b = bodyOf(d, { id: 'b', words: 'b', kind: 'furniture', moving: false });
  const keys = new Set<string>();
  for (let k = 0; k < 20000; k++) {
    b.positions[k % 60] = 1 + k * 1e-5;
    keys.add(stillHalf([b]).key);
  }
  expect(keys.size).toBe(20000);
});

test('60,000 triangles are put together in less than 60 ms, a moving twentieth in less than 10', () => {
  const big = (id: string, cells: number, moving: boolean): Body => {
    const d = draft(undefined, 1 / cells);
    box(d, [0, 0, 0], [1, 1, 1], slotOf(d, { name: 'm', reflectance: new Float64Array(81), kind: 'opaque' }));
    return bodyOf(d, { id, words: id, kind: 'furniture', moving });
  };
  const still = [big('a', 50, false), big('b', 48, false)];
  const moving = [big('c', 15, true)];
  const best = (work: () => unknown): number => {
    let least = Infinity;
    for (let k = 0; k < 12; k++) {
      const from = performance.now();
      work();
      least = Math.min(least, performance.now() - from);
    }
    return least;
  };
  const s = assemble([...still, ...moving]);
  expect(s.material.length).toBeGreaterThan(58000);
  const half = stillHalf(still);
  expect(best(() => assemble([...still, ...moving]))).toBeLessThan(60);
  expect(best(() => withMoving(half, moving))).toBeLessThan(10);
});

test('outlines from above: a turned box is itself, a frame keeps its hole', () => {
  const turned = buildThing({
    id: 't',
    words: 't',
    kind: 'box',
    at: [1, 1, 0],
    sizeM: [0.8, 0.5, 0.3],
    turnDeg: 33,
    finish: grey,
  }).body;
  const [outline, ...rest] = footprint(turned);
  expect(rest).toEqual([]);
  expect(signedArea(outline!)).toBeCloseTo(0.4, 5);
  expect(outline!.length).toBe(4);
  const d = draft();
  const s = slotOf(d, { name: 'm', reflectance: new Float64Array(81), kind: 'opaque' });
  box(d, [0, 0, 0], [1, 0.2, 0.1], s);
  box(d, [0, 0.8, 0], [1, 1, 0.1], s);
  box(d, [0, 0.2, 0], [0.2, 0.8, 0.1], s);
  box(d, [0.8, 0.2, 0], [1, 0.8, 0.1], s);
  const loops = footprint(bodyOf(d, { id: 'f', words: 'f', kind: 'furniture', moving: false }));
  expect(loops.length).toBe(2);
  const areas = loops.map(signedArea).sort((a, b) => a - b);
  expect(areas[1]!).toBeCloseTo(1, 1);
  expect(areas[0]!).toBeCloseTo(-0.36, 1);
});
