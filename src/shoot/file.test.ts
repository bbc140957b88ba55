import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { MAX_BYTES, openShoot, saveShoot } from './file.ts';
import { printJson } from './print.ts';

fc.configureGlobal({ seed: 20 });
const dir = join(import.meta.dirname, '../../shoots');
const files = readdirSync(dir).filter((f) => f.endsWith('.json'));
const text = readFileSync(join(dir, 'kitchen.json'), 'utf8');
const json = () => JSON.parse(text);
const message = (t: string) => {
  const o = openShoot(t);
  return o.ok ? '' : o.message.join('\n');
};

type Tree = { [key: string]: Tree };
/** Sets (undefined: takes out) the value at a path. */
const put = (root: unknown, path: readonly (string | number)[], value: unknown): void => {
  let v = root as Tree;
  for (const key of path.slice(0, -1)) v = v[key]!;
  if (value === undefined) delete v[path.at(-1)!];
  else v[path.at(-1)!] = value as Tree;
};
/** Every path in a value, leaves and groups. */
const pathsOf = (v: unknown, path: (string | number)[] = []): (string | number)[][] =>
  typeof v !== 'object' || v === null
    ? [path]
    : [
        path,
        ...Object.entries(v).flatMap(([k, x]) => pathsOf(x, [...path, Array.isArray(v) ? Number(k) : k])),
      ];

test.each(files)('%s opens and is saved to the same bytes', (name) => {
  const source = readFileSync(join(dir, name), 'utf8');
  const o = openShoot(source);
  expect(o.ok ? o.notes : o.message).toEqual([]);
  if (o.ok) expect(saveShoot(o.shoot)).toBe(source);
});

test('unknown keys are kept at every level', () => {
  const s = json();
  s.later = { a: 1 };
  s.places.kitchen.smell = 'damp';
  s.scenes.rent.rig.lamps.L1.dent = 'left door';
  s.scenes.rent.angles.OA.meant.push({ kind: 'flare', lamp: 'L2', why: 'nice' });
  const o = openShoot(JSON.stringify(s));
  expect(o.ok).toBe(true);
  if (o.ok) expect(JSON.parse(saveShoot(o.shoot))).toEqual(s);
});

test('what is wrong, where, and what to do', () => {
  expect(message('')).toMatch(/empty/);
  expect(message(text.slice(0, 3000))).toMatch(/stops in the middle, at line \d+[\s\S]*earlier copy/);
  expect(message(text.replace('"level": 1,', '"level": one,'))).toMatch(/damaged at line \d+/);
  expect(message(text.replace('"L2": {', '"L1": {'))).toMatch(
    /“L1” stands twice in one group, the second time at line \d+/,
  );
  expect(message('[1,2]')).toMatch(/not a shoot/);
  expect(message('{"format":"x"}')).toMatch(/does not say that it is a shoot/);
  expect(message(`${'['.repeat(100_000)}`)).toMatch(/levels deep/);
  expect(message('x'.repeat(MAX_BYTES + 1))).toMatch(/MB/);
  expect(message(text.replace('"rent"', '"__proto__"'))).toMatch(/__proto__/);
  const wrong = json();
  wrong.scenes.rent.rig.lamps.L1.at = ['a', 2, 3];
  expect(message(JSON.stringify(wrong))).toMatch(
    /scene rent, lamp L1: at: needs three numbers, the first is “a”/,
  );
  const far = json();
  far.scenes.rent.rig.lamps.L1.at = [1e300, 0, 0];
  expect(message(JSON.stringify(far))).toMatch(/scene rent, lamp L1: at: the first is 1e\+300; at most 1000/);
  expect(message(text.replace('"level": 1,', '"level": NaN,'))).toMatch(/damaged/);
  const lost = json();
  lost.scenes.rent.rig.lamps.L1.feed.socket = 'K9';
  expect(message(JSON.stringify(lost))).toMatch(/lamp L1: the place has no socket K9/);
});

test('a newer minor version opens; a newer major version opens to read only; an older one is brought forward', () => {
  const minor = json();
  minor.version.minor = 7;
  const a = openShoot(JSON.stringify(minor));
  expect(a.ok && !a.readOnly).toBe(true);
  const major = json();
  major.version.major = 2;
  const b = openShoot(JSON.stringify(major));
  expect(b.ok && b.readOnly && b.notes[0]).toMatch(/newer program/);
  const { places, scenes, ...old } = json();
  old.version = { major: 0, minor: 3 };
  old.place = places.kitchen;
  const { angles, ...scene } = scenes.rent;
  old.scene = { ...scene, setups: angles };
  const c = openShoot(JSON.stringify(old));
  expect(c.ok ? Object.keys(c.shoot.scenes.scene!.angles) : c.message).toEqual(Object.keys(angles));
});

test.each([
  ['at: needs three numbers, has 2', ['scenes', 'rent', 'rig', 'lamps', 'L1', 'at'], [1, 2]],
  ['at: is missing: needs three numbers', ['scenes', 'rent', 'rig', 'lamps', 'L1', 'at'], undefined],
  ['mark A: at: needs two numbers, has 3', ['scenes', 'rent', 'marks', 'A', 'at'], [1, 2, 3]],
  ['lamp L1: level: is 2; at most 1', ['scenes', 'rent', 'rig', 'lamps', 'L1', 'level'], 2],
  ['lamp L1: on: needs true or false, has “yes”', ['scenes', 'rent', 'rig', 'lamps', 'L1', 'on'], 'yes'],
  ['support, kind: must be “stand”', ['scenes', 'rent', 'rig', 'lamps', 'L1', 'support', 'kind'], 'rope'],
  ['shutter: seconds: needs a number', ['scenes', 'rent', 'camera', 'shutter', 'seconds'], 'x'],
  ['“9x” cannot be a name here', ['scenes', 'rent', 'marks', '9x'], {}],
  ['there is no wall 9', ['places', 'kitchen', 'openings', 'door', 'wall'], 9],
  ['the kit has no head toStrings', ['scenes', 'rent', 'rig', 'lamps', 'L1', 'head'], 'toStrings'],
  ['the kit has no head toString', ['scenes', 'rent', 'rig', 'lamps', 'L1', 'head'], 'toString'],
  ['the rig has no multiway M9', ['scenes', 'rent', 'rig', 'lamps', 'L2', 'feed', 'via'], 'M9'],
  ['is on socket K1, not K2', ['scenes', 'rent', 'rig', 'lamps', 'L2', 'feed', 'socket'], 'K2'],
  ['lamp L1: it aims at itself', ['scenes', 'rent', 'rig', 'lamps', 'L1', 'aim'], [3.85, 3.05, 2.2]],
  [
    'lamp L1 aims at itself there',
    ['scenes', 'rent', 'angles', 'OA', 'cheats'],
    { L1: { at: [1.75, 1.6, 1.2] } },
  ],
  ['the lens looks at itself', ['scenes', 'rent', 'angles', 'OA', 'lookAt'], [3.8, 1, 1.3]],
  ['its normal has no direction', ['scenes', 'rent', 'spots', 'table', 'normal'], [0, 0, 0]],
  [
    'outline runs clockwise',
    ['places', 'kitchen', 'outline'],
    [
      [0, 0],
      [0, 3.4],
      [4.2, 3.4],
      [4.2, 0],
    ],
  ],
  [
    'encloses no floor',
    ['places', 'kitchen', 'outline'],
    [
      [0, 0],
      [4, 0],
      [2, 0],
    ],
  ],
  ['ends (1 m) before it begins (2.3 m)', ['places', 'kitchen', 'openings', 'door', 'toM'], 1],
  ['has 1 facing, it asks for number 3', ['scenes', 'rent', 'angles', 'OA', 'facings'], { A: 2 }],
  ['key “scenes.rent.constructor”', ['scenes', 'rent', 'constructor'], {}],
  ['key “valueOf”', ['valueOf'], 1],
] as [string, string[], unknown][])('says “%s”', (says, path, value) => {
  const s = json();
  put(s, path, value);
  const told = message(JSON.stringify(s));
  expect(told).toContain(says);
  expect(told.split('\n').every((line) => /^\S.*[.)]$/.test(line))).toBe(true);
});

test('names that lead nowhere yet harm nothing are told, and kept', () => {
  const s = json();
  s.scenes.rent.angles.OA.wishes[0].mark = 'Z';
  s.scenes.rent.angles.W1.meant[0].lamp = 'P9';
  s.scenes.rent.rig.lamps.L1.support.kit = 'crane';
  s.places.kitchen.openings.door.toM = 9;
  const o = openShoot(JSON.stringify(s));
  expect(o.ok && o.notes.join('\n')).toMatch(
    /past the end of its wall \(3.40 m\)[\s\S]*no support crane[\s\S]*lamp P9[\s\S]*mark Z/,
  );
  if (o.ok) expect(JSON.parse(saveShoot(o.shoot))).toEqual(s);
});

test('a shoot opened, saved, opened and saved again is the same text, whatever order its keys came in', () => {
  const turned = (v: unknown): unknown =>
    Array.isArray(v)
      ? v.map(turned)
      : typeof v === 'object' && v !== null
        ? Object.fromEntries(
            Object.entries(v)
              .reverse()
              .map(([k, x]) => [k, turned(x)]),
          )
        : v;
  const first = openShoot(JSON.stringify(turned(json())));
  if (!first.ok) throw new Error(first.message.join());
  expect(JSON.parse(saveShoot(first.shoot))).toEqual(json());
  const second = openShoot(saveShoot(first.shoot));
  if (second.ok) expect(saveShoot(second.shoot)).toBe(saveShoot(first.shoot));
  expect(second.ok).toBe(true);
});

test('printed JSON is JSON, and says what JSON.stringify says', () => {
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 6 }), (v) => {
      expect(JSON.parse(printJson(v))).toEqual(JSON.parse(JSON.stringify(v)));
    }),
    { numRuns: 300 },
  );
  for (const name of files)
    for (const line of readFileSync(join(dir, name), 'utf8').split('\n'))
      if (!/"(words|crewNote)": "/.test(line)) expect(line.length).toBeLessThanOrEqual(110);
});

test('a newer file that cannot be read is not called broken', () => {
  const s = json();
  s.version.major = 3;
  s.scenes = { moved: true };
  expect(message(JSON.stringify(s))).toMatch(/newer program \(version 3\.0\) and cannot be read by this one/);
});

test('no text makes it throw', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.json(),
        fc.nat(text.length).map((n) => text.slice(0, n)),
      ),
      (t) => {
        const o = openShoot(t);
        expect(o.ok || o.message.length > 0).toBe(true);
      },
    ),
    { numRuns: 300 },
  );
  // One to three values anywhere in a good file swapped for others: it opens and keeps them, or says why not.
  const paths = pathsOf(json()).filter((p) => p.length > 0);
  const hostile = fc.oneof(
    fc.constantFrom<unknown>(null, 1e300, -5, 0, 'x', '', [], {}, true, undefined, [[[]]], -0, 'toString'),
    fc.jsonValue({ maxDepth: 3 }),
    fc.constant(JSON.parse('{"__proto__": {"polluted": 1}}') as unknown),
  );
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.nat(paths.length - 1), hostile), { minLength: 1, maxLength: 3 }),
      (changes) => {
        const s = json();
        for (const [i, v] of changes) {
          try {
            put(s, paths[i]!, structuredClone(v));
          } catch {
            // An earlier change took the group away.
          }
        }
        const t = JSON.stringify(s) ?? '';
        const o = openShoot(t);
        if (o.ok) {
          // A file that is brought up to date is not the same file.
          if (o.notes.every((n) => !n.includes('older')))
            expect(JSON.parse(saveShoot(o.shoot))).toEqual(JSON.parse(t));
        } else
          expect(o.message.every((m) => m.length > 10 && !/undefined|\[object|Invalid/.test(m))).toBe(true);
        expect(({} as { polluted?: number }).polluted).toBeUndefined();
      },
    ),
    { numRuns: 400 },
  );
});
