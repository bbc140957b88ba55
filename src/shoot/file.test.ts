import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { MAX_BYTES, openShoot, saveShoot } from './file.ts';

const dir = join(import.meta.dirname, '../../shoots');
const files = readdirSync(dir).filter((f) => f.endsWith('.json'));
const text = readFileSync(join(dir, 'kitchen.json'), 'utf8');
const json = () => JSON.parse(text);
const message = (t: string) => {
  const o = openShoot(t);
  return o.ok ? '' : o.message.join('\n');
};

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
  expect(message('[1,2]')).toMatch(/not a shoot/);
  expect(message('{"format":"x"}')).toMatch(/does not say that it is a shoot/);
  expect(message(`${'['.repeat(100_000)}`)).toMatch(/levels deep/);
  expect(message('x'.repeat(MAX_BYTES + 1))).toMatch(/MB/);
  expect(message(text.replace('"rent"', '"__proto__"'))).toMatch(/__proto__/);
  const wrong = json();
  wrong.scenes.rent.rig.lamps.L1.at = ['a', 2, 3];
  expect(message(JSON.stringify(wrong))).toMatch(/scene rent, lamp L1, at, entry 1: expected number/);
  const far = json();
  far.scenes.rent.rig.lamps.L1.at = [1e300, 0, 0];
  expect(message(JSON.stringify(far))).toMatch(/scene rent, lamp L1, at, entry 1/);
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
  // A value somewhere in a good file swapped for another.
  const paths = text.split('\n');
  fc.assert(
    fc.property(
      fc.nat(paths.length - 1),
      fc.constantFrom('null', '1e300', '-5', '"x"', '[]', '{}', 'true'),
      (i, v) => {
        const t = paths
          .map((line, k) => (k === i ? line.replace(/: .*?(,?)$/, `: ${v}$1`) : line))
          .join('\n');
        const o = openShoot(t);
        expect(o.ok || o.message.every((m) => m.length > 10)).toBe(true);
      },
    ),
    { numRuns: 400 },
  );
});
