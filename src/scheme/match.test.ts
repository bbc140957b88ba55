/** A close-up against its wide: sameness gives nothing, and each thing that differs is said by as much as it was made to. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { MarkReading } from '../readings/readMark.ts';
import { applyEdits } from '../shoot/edits.ts';
import { openShoot, saveShoot } from '../shoot/file.ts';
import type { Shoot } from '../shoot/schema.ts';
import { MATCH, type MatchRead, matchOf, matchWords, toleranceOf, wideFor } from './match.ts';

const opened = openShoot(readFileSync(new URL('../../shoots/kitchen.json', import.meta.url), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const shoot: Shoot = opened.shoot;

/** XYZ of CIE illuminants A and D65 [CIE-15 T.3], Y = 1. */
const A: [number, number, number] = [1.0985, 1, 0.35585];
const D65: [number, number, number] = [0.95047, 1, 1.08883];

const lamp = (over: Partial<MarkReading['lamps'][number]> = {}): MarkReading['lamps'][number] => ({
  lamp: 'L1',
  azimuthDeg: 40,
  elevationDeg: 30,
  side: 'left',
  distanceM: 2.5,
  directLx: 300,
  bouncedLx: 20,
  lx: 320,
  overStops: 0,
  role: 'key',
  clock: 8,
  ...over,
});
const face = (over: Partial<MarkReading> = {}): MarkReading => ({
  mark: 'A',
  toward: 'L1',
  incidentLx: 330,
  towardCameraLx: 250,
  askedT: 2.8,
  overStops: 0.1,
  bandStops: 0.4,
  doubts: [],
  metered: false,
  ratioStops: 2,
  ratio: 4,
  ratioBandStops: 0.3,
  convention: '',
  keyToRest: 4,
  backOverKeyStops: -0.5,
  litOverGreyStops: 0.5,
  shadeOverGreyStops: -1.5,
  litSide: 'left',
  litXyz: A,
  shadeXyz: A,
  face: undefined,
  lamps: [lamp()],
  ...over,
});
const spot = (under: number): MatchRead['spots'][number] => ({
  spot: Object.keys(shoot.scenes.rent!.spots)[0]!,
  kind: 'wall',
  lx: 50,
  underKeyStops: under,
  overGreyStops: -under,
  bandStops: 0.4,
  doubts: [],
  metered: false,
  seen: true,
  lamps: [],
  xyz: A,
});
const read = (angle: string, m: MarkReading, under = 2): MatchRead => ({
  ref: { scene: 'rent', angle },
  marks: [m],
  facesSeen: ['A'],
  spots: [spot(under)],
  eRefLx: 300,
  balance: { cctK: 3200, duv: 0 },
  lamps: [],
});
const wide = read('W1', face());
const off = (close: MatchRead, t = MATCH) =>
  matchOf(shoot, wide, close, t).parts.flatMap((p) => p.rows.filter((r) => r.off));

test('the same light on both sides of a cut: nothing is off', () => {
  const m = matchOf(shoot, wide, read('OA', face()));
  expect(m.parts.map((p) => p.rows.every((r) => !r.off))).toEqual([true, true]);
  expect(matchWords(shoot, m)[0]).toMatch(/within ⅓ stop, 20 mired, 1.0 h\.$/);
});

test('each difference alone is said alone, by as much as was laid in', () => {
  const one = (m: Partial<MarkReading>, under = 2) => {
    const rows = off(read('OA', face(m), under));
    expect(rows).toHaveLength(1);
    return rows[0]!;
  };
  expect(one({ overStops: 0.9 })).toMatchObject({ what: 'key', says: 'key 0.8 stops over' });
  expect(one({ overStops: -0.9 }).says).toBe('key 1.0 stops under');
  expect(one({ ratioStops: 1 })).toMatchObject({ what: 'ratio', by: -1, says: 'contrast 1.0 stops less' });
  expect(one({ backOverKeyStops: 0.5 }).says).toBe('back light 1.0 stops more against the key');
  // 75° against 40° on the same side: 35° are 1.2 hours.
  expect(one({ lamps: [lamp({ azimuthDeg: 75 })] })).toMatchObject({
    what: 'clock',
    says: 'key 1.2 hours further to their left',
  });
  // Printed 1.3 h left and 1.3 h right.
  expect(one({ lamps: [lamp({ side: 'right' })] }).says).toMatch(/from the other side, 2.6 hours/);
  expect(one({ lamps: [lamp({ elevationDeg: 65 })] }).says).toBe('key 35° higher');
  expect(one({}, 1)).toMatchObject({ what: 'background', says: '1.0 stops brighter against the face' });
});

test('colour: from illuminant A to D65 is what their temperatures say, 1e6/2856 − 1e6/6504 = 196 mired', () => {
  const rows = off(read('OA', face({ litXyz: D65 })));
  expect(rows).toHaveLength(1);
  expect(rows[0]!.by!).toBeCloseTo(-(1e6 / 2856 - 1e6 / 6504), -0.5);
  expect(rows[0]!.says).toMatch(/^lit side 19\d mired colder/);
});

test('behind the face a key goes the short way round', () => {
  const back = (side: 'left' | 'right') => face({ lamps: [lamp({ azimuthDeg: 170, side })] });
  const m = matchOf(shoot, read('W1', back('left')), read('OA', back('right')));
  expect(Math.abs(m.parts[0]!.rows.find((r) => r.what === 'clock')!.by!)).toBeCloseTo(20 / 30, 6);
});

test('the tolerance decides, to the hair; what only one of them has is off', () => {
  const close = read('OA', face({ overStops: 0.1 + 0.5 }));
  expect(off(close, { ...MATCH, stops: 0.5 })).toHaveLength(0);
  expect(off(close, { ...MATCH, stops: 0.499 })).toHaveLength(1);
  expect(off(read('OA', face({ lamps: [] }))).map((r) => r.says)).toEqual(['a key only in W1']);
  expect(off(read('OA', face({ backOverKeyStops: undefined }))).map((r) => r.says)).toEqual([
    'back only in W1',
  ]);
});

test('a face the wide does not see is not compared, and that is said', () => {
  const m = matchOf(shoot, { ...wide, facesSeen: [] }, read('OA', face()));
  expect(m.parts.filter((p) => p.kind === 'face')).toEqual([]);
  expect(m.notes[0]).toMatch(/does not see the face/);
});

test('the wide of a close-up shares its face and shows most about it', () => {
  const seen = { W1: { facesSeen: ['A', 'B'] }, OA: { facesSeen: ['A'] }, OB: { facesSeen: ['B'] } };
  expect(wideFor(shoot, { scene: 'rent', angle: 'OA' }, seen)).toBe('W1');
});

test('figures and their difference agree as printed: 0.4 and 0.9 are 0.5 apart, whatever stands behind them', () => {
  const m = matchOf(shoot, read('W1', face({ overStops: 0.36 })), read('OA', face({ overStops: 0.94 })));
  const row = m.parts[0]!.rows.find((r) => r.what === 'key')!;
  expect([(row.wide as number).toFixed(1), (row.close as number).toFixed(1)]).toEqual(['0.4', '0.9']);
  expect(row.printedBy).toBe(0.5);
  expect(row.says).toBe('key 0.5 stops over');
  // What is off is decided by the truth.
  expect(row.by).toBeCloseTo(0.58, 9);
});

test('the tolerance is the scene’s own where it has one, kept in its file; an older file has the usual', () => {
  const { rent } = shoot.scenes;
  expect(toleranceOf(rent!)).toEqual(MATCH);
  const told = applyEdits(shoot, [
    { edit: 'setCut', args: { scene: 'rent', changes: { stops: 0.5 } } },
    { edit: 'setCut', args: { scene: 'rent', changes: { mired: 35 } } },
    { edit: 'setCutFrom', args: { scene: 'rent', angle: 'OA', wide: 'W1' } },
  ]).shoot;
  const again = openShoot(saveShoot(told));
  if (!again.ok) throw new Error(again.message.join());
  expect(toleranceOf(again.shoot.scenes.rent!)).toEqual({ ...MATCH, stops: 0.5, mired: 35 });
  expect(again.shoot.scenes.rent!.angles.OA!.cutFrom).toBe('W1');
  expect(again.notes).toEqual([]);
  // Written before there was any of this: opens without a word.
  const old = openShoot(saveShoot({ ...shoot, version: { major: 1, minor: 0 } }));
  if (!old.ok) throw new Error(old.message.join());
  expect(old.notes).toEqual([]);
  expect(toleranceOf(old.shoot.scenes.rent!)).toEqual(MATCH);
  // What is out of reason is refused, from itself nothing is cut, and a struck wide is forgotten.
  const set = (args: object) => () =>
    applyEdits(shoot, [{ edit: 'setCut', args: { scene: 'rent', ...args } }]);
  expect(set({ changes: { stops: 9 } })).toThrow(/stops/);
  expect(() =>
    applyEdits(shoot, [{ edit: 'setCutFrom', args: { scene: 'rent', angle: 'OA', wide: 'OA' } }]),
  ).toThrow(/cut from itself/);
  const struck = applyEdits(told, [{ edit: 'removeAngle', args: { scene: 'rent', angle: 'W1' } }]).shoot;
  expect(struck.scenes.rent!.angles.OA!.cutFrom).toBeUndefined();
});
