/** Keys of a stage at the level of bits, and the time of what moves. */
import { expect, test } from 'vitest';
import { rngOf } from '../maths/sampling.ts';
import { stillHalf, withMoving } from './assemble.ts';
import { box, cylinder } from './build.ts';
import { materialOf } from './finish.ts';
import { bodyOf, draft, slotOf } from './mesh.ts';
import type { Body } from './stage.ts';

const grey = materialOf({ words: 'grey', reflectance: 0.5 });

test('no single changed bit keeps the key, nor do two of a thousand give the same', () => {
  const next = rngOf(11);
  const d = draft();
  box(d, [1, 1, 1], [1.3, 1.3, 1.5], slotOf(d, grey));
  cylinder(d, [1, 1, 0], [1, 1, 1], 0.02, slotOf(d, grey));
  const body = bodyOf(d, { id: 'support:A', words: 'A', kind: 'support', moving: true });
  const still = stillHalf([]);
  const keys = new Set([withMoving(still, [body]).key]);
  const done = new Set<string>();
  for (let k = 0; k < 1000; k++) {
    const copy = {
      ...body,
      positions: body.positions.slice(),
      normals: body.normals.slice(),
      patch: body.patch.slice(),
    };
    const list = [copy.positions, copy.normals, copy.patch][k % 3]!;
    const bits = new Uint32Array(list.buffer);
    const at = Math.floor(next() * bits.length);
    // Patch numbers are counts: only their low bits, or the stage would be asked for millions of patches.
    const bit = Math.floor(next() * (k % 3 === 2 ? 6 : 32));
    const what = `${k % 3}/${at}/${bit}`;
    if (done.has(what)) continue;
    done.add(what);
    bits[at]! ^= 1 << bit;
    keys.add(withMoving(still, [copy]).key);
  }
  expect(keys.size).toBe(done.size + 1);
});

test('40,000 triangles that move are put behind a still half in under 10 ms', () => {
  const bars = (id: string, moving: boolean): Body => {
    const d = draft();
    for (let i = 0; i < 20; i++) cylinder(d, [i, 0, 0], [i, 0, 2.5], 0.3, slotOf(d, grey));
    return bodyOf(d, { id, words: id, kind: 'person', moving });
  };
  const still = stillHalf([bars('furniture:a', false), bars('furniture:b', false)]);
  const moving: Body[] = [];
  let triangles = 0;
  while (triangles < 40_000) {
    const b = bars(`person:${moving.length}`, true);
    moving.push(b);
    triangles += b.material.length;
  }
  let best = Infinity;
  for (let k = 0; k < 12; k++) {
    const from = performance.now();
    withMoving(still, moving);
    best = Math.min(best, performance.now() - from);
  }
  expect(best).toBeLessThan(10);
});
