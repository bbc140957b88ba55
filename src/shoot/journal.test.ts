/** A journal replayed is the shoot itself: whatever was done, wherever it was last written whole. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { openShoot, saveShoot } from './file.ts';
import { act, back, drag, drop, forward, type History, MOST, newHistory } from './history.ts';
import { type Entry, entriesBetween, replay } from './journal.ts';

const text = readFileSync(join(import.meta.dirname, '../../shoots/kitchen.json'), 'utf8');
const opened = openShoot(text);
if (!opened.ok) throw new Error(opened.message.join());
const shoot = opened.shoot;
const ei = (v: number) => ({ edit: 'setCamera', args: { scene: 'rent', camera: { ei: v } } });
const struck = { edit: 'removeLamp', args: { scene: 'rent', lamp: 'L1' } };

/** As it is read out of a store: through text. */
const stored = (entries: Entry[]): Entry[] => JSON.parse(JSON.stringify(entries)) as Entry[];
const from = (h: History): History => {
  const o = openShoot(saveShoot(h.shoot));
  if (!o.ok) throw new Error(o.message.join());
  return JSON.parse(JSON.stringify({ shoot: o.shoot, done: h.done, undone: h.undone })) as History;
};
const seen = (h: History) => ({ text: saveShoot(h.shoot), done: h.done, undone: h.undone });

test('one step, a step back, a step forward are one entry each', () => {
  const a = newHistory(shoot);
  const b = act(a, ei(400));
  expect(entriesBetween(a, a)).toEqual([]);
  expect(entriesBetween(a, b)).toEqual([{ did: b.done[0] }]);
  expect(entriesBetween(b, back(b))).toEqual([{ went: 'back' }]);
  expect(entriesBetween(back(b), forward(back(b)))).toEqual([{ went: 'forward' }]);
  // Another shoot, with the same steps or none.
  expect(entriesBetween(a, newHistory({ ...shoot, title: 'Other' }))).toBeUndefined();
  expect(entriesBetween(b, { ...b, shoot })).toBeUndefined();
});

test('a drag under way is not there yet; dropped it is one entry', () => {
  const a = newHistory(shoot);
  const held = drag(drag(a, ei(400)), ei(500));
  expect(entriesBetween(a, held)).toEqual([]);
  expect(entriesBetween(a, drop(held))).toHaveLength(1);
});

test('the oldest steps go and the journal still leads on', () => {
  let h = newHistory(shoot);
  for (let i = 0; i < MOST; i++) h = act(h, ei(100 + i));
  const whole = from(h);
  const was = h;
  for (let i = 0; i < 7; i++) h = act(h, ei(1000 + i));
  const entries = entriesBetween(was, h)!;
  expect(entries).toHaveLength(7);
  expect(seen(replay(whole, stored(entries)))).toEqual(seen(h));
});

test('whatever is done, replayed from any writing it is the same, with the same way back', () => {
  const doing = fc.array(
    fc.oneof(
      fc.integer({ min: 50, max: 3000 }).map((v) => (h: History) => act(h, ei(v))),
      fc.constant((h: History) => (h.shoot.scenes.rent!.rig.lamps.L1 ? act(h, struck) : h)),
      fc.constant(back),
      fc.constant(forward),
      fc.integer({ min: 50, max: 3000 }).map((v) => (h: History) => drop(drag(h, ei(v)))),
    ),
    { minLength: 1, maxLength: 25 },
  );
  fc.assert(
    fc.property(doing, fc.array(fc.nat(24)), (acts, cuts) => {
      let h = newHistory(shoot);
      let whole = from(h);
      let kept = h;
      const journal: Entry[] = [];
      for (const [i, doIt] of acts.entries()) {
        h = doIt(h);
        // Now and then several acts come between two writings; what cannot be told as entries is written whole.
        if (cuts.includes(i)) continue;
        const entries = entriesBetween(kept, h);
        if (entries) journal.push(...stored(entries));
        else {
          whole = from(h);
          journal.length = 0;
        }
        kept = h;
        expect(seen(replay(whole, journal))).toEqual(seen(h));
      }
    }),
    { seed: 20, numRuns: 60 },
  );
});

test('an entry that does not fit is refused, not guessed', () => {
  expect(() => replay(newHistory(shoot), [{ went: 'back' }])).toThrow();
  const bad = { ...act(newHistory(shoot), ei(400)).done[0]! };
  bad.patches = [{ op: 'replace', path: ['scenes', 'nowhere', 'camera', 'ei'], value: 1 }];
  expect(() => replay(newHistory(shoot), [{ did: bad }])).toThrow();
});
