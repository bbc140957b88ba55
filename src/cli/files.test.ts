/** Files are written whole or not at all, and what is wrong is said in words. */
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { readText, writeWhole } from './files.ts';

const folder = mkdtempSync(join(tmpdir(), 'rushlight-files-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string) => join(folder, name);

test('written, then read; nothing is left beside it', () => {
  writeWhole(at('a.json'), 'one →');
  writeWhole(at('a.json'), 'two ½');
  expect(readText(at('a.json'))).toBe('two ½');
  expect(readdirSync(folder)).toEqual(['a.json']);
});

test('mode is kept, a link is followed', () => {
  writeFileSync(at('kept'), 'x');
  chmodSync(at('kept'), 0o600);
  symlinkSync(at('kept'), at('link'));
  writeWhole(at('link'), 'y');
  expect(readFileSync(at('kept'), 'utf8')).toBe('y');
  expect(statSync(at('kept')).mode & 0o777).toBe(0o600);
});

test('what cannot be is said in words, and leaves nothing', () => {
  mkdirSync(at('folder'));
  const before = readdirSync(folder);
  expect(() => writeWhole(at('none/a.json'), 'x')).toThrow('there is no such file or folder');
  expect(() => writeWhole(at('folder'), 'x')).toThrow('it is a folder');
  expect(() => readText(at('none.json'))).toThrow('there is no such file or folder');
  expect(() => readText(at('folder'))).toThrow('it is a folder');
  expect(readdirSync(folder)).toEqual(before);
});
