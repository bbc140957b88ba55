import fc from 'fast-check';
import { expect, test } from 'vitest';
import { KIT, kitKind, thingOf } from './kit.ts';
import { inRegion, REGION_WORDS, regionWord, sayIn } from './region-words.ts';
import { KitThing } from './schema.ts';
import { searchKit } from './searchKit.ts';

fc.configureGlobal({ seed: 20 });
const first = (text: string) => searchKit(text)[0]?.id;

test('ids are one of a kind; measures are what the document takes', () => {
  expect(new Set(KIT.map((k) => k.id)).size).toBe(KIT.length);
  for (const k of KIT) {
    const thing = thingOf(k, 2, 'owned');
    expect(KitThing.parse(thing)).toEqual(thing);
    if (k.heightM) expect(k.heightM[0]).toBeLessThan(k.heightM[1]);
    if (k.part === 'leads' && k.lengthM) expect(k.mm2! > 0 && k.ratingA! > 0).toBe(true);
    if (k.reel) expect(k.woundRatingA!).toBeLessThan(k.ratingA!);
  }
});

test.each([
  ['650', 'fresnel-650'],
  ['650w fresnel', 'fresnel-650'],
  ['2k open', 'open-face-2000'],
  ['open-face', 'open-face-800'],
  ['800W', 'open-face-800'],
  ['builder', 'site-flood-500'],
  ['strip light', 'tube-36'],
  ['paper lantern', 'lantern-60'],
  ['half orange', 'half-cto'],
  ['1/2 cto', 'half-cto'],
  ['½ cto', 'half-cto'],
  ['quarter ctb', 'quarter-ctb'],
  ['tracing paper', 'full-white'],
  ['nd 0.6', 'nd-0.6'],
  ['poly', 'bounce'],
  ['c-stand', 'stand-arm'],
  ['sandbag', 'bag'],
  ['fresnal 300', 'fresnel-300'],
  ['flourescent', 'tube-36'],
  ['cable drum', 'reel'],
])('typing “%s” finds it', (typed, id) => {
  expect(first(typed)).toBe(id);
});

test('what a thing is called finds it, first of all', () => {
  for (const k of KIT) expect(searchKit(k.words, { limit: 3 }), k.id).toContain(k);
});

test('a wrong figure finds nothing, and neither does nothing', () => {
  expect(searchKit('651 fresnel')).toEqual([]);
  expect(searchKit('  ')).toEqual([]);
  expect(searchKit('zeppelin')).toEqual([]);
});

test('leads and blocks are those of the region', () => {
  const leads = (region: 'uk' | 'na') =>
    searchKit('extension', { part: 'leads', region }).map((k) => k.ratingA);
  expect(leads('uk')).toEqual(expect.arrayContaining([13]));
  expect(leads('uk')).not.toContain(15);
  expect(leads('na')).toEqual(expect.arrayContaining([15]));
  expect(leads('na')).not.toContain(13);
});

test('nicknames are never among the words shown', () => {
  const shown = KIT.map((k) => k.words.toLowerCase()).join('|');
  for (const nickname of ['c-stand', 'china ball', 'stinger', 'pigeon', 'turtle', 'croc', 'poly'])
    expect(shown).not.toContain(nickname);
});

test('no text makes the search throw', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 60 }), (t) => {
      for (const k of searchKit(t)) expect(kitKind(k.id)).toBe(k);
    }),
    { numRuns: 500 },
  );
});

test('words follow the region', () => {
  expect(sayIn('uk', '{Socket} by the door, {lead} to the {board}.')).toBe(
    'Socket by the door, lead to the fuse box.',
  );
  expect(sayIn('na', '{Socket} by the door, {lead} to the {board}.')).toBe(
    'Outlet by the door, extension cord to the panel.',
  );
  expect(sayIn('au', 'two {socket+}, a {rcd}')).toBe('two power points, a safety switch');
  expect(sayIn('eu', '{toString} {nothing}')).toBe('{toString} {nothing}');
  expect([regionWord('uk', 'board', 2), regionWord('na', 'recce', 2), regionWord('uk', 'torch', 2)]).toEqual([
    'fuse boxes',
    'scouts',
    'torches',
  ]);
  for (const word of REGION_WORDS)
    for (const region of ['uk', 'eu', 'na', 'au', 'jp'] as const)
      expect(regionWord(region, word)).toMatch(/^\S.*\S$/);
});

test('a sentence in British words is said in the region’s, and only things are swapped', () => {
  const said = 'Socket K1: unwind the whole lead of 2; two sockets are left. That would lead nowhere.';
  expect(inRegion('uk', said)).toBe(said);
  expect(inRegion('na', said)).toBe(
    'Outlet K1: unwind the whole extension cord of 2; two outlets are left. That would lead nowhere.',
  );
  expect(inRegion('au', 'a fuse box')).toBe('a switchboard');
});
