import { expect, test } from 'vitest';
import { rows } from './power.ts';
import { row } from './row.ts';

test('every row of mains power holds', () => {
  expect(rows().filter((r) => !r.holds)).toEqual([]);
});

test('rows are many, each with its own id, a source and a finite figure', () => {
  const all = rows();
  expect(all.length).toBeGreaterThan(150);
  expect(new Set(all.map((r) => r.id)).size).toBe(all.length);
  for (const r of all) {
    expect(r.source).not.toBe('');
    expect(Number.isFinite(r.got)).toBe(true);
  }
});

test('a missing figure never holds', () => {
  expect(row('x', '', '', 1, Number.NaN, '', 1e9).holds).toBe(false);
});
