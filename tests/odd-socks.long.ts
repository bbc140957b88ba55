/** The laundrette against its hand-worked answers: pulsing tubes, two skins, round doors that mirror, a pavement. */
import { beforeAll, expect, test } from 'vitest';
import type { Survey } from '../src/scheme/survey.ts';
import { applyEdit, applyEdits } from '../src/shoot/edits.ts';
import { glanced, lampAt, shootNamed, troubleOf } from './demo.ts';

const shoot = shootNamed('odd-socks');
const scene = shoot.scenes.night!;
let s: Record<string, Survey>;
beforeAll(async () => {
  s = await glanced(shoot, 'night', ['W1', 'A1', 'B1'], ['A1', 'B1']);
}, 240_000);

test('24 frames at 180° hold 2.08 pulses of the tubes and beat; 172.8° hold two, and the cure says so', () => {
  const beat = troubleOf(s.A1!, 'flicker', 'H1')!;
  expect(beat.says).toMatch(/2\.08 pulses a frame/);
  const cure = beat.cures[0]!;
  expect(cure.says).toMatch(/172\.8°.*2 whole pulses/);
  const cured = applyEdit(shoot, cure).shoot;
  // Of the whole scene, in degrees as it was set.
  expect(cured.scenes.night!.camera.shutter).toEqual({ kind: 'angle', deg: 172.8 });
  expect(cured.scenes.night!.angles.A1!.camera?.shutter).toBeUndefined();
});

test('with the shutter set the beat is gone', async () => {
  const cured = applyEdit(shoot, troubleOf(s.B1!, 'flicker', 'H1')!.cures[0]!).shoot;
  expect(troubleOf((await glanced(cured, 'night', ['B1'])).B1!, 'flicker')).toBeUndefined();
}, 120_000);

test('the long wide would see both lamps and the board: they are struck for it; the house tubes are meant', async () => {
  expect(troubleOf(s.W1!, 'lamp-in-frame', 'H1')!.meant).toBeDefined();
  for (const lamp of ['L1', 'L2']) expect(troubleOf(s.W1!, 'lamp-in-frame', lamp)).toBeUndefined();
  expect(troubleOf(s.W1!, 'flag-in-frame')).toBeUndefined();
  const left = applyEdits(shoot, [
    ...['L1', 'L2'].map((lamp) => ({ edit: 'endCheat', args: { scene: 'night', angle: 'W1', lamp } })),
    { edit: 'setFlag', args: { scene: 'night', flag: 'B1', changes: { angles: ['W1', 'A1', 'B1'] } } },
  ]).shoot;
  const w = (await glanced(left, 'night', ['W1'])).W1!;
  for (const lamp of ['L1', 'L2']) expect(troubleOf(w, 'lamp-in-frame', lamp)!.severity).toBe(3);
  expect(troubleOf(w, 'flag-in-frame', undefined, 'B1')!.severity).toBe(3);
}, 120_000);

test('two skins about three stops apart: one stop, two incident levels', () => {
  const skin = (mark: string) => s.W1!.angle.marks.find((m) => m.id === mark)!.skinReflectance;
  const apart = Math.log2(skin('B') / skin('A'));
  expect(Math.abs(apart - 3)).toBeLessThan(0.35);
  // Her key is the brighter by more than a stop.
  const her = s.A1!.reading.marks.find((m) => m.mark === 'A')!;
  const him = s.B1!.reading.marks.find((m) => m.mark === 'B')!;
  expect(her.incidentLx).toBeGreaterThan(him.incidentLx);
  expect(Math.log2(lampAt(s.A1!, 'A', 'L1').lx / lampAt(s.B1!, 'B', 'L2').lx)).toBeGreaterThan(1);
});

test('his key comes off the board: bounced, not direct', () => {
  const l = lampAt(s.B1!, 'B', 'L2');
  expect(l.bouncedLx).toBeGreaterThan(4 * Math.max(1, l.directLx));
});

test('plus green on three lamps rather than minus green on eight tubes', () => {
  for (const id of ['L1', 'L2']) expect(scene.rig.lamps[id]!.sheets).toContain('half-plus-green');
  // What the kit lacks.
  expect(Object.values(shoot.kit.sheets).find((k) => k.kind === 'half-minus-green')!.count).toBe(0);
  const green = (id: string) => s.A1!.weights.lamps.find((w) => w.id === id)!.outDuv;
  expect(Math.abs(green('L1') - green('H1'))).toBeLessThan(0.02);
});

test('round doors are glass: dryers may mirror a lamp, and what is mirrored is told as such', () => {
  const { stage } = s.W1!.angle.transport;
  const panes = stage.materials.filter((m) => m.kind === 'glass');
  expect(panes.length).toBeGreaterThan(0);
  for (const survey of Object.values(s))
    for (const t of survey.troubles)
      if (t.kind === 'lamp-in-frame') expect(t.says).toMatch(/in frame|mirror or pane/);
});

test('load: 3.4 A of 20 A with the card machine; one double carries block and machine', () => {
  const back = s.A1!.supply.circuits.find((c) => c.id === 'back')!;
  expect(Math.abs(back.nominalCurrentA - 3.35)).toBeLessThan(0.06);
  expect(back.verdict).toMatch(/within 20 A \(17 %\)/);
  // A washer's outlet is not for us.
  const wrong = applyEdit(shoot, {
    edit: 'setFeed',
    args: { scene: 'night', lamp: 'L1', feed: { socket: 'W1', leads: [{ kit: 'lead10a' }] } },
  }).shoot;
  expect(wrong.places.laundrette!.supply.sockets.W1!.keepOff).toBeDefined();
});
