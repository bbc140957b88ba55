/** The metering sheet: what stands on it, how it fills, and which reading is worth most; laws, no figures of our own. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { learnedOf } from '../setup/learned.ts';
import { causesOfLamp } from '../setup/learnedLamp.ts';
import { applyEdit } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import type { Shoot } from '../shoot/schema.ts';
import { causeWords } from './causeWords.ts';
import type { MeterPoint } from './meter.ts';
import { movedCauses, recordOf, type SheetQuestion, sheetOf } from './sheet.ts';

const opened = openShoot(readFileSync(new URL('../../shoots/slack-water.json', import.meta.url), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const shoot = opened.shoot;
const scene = 'slack';
const rig = shoot.scenes[scene]!.rig.lamps;
/** Lux at a meter turned so: L2 is the key of A, P1 a little of everything. */
const LIGHT: Record<string, Record<string, [number, number]>> = {
  L2: { L2: [150, 4], P1: [6, 1], L1: [0, 8] },
  L1: { L2: [0, 4], P1: [0, 1], L1: [80, 8] },
  P1: { L2: [70, 4], P1: [12, 1], L1: [0, 8] },
};
const points: MeterPoint[] = Object.entries(LIGHT).map(([toward, gives]) => ({
  mark: 'A',
  toward,
  parts: Object.entries(gives).map(([lamp, [directLx, bouncedLx]]) => ({
    lamp,
    head: rig[lamp]!.head,
    causes: causesOfLamp(scene, lamp, rig[lamp]!, shoot.kit.lamps[rig[lamp]!.head]!),
    directLx,
    bouncedLx,
  })),
}));
const q = (s: Shoot): SheetQuestion => ({
  shoot: s,
  scene,
  angle: 'CA',
  points,
  marks: [{ mark: 'A', toward: 'L2' }],
  faces: ['A'],
  spots: [],
  burning: ['L1', 'L2', 'P1'],
  always: [],
  eRefLx: 312,
});
const CAMERA = { ei: 320, shutterS: 0.02, filterStops: 0, class: 'old-sd' } as const;
const keep = (s: Shoot, id: string, toward: string, lamps: string[], lux: number) =>
  applyEdit(s, {
    edit: 'keepReading',
    args: {
      id,
      reading: recordOf(
        points.find((p) => p.toward === toward)!,
        lamps,
        { scene, angle: 'CA' },
        { how: 'lux', value: lux },
        CAMERA,
        0.02,
        undefined,
      ),
    },
  }).shoot;

test('a line for all lamps together and one for each alone; sums as the parts have it', () => {
  const rows = sheetOf(q(shoot));
  expect(rows.map((r) => [r.toward, r.together])).toEqual([
    ['L2', true],
    ['L1', false],
    ['L2', false],
    ['P1', false],
  ]);
  expect(rows[0]!.expectedLx).toBeCloseTo(150 + 4 + 6 + 1 + 8, 9);
  expect(rows[2]!.plannedLx).toBeCloseTo(154, 9);
  expect(rows.every((r) => r.measured === undefined)).toBe(true);
});

test('it fills itself: the line read is filled, the others are worked out anew, and doubt falls', () => {
  const before = sheetOf(q(shoot));
  const after = sheetOf(q(keep(shoot, 'M1', 'L2', ['L2'], 77)));
  expect(after[2]!.measured).toMatchObject({ lx: 77, overPlanStops: -1 });
  expect(after[2]!.plannedLx).toBeCloseTo(before[2]!.plannedLx, 9);
  expect(after[0]!.measured).toBeUndefined();
  expect(after[0]!.expectedLx).toBeLessThan(before[0]!.expectedLx);
  expect(after[0]!.bandStops).toBeLessThan(0.7 * before[0]!.bandStops);
  // A head of another kind is told little: only what the light meter was off by.
  expect(after[1]!.bandStops).toBeGreaterThan(0.95 * before[1]!.bandStops);
});

test('a lamp carried or dimmed since is a line to be read again', () => {
  const read = keep(shoot, 'M1', 'L2', ['L2'], 77);
  const moved = applyEdit(read, { edit: 'raiseLamp', args: { scene, lamp: 'L2', heightM: 2.5 } }).shoot;
  const at = points.map((p) => ({
    ...p,
    parts: p.parts.map((x) => ({
      ...x,
      causes: causesOfLamp(scene, x.lamp, moved.scenes[scene]!.rig.lamps[x.lamp]!, shoot.kit.lamps[x.head]!),
    })),
  }));
  expect(sheetOf({ ...q(moved), points: at })[2]!.measured).toBeUndefined();
  const dimmed = points.map((p) => ({
    ...p,
    parts: p.parts.map((x) => (x.lamp === 'L2' ? { ...x, directLx: x.directLx / 2 } : x)),
  }));
  expect(sheetOf({ ...q(read), points: dimmed })[2]!.measured).toBeUndefined();
});

test('the reading worth most is of the lamp that gives most; once made it is worth the least', () => {
  const before = sheetOf(q(shoot));
  const alone = before.filter((r) => !r.together);
  expect([...alone].sort((a, b) => b.worth - a.worth)[0]!.toward).toBe('L2');
  const after = sheetOf(q(keep(shoot, 'M1', 'L2', ['L2'], 77)));
  expect(after[2]!.worth).toBeLessThan(0.25 * before[2]!.worth);
  // Worth is the fall of variance that comes true: the face's band squared, before less after.
  const z = 1.6448536269514722;
  const fall = (before[0]!.bandStops / z) ** 2 - (after[0]!.bandStops / z) ** 2;
  expect(fall / before[2]!.worth).toBeGreaterThan(0.9);
  expect(fall / before[2]!.worth).toBeLessThan(1.1);
});

test('which causes move, most first, and what they are called', () => {
  const moved = movedCauses(learnedOf(shoot).joint, learnedOf(keep(shoot, 'M1', 'L2', ['L2'], 77)).joint);
  expect(moved[0]!.cause).toBe('kind:fresnel-650');
  expect(moved[0]!.to).toBeLessThan(-0.5);
  expect(moved[0]!.sigmaTo).toBeLessThan(moved[0]!.sigmaFrom);
  const words = moved.map((m) => causeWords(shoot, scene, m.cause));
  expect(words[0]).toBe('what a 650 W fresnel gives');
  expect(words).toContain('this very head, 2');
  expect(words).toContain('where 2 stands');
  expect(words).toContain('how light the surfaces are, Boat shed');
  expect(words).toContain('the light meter');
});
