import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { applyEdit, type Edit, EditError, patched } from './edits.ts';
import { openShoot } from './file.ts';
import { act, back, drag, drop, forward, leave, newHistory } from './history.ts';
import { rigFor } from './rigFor.ts';

const opened = openShoot(readFileSync(join(import.meta.dirname, '../../shoots/kitchen.json'), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const shoot = opened.shoot;
const lamp = fc.constantFrom('L1', 'L2', 'L3', 'P1');
const angle = fc.option(fc.constantFrom('W1', 'OA', 'OB', 'IN', 'SK'), { nil: undefined });
const metres = fc.double({ min: -5, max: 5, noNaN: true });
const edit: fc.Arbitrary<Edit> = fc.oneof(
  fc.record({ l: lamp, a: angle, to: fc.tuple(metres, metres, metres) }).map(({ l, a, to }) => ({
    edit: 'moveLamp',
    args: { scene: 'rent', lamp: l, angle: a, to },
  })),
  fc
    .record({ l: lamp, a: angle, level: fc.double({ min: 0, max: 1, noNaN: true }) })
    .map(({ l, a, level }) => ({
      edit: 'setLevel',
      args: { scene: 'rent', lamp: l, angle: a, level },
    })),
  fc.record({ l: lamp, a: angle, on: fc.boolean() }).map(({ l, a, on }) => ({
    edit: 'switchLamp',
    args: { scene: 'rent', lamp: l, angle: a, on },
  })),
  fc.record({ a: angle, by: fc.integer({ min: -90, max: 90 }) }).map(({ a, by }) => ({
    edit: 'turnMark',
    args: { scene: 'rent', mark: 'A', angle: a, byDeg: by },
  })),
  fc
    .boolean()
    .map((on) => ({ edit: 'setHouseLoad', args: { place: 'kitchen', circuit: 'ring', load: 'kettle', on } })),
);

test('an edit and its inverse leave the shoot as it was; its patches make it again', () => {
  fc.assert(
    fc.property(edit, (e) => {
      const done = applyEdit(shoot, e);
      expect(done.says.length).toBeGreaterThan(2);
      expect(patched(done.shoot, done.inverse)).toEqual(shoot);
      expect(patched(shoot, done.patches)).toEqual(done.shoot);
    }),
    { numRuns: 200 },
  );
});

test('any run of edits can be stepped all the way back and forward again', () => {
  fc.assert(
    fc.property(fc.array(edit, { maxLength: 12 }), (edits) => {
      let h = newHistory(shoot);
      for (const e of edits) {
        try {
          h = act(h, e);
        } catch (error) {
          expect(error).toBeInstanceOf(EditError);
        }
      }
      const end = h.shoot;
      while (h.done.length) h = back(h);
      expect(h.shoot).toEqual(shoot);
      while (h.undone.length) h = forward(h);
      expect(h.shoot).toEqual(end);
    }),
    { numRuns: 100 },
  );
});

test('a drag is one step, and can be left', () => {
  const to = (x: number): Edit => ({
    edit: 'moveLamp',
    args: { scene: 'rent', lamp: 'L1', to: [x, 3, 2.2] },
  });
  let h = newHistory(shoot);
  for (const x of [3.8, 3.5, 3.2, 3]) h = drag(h, to(x));
  const dropped = drop(h);
  expect(dropped.done).toHaveLength(1);
  expect(dropped.shoot.scenes.rent!.rig.lamps.L1!.at[0]).toBe(3);
  expect(back(dropped).shoot).toEqual(shoot);
  expect(leave(h).shoot).toBe(shoot);
});

test('where an edit is made is whom it touches', () => {
  const cheat = applyEdit(shoot, {
    edit: 'setLevel',
    args: { scene: 'rent', lamp: 'L1', angle: 'OB', level: 0.5 },
  }).shoot;
  expect(rigFor(cheat, { scene: 'rent', angle: 'OB' }).lamps.L1!.level).toBe(0.5);
  expect(rigFor(cheat, { scene: 'rent', angle: 'OA' }).lamps.L1!.level).toBe(1);
  // The rig moves: the angle that cheats holds.
  const rig = applyEdit(cheat, { edit: 'setLevel', args: { scene: 'rent', lamp: 'L1', level: 0.2 } }).shoot;
  expect(rigFor(rig, { scene: 'rent', angle: 'OA' }).lamps.L1!.level).toBe(0.2);
  expect(rigFor(rig, { scene: 'rent', angle: 'OB' }).lamps.L1!.level).toBe(0.5);
  expect(rigFor(rig, { scene: 'rent', angle: 'OB' }).cheated).toEqual(['L1']);
  // A cheat equal to the rig is none.
  const same = applyEdit(rig, {
    edit: 'setLevel',
    args: { scene: 'rent', lamp: 'L1', angle: 'OB', level: 0.2 },
  }).shoot;
  expect(rigFor(same, { scene: 'rent', angle: 'OB' }).cheated).toEqual([]);
});

test('what cannot be done says so and changes nothing', () => {
  const says = (e: Edit) => {
    try {
      applyEdit(shoot, e);
      return '';
    } catch (error) {
      expect(error).toBeInstanceOf(EditError);
      return (error as Error).message;
    }
  };
  expect(says({ edit: 'fly', args: {} })).toMatch(/no edit called fly/);
  expect(says({ edit: 'toString', args: {} })).toMatch(/no edit called toString/);
  expect(says({ edit: 'moveLamp', args: { scene: 'rent', lamp: 'L9', to: [0, 0, 0] } })).toMatch(
    /no lamp L9/,
  );
  expect(says({ edit: 'setLevel', args: { scene: 'rent', lamp: 'L1', level: 'loud' } })).toMatch(/level/);
  expect(
    says({ edit: 'setFeed', args: { scene: 'rent', lamp: 'L1', feed: { socket: 'K9', leads: [] } } }),
  ).toMatch(/no socket K9/);
});
