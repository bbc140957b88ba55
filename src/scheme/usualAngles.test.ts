import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fieldOfView } from '../camera/lens.ts';
import { inFrame, onFrame, viewOf } from '../setup/view.ts';
import { applyEdits } from '../shoot/edits.ts';
import { newShoot, ROOM_ID, SCENE_ID } from '../shoot/newShoot.ts';
import { faults } from '../shoot/references.ts';
import { HOW } from '../shoot/seatings.ts';
import { nearestWall, onFloor } from '../shoot/walls.ts';
import { inTheWay, postOf } from './sightLines.ts';
import { SENSOR_MM, usualAngles } from './usualAngles.ts';

fc.configureGlobal({ seed: 20 });

const room = fc.record({
  widthM: fc.double({ min: 2.6, max: 9, noNaN: true }),
  depthM: fc.double({ min: 2.4, max: 8, noNaN: true }),
  heightM: fc.double({ min: 2.2, max: 4, noNaN: true }),
  how: fc.constantFrom(...HOW),
  people: fc.constantFrom<1 | 2 | 3>(1, 2, 3),
});

describe('in any room', () => {
  test('cameras stand on the floor, clear of walls and people, and see the faces they are for', () => {
    fc.assert(
      fc.property(room, (r) => {
        const before = newShoot({ region: 'uk', ...r });
        const u = usualAngles(before, SCENE_ID);
        const shoot = applyEdits(before, u.edits).shoot;
        expect(faults(shoot)).toEqual([]);
        const place = shoot.places[ROOM_ID]!;
        const scene = shoot.scenes[SCENE_ID]!;
        for (const [id, a] of Object.entries(scene.angles)) {
          expect(onFloor(place.outline, [a.at[0], a.at[1]])).toBe(true);
          expect(nearestWall(place.outline, [a.at[0], a.at[1]]).offM).toBeGreaterThan(0.2);
          const who = Object.entries(scene.marks).filter(
            ([m]) => id === 'T' || id === `C${m}` || r.people === 1,
          );
          expect(who.length).toBeGreaterThan(0);
          for (const [m, mark] of who) {
            const eyes: [number, number, number] = [mark.at[0], mark.at[1], mark.eyeM];
            expect(inFrame(onFrame(viewOf(a), eyes)), `${id} does not hold ${m}`).toBe(true);
          }
          for (const mark of Object.values(scene.marks))
            expect(Math.hypot(a.at[0] - mark.at[0], a.at[1] - mark.at[1])).toBeGreaterThan(0.5);
        }
        // What is missing is said.
        if (Object.keys(scene.angles).length < 3) expect(u.says.join()).toMatch(/No place was found/);
      }),
      { numRuns: 60 },
    );
  });

  test('no camera crosses the line between two who talk [CHECKS-CAMERA §3.3]', () => {
    fc.assert(
      fc.property(room, (r) => {
        const shoot = newShoot({ region: 'uk', ...r, people: 2 });
        const { A, B } = shoot.scenes[SCENE_ID]!.marks;
        const cross = (p: readonly number[]) =>
          (B!.at[0] - A!.at[0]) * (p[1]! - A!.at[1]) - (B!.at[1] - A!.at[1]) * (p[0]! - A!.at[0]);
        const sides = Object.values(usualAngles(shoot, SCENE_ID).angles).map((a) => Math.sign(cross(a.at)));
        expect(new Set(sides).size).toBeLessThanOrEqual(1);
        expect(sides).not.toContain(0);
      }),
      { numRuns: 60 },
    );
  });

  test('singles of two who face each other match: same lens, distance within a tenth, same angle off the line', () => {
    fc.assert(
      fc.property(room, (r) => {
        const shoot = newShoot({ region: 'uk', ...r, people: 2, how: 'table' });
        const { marks } = shoot.scenes[SCENE_ID]!;
        const { CA, CB } = usualAngles(shoot, SCENE_ID).angles;
        if (!CA || !CB) return;
        expect(CA.focalMm).toBe(CB.focalMm);
        const off = (c: typeof CA, own: string, other: string) => {
          const [a, b] = [marks[own]!.at, marks[other]!.at];
          const line = Math.atan2(b[1] - a[1], b[0] - a[0]);
          return {
            d: Math.hypot(c.at[0] - a[0], c.at[1] - a[1]),
            deg: Math.abs(
              ((((Math.atan2(c.at[1] - a[1], c.at[0] - a[0]) - line) * 180) / Math.PI + 540) % 360) - 180,
            ),
          };
        };
        const [x, y] = [off(CA, 'A', 'B'), off(CB, 'B', 'A')];
        expect(x.d / y.d).toBeGreaterThan(0.9);
        expect(x.d / y.d).toBeLessThan(1.1);
        expect(Math.abs(x.deg - y.deg)).toBeLessThan(1);
        // Eyelines: 5 to 45° off the line [CHECKS-CAMERA §3.3].
        expect(x.deg).toBeGreaterThan(5);
        expect(x.deg).toBeLessThan(46);
      }),
      { numRuns: 60 },
    );
  });
});

test('distance of a shot by hand: medium close-up, 50 mm on a 14 mm high frame, 0.60 m of height [CHECKS-CAMERA §3.3]', () => {
  // D = f·H/h = 50 × 0.6 / 14 = 2.14 m: the row of the table.
  const shoot = newShoot({ region: 'uk', widthM: 6, depthM: 5, heightM: 2.7, how: 'standing' });
  const { CA } = usualAngles(shoot, SCENE_ID).angles;
  const { A } = shoot.scenes[SCENE_ID]!.marks;
  expect(CA!.focalMm).toBe(50);
  expect(Math.hypot(CA!.at[0] - A!.at[0], CA!.at[1] - A!.at[1])).toBeCloseTo((50 * 0.6) / 14, 0);
  expect(SENSOR_MM).toEqual([24.9, 14]);
  expect((fieldOfView(24.9, 50) * 180) / Math.PI).toBeCloseTo(28, 0);
});

test('two who look the same way are seen from where they look', () => {
  const shoot = newShoot({ region: 'uk', how: 'sofa' });
  for (const a of Object.values(usualAngles(shoot, SCENE_ID).angles))
    for (const m of Object.values(shoot.scenes[SCENE_ID]!.marks)) {
      const f = (m.facings[0]! * Math.PI) / 180;
      expect((a.at[0] - m.at[0]) * Math.cos(f) + (a.at[1] - m.at[1]) * Math.sin(f)).toBeGreaterThan(0);
    }
});

test('a cupboard in the way is seen round or over', () => {
  const shoot = newShoot({ region: 'uk', widthM: 6, depthM: 5, how: 'standing' });
  const plain = usualAngles(shoot, SCENE_ID).angles.T!;
  const place = shoot.places[ROOM_ID]!;
  const { A } = shoot.scenes[SCENE_ID]!.marks;
  // Halfway to where the two-shot stood.
  place.furniture.block = {
    kind: 'box',
    at: [plain.at[0], (plain.at[1] + A!.at[1]) / 2, 0],
    sizeM: [0.9, 0.4, 2],
    finish: { reflectance: 0.3 },
  };
  const { T } = usualAngles(shoot, SCENE_ID).angles;
  for (const [id, m] of Object.entries(shoot.scenes[SCENE_ID]!.marks)) {
    const posts = Object.entries(shoot.scenes[SCENE_ID]!.marks)
      .filter(([o]) => o !== id)
      .map(([o, x]) => postOf(o, x.at, x.eyeM));
    expect(inTheWay(place, posts, T!.at, [m.at[0], m.at[1], m.eyeM])).toBeUndefined();
  }
});

test('nobody there: said, nothing placed', () => {
  const shoot = newShoot({ region: 'uk' });
  shoot.scenes[SCENE_ID]!.marks = {};
  const u = usualAngles(shoot, SCENE_ID);
  expect(u.edits).toEqual([]);
  expect(u.says.join()).toMatch(/Nobody/);
});

test('things in the way, by hand', () => {
  const shoot = newShoot({ region: 'uk', widthM: 4, depthM: 4 });
  const place = shoot.places[ROOM_ID]!;
  place.furniture = {
    box: {
      kind: 'box',
      words: 'box',
      at: [2, 2, 0],
      sizeM: [1, 1, 1],
      turnDeg: 45,
      finish: { reflectance: 0.3 },
    },
  };
  // Through it at 0.5 m, over it at 1.2 m, past its turned corner (at 2 + 0.71).
  expect(inTheWay(place, [], [0.5, 2, 0.5], [3.5, 2, 0.5], 0)).toBe('box');
  expect(inTheWay(place, [], [0.5, 2, 1.2], [3.5, 2, 1.2], 0)).toBeUndefined();
  expect(inTheWay(place, [], [0.5, 2.75, 0.5], [3.5, 2.75, 0.5], 0)).toBeUndefined();
  expect(inTheWay(place, [], [0.5, 2.65, 0.5], [3.5, 2.65, 0.5], 0)).toBe('box');
  expect(inTheWay(place, [postOf('A', [1, 2], 1.6)], [0.5, 2, 1.5], [1.5, 2.1, 1.5])).toBe('A');
  expect(inTheWay(place, [], [0.5, 2, 1.5], [9, 2, 1.5])).toBe('a wall');
});
