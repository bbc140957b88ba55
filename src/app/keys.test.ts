/** The list of keys is whole: every key the page listens for stands in it. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { KEYS } from './Keys.tsx';

const source = readFileSync(new URL('./useKeys.ts', import.meta.url), 'utf8');
const listed = KEYS.map(([k]) => k).join(' · ');

test('every letter that useKeys hears is listed', () => {
  const heard = [...source.matchAll(/'Key([A-Z])'/g)].map((m) => m[1]!);
  expect(heard.length).toBeGreaterThan(10);
  expect(heard.filter((k) => !new RegExp(`\\b${k}\\b`).test(listed))).toEqual([]);
});

test('figures, arrows, Enter, Esc and the question mark are listed', () => {
  for (const k of ['1 – 9', 'Left, Right', 'Enter', 'Esc', '?']) expect(listed).toContain(k);
});
