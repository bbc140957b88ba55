/** Every source key in the code stands in REFERENCES.md, and every source there is used. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const root = join(import.meta.dirname, '..');
const listed = new Set(
  [...readFileSync(join(root, 'REFERENCES.md'), 'utf8').matchAll(/^- \*\*([^*]+)\*\*/gm)].map((m) => m[1]!),
);

function* texts(dir: string): Generator<{ file: string; text: string }> {
  for (const e of readdirSync(dir, { withFileTypes: true })) {
    const path = join(dir, e.name);
    if (e.isDirectory()) yield* texts(path);
    else if (/\.(ts|tsx)$/.test(e.name)) yield { file: path, text: readFileSync(path, 'utf8') };
  }
}
const files = ['src', 'scripts', 'tests', 'bench'].flatMap((d) => [...texts(join(root, d))]);

/** Keys named in comments and in sources of check rows: capitals, figures, hyphens and dots in brackets. */
const KEY = /\[([A-Z][A-Z0-9.-]*-[A-Z0-9.-]+|[A-Z]{6,})(?:[ ,;§][^\]]*)?\]/g;

test('every key in a comment is in the list', () => {
  const missing: string[] = [];
  for (const { file, text } of files.filter((f) => !f.file.endsWith('references.test.ts')))
    for (const line of text.split('\n')) {
      const at = line.search(/\/\/|^\s*\/?\*/);
      if (at < 0) continue;
      for (const m of line.slice(at).matchAll(KEY))
        if (!listed.has(m[1]!)) missing.push(`${m[1]} (${file.slice(root.length + 1)})`);
    }
  expect(missing).toEqual([]);
});

test('every source in the list is used', () => {
  const all = files
    .filter((f) => !f.file.endsWith('references.test.ts'))
    .map((f) => f.text)
    .join('\n');
  expect([...listed].filter((key) => !all.includes(key))).toEqual([]);
});
