/** Arrows of the house go down only, and the test that says so catches a planted fault. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { MAY, violations } from './house.ts';

function* sources(dir: string): Generator<string> {
  for (const entry of readdirSync(dir, { withFileTypes: true })) {
    const path = join(dir, entry.name);
    if (entry.isDirectory()) yield* sources(path);
    else if (/\.(ts|tsx)$/.test(entry.name) && !/\.(test|long)\.tsx?$/.test(entry.name)) yield path;
  }
}

const root = resolve(import.meta.dirname, '../src');

test('every folder of src is in the table', () => {
  for (const folder of readdirSync(root)) expect(Object.keys(MAY)).toContain(folder);
});

test('arrows only go down', () => {
  const found: string[] = [];
  for (const file of sources(root)) {
    const folder = relative(root, file).split('/')[0]!;
    found.push(...violations(folder, file, readFileSync(file, 'utf8'), root));
  }
  expect(found).toEqual([]);
});

test('a planted violation is caught', () => {
  const file = join(root, 'power/planted.ts');
  expect(violations('power', file, "import { ray } from '../transport/tree.ts';", root)).toHaveLength(1);
  expect(violations('power', file, "const x = await import('../light/lamp.ts');", root)).toHaveLength(1);
  expect(violations('power', file, "import { dot } from '../maths/vec3.ts';", root)).toHaveLength(0);
});
