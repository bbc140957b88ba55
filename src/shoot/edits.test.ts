import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ARGS, busy, edit, kitchen, open, rent, shoot } from '../../tests/anyEdit.ts';
import { applyEdit, applyEdits, EDITS, type Edit, EditError, patched } from './edits.ts';
import { openShoot, saveShoot } from './file.ts';
import { act, back, backSays, drag, drop, forward, forwardSays, leave, newHistory } from './history.ts';
import { rigFor } from './rigFor.ts';
import type { Furniture, RigLamp } from './schema.ts';

fc.configureGlobal({ seed: 20 });
const tried = (s: typeof shoot, e: Edit) => {
  try {
    return applyEdit(s, e);
  } catch (error) {
    expect(error, JSON.stringify(e)).toBeInstanceOf(EditError);
    expect((error as Error).message).toMatch(/^\S.{8,}[.]$/);
    return undefined;
  }
};

test('every edit can be made, steps back whole, and leaves a shoot whose file opens', () => {
  for (const [name, args] of Object.entries(ARGS)) {
    let made = 0;
    fc.assert(
      fc.property(fc.record(args), (a) => {
        const before = JSON.stringify(busy);
        const e = tried(busy, { edit: name, args: a });
        expect(JSON.stringify(busy)).toBe(before);
        if (!e) return;
        made++;
        expect(e.says.length).toBeGreaterThan(2);
        expect(e.says).not.toMatch(/undefined|NaN|\[object/);
        // Back: the same text, so the same values in the same order.
        expect(JSON.stringify(patched(e.shoot, e.inverse, e.orders)) === before, name).toBe(true);
        expect(isDeepStrictEqual(patched(busy, e.patches), e.shoot), name).toBe(true);
        const again = openShoot(saveShoot(e.shoot));
        expect(again.ok ? [] : again.message, JSON.stringify({ name, a })).toEqual([]);
        if (again.ok)
          expect(isDeepStrictEqual(again.shoot, JSON.parse(JSON.stringify(e.shoot))), name).toBe(true);
      }),
      { numRuns: 10 },
    );
    expect(made, `${name} was never made`).toBeGreaterThan(0);
  }
});

test('any run of edits can be stepped all the way back and forward again, and its file opens', () => {
  fc.assert(
    fc.property(fc.array(edit, { maxLength: 25 }), (edits) => {
      let h = newHistory(busy);
      for (const e of edits) if (tried(h.shoot, e)) h = act(h, e);
      const end = h.shoot;
      const opened = openShoot(saveShoot(end));
      expect(opened.ok ? [] : opened.message).toEqual([]);
      while (h.done.length) h = back(h);
      expect(JSON.stringify(h.shoot)).toBe(JSON.stringify(busy));
      while (h.undone.length) h = forward(h);
      expect(h.shoot).toEqual(end);
    }),
    { numRuns: 60 },
  );
});

test('arguments of any shape are refused in a sentence or taken, never thrown at the person', () => {
  const odd = fc.oneof(
    fc.constantFrom<unknown>(undefined, null, 'rent', 'kitchen', 'L1', 'OA', 'A', 'constructor', '__proto__'),
    fc.constantFrom<unknown>('toString', Number.NaN, Number.POSITIVE_INFINITY, 1e300, -1, 0, [], {}),
    fc.jsonValue({ maxDepth: 2 }),
  );
  const words = [...new Set(Object.values(ARGS).flatMap((a) => Object.keys(a)))];
  fc.assert(
    fc.property(
      fc.constantFrom(...Object.keys(EDITS), 'fly', 'toString', '__proto__', ''),
      fc.dictionary(fc.constantFrom(...words), odd, { maxKeys: 5 }),
      (name, args) => {
        const e = tried(shoot, { edit: name, args });
        if (e) expect(openShoot(saveShoot(e.shoot)).ok).toBe(true);
      },
    ),
    { numRuns: 800 },
  );
});

test('a drag is one step, can be left, and is not lost when another edit comes', () => {
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
  expect(backSays(h)).toBeUndefined();
  expect(backSays(dropped)).toBe('1 moved 0.85 m');
  expect(forwardSays(back(dropped))).toBe('1 moved 0.85 m');
  const then = act(h, { edit: 'setLevel', args: { scene: 'rent', lamp: 'L2', level: 0.5 } });
  expect(then.done.map((s) => s.says)).toEqual(['1 moved 0.85 m', '2 burns 50 %']);
  expect(back(back(then)).shoot).toEqual(shoot);
  // Dragged back to where it was: no step, and what could be done again still can.
  const redo = back(dropped);
  const same = drop(drag(redo, to(3.85)));
  expect(same.done).toHaveLength(1);
  expect(drop(drag(drag(redo, to(2)), { edit: 'rename', args: { title: shoot.title } })).undone).toHaveLength(
    1,
  );
});

test('several edits as one step: all or none', () => {
  const two: Edit[] = [
    { edit: 'setLevel', args: { scene: 'rent', lamp: 'L1', level: 0.5 } },
    { edit: 'aimLamp', args: { scene: 'rent', lamp: 'L1', mark: 'C' } },
  ];
  const h = act(newHistory(shoot), two);
  expect(h.done.map((s) => s.says)).toEqual(['1 burns 50 %; 1 aimed at C']);
  expect(h.shoot.scenes.rent!.rig.lamps.L1!.aim).toEqual([2, 2.55, 1.58]);
  expect(back(h).shoot).toEqual(shoot);
  expect(() =>
    applyEdits(shoot, [...two, { edit: 'setLevel', args: { scene: 'rent', lamp: 'L9', level: 1 } }]),
  ).toThrow('There is no lamp L9.');
});

test('where an edit is made is whom it touches', () => {
  const level = (s: typeof shoot, level: number, angle?: string) =>
    applyEdit(s, {
      edit: 'setLevel',
      args: { scene: 'rent', lamp: 'L1', ...(angle ? { angle } : {}), level },
    }).shoot;
  const of = (s: typeof shoot, angle: string) => rigFor(s, { scene: 'rent', angle });
  const cheat = level(shoot, 0.5, 'OB');
  expect(of(cheat, 'OB').lamps.L1!.level).toBe(0.5);
  expect(of(cheat, 'OA').lamps.L1!.level).toBe(1);
  // The rig moves: the angle that cheats holds.
  const rig = level(cheat, 0.2);
  expect(of(rig, 'OA').lamps.L1!.level).toBe(0.2);
  expect(of(rig, 'OB').lamps.L1!.level).toBe(0.5);
  expect(of(rig, 'OB').cheated).toEqual(['L1']);
  // A cheat equal to the rig is none.
  expect(of(level(rig, 0.2, 'OB'), 'OB').cheated).toEqual([]);
  // The cheat elsewhere, then as the rig.
  const args = { scene: 'rent', angle: 'OB', lamp: 'L1' };
  const two = applyEdit(rig, { edit: 'cheatElsewhere', args: { ...args, to: ['SK'] } }).shoot;
  expect(of(two, 'SK').lamps.L1!.level).toBe(0.5);
  const made = applyEdit(two, { edit: 'makeCheatTheRig', args }).shoot;
  expect([made.scenes.rent!.rig.lamps.L1!.level, of(made, 'OB').cheated, of(made, 'SK').cheated]).toEqual([
    0.5,
    [],
    ['L1'],
  ]);
});

test('a camera setting of one angle is kept only where it differs', () => {
  const set = (s: typeof shoot, camera: unknown, angle?: string) =>
    applyEdit(s, { edit: 'setCamera', args: { scene: 'rent', camera, ...(angle ? { angle } : {}) } }).shoot;
  const one = set(shoot, { stop: 4 }, 'OA');
  expect(one.scenes.rent!.angles.OA!.camera).toEqual({ stop: 4 });
  expect(rigFor(one, { scene: 'rent', angle: 'OB' }).camera.stop).toBe(2.8);
  expect(set(one, { stop: 2.8 }, 'OA').scenes.rent!.angles.OA!.camera).toBeUndefined();
});

test('a mark turned in one angle faces as before in the others, and can be turned again and again', () => {
  let s = shoot;
  for (let i = 0; i < 30; i++)
    s = applyEdit(s, { edit: 'turnMark', args: { scene: 'rent', mark: 'A', angle: 'OA', byDeg: -2 } }).shoot;
  const { marks, angles } = s.scenes.rent!;
  expect(marks.A!.facings).toEqual([0, -60]);
  expect([angles.OA!.facings, angles.OB!.facings]).toEqual([{ A: 1 }, undefined]);
});

test('what goes takes with it what hung on it alone', () => {
  const water = open('slack-water');
  const noT = applyEdit(water, { edit: 'removeAngle', args: { scene: 'slack', angle: 'T' } });
  expect(Object.keys(noT.shoot.scenes.slack!.rig.flags)).toEqual(['F1', 'F2']);
  const noP1 = applyEdit(water, { edit: 'removeLamp', args: { scene: 'slack', lamp: 'P1' } }).shoot;
  expect(noP1.scenes.slack!.angles.W!.meant.map((m) => m.lamp)).toEqual(['L4']);
  const o = openShoot(saveShoot(noP1));
  expect(o.ok && o.notes).toEqual([]);
  // A block taken to another socket takes its plugs along; taken away it leaves them in the wall.
  const block = water.scenes.slack!.rig.multiways.M1!;
  const moved = applyEdit(water, {
    edit: 'setMultiway',
    args: { scene: 'slack', id: 'M1', multiway: { ...block, socket: 'S2' } },
  }).shoot;
  expect(moved.scenes.slack!.rig.lamps.L3!.feed!.socket).toBe('S2');
  const gone = applyEdit(water, { edit: 'setMultiway', args: { scene: 'slack', id: 'M1' } }).shoot;
  expect(gone.scenes.slack!.rig.lamps.L3!.feed).toEqual({
    socket: 'S1',
    leads: [{ kit: 'rubber25', coiled: false }],
  });
});

test('what cannot be done says so and changes nothing', () => {
  const says = (edit: string, args: Record<string, unknown>) => {
    try {
      applyEdit(shoot, { edit, args });
      return '';
    } catch (error) {
      expect(error).toBeInstanceOf(EditError);
      return (error as Error).message;
    }
  };
  const l1 = { scene: 'rent', lamp: 'L1' };
  expect(says('fly', {})).toBe('There is no edit called fly.');
  expect(says('toString', {})).toBe('There is no edit called toString.');
  expect(says('moveLamp', { scene: 'rent', lamp: 'L9', to: [0, 0, 0] })).toBe('There is no lamp L9.');
  expect(says('moveLamp', { scene: 'constructor', lamp: 'L9', to: [0, 0, 0] })).toBe(
    'There is no scene constructor.',
  );
  expect(says('setLevel', { ...l1, level: 'loud' })).toBe('setLevel: level: needs a number, has “loud”.');
  expect(says('setLevel', { ...l1, level: Number.NaN })).toMatch(/^setLevel: level: needs a number/);
  expect(says('moveLamp', { ...l1, to: [1, 2] })).toBe('moveLamp: to: needs three numbers, has 2.');
  expect(says('setLevel', { ...l1, level: 0.5, angel: 'OA' })).toMatch(/angel/);
  expect(says('moveLamp', { ...l1, to: [1.75, 1.6, 1.2] })).toMatch(/stand where it aims/);
  expect(says('setFeed', { ...l1, feed: { socket: 'K9', leads: [] } })).toBe('There is no socket K9.');
  expect(says('setFeed', { ...l1, feed: { socket: 'K1', leads: [{ kit: 'rope' }] } })).toMatch(
    /no lead rope/,
  );
  expect(says('cheatLamp', { ...l1, angle: 'OA', changes: { head: 'panel60' } })).toMatch(
    /cannot cheat “head”/,
  );
  expect(says('setSocket', { place: 'kitchen', id: 'K1' })).toMatch(/cannot be done.*no socket K1/);
  expect(says('setHead', { id: 'panel60' })).toMatch(/cannot be done.*no head panel60/);
  expect(says('setRoom', { place: 'kitchen', widthM: 2, depthM: 2 })).toMatch(/past the end of its wall/);
});

test('an edit keeps what it does not know', () => {
  const later = openShoot(
    saveShoot({
      ...shoot,
      scenes: {
        rent: {
          ...rent,
          rig: {
            ...rent.rig,
            lamps: { ...rent.rig.lamps, L1: { ...rent.rig.lamps.L1!, dent: 'left door' } as RigLamp },
          },
        },
      },
      places: {
        kitchen: {
          ...kitchen,
          furniture: {
            ...kitchen.furniture,
            table: { ...kitchen.furniture.table!, wobbles: true } as Furniture,
          },
        },
      },
    }),
  );
  if (!later.ok) throw new Error(later.message.join());
  const moved = applyEdits(later.shoot, [
    { edit: 'moveLamp', args: { scene: 'rent', lamp: 'L1', to: [3, 3, 2] } },
    { edit: 'moveFurniture', args: { place: 'kitchen', id: 'table', to: [2, 1.6, 0] } },
  ]).shoot;
  expect(moved.scenes.rent!.rig.lamps.L1).toMatchObject({ dent: 'left door', at: [3, 3, 2] });
  expect(moved.places.kitchen!.furniture.table).toMatchObject({ wobbles: true });
});
