/** The same thing several times: once in the file, whole in the document, the same text again. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openShoot, saveShoot } from './file.ts';
import type { Shoot } from './schema.ts';
import { packed } from './shape.ts';

const text = readFileSync(join(import.meta.dirname, '../../shoots/kitchen.json'), 'utf8');
const shape = (top: number) =>
  packed([0, 0, 0, 1, 0, 0, 0, 1, top], [0, 0, 0], [1, 1, 1], [{ part: 'p0', indices: [0, 1, 2] }]);
const thing = (x: number, top: number) => ({
  kind: 'shape',
  at: [x, 1, 0] as [number, number, number],
  sizeM: [1, 1, 1] as [number, number, number],
  finish: { reflectance: 0.3 },
  shape: shape(top),
});
const whole = (s: string): Shoot => {
  const o = openShoot(s);
  if (!o.ok) throw new Error(o.message.join('\n'));
  return o.shoot;
};

test('two of a kind: the second says only of which; opened, both have it; saved, the same text', () => {
  const s = whole(text);
  Object.assign(s.places.kitchen!.furniture, { a1: thing(1, 1), a2: thing(2, 1), b1: thing(3, 0.5) });
  const saved = saveShoot(s);
  const raw = JSON.parse(saved).places.kitchen.furniture;
  expect(raw.a1.shape.corners).toBeTypeOf('string');
  expect(raw.a2.shape).toEqual({ sameAs: 'kitchen/a1' });
  expect(raw.b1.shape.corners).toBeTypeOf('string');
  // Nothing was taken from the document itself.
  expect(s.places.kitchen!.furniture.a2!.shape).toEqual(shape(1));
  const again = whole(saved);
  expect(again).toEqual(s);
  const { a1, a2 } = again.places.kitchen!.furniture;
  expect(a2!.shape).toEqual(a1!.shape);
  expect(saveShoot(again)).toBe(saved);
});

test('the first taken away or moved to another place: the others still have their shape', () => {
  const s = whole(text);
  Object.assign(s.places.kitchen!.furniture, { a1: thing(1, 1), a2: thing(2, 1) });
  const again = whole(saveShoot(s));
  delete (again.places.kitchen!.furniture as Record<string, unknown>).a1;
  const left = JSON.parse(saveShoot(again)).places.kitchen.furniture;
  expect(left.a2.shape.corners).toBe(shape(1).corners);
});

test('a shape of nothing, of itself, of one that has none: a sentence, not a crash', () => {
  for (const of of ['kitchen/nowhere', 'kitchen/a1', 'kitchen/table', '__proto__/a']) {
    const file = JSON.parse(text);
    file.places.kitchen.furniture.a1 = { ...thing(1, 1), shape: { sameAs: of } };
    const o = openShoot(JSON.stringify(file));
    expect(o.ok).toBe(false);
    if (!o.ok) expect(o.message[0]).toContain('kitchen/a1');
  }
  for (const places of [null, 3, { kitchen: null }, { kitchen: { furniture: [null] } }]) {
    const o = openShoot(JSON.stringify({ ...JSON.parse(text), places }));
    expect(o.ok).toBe(false);
  }
});
