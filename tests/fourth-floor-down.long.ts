/** The stairwell against its hand-worked answers: six marks and one iris, a lamp up the well, no lead on the stairs. */
import { beforeAll, expect, test } from 'vitest';
import { runHours } from '../src/power/battery.ts';
import type { Survey } from '../src/scheme/survey.ts';
import { applyEdit } from '../src/shoot/edits.ts';
import { glanced, shootNamed, troubleOf } from './demo.ts';

const shoot = shootNamed('fourth-floor-down');
const scene = shoot.scenes.down!;
let s: Record<string, Survey>;
beforeAll(async () => {
  s = await glanced(shoot, 'down', ['K1', 'K4']);
}, 240_000);

test('exposure at six marks for one iris: the spread in stops', () => {
  const over = s.K4!.reading.marks.map((m) => m.overStops);
  expect(over).toHaveLength(s.K4!.angle.marks.length);
  const seen = shoot.scenes.down!.marks;
  // Everybody stands on a landing of his own height.
  expect(Object.values(seen).map((m) => +(m.eyeM - (m.baseM ?? 0)).toFixed(3))).toEqual(Array(6).fill(1.6));
  expect(Math.max(...over) - Math.min(...over)).toBeGreaterThan(1);
});

test('the top shot sees everything: the lamp up the well straight into the lens, and the house fittings', () => {
  const l3 = troubleOf(s.K1!, 'lamp-in-frame', 'L3')!;
  expect(l3.severity).toBe(3);
  expect(troubleOf(s.K1!, 'flare', 'L3')).toBeDefined();
});

test('no lead may lie on the only way out: a lamp plugged into a landing’s socket is refused twice', async () => {
  // No lamp of the rig is on the mains at all.
  expect(Object.values(scene.rig.lamps).every((l) => l.feed === undefined)).toBe(true);
  const plugged = applyEdit(shoot, {
    edit: 'setFeed',
    args: { scene: 'down', lamp: 'L3', feed: { socket: 'S2', leads: [] } },
  }).shoot;
  const k = (await glanced(plugged, 'down', ['K4'])).K4!;
  expect(troubleOf(k, 'keep-off', 'L3')!.says).toMatch(/chargers only/);
  expect(troubleOf(k, 'lead-in-the-way', 'L3')!.says).toMatch(/escape route/);
}, 120_000);

test('batteries: 150 W on 2 × 230 Wh is 2.6 h', () => {
  expect(runHours(460, 150)).toBeCloseTo(2.6, 1);
  expect(troubleOf(s.K1!, 'battery')!.says).toMatch(/all at full, 85 % usable/);
});

test('house fittings whose flicker nobody knows: quiet at 1/50 s, a note at any shutter that cuts a pulse', async () => {
  expect(troubleOf(s.K4!, 'flicker')).toBeUndefined();
  const other = applyEdit(shoot, {
    edit: 'setCamera',
    args: { scene: 'down', angle: 'K4', camera: { fps: 24, shutter: { kind: 'time', seconds: 1 / 60 } } },
  }).shoot;
  const k = (await glanced(other, 'down', ['K4'])).K4!;
  expect(troubleOf(k, 'flicker', 'H1')!.says).toMatch(/test it before the take/);
}, 120_000);

test('load: chargers alone, 0.4 A of 20 A', () => {
  const c = s.K1!.supply.circuits.find((x) => x.id === 'cleaner')!;
  expect(Math.abs(c.nominalCurrentA - 0.43)).toBeLessThan(0.02);
});
