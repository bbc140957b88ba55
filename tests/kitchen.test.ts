/** The kitchen against its hand-worked answers; where ours differ on purpose the reason stands beside it. */
import { beforeAll, expect, test } from 'vitest';
import type { Survey } from '../src/scheme/survey.ts';
import { applyEdit } from '../src/shoot/edits.ts';
import { lampAt, shootNamed, surveyed, troubleOf } from './demo.ts';

const shoot = shootNamed('kitchen');
let s: Record<string, Survey>;
beforeAll(async () => {
  s = await surveyed(shoot);
}, 300_000);
const stops = (a: number, b: number) => Math.abs(Math.log2(a / b));

test('where each lamp stands round each face', () => {
  const rows: [string, string, string, number, number][] = [
    ['OA', 'A', 'L1', 34.6, 21],
    ['OA', 'A', 'L2', 129.6, 26],
    ['OA', 'A', 'L3', 86, 22],
    ['OB', 'B', 'L2', 32.2, 18],
    ['OB', 'B', 'L1', 124.6, 30],
    ['OB', 'B', 'L3', 78, 21],
    ['SK', 'C', 'L3', 0, 22],
  ];
  for (const [angle, mark, lamp, azimuth, elevation] of rows) {
    const l = lampAt(s[angle]!, mark, lamp);
    expect(Math.abs(l.azimuthDeg - azimuth), `${lamp} round from ${mark}`).toBeLessThan(0.6);
    expect(Math.abs(l.elevationDeg - elevation), `${lamp} over ${mark}`).toBeLessThan(0.6);
  }
});

test('direct light on the faces, meter pointed at the lamp', () => {
  const rows: [string, string, string, number, number][] = [
    // The half white scatters a part out of the beam: by hand it only took its three quarters of a stop.
    ['OA', 'A', 'L1', 133, 0.34],
    ['OB', 'B', 'L1', 178, 0.34],
    ['OA', 'A', 'L2', 185, 0.1],
    ['OB', 'B', 'L2', 133, 0.1],
    ['OA', 'A', 'L3', 35, 0.34],
    ['SK', 'C', 'L3', 60, 0.34],
  ];
  for (const [angle, mark, lamp, lux, allowed] of rows)
    expect(stops(lampAt(s[angle]!, mark, lamp).directLx, lux), `${lamp} on ${mark}`).toBeLessThan(allowed);
  const edge = lampAt(s.OB!, 'B', 'L3').directLx;
  expect(edge).toBeGreaterThan(18);
  expect(edge).toBeLessThan(36);
  // The bulb itself is hidden: at 45° beyond the 40° that the shade leaves open.
  expect(lampAt(s.OA!, 'A', 'P1').directLx).toBeLessThan(0.5);
});

test('roles: each key from the far side, each the other’s back light, the pendant fills by way of shade and table', () => {
  for (const angle of ['W1', 'OA', 'OB']) {
    expect(lampAt(s[angle]!, 'A', 'L1').role).toBe('key');
    expect(lampAt(s[angle]!, 'A', 'L2').role).toBe('back');
    expect(lampAt(s[angle]!, 'B', 'L2').role).toBe('key');
    expect(lampAt(s[angle]!, 'B', 'L1').role).toBe('back');
    expect(lampAt(s[angle]!, 'A', 'L3').role).toBe('kicker');
    expect(lampAt(s[angle]!, 'A', 'P1').role).toBe('fill');
  }
  // By hand only the moon was reckoned on C; but 1 and 2 stand close beside her: 357 and 179 lx from the sides.
  expect(lampAt(s.SK!, 'C', 'L2').role).toBe('key');
  expect(lampAt(s.SK!, 'C', 'L2').directLx).toBeGreaterThan(5 * lampAt(s.SK!, 'C', 'L3').directLx);
});

test('with 1 and 2 out at the sink the moon is her key', async () => {
  let dark = shoot;
  for (const lamp of ['L1', 'L2'])
    dark = applyEdit(dark, {
      edit: 'switchLamp',
      args: { scene: 'rent', angle: 'SK', lamp, on: false },
    }).shoot;
  const d = (await surveyed(dark, ['SK'], { cures: false })).SK!;
  expect(lampAt(d, 'C', 'L3').role).toBe('key');
  expect(troubleOf(d, 'flare')).toBeUndefined();
}, 60_000);

test('fill: what comes by way of the room is of the order of the key’s quarter', () => {
  for (const [angle, mark] of [
    ['OA', 'A'],
    ['OB', 'B'],
  ] as const) {
    const lamps = s[angle]!.reading.marks.find((m) => m.mark === mark)!.lamps;
    const bounced = lamps.reduce((sum, l) => sum + l.bouncedLx, 0);
    // By hand 15 lx from the shade and 20 from the room, the latter with 1400 lm and the sphere rule; but the
    // lamps send about 2,300 lm into 65 m² of mean reflectance 0.48, which that rule makes 33 lx. So 48 lx.
    expect(stops(bounced, 48), mark).toBeLessThan(1);
  }
});

test('traps of the place: heads, stands and flare in each angle', () => {
  expect(troubleOf(s.W1!, 'lamp-in-frame', 'L1')!.severity).toBe(3);
  expect(troubleOf(s.W1!, 'flare', 'L1')).toBeDefined();
  expect(troubleOf(s.OA!, 'stand-in-frame', 'L2')).toBeDefined();
  expect(troubleOf(s.OA!, 'lamp-in-frame', 'L2')).toBeUndefined();
  expect(troubleOf(s.OB!, 'stand-in-frame', 'L1')).toBeDefined();
  expect(troubleOf(s.OB!, 'lamp-in-frame', 'L1')).toBeUndefined();
  expect(troubleOf(s.SK!, 'lamp-in-frame', 'L2')).toBeDefined();
  expect(troubleOf(s.SK!, 'flare', 'L2')).toBeDefined();
  // The lens outside the frame: 68 and 67 lx on the glass, 21.4° and 24.0° off the axis.
  expect(troubleOf(s.OA!, 'flare', 'L2')!.says).toMatch(/21\.4° off the lens axis/);
  expect(troubleOf(s.OB!, 'flare', 'L1')!.says).toMatch(/24\.0° off the lens axis/);
  expect(stops(s.OA!.reading.lensLx.get('L2')!, 68)).toBeLessThan(0.15);
  expect(stops(s.OB!.reading.lensLx.get('L1')!, 67)).toBeLessThan(0.4);
  expect(stops(s.SK!.reading.lensLx.get('L2')!, 71)).toBeLessThan(0.15);
  // What replaces the stand: a clamp where there is something to hold, a slide, or out with what that costs.
  for (const [angle, lamp] of [
    ['OA', 'L2'],
    ['OB', 'L1'],
  ] as const)
    expect(troubleOf(s[angle]!, 'stand-in-frame', lamp)!.cures.length).toBeGreaterThan(0);
});

test('the unattractive zone: 1 at 124.6° from B, 2 at 129.6° from A; turning the faces 20° takes both well behind', async () => {
  expect(troubleOf(s.OB!, 'unattractive-zone', 'L1', 'B')!.says).toMatch(/124\.6°/);
  expect(troubleOf(s.OA!, 'unattractive-zone', 'L2', 'A')!.says).toMatch(/129\.6°/);
  // 20° to the camera's side (south): A's right, B's left.
  let turned = applyEdit(shoot, { edit: 'turnMark', args: { scene: 'rent', mark: 'A', byDeg: -20 } }).shoot;
  turned = applyEdit(turned, { edit: 'turnMark', args: { scene: 'rent', mark: 'B', byDeg: 20 } }).shoot;
  const t = (await surveyed(turned, ['OA'], { cures: false })).OA!;
  expect(Math.abs(lampAt(t, 'B', 'L1').azimuthDeg - 144.6)).toBeLessThan(0.6);
  expect(Math.abs(lampAt(t, 'A', 'L2').azimuthDeg - 149.6)).toBeLessThan(0.6);
  expect(Math.abs(lampAt(t, 'A', 'L1').azimuthDeg - 54.6)).toBeLessThan(0.6);
  expect(Math.abs(lampAt(t, 'B', 'L2').azimuthDeg - 52.2)).toBeLessThan(0.6);
  expect(troubleOf(t, 'unattractive-zone', 'L2', 'A')).toBeUndefined();
  // Cures that are offered turn her the right way; the whole way brings 3 from 86° to 102°, which is said.
  const turns = troubleOf(s.OA!, 'unattractive-zone', 'L2', 'A')!.cures.filter((c) => c.edit === 'turnMark');
  for (const cure of turns) expect(cure.args.byDeg as number).toBeLessThan(0);
  expect(turns.find((c) => (c.args.byDeg as number) < -15)!.says).toMatch(
    /but 3 stands in the unattractive zone of A/,
  );
}, 60_000);

test('the window doubles both people for the wide and nobody for the others', () => {
  // Mirrored: the hits of a person whose image lies behind the north wall's pane (z 1 … 2.1, x 1.4 … 2.6).
  const doubled = (angle: string, part: number) => {
    const { hits, angle: a } = s[angle]!;
    const eye = a.view.eye;
    let count = 0;
    for (let i = 0; i < hits.points.count; i++) {
      if (hits.part[i] !== part) continue;
      const straight = Math.hypot(
        hits.points.position[3 * i]! - eye[0],
        hits.points.position[3 * i + 1]! - eye[1],
        hits.points.position[3 * i + 2]! - eye[2],
      );
      // Seen in the pane the way is longer than the straight line.
      if (hits.depth[i]! > straight + 0.1) count++;
    }
    return count;
  };
  const part = (angle: string, mark: string) => s[angle]!.angle.marks.find((m) => m.id === mark)!.part;
  expect(doubled('W1', part('W1', 'B'))).toBeGreaterThan(3);
  for (const angle of ['OA', 'OB', 'IN'])
    for (const mark of ['A', 'B']) expect(doubled(angle, part(angle, mark)), `${mark} in ${angle}`).toBe(0);
});

test('wall behind A: about 40 lx from 1; the wall itself just over grey; key about 1.7 stops over it', () => {
  const wall = s.OA!.reading.spots.find((p) => p.spot === 'wallA')!;
  expect(stops(wall.lamps.find((l) => l.lamp === 'L1')!.directLx, 40)).toBeLessThan(0.34);
  expect(wall.seen).toBe(true);
  expect(Math.abs(wall.underKeyStops! - 1.7)).toBeLessThan(0.5);
});

test('heat: the 300 W head hangs 0.20 m under the ceiling and 0.35 m from the walls, 0.40 m from the cupboard, where 0.5 m is asked', () => {
  expect(troubleOf(s.OA!, 'heat-near', 'L1')!.says).toMatch(
    /0\.20 m under the ceiling, 0\.35 m from a wall, 0\.4[01] m from wall cupboard/,
  );
});

test('load: 3.7 A of lighting, 17.4 A with kettle and fridge: within 30 A, over the plan for an untold old board', () => {
  const ring = s.OA!.supply.circuits.find((c) => c.id === 'ring')!;
  expect(Math.abs(ring.nominalCurrentA - 17.4)).toBeLessThan(0.1);
  const over = troubleOf(s.OA!, 'circuit-over', undefined, 'ring')!;
  expect(over.says).toMatch(/within 30 A \(58 %\)/);
  expect(over.says).toMatch(/over the 10 A plan/);
  expect(over.says).toMatch(/87 %/);
  const off = applyEdit(shoot, over.cures.find((c) => c.says.includes('kettle'))!);
  expect(off.shoot.places.kitchen!.supply.circuits.ring!.houseLoads.kettle!.on).toBe(false);
});
