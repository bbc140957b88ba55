/** Keys of a stage at the level of bits. */
import { expect, test } from 'vitest';
import { rngOf } from '../maths/sampling.ts';
import { stillHalf, withMoving } from './assemble.ts';
import { box, cylinder } from './build.ts';
import { materialOf } from './finish.ts';
import { bodyOf, draft, slotOf } from './mesh.ts';

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
