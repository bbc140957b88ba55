/** A picture seen before a room was added is read in the new stage's numbers: the same things by name, none by accident. */
import { expect, test } from 'vitest';
import type { Hits } from '../../transport/tracer.ts';
import { hitsNow, NO_HITS } from './hitsNow.ts';
import type { Shown } from './shown.ts';

const shown = (parts: string[], layers: string[], last?: unknown) =>
  ({
    geometry: {
      transport: { stage: { parts: parts.map((id) => ({ id })) }, layers: layers.map((id) => ({ id })) },
    },
    last,
  }) as unknown as Shown;
const hits: Hits = {
  ...NO_HITS,
  part: Uint16Array.from([0, 2, 3, 1]),
  glow: { pixel: new Uint32Array([0, 1]), layer: Uint16Array.from([0, 1]), luminance: new Float32Array(2) },
};
const before = ['room', 'furniture:table', 'person:A', 'lamp:L1'];
const last = { sight: { hits }, names: { parts: before, layers: ['L1', 'L2'] } };

test('parts keep their names when others come before them', () => {
  const now = ['room', 'wall:7', 'wall:8', 'furniture:table', 'person:A', 'lamp:L1'];
  const s = shown(now, ['L1', 'L2'], last);
  const got = hitsNow(s);
  expect(Array.from(got.part, (p) => now[p])).toEqual(Array.from(hits.part, (p) => before[p]));
  // As long as nothing changes it is the same object: what was counted on it stays counted.
  expect(hitsNow(s)).toBe(got);
});

test('what is gone is no part of the new stage; unchanged names are the very hits', () => {
  const s = shown(['room', 'person:A'], ['L2'], last);
  const got = hitsNow(s);
  expect([...got.part].map((p) => (p < 2 ? p : 'gone'))).toEqual([0, 1, 'gone', 'gone']);
  expect([...got.glow.layer].map((l) => (l < 1 ? l : 'gone'))).toEqual(['gone', 0]);
  expect(hitsNow(shown(before, ['L1', 'L2'], last))).toBe(hits);
  expect(hitsNow(shown(before, [], undefined))).toBe(NO_HITS);
});
