/** What each lamp earns: light is a sum, so a lamp’s loss is the log of its share; ranking by angle, overall, by the amp. */
import { readFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { meterPoints } from '../readings/meter.ts';
import { applyEdit } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import { decodePeople } from '../stage/people/decode.ts';
import { plainTracer } from '../transport/plain.ts';
import { type EarnedInAngle, earnedWords, earnsInAngle, ranked, struck } from './earns.ts';
import { type Survey, surveyAngle } from './survey.ts';

const root = new URL('../../', import.meta.url);
const opened = openShoot(readFileSync(new URL('shoots/slack-water.json', root), 'utf8'));
if (!opened.ok) throw new Error(opened.message.join('\n'));
const shoot = opened.shoot;
const ref = { scene: 'slack', angle: 'CA' };
let s: Survey;
let list: EarnedInAngle[];
beforeAll(async () => {
  const people = decodePeople(new Uint8Array(readFileSync(new URL('data/people/people.bin', root))));
  s = await surveyAngle(plainTracer(), shoot, ref, people, {
    seed: 3,
    width: 96,
    height: 54,
    detail: 'far',
    quick: true,
  });
  list = earnsInAngle({ ...s, shoot, ref, facesSeen: ['A'] });
}, 120_000);
const of = (lamp: string) => list.find((e) => e.lamp === lamp)!;

test('light is a sum: what the lit side loses is the log of the lamp’s share there', () => {
  const a = s.reading.marks.find((m) => m.mark === 'A')!;
  const point = meterPoints(s.angle, s.weights, s.measured).find(
    (p) => p.mark === 'A' && p.toward === a.litSide,
  )!;
  const lx = (p: (typeof point.parts)[number]) => p.directLx + p.bouncedLx;
  const all = point.parts.reduce((sum, p) => sum + lx(p), 0);
  for (const lamp of ['L1', 'L2', 'P1']) {
    const own = lx(point.parts.find((p) => p.lamp === lamp)!);
    const expected = Math.min(6, Math.log2(all / (all - own)));
    const found = of(lamp).losses.find((l) => l.what === 'A’s lit side')?.stops ?? 0;
    // The others burn a little brighter for the volts that come free.
    expect(Math.abs(found - expected)).toBeLessThan(0.15);
  }
});

test('the key is missed most in the angle it keys, and its wish and ratio go with it', () => {
  expect(s.reading.marks.find((m) => m.mark === 'A')!.toward).toBe('L2');
  expect([...list].sort((x, y) => y.lostStops - x.lostStops)[0]!.lamp).toBe('L2');
  expect(of('L2').ratios[0]!.to).toBeLessThan(of('L2').ratios[0]!.from);
  expect(earnedWords(of('L2'))).toMatch(/^loses A’s lit side/);
  // The one behind her gives the edge.
  expect(of('L1').losses[0]!.what).toBe('A’s edge');
});

test('a lamp that is out earns nothing; one that lights nothing here would not be missed', () => {
  const out = applyEdit(shoot, { edit: 'switchLamp', args: { scene: 'slack', lamp: 'L4', on: false } }).shoot;
  expect(out.scenes.slack!.rig.lamps.L4!.on).toBe(false);
  expect(struck(shoot, 'slack', 'L4').scenes.slack!.rig.lamps.L4!.on).toBe(false);
  expect(shoot.scenes.slack!.rig.lamps.L4!.on).toBe(true);
  expect(of('L4').lostStops).toBeLessThan(0.3);
});

test('ranking: over all angles, and by the amp; a lamp off the mains costs none', () => {
  const e = (lamp: string, lostStops: number): EarnedInAngle => ({
    lamp,
    lostStops,
    losses: [],
    ratios: [],
    separations: [],
    broken: [],
    mended: [],
    gone: [],
    come: [],
  });
  const angles = [
    { angle: 'X', earned: [e('a', 3), e('b', 1), e('c', 0.5)] },
    { angle: 'Y', earned: [e('a', 0), e('b', 1.5), e('c', 0)] },
  ];
  const amps = (l: string) => ({ a: 6, b: 1 })[l];
  expect(ranked(angles, amps).map((r) => [r.lamp, r.stops])).toEqual([
    ['a', 3],
    ['b', 2.5],
    ['c', 0.5],
  ]);
  expect(ranked(angles, amps, true).map((r) => [r.lamp, r.stopsPerAmp])).toEqual([
    ['c', undefined],
    ['b', 2.5],
    ['a', 0.5],
  ]);
  expect(earnedWords(e('c', 0))).toBe('Nothing here would be missed.');
});
