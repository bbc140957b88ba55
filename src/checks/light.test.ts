import { expect, test } from 'vitest';
import { rows } from './light.ts';

test('every published value holds', () => {
  expect(rows().filter((r) => !r.holds)).toEqual([]);
});

test('every row has its own id and a source', () => {
  const all = rows();
  expect(new Set(all.map((r) => r.id)).size).toBe(all.length);
  for (const r of all) expect(r.source).not.toBe('');
});
