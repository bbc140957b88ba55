/** Every published value that is quick to reckon holds, and no two rows bear one name. The slow ones: *.long.ts. */
import { readFile } from 'node:fs/promises';
import { expect, test } from 'vitest';
import { allRows, SUBJECTS } from './all.ts';

const people = () => readFile(new URL('../../data/people/people.bin', import.meta.url));
const quick = Object.keys(SUBJECTS).filter((name) => !SUBJECTS[name]!.slow);

test.each(quick)('%s', async (subject) => {
  const rows = await allRows({ people }, [subject]);
  expect(rows.length).toBeGreaterThan(0);
  expect(rows.filter((r) => !r.holds)).toEqual([]);
});

test('rows have names of their own, and a source each', async () => {
  const rows = await allRows({ people }, quick);
  const names = rows.map((r) => r.id);
  expect(names.filter((name, i) => names.indexOf(name) !== i)).toEqual([]);
  expect(rows.filter((r) => r.source.trim() === '')).toEqual([]);
});
