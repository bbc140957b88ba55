/**
 * The boat shed against its hand-worked answers (distances, angles, inverse square with the stated candela,
 * cosine falls, eclipses, load), worked by hand with the scene and held to a third of a stop where the
 * candela is a planning value, closer where only geometry speaks.
 */
import { beforeAll, expect, test } from 'vitest';
import type { Survey } from '../src/scheme/survey.ts';
import { angleTold } from '../src/scheme/told.ts';
import { applyEdit } from '../src/shoot/edits.ts';
import { lampAt, nominalLx, shootNamed, surveyed, troubleOf } from './demo.ts';

const shoot = shootNamed('slack-water');
let s: Record<string, Survey>;
beforeAll(async () => {
  s = await surveyed(shoot);
}, 300_000);

/** Stops between two amounts of light. */
const stops = (a: number, b: number) => Math.abs(Math.log2(a / b));

test('where each lamp stands round each face', () => {
  const rows: [string, string, number, number][] = [
    ['A', 'L2', 45.7, 19],
    ['A', 'L1', 148.5, 26],
    ['A', 'L3', 97.5, 19],
    ['A', 'L4', 15, -14],
    ['A', 'P1', 41, -1],
    ['B', 'L1', 45.7, 18],
    ['B', 'L2', 148.5, 25],
    ['B', 'L3', 100.8, 19],
    ['B', 'L4', 165, -23],
    ['B', 'P1', 162, -2],
  ];
  for (const [mark, lamp, azimuth, elevation] of rows) {
    const l = lampAt(s.CA!, mark, lamp);
    expect(Math.abs(l.azimuthDeg - azimuth), `${lamp} round from ${mark}`).toBeLessThan(0.6);
    expect(Math.abs(l.elevationDeg - elevation), `${lamp} over ${mark}`).toBeLessThan(0.6);
  }
  expect(lampAt(s.CA!, 'A', 'L2').side).toBe('left'); // north of her
  expect(lampAt(s.CA!, 'B', 'L1').side).toBe('right'); // north of him
});

test('direct light of each lamp on each face, at rated volts', () => {
  const third: [string, string, number][] = [
    ['A', 'L2', 297],
    ['A', 'L1', 506],
    ['B', 'L1', 312],
    ['B', 'L2', 436],
    ['A', 'P1', 9],
  ];
  for (const [mark, lamp, lux] of third)
    expect(stops(nominalLx(s.CA!, mark, lamp), lux), `${lamp} on ${mark}`).toBeLessThan(0.34);
  // 14 lx by hand, which leaves out the hull: ribs and gunwale hide the lower part of the tube from B.
  expect(nominalLx(s.CA!, 'B', 'P1')).toBeLessThan(14);
  expect(nominalLx(s.CA!, 'B', 'P1')).toBeGreaterThan(7);
  // The door leaf stops the blade at both faces.
  expect(nominalLx(s.CA!, 'A', 'L3')).toBeLessThan(1);
  expect(nominalLx(s.CA!, 'B', 'L3')).toBeLessThan(1);
  expect(nominalLx(s.CA!, 'A', 'L4')).toBeLessThan(3);
});

test('key, back and none, by geometry and light alone', () => {
  for (const angle of ['T', 'CA', 'CB', 'W']) {
    expect(lampAt(s[angle]!, 'A', 'L2').role, angle).toBe('key');
    expect(lampAt(s[angle]!, 'A', 'L1').role, angle).toBe('back');
    expect(lampAt(s[angle]!, 'B', 'L1').role, angle).toBe('key');
    expect(lampAt(s[angle]!, 'B', 'L2').role, angle).toBe('back');
    expect(['none', 'background'], angle).toContain(lampAt(s[angle]!, 'A', 'L3').role);
  }
  expect(lampAt(s.W!, 'A', 'P1').role).toBe('practical');
  expect(lampAt(s.W!, 'A', 'L4').role).toBe('practical');
  expect(lampAt(s.CA!, 'A', 'P1').role).toBe('none');
});

test('the keys are far-side ones: short in both singles, hard, a patterned face with both eyes lit and the key in them', () => {
  // Azimuth 46°, elevation 19°: between loop (to 40°) and the triangle (from 45°) by the published ranges, so either;
  // camera and key on different sides of the face is short by definition [CHECKS-CAMERA §4.1]. Both eyes keep their
  // light to 45–55° round [CHECKS-CAMERA §4.3].
  for (const [angle, mark, lamp] of [
    ['CA', 'A', 'L2'],
    ['CB', 'B', 'L1'],
  ] as const) {
    const face = s[angle]!.reading.marks.find((m) => m.mark === mark)!.face!;
    expect(face.key?.lamp, angle).toBe(lamp);
    expect(['loop', 'Rembrandt'], angle).toContain(face.key?.pattern);
    expect(face.key?.side, angle).toBe('short');
    expect(face.key?.softness, angle).toBe('hard');
    expect(face.eyesLit, angle).toEqual({ left: true, right: true });
    expect(
      face.catchlights.map((c) => c.lamp),
      angle,
    ).toContain(lamp);
    // Ratio 30:1 and a short key: a third to two thirds of what the camera sees of the face is in shade.
    expect(face.shadeShare!, angle).toBeGreaterThan(0.25);
    expect(face.shadeShare!, angle).toBeLessThan(0.7);
  }
});

test('exposure: 312.5 lx is asked at EI 320, T2.8, 1/50 with C 250; each key within a third of a stop of it', () => {
  expect(s.T!.exposure.eRefLx).toBeCloseTo(312.5, 6);
  for (const mark of s.T!.reading.marks) {
    // Nominal keys are −0.07 and 0.00 stop; the lead takes another 0.18.
    expect(Math.abs(mark.overStops + 0.2), mark.mark).toBeLessThan(0.34);
    expect(mark.bandStops).toBeGreaterThan(0.3);
    expect(mark.doubts).toHaveLength(2);
  }
});

test('the faces have almost no fill: about 30:1, 4.9 stops, half a stop and the bounce’s own stop either way', () => {
  for (const mark of s.CA!.reading.marks) {
    expect(mark.ratioStops!, mark.mark).toBeGreaterThan(3.9);
    expect(mark.ratioStops!, mark.mark).toBeLessThan(5.9);
    const bounced = mark.lamps.reduce((sum, l) => sum + l.bouncedLx, 0);
    expect(stops(bounced, 10), `bounce at ${mark.mark}`).toBeLessThan(1);
    // Light skin: key side about +1 over grey, shadow side about −4.
    expect(Math.abs(mark.litOverGreyStops! - 0.8)).toBeLessThan(0.34);
    expect(Math.abs(mark.shadeOverGreyStops! + 4)).toBeLessThan(1);
  }
});

test('the north wall behind the hull and the foot of the blade', () => {
  const w = (lamp: string) => s.W!.weights.lamps.find((l) => l.id === lamp)!.lightFactor;
  const n = s.W!.reading.spots.find((p) => p.spot === 'N')!;
  const at = (spot: typeof n, lamp: string) => spot.lamps.find((l) => l.lamp === lamp)!.directLx / w(lamp);
  expect(stops(at(n, 'L4'), 335)).toBeLessThan(0.1);
  expect(stops(at(n, 'L1'), 12)).toBeLessThan(0.5);
  expect(stops(at(n, 'P1'), 15)).toBeLessThan(0.34);
  // At the foot of the blade 358 lx facing the lamp, which stands 35.5° up: on the floor its sine.
  const foot = s.W!.reading.spots.find((p) => p.spot === 'S')!;
  expect(stops(at(foot, 'L3'), 358 * Math.sin((35.5 * Math.PI) / 180))).toBeLessThan(0.15);
});

test('trouble: one live one, the head of 2 in the wide with its flare, and the board that cures both', () => {
  const w = s.W!;
  const live = Object.entries(s).flatMap(([angle, x]) =>
    x.troubles
      .filter((t) => t.meant === undefined && t.severity >= 2)
      .map((t) => `${angle}: ${t.kind} ${t.lamp ?? t.subject}`),
  );
  expect(live.sort()).toEqual(['W: flare L2', 'W: lamp-in-frame L2']);
  const flare = troubleOf(w, 'flare', 'L2')!;
  // 79 lx on the glass at rated volts.
  expect(
    stops(w.reading.lensLx.get('L2')! / w.weights.lamps.find((l) => l.id === 'L2')!.lightFactor, 79),
  ).toBeLessThan(0.15);
  const board = flare.cures.find((c) => c.edit === 'addFlag')!;
  const flag = board.args.flag as { at: number[]; sizeM: number[]; facing: number[] };
  expect(Math.hypot(flag.at[0]! - 4, flag.at[1]! - 2.83, flag.at[2]! - 2.32)).toBeLessThan(0.05);
  expect(flag.sizeM).toEqual([0.4, 0.4]);
  // Edge-on to 1: its face at right angles to the way to L1, in plan.
  const toL1 = [1.5 - flag.at[0]!, 4.5 - flag.at[1]!];
  expect(
    Math.abs((toL1[0]! * flag.facing[0]! + toL1[1]! * flag.facing[1]!) / Math.hypot(...toL1)),
  ).toBeLessThan(0.02);
  // Putting it out instead says what it costs.
  expect(flare.cures.map((c) => c.says).join()).toMatch(/A loses its key/);
});

test('the board tried: head and flare go, the key of A stays whole', async () => {
  const board = troubleOf(s.W!, 'flare', 'L2')!.cures.find((c) => c.edit === 'addFlag')!;
  const cured = await surveyed(applyEdit(shoot, board).shoot, ['W', 'CA'], { cures: false });
  expect(troubleOf(cured.W!, 'flare', 'L2')).toBeUndefined();
  expect(troubleOf(cured.W!, 'lamp-in-frame', 'L2')).toBeUndefined();
  expect(stops(lampAt(cured.W!, 'A', 'L2').directLx, lampAt(s.W!, 'A', 'L2').directLx)).toBeLessThan(0.05);
  // W only: nothing changes elsewhere.
  expect(lampAt(cured.CA!, 'A', 'L2').directLx).toBeCloseTo(lampAt(s.CA!, 'A', 'L2').directLx, 6);
}, 120_000);

test('what is meant is said quietly: tube and work lamp in the wide, tube behind B', () => {
  expect(troubleOf(s.W!, 'lamp-in-frame', 'P1')!.meant).toBeTruthy();
  expect(troubleOf(s.W!, 'lamp-in-frame', 'L4')!.meant).toBeTruthy();
  expect(troubleOf(s.W!, 'clipped', 'P1')!.meant).toBeTruthy();
  const blown = troubleOf(s.CB!, 'clipped', 'P1')!;
  expect(blown.meant).toBeTruthy();
  // 10,900 cd/m², 9.2 stops over grey.
  expect(blown.says).toMatch(/\+9\.[123] over grey \(10,[89]\d\d cd/);
  expect(troubleOf(s.T!, 'lamp-in-frame')).toBeUndefined();
  expect(troubleOf(s.CA!, 'lamp-in-frame')).toBeUndefined();
});

test('no lamp that reaches a face stands in the unattractive zone: the door leaf keeps 3 off both', () => {
  for (const x of Object.values(s)) expect(troubleOf(x, 'unattractive-zone')).toBeUndefined();
});

test('flags of the rig: without them 1 flares in CA, 2 in CB, both in T', async () => {
  let bare = shoot;
  for (const flag of ['F1', 'F2', 'F3', 'F4'])
    bare = applyEdit(bare, { edit: 'removeFlag', args: { scene: 'slack', flag } }).shoot;
  const b = await surveyed(bare, ['CA', 'CB', 'T']);
  const lens = (angle: string, lamp: string) =>
    b[angle]!.reading.lensLx.get(lamp)! / b[angle]!.weights.lamps.find((l) => l.id === lamp)!.lightFactor;
  expect(troubleOf(b.CA!, 'flare', 'L1')).toBeDefined();
  expect(troubleOf(b.CB!, 'flare', 'L2')).toBeDefined();
  expect(troubleOf(b.T!, 'flare', 'L1')).toBeDefined();
  expect(troubleOf(b.T!, 'flare', 'L2')).toBeDefined();
  expect(stops(lens('CA', 'L1'), 222)).toBeLessThan(0.34);
  expect(stops(lens('CB', 'L2'), 207)).toBeLessThan(0.34);
  expect(stops(lens('T', 'L1'), 148)).toBeLessThan(0.34);
  expect(stops(lens('T', 'L2'), 91)).toBeLessThan(0.34);
  // Among the cures for CA is a small flag near the lens, clear of the frame, as the rig has; it costs no face anything.
  const flag = troubleOf(b.CA!, 'flare', 'L1')!.cures.find((c) => c.edit === 'addFlag')!;
  expect(flag.price).toEqual([]);
  expect(flag.but).toEqual([]);
  expect((flag.args.flag as { sizeM: number[] }).sizeM[0]!).toBeLessThanOrEqual(0.2);
}, 120_000);

test('load: 18.0 A at nominal volts, 90 % of 20 A, over the 80 % line; volts and their light at each lamp', () => {
  const { supply, weights } = s.T!;
  const shed = supply.circuits.find((c) => c.id === 'shed')!;
  expect(shed.nominalCurrentA).toBeCloseTo(18.0, 1);
  expect(troubleOf(s.T!, 'long-load', undefined, 'shed')).toBeDefined();
  const of = (id: string) => weights.lamps.find((l) => l.id === id)!;
  expect(Math.abs(of('L1').volts! - 221.65)).toBeLessThan(0.3);
  expect(Math.abs(of('L3').volts! - 218.27)).toBeLessThan(0.3);
  expect(Math.abs(Math.log2(of('L1').lightFactor) + 0.18)).toBeLessThan(0.01);
  expect(Math.abs(Math.log2(of('L3').lightFactor) + 0.26)).toBeLessThan(0.01);
  expect(Math.abs(of('L1').cctK - 3151)).toBeLessThan(3);
  expect(Math.abs(of('L3').cctK - 3130)).toBeLessThan(3);
});

test('the kettle plugged in: over the breaker and the double socket, and a cure that takes it off again', async () => {
  const kettle = applyEdit(shoot, {
    edit: 'setHouseLoad',
    args: { place: 'shed', circuit: 'shed', load: 'kettle', on: true },
  }).shoot;
  const k = (await surveyed(kettle, ['CA'])).CA!;
  const shed = k.supply.circuits.find((c) => c.id === 'shed')!;
  expect(shed.nominalCurrentA).toBeCloseTo(31.04, 1);
  expect(Math.abs(shed.currentA - 29.56)).toBeLessThan(0.4);
  const over = troubleOf(k, 'circuit-over', undefined, 'shed')!;
  expect(over.severity).toBe(3);
  expect(over.cures.some((c) => c.edit === 'setHouseLoad')).toBe(true);
  // Lamps dip another 0.13 stop.
  const dip = Math.log2(
    k.weights.lamps.find((l) => l.id === 'L1')!.lightFactor /
      s.CA!.weights.lamps.find((l) => l.id === 'L1')!.lightFactor,
  );
  expect(Math.abs(dip + 0.13)).toBeLessThan(0.02);
  for (const t of k.troubles)
    expect(`${t.says} ${t.cures.map((c) => c.says).join(' ')}`).not.toMatch(/\bsafe\b|\bok\b|will trip/i);
}, 60_000);

test('colour on the camera at 3200 K: faces 109 mired warm, blade 78 cold, tube 63 cold and green', () => {
  // At rated volts; the lead's loss warms the filaments by another 6 to 8 mired, which the reading includes.
  const told = angleTold({ scene: 'slack', angle: 'CA' }, s.CA!);
  const cast = (id: string) => told.casts.find((c) => c.lamp === id)!;
  const volts = (id: string) => 1e6 / s.CA!.weights.lamps.find((l) => l.id === id)!.cctK;
  // What the gel adds: +109 published for half CTO, by hand simply added. A spectral dye that shifts 5600 K by
  // 109 shifts a filament a tenth less (98 on 3200 K): hence 15 mired, a small gel's step, where else 10.
  expect(Math.abs(cast('L1').mired! - (volts('L1') - 1e6 / 3200) - 109)).toBeLessThan(15);
  expect(Math.abs(cast('L2').mired! - (volts('L2') - 1e6 / 3200) - 109)).toBeLessThan(15);
  expect(Math.abs(cast('L3').mired! - (volts('L3') - 1e6 / 3200) + 78)).toBeLessThan(10);
  expect(Math.abs(cast('P1').mired! + 63)).toBeLessThan(3);
  expect(cast('P1').duv!).toBeGreaterThan(0);
  // 2950 K floodlight: +26 at rated volts.
  expect(Math.abs(cast('L4').mired! - (volts('L4') - 1e6 / 2950) - 26)).toBeLessThan(3);
});

test('balanced on a card at B under 1: this class reaches 2500 K, so the faces keep 21 mired, the tube stands at −150', async () => {
  const read = { kind: 'read', at: 'B', lamps: ['L1'] };
  const on = applyEdit(shoot, {
    edit: 'setCamera',
    args: { scene: 'slack', camera: { whiteBalance: read } },
  }).shoot;
  const c = (await surveyed(on, ['CA'], { cures: false })).CA!;
  const told = angleTold({ scene: 'slack', angle: 'CA' }, c);
  expect(c.balance.clamped).toBe(true);
  expect(c.balance.cctK).toBeCloseTo(2500, -1);
  expect(Math.abs(c.balance.askedK - 2373)).toBeLessThan(60);
  const mired = (id: string) => told.casts.find((x) => x.lamp === id)!.mired!;
  expect(Math.abs(mired('L1') - 21)).toBeLessThan(10);
  expect(Math.abs(mired('L3') + 165)).toBeLessThan(10);
  expect(Math.abs(mired('P1') + 150)).toBeLessThan(4);
  // The modern class takes the card as it is: the faces come out neutral, the tube at −171.
  const modern = applyEdit(on, {
    edit: 'setCamera',
    args: { scene: 'slack', camera: { class: 'modern', ei: 800 } },
  }).shoot;
  const m = (await surveyed(modern, ['CA'], { cures: false })).CA!;
  const toldModern = angleTold({ scene: 'slack', angle: 'CA' }, m);
  expect(m.balance.clamped).toBe(false);
  expect(Math.abs(toldModern.casts.find((x) => x.lamp === 'L1')!.mired!)).toBeLessThan(5);
  expect(Math.abs(toldModern.casts.find((x) => x.lamp === 'P1')!.mired! + 171)).toBeLessThan(12);
  // EI 320 to 800 is +1.32 stops; at rated volts the faces would ask for T4.47.
  const over = m.reading.marks[0]!.overStops - s.CA!.reading.marks[0]!.overStops;
  expect(over).toBeCloseTo(Math.log2(800 / 320), 2);
  expect(Math.abs(m.reading.marks[0]!.askedT - 4.47)).toBeLessThan(0.3);
}, 120_000);
