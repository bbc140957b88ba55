/** The toll-house against its hand-worked answers: one person alone, stands placed once, a sweep through a narrow window. */
import { beforeAll, expect, test } from 'vitest';
import { DEG } from '../src/maths/vec3.ts';
import { runHours } from '../src/power/battery.ts';
import type { Survey } from '../src/scheme/survey.ts';
import { glanced, lampAt, shootNamed, troubleOf } from './demo.ts';

const shoot = shootNamed('toll-ledger');
const scene = shoot.scenes.ledger!;
const place = shoot.places.toll!;
let s: Record<string, Survey>;
beforeAll(async () => {
  s = await glanced(shoot, 'ledger', ['W1', 'A1']);
}, 240_000);

test('no lamp moves across the set-ups: stands are placed once', () => {
  for (const angle of Object.values(scene.angles))
    for (const cheat of Object.values(angle.cheats)) {
      expect(cheat.at).toBeUndefined();
      expect(cheat.support).toBeUndefined();
    }
});

test('the wide sees the stand of 3 a hand before the lens, and the board of 1', () => {
  const stand = troubleOf(s.W1!, 'stand-in-frame', 'L3')!;
  expect(stand.severity).toBe(3);
  const [lens, at] = [scene.angles.W1!.at, scene.rig.lamps.L3!.at];
  expect(Math.abs(Math.hypot(lens[0] - at[0], lens[1] - at[1]) - 0.25)).toBeLessThan(0.01);
  const board = s.W1!.angle.transport.stage.parts.findIndex((p) => p.id === 'flag:B1');
  expect(s.W1!.reading.seen.get(board)!.share).toBeGreaterThan(0.001);
});

test('the ferry’s lamp is in the cone but behind the wall', () => {
  const [lens, lamp] = [scene.angles.W1!.at, scene.rig.lamps.L2!.at];
  const t = (3.2 - lens[1]) / (lamp[1] - lens[1]);
  const x = lens[0] + t * (lamp[0] - lens[0]);
  expect(Math.abs(x - 1.06)).toBeLessThan(0.01);
  expect(x).toBeLessThan(1.4);
  expect(troubleOf(s.W1!, 'lamp-in-frame', 'L2')).toBeUndefined();
});

test('the pan: a window 0.4 m wide, 2.0 m off, admits 11.4 of the 70°: 0.65 s of four', () => {
  const w = place.openings.window!;
  const lamp = scene.rig.lamps.L2!.at;
  const away = lamp[1] - 3.2;
  const deg = (2 * Math.atan((w.toM - w.fromM) / 2 / away)) / DEG;
  expect(Math.abs(deg - 11.4)).toBeLessThan(0.05);
  expect((deg / 70) * 4).toBeCloseTo(0.65, 2);
});

test('front close: no camera shadow on him, the key’s board is 47° off the line', () => {
  const lens = scene.angles.A1!.at;
  const board = scene.rig.flags.B1!.at;
  const eyes = [...scene.marks.A!.at, scene.marks.A!.eyeM];
  const d = (a: readonly number[], b: readonly number[]) => a.map((v, i) => v - b[i]!);
  const dot = (a: number[], b: number[]) => a.reduce((n, v, i) => n + v * b[i]!, 0);
  const [p, q] = [d(eyes, board), d(lens, board)];
  const off = Math.acos(dot(p, q) / Math.hypot(...p) / Math.hypot(...q)) / DEG;
  expect(Math.abs(off - 47)).toBeLessThan(0.6);
});

test('batteries: 135 W on five of 98 Wh is 3.1 h: no margin on three hours, and it is said', () => {
  expect(runHours(490, 135)).toBeCloseTo(3.1, 1);
  const told = troubleOf(s.A1!, 'battery')!;
  expect(told.severity).toBeGreaterThan(0);
  expect(told.says).toMatch(/3\.0 h are planned/);
});

test('the oil lamp keys or fills from below; the muslin fills warm', () => {
  const p = lampAt(s.A1!, 'A', 'P1');
  expect(Math.abs(p.elevationDeg + 24)).toBeLessThan(0.6);
  expect(lampAt(s.A1!, 'A', 'L1').bouncedLx).toBeGreaterThan(5);
});

test('the lead down the stairs: 25 m of 1.25 mm², twice the 12 m of guidance, RCD not told', () => {
  const lead = shoot.kit.leads.lead25!;
  expect(lead.lengthM! / 12).toBeGreaterThan(2);
  expect(lead.mm2).toBe(1.25);
  expect(place.supply.circuits.down!.rcdMa).toBeUndefined();
  // Nothing hangs on it.
  expect(Object.values(scene.rig.lamps).every((l) => l.feed === undefined)).toBe(true);
});
