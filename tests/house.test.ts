/** The house: which folder may import which. The table is the allow-list of ARCHITECTURE.md. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';

const readings = 'setup shoot stage light camera transport power colour maths';
const MAY: Record<string, string> = {
  maths: '',
  optimise: 'maths',
  colour: 'maths',
  light: 'maths colour',
  camera: 'maths colour',
  stage: 'maths colour',
  transport: 'maths colour light stage',
  engine: 'maths transport',
  power: 'maths',
  shoot: '',
  setup: 'shoot stage light camera transport power colour maths',
  readings,
  scheme: `readings optimise ${readings}`,
  drawing: 'shoot maths',
  book: 'drawing scheme readings shoot maths colour',
  checks: `readings scheme optimise engine ${readings}`,
  app: 'maths optimise colour light camera stage transport engine power shoot setup readings scheme drawing book checks',
  cli: 'maths optimise colour light camera stage transport engine power shoot setup readings scheme drawing book checks',
};

/** Imports of a source text that its folder may not make. */
export function violations(folder: string, file: string, source: string, root: string): string[] {
  const allowed = new Set([folder, ...(MAY[folder] ?? '').split(' ')]);
  const bad: string[] = [];
  for (const match of source.matchAll(/(?:from|import\(|import)\s*['"](\.[^'"]+)['"]/g)) {
    const target = relative(root, resolve(dirname(file), match[1]!)).split('/')[0]!;
    if (target.startsWith('..')) continue; // data files beside src
    if (!allowed.has(target)) bad.push(`${folder} imports ${target} (${file})`);
  }
  return bad;
}

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
