import { expect, test } from 'vitest';
import { shootOf } from '../../tests/bookFacts.ts';
import { contentWord, editionIsNew, editionOf } from './edition.ts';
import { applyEdit } from './edits.ts';
import { openShoot, saveShoot } from './file.ts';

const shoot = shootOf('kitchen.json');
const count = (s: typeof shoot) => applyEdit(s, { edit: 'countEdition', args: {} }).shoot;

test('the number grows when something was changed since it was printed, and only then', () => {
  expect(editionOf(shoot)).toMatchObject({ number: 1 });
  const first = count(shoot);
  expect(first.edition).toMatchObject({ number: 1, content: contentWord(shoot) });
  expect(editionIsNew(first)).toBe(false);
  expect(count(first)).toEqual(first);
  const changed = applyEdit(first, { edit: 'rename', args: { title: 'Other' } }).shoot;
  expect(editionIsNew(changed)).toBe(true);
  expect(editionOf(changed)).toMatchObject({ number: 2, word: contentWord(changed) });
  expect(contentWord(changed)).not.toBe(contentWord(first));
});

test('saved and opened again it has the same word, whatever the order of its keys', () => {
  const first = count(shoot);
  const again = openShoot(saveShoot(first));
  if (!again.ok) throw new Error();
  expect(contentWord(again.shoot)).toBe(contentWord(first));
  expect(editionIsNew(again.shoot)).toBe(false);
  const turned = Object.fromEntries(Object.entries(shoot).reverse()) as typeof shoot;
  expect(contentWord(turned)).toBe(contentWord(shoot));
});
