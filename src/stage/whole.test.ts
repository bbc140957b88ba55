/** The stage put together: nothing lost on the way, numbers without gaps, keys that follow content and nothing else. */
import { expect, test } from 'vitest';
import { assemble, stillHalf, withMoving } from './assemble.ts';
import { box, cylinder } from './build.ts';
import { materialOf } from './finish.ts';
import { buildFurniture } from './furniture.ts';
import { corners } from './measure.ts';
import { bodyOf, draft, slotOf } from './mesh.ts';
import { buildRoom } from './room.ts';
import type { Body, FacePoint, FacePoints } from './stage.ts';

const grey = { words: 'grey', reflectance: 0.5 };
const room = (): Body[] => [
  ...buildRoom({
    outline: [
      [0, 0],
      [4.2, 0],
      [4.2, 3.4],
      [0, 3.4],
    ],
    ceilingM: 2.4,
    floor: grey,
    walls: grey,
    openings: { w: { kind: 'window', wall: 2, fromM: 1, toM: 2, sillM: 1, headM: 2, fill: 'glass' } },
  }).bodies,
  ...buildFurniture([
    { id: 't', words: 'table', kind: 'table', at: [2, 1.6, 0], sizeM: [0.7, 0.9, 0.74], finish: grey },
  ]).bodies,
];
const mover = (id: string, x: number, finish = { words: 'red', reflectance: 0.3 }): Body => {
  const d = draft();
  const s = slotOf(d, materialOf(finish));
  box(d, [x, 1, 1], [x + 0.3, 1.3, 1.5], s);
  cylinder(d, [x, 1, 0], [x, 1, 1], 0.02, slotOf(d, materialOf(grey)));
  return bodyOf(d, { id, words: id, kind: 'support', moving: true });
};
const NAMES: FacePoint[] = ['forehead', 'cheekL', 'cheekR', 'noseTip', 'chin', 'eyeL', 'eyeR', 'throat'];
const face = (x: number): FacePoints => ({
  ...(Object.fromEntries(NAMES.map((n) => [n, { position: [x, 0, 1.6], normal: [1, 0, 0] }])) as Record<
    FacePoint,
    { position: [number, number, number]; normal: [number, number, number] }
  >),
  facing: [1, 0, 0],
});

test('every corner, material and part of every body arrives', () => {
  const still = room();
  const moving = [mover('support:A', 1), mover('support:B', 2)];
  const s = withMoving(stillHalf(still), moving);
  const all = [...still, ...moving];
  let t = 0;
  let lost = 0;
  for (const b of all)
    for (let k = 0; k < b.material.length; k++, t++) {
      const mine = corners(b, k);
      for (let c = 0; c < 3; c++) {
        const v = s.indices[t * 3 + c]! * 3;
        const w = b.indices[k * 3 + c]! * 3;
        for (let x = 0; x < 3; x++) {
          if (s.positions[v + x] !== mine[c]![x]) lost++;
          if (s.normals[v + x] !== b.normals[w + x]) lost++;
        }
      }
      if (s.parts[s.part[t]!] !== b.part) lost++;
      if (s.materials[s.material[t]!]!.name !== b.materials[b.material[k]!]!.name) lost++;
      if (t >= s.stillTriangles && !b.part.moving) lost++;
    }
  expect(lost).toBe(0);
  expect(t).toBe(s.material.length);
});

test('patches are numbered without gaps, those of still parts first, none shared by two parts', () => {
  const s = assemble([...room(), mover('support:A', 1), mover('support:B', 2)]);
  const owner = new Map<number, number>();
  let wrong = 0;
  s.patch.forEach((p, t) => {
    if ((owner.get(p) ?? s.part[t]) !== s.part[t]) wrong++;
    owner.set(p, s.part[t]!);
    if (p < s.stillPatches !== t < s.stillTriangles) wrong++;
  });
  expect(wrong).toBe(0);
  expect(owner.size).toBe(s.patchCount);
  expect(Math.max(...owner.keys())).toBe(s.patchCount - 1);
});

test('a change of colour changes the key but not the shape: no hit, link or direct ray is asked again', () => {
  const bodies = [...room(), mover('support:A', 1)];
  const before = assemble(bodies);
  const repainted = assemble(
    bodies.map((b) => ({
      ...b,
      materials: b.materials.map((m) => ({ ...m, reflectance: m.reflectance.map((v) => v * 0.5) })),
    })),
  );
  expect(repainted.key).not.toBe(before.key);
  expect(repainted.shapeKey).toBe(before.shapeKey);
  expect(repainted.material).toEqual(before.material);
  // Gloss, kind and what a mirror sends on do decide where rays go.
  const glossed = assemble(
    bodies.map((b) => ({
      ...b,
      materials: b.materials.map((m) => ({ ...m, gloss: { f0: 0.2, roughness: 0.1 } })),
    })),
  );
  expect(glossed.shapeKey).not.toBe(before.shapeKey);
});

test('the same content made twice has the same keys', () => {
  const a = assemble([...room(), mover('support:A', 1)], { 'person:A': face(1) });
  const b = assemble([...room(), mover('support:A', 1)], { 'person:A': face(1) });
  expect(b.key).toBe(a.key);
  expect(b.stillKey).toBe(a.stillKey);
  // Put together in one go or by halves.
  const half = withMoving(stillHalf(room()), [mover('support:A', 1)], { 'person:A': face(1) });
  expect(half.key).toBe(a.key);
});

test('what moves changes the whole key and not the still one; what stands changes both', () => {
  const still = stillHalf(room());
  const base = withMoving(still, [mover('support:A', 1)], { 'person:A': face(1) });
  const others = [
    withMoving(still, [mover('support:A', 1.001)], { 'person:A': face(1) }),
    withMoving(still, [mover('support:B', 1)], { 'person:A': face(1) }),
    withMoving(still, [mover('support:A', 1, { words: 'red', reflectance: 0.31 })], { 'person:A': face(1) }),
    withMoving(still, [mover('support:A', 1, { words: 'crimson', reflectance: 0.3 })], {
      'person:A': face(1),
    }),
    withMoving(still, [mover('support:A', 1), mover('support:B', 2)], { 'person:A': face(1) }),
    withMoving(still, [mover('support:A', 1)], { 'person:A': face(1.01) }),
    withMoving(still, [mover('support:A', 1)], { 'person:B': face(1) }),
    withMoving(still, []),
  ];
  expect(new Set([base, ...others].map((s) => s.key)).size).toBe(others.length + 1);
  for (const s of others) expect(s.stillKey).toBe(base.stillKey);
  const fewer = stillHalf(room().slice(1));
  expect(fewer.key).not.toBe(still.key);
  expect(withMoving(fewer, [mover('support:A', 1)], { 'person:A': face(1) }).key).not.toBe(base.key);
});
