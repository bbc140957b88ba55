/** Names of outlined things: in the picture, off one another, whatever lies where. */
import { expect, test } from 'vitest';
import type { Trouble } from '../scheme/trouble.ts';
import { outlineTags } from './outlineTags.ts';

const at = (left: number, top: number, right: number, bottom: number) =>
  ({ kind: 'lamp-in-frame', frame: { left, top, right, bottom } }) as unknown as Trouble;
const places = (list: Trouble[]) => outlineTags(list, () => 'head of 1').map((x) => x.labelAt);

test('alone: above its left end; at the top edge below; at the right edge to the left', () => {
  expect(places([at(0.4, 0.4, 0.5, 0.5)])).toEqual(['']);
  expect(places([at(0.4, 0.01, 0.5, 0.3)])).toEqual(['below']);
  expect(places([at(0.9, 0.4, 0.97, 0.5)])).toEqual(['to-left']);
});

test('over the whole picture: within it', () => {
  expect(places([at(0, 0, 1, 1)])).toEqual(['within']);
});

test('two that share a corner do not cover each other; a third finds its place', () => {
  const box = [0.4, 0.4, 0.5, 0.6] as const;
  const found = places([at(...box), at(...box), at(...box)]);
  expect(new Set(found).size).toBe(3);
  expect(found).not.toContain('nameless');
});

test('where nothing is free the outline stays, without its name', () => {
  const box = [0.4, 0.4, 0.42, 0.42] as const;
  const found = places(Array.from({ length: 9 }, () => at(...box)));
  expect(found.at(-1)).toBe('nameless');
  // A name is broader than this thing: one fits above it and one below.
  expect(found.filter((f) => f !== 'nameless')).toHaveLength(2);
});
