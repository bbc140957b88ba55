import fc from 'fast-check';
import { expect, test } from 'vitest';
import { shootOf } from '../../tests/bookFacts.ts';
import { applyEdits } from '../shoot/edits.ts';
import { anglesOf, rigFor } from '../shoot/rigFor.ts';
import type { Cheat, Shoot } from '../shoot/schema.ts';
import { applyChanges, changesBetween } from './changes.ts';

const shoot = shootOf('kitchen.json');
const W1 = { scene: 'rent', angle: 'W1' };
const OA = { scene: 'rent', angle: 'OA' };

/** The kitchen with these cheats in OA. */
const cheated = (cheats: Record<string, Cheat>): Shoot => {
  const copy = structuredClone(shoot);
  copy.scenes.rent!.angles.OA!.cheats = cheats;
  return copy;
};
const of = (s: Shoot, lamp: string) => changesBetween(s, W1, OA).lamps.find((l) => l.lamp === lamp)!;

const point = fc.tuple(
  fc.float({ min: 0, max: 4, noNaN: true }),
  fc.float({ min: 0, max: 3, noNaN: true }),
  fc.float({ min: 0, max: 2, noNaN: true }),
);
const cheat: fc.Arbitrary<Cheat> = fc.record(
  {
    on: fc.boolean(),
    at: point,
    aim: point,
    focus: fc.float({ min: 0, max: 1, noNaN: true }),
    level: fc.float({ min: 0, max: 1, noNaN: true }),
    sheets: fc.subarray(['half-cto', 'half-white', 'light-frost']),
    scrims: fc.subarray(['half', 'full']),
  },
  { requiredKeys: [] },
) as fc.Arbitrary<Cheat>;
const cheats = fc.dictionary(fc.constantFrom('L1', 'L2', 'L3', 'P1'), cheat);

test('law: the changes laid on the rig before give the rig after, whatever the two angles cheat', () => {
  fc.assert(
    fc.property(cheats, cheats, (a, b) => {
      const s = structuredClone(shoot);
      s.scenes.rent!.angles.W1!.cheats = a;
      s.scenes.rent!.angles.OA!.cheats = b;
      const c = changesBetween(s, W1, OA);
      const [before, after] = [rigFor(s, W1).lamps, rigFor(s, OA).lamps];
      expect(applyChanges(before, c.lamps)).toEqual(after);
      expect(applyChanges({}, changesBetween(s, undefined, OA).lamps)).toEqual(after);
      for (const l of c.lamps) {
        const burns = (x: (typeof after)[string]) => x.on && x.level > 0;
        const [was, is] = [burns(before[l.lamp]!), burns(after[l.lamp]!)];
        // Each word stands for exactly one of the four ways a lamp may go.
        if (was && is) expect(['keep', 'move', 'set']).toContain(l.act);
        else expect(l.act).toBe(was ? 'strike' : is ? 'add' : 'out');
        // What is to be touched is told; what is kept is not touched in any way that a hand could see.
        if (l.act === 'move' || l.act === 'set') expect(l.says.length).toBeGreaterThan(0);
        if (l.act === 'keep')
          expect(
            Math.hypot(...[0, 1, 2].map((i) => before[l.lamp]!.at[i]! - after[l.lamp]!.at[i]!)),
          ).toBeLessThan(0.02);
      }
    }),
    { numRuns: 300 },
  );
});

test('how far and which way, by hand: 0.30 m east and 0.40 m north is 0.50 m north-east', () => {
  const at = shoot.scenes.rent!.rig.lamps.L2!.at;
  const l = of(cheated({ L2: { at: [at[0] + 0.3, at[1] + 0.4, at[2] - 0.25] } }), 'L2');
  expect(l.act).toBe('move');
  expect(l.says).toEqual(['0.50 m north-east', 'down 0.25 m']);
  // With the plan's up turned to the east, the plan's north-east is south-east.
  const turned = cheated({ L2: { at: [at[0] + 0.3, at[1] + 0.4, at[2]] } });
  turned.places.kitchen!.northDeg = 90;
  expect(of(turned, 'L2').says).toEqual(['0.50 m south-east']);
});

test('strike, add, set and keep', () => {
  const s = cheated({ L1: { on: false }, L2: { level: 0.5 }, P1: { sheets: ['half-cto'] } });
  expect(of(s, 'L1')).toMatchObject({ act: 'strike', says: ['out'] });
  expect(of(s, 'L2')).toMatchObject({ act: 'set', says: ['up to 50 %'] });
  expect(of(s, 'P1')).toMatchObject({ act: 'set', says: ['in the beam: half cto'] });
  expect(of(s, 'L3')).toMatchObject({ act: 'keep', says: [], now: {} });
  const back = changesBetween(s, OA, W1).lamps.find((l) => l.lamp === 'L1')!;
  expect(back).toMatchObject({ act: 'add', says: ['on at 100 %'] });
});

test('aimed at a face it is said so; flags come and go by angle', () => {
  const mark = shoot.scenes.rent!.marks.B!;
  expect(of(cheated({ L1: { aim: [mark.at[0], mark.at[1], mark.eyeM] } }), 'L1').says).toEqual([
    'aim at B’s face',
  ]);
  const shed = shootOf('slack-water.json');
  const [t, ca] = anglesOf(shed);
  const flags = changesBetween(shed, t, ca!).flags;
  expect(flags.filter((f) => f.act === 'strike').map((f) => f.flag)).toEqual(['F3', 'F4']);
  expect(flags.filter((f) => f.act === 'add').map((f) => f.flag)).toEqual(['F1']);
});

test('an edit that cheats shows up in the list as it was made', () => {
  const s = applyEdits(shoot, [
    {
      edit: 'cheatLamp',
      args: { scene: 'rent', angle: 'OA', lamp: 'L2', changes: { at: [0.55, 2.45, 2.1] } },
    },
  ]).shoot;
  expect(of(s, 'L2').says).toEqual(['0.60 m south']);
});
