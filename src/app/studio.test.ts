/**
 * The table of edits and rays: what moves no light traces nothing. The expectation is the design's own (light is a
 * sum, linear in its weights); the counter is the tracer's.
 */
import { readFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { MATCH } from '../scheme/match.ts';
import { applyEdit, applyEdits, type Edit } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import type { Shoot } from '../shoot/schema.ts';
import { decodePeople } from '../stage/people/decode.ts';
import { plainTracer } from '../transport/plain.ts';
import { picture } from '../transport/quick/picture.ts';
import type { AngleResult, FromLight, PictureSent, Wanted } from './messages.ts';
import { tryMatch } from './studio/matching.ts';
import type { Means } from './studio/means.ts';
import { idOf } from './studio/shown.ts';
import { Studio } from './studio.ts';

const file = (name: string) => readFileSync(new URL(`../../${name}`, import.meta.url));
const opened = openShoot(file('shoots/slack-water.json').toString());
if (!opened.ok) throw new Error(opened.message.join(' '));
const shoot: Shoot = opened.shoot;
const scene = 'slack';
const tracer = plainTracer();
const said: FromLight[] = [];
/** What happens when others are given a turn, and whether a newer wish waits. */
let atPause = () => {};
let waits = false;
const studio = new Studio({
  tracer,
  reader: plainTracer(),
  people: decodePeople(new Uint8Array(file('data/people/people.bin'))),
  say: (m) => said.push(m),
  pause: async () => atPause(),
  newer: () => waits,
});
let turn = 0;

const wished = (s: Shoot, more: Partial<Wanted> = {}): Wanted => ({
  turn: ++turn,
  shoot: s,
  angles: [{ scene, angle: 'CA' }],
  sizes: { CA: { width: 96, height: 54 } },
  moving: undefined,
  busy: true,
  trying: false,
  stops: false,
  day: false,
  score: false,
  earns: false,
  only: undefined,
  ...more,
});

/** Shows a shoot as while a hand is at it (nothing refined): what was said, and the rays it took. */
async function show(s: Shoot, more: Partial<Wanted> = {}) {
  said.length = 0;
  const before = Object.values(tracer.rays).reduce((a, b) => a + b, 0);
  await studio.show(wished(s, more));
  const failed = said.find((m) => m.kind === 'failed');
  if (failed?.kind === 'failed') throw new Error(failed.words);
  return {
    rays: Object.values(tracer.rays).reduce((a, b) => a + b, 0) - before,
    result: said.flatMap((m): AngleResult[] => (m.kind === 'read' ? [m.result] : [])).at(-1),
    picture: said.flatMap((m): PictureSent[] => (m.kind === 'picture' ? [m.picture] : [])).at(-1),
  };
}
const edited = (edit: Edit) => applyEdit(shoot, edit).shoot;
const luxOfA = (r: AngleResult | undefined) => r!.marks.find((m) => m.mark === 'A')!.incidentLx;
/** Mean byte of a picture's colours. */
const mean = (p: PictureSent | undefined) =>
  p!.pixels.reduce((a, b, i) => a + (i % 4 === 3 ? 0 : b), 0) / (0.75 * p!.pixels.length);

let first: Awaited<ReturnType<typeof show>>;
beforeAll(async () => {
  first = await show(shoot);
}, 60_000);

test('the first light takes rays, and there is a picture', () => {
  expect(first.rays).toBeGreaterThan(10_000);
  expect(mean(first.picture)).toBeGreaterThan(5);
});

const NO_RAY: [string, Edit, 'light' | 'picture'][] = [
  ['a dimmer', { edit: 'setLevel', args: { scene, lamp: 'L2', level: 0.5 } }, 'light'],
  ['a lamp put out', { edit: 'switchLamp', args: { scene, lamp: 'L2', on: false } }, 'light'],
  ['a gel', { edit: 'setSheets', args: { scene, lamp: 'L2', sheets: [] } }, 'light'],
  ['a scrim', { edit: 'setScrims', args: { scene, lamp: 'L2', scrims: ['full'] } }, 'light'],
  [
    'a house load, through the volts',
    { edit: 'setHouseLoad', args: { place: 'shed', circuit: 'shed', load: 'kettle', on: true } },
    'light',
  ],
  ['the stop', { edit: 'setCamera', args: { scene, camera: { stop: 5.6 } } }, 'picture'],
  ['the camera class', { edit: 'setCamera', args: { scene, camera: { class: 'modern' } } }, 'picture'],
  [
    'white balance in kelvin',
    { edit: 'setCamera', args: { scene, camera: { whiteBalance: { kind: 'kelvin', kelvin: 5600 } } } },
    'picture',
  ],
];
for (const [what, edit, changes] of NO_RAY)
  test(`${what} traces nothing and changes the ${changes}`, async () => {
    await show(shoot);
    const after = await show(edited(edit));
    expect(after.rays).toBe(0);
    if (changes === 'light')
      expect(Math.abs(luxOfA(after.result) / luxOfA(first.result) - 1)).toBeGreaterThan(0.001);
    expect(mean(after.picture)).not.toBe(mean(first.picture));
  });

test('a reading kept traces nothing: light, picture and bands go with it, what was expected before stays', async () => {
  await show(shoot);
  const at = (r: AngleResult | undefined) => r!.meters.find((m) => m.mark === 'A' && m.toward === 'L2')!;
  const of = (r: AngleResult | undefined) => r!.marks.find((m) => m.mark === 'A')!;
  const expected = at(first.result).parts.map((p) => ({
    lamp: p.lamp,
    head: p.head,
    place: p.causes.place,
    directLx: p.directLx,
    bouncedLx: p.bouncedLx,
  }));
  const alone = expected.filter((p) => p.lamp === 'L2');
  const lx = alone[0]!.directLx + alone[0]!.bouncedLx;
  const reading = {
    scene,
    angle: 'CA',
    mark: 'A',
    toward: 'L2',
    lamps: ['L2'],
    how: 'lux',
    value: lx / 2,
    expected: alone,
  };
  const kept = edited({ edit: 'keepReading', args: { id: 'M1', reading } });
  const after = await show(kept);
  expect(after.rays).toBe(0);
  expect(of(first.result).toward).toBe('L2');
  expect(of(first.result).metered).toBe(false);
  // One stop less was read; noise and the meter keep about a fifth of it back.
  const fall = Math.log2(of(after.result).incidentLx / of(first.result).incidentLx);
  expect(fall).toBeGreaterThan(-1);
  expect(fall).toBeLessThan(-0.7);
  expect(of(after.result).bandStops).toBeLessThan(0.75 * of(first.result).bandStops);
  expect(of(after.result).metered).toBe(true);
  expect(after.result!.lamps.find((l) => l.id === 'L2')!.metered).toBe(true);
  expect(after.result!.lamps.find((l) => l.id === 'L1')!.metered).toBe(false);
  at(after.result).parts.forEach((p, i) => {
    expect(p.directLx).toBeCloseTo(expected[i]!.directLx, 4);
    expect(p.bouncedLx).toBeCloseTo(expected[i]!.bouncedLx, 4);
  });
  // Carried elsewhere the lamp is no longer the one that was read there.
  const moved = applyEdit(kept, { edit: 'raiseLamp', args: { scene, lamp: 'L2', heightM: 2.8 } }).shoot;
  expect(of((await show(moved)).result).metered).toBe(false);
});

test('a surface’s colour traces nothing: solved and gathered again', async () => {
  await show(shoot);
  // As glossy as the tar: gloss would ask where light comes from anew.
  const walls = { words: 'whitewash', reflectance: 0.7, colour: '#f4f2ec', glossF0: 0.04, roughness: 0.55 };
  const white = edited({ edit: 'setFinish', args: { place: 'shed', surface: 'walls', finish: walls } });
  const after = await show(white);
  expect(after.rays).toBe(0);
  // Seven times the reflectance: the room sends back more, and the wall behind her is brighter.
  const bounced = (r: AngleResult | undefined) =>
    r!.marks.find((m) => m.mark === 'A')!.lamps.reduce((sum, l) => sum + l.bouncedLx, 0);
  expect(bounced(after.result)).toBeGreaterThan(1.5 * bounced(first.result));
  expect(mean(after.picture)).toBeGreaterThan(1.2 * mean(first.picture));
});

const RAYS: [string, Edit, { camera: boolean; shadow: boolean; link: boolean }][] = [
  [
    'a camera moved: its first hits, links and direct light',
    { edit: 'moveCamera', args: { scene, angle: 'CA', to: [5.1, 1.7, 1.62] } },
    { camera: true, shadow: true, link: true },
  ],
  [
    'a camera of another angle: nothing here',
    { edit: 'moveCamera', args: { scene, angle: 'CB', to: [3.1, 1.7, 1.62] } },
    { camera: false, shadow: false, link: false },
  ],
  [
    'an actor moved: hits, links, direct light',
    { edit: 'moveMark', args: { scene, mark: 'A', to: [3.2, 2.6] } },
    { camera: true, shadow: true, link: true },
  ],
  [
    'a flag hung in another angle: nothing here',
    {
      edit: 'addFlag',
      args: {
        scene,
        id: 'F9',
        flag: { kind: 'flag', at: [2, 3, 2], facing: [0, 1, 0], sizeM: [0.3, 0.3], angles: ['W'] },
      },
    },
    { camera: false, shadow: false, link: false },
  ],
];
for (const [what, edit, kinds] of RAYS)
  test(what, async () => {
    await show(shoot);
    const before = { ...tracer.rays };
    await show(edited(edit));
    expect(tracer.rays.camera > before.camera, 'camera rays').toBe(kinds.camera);
    expect(tracer.rays.shadow > before.shadow, 'shadow rays').toBe(kinds.shadow);
    expect(tracer.rays.link > before.link, 'links').toBe(kinds.link);
  });

test('one lamp alone traces nothing; the alone pictures neither', async () => {
  await show(shoot);
  const alone = await show(shoot, { only: 'L2', score: true });
  expect(alone.rays).toBe(0);
  expect(said.filter((m) => m.kind === 'alone')).toHaveLength(5);
});

test('a lamp carried traces its own light only: less than a fifth of the first', async () => {
  await show(shoot);
  const to = [6.2, 4.2, 2.9];
  const moved = edited({ edit: 'moveLamp', args: { scene, lamp: 'L2', to } });
  await show(moved, { moving: 'L2' });
  const again = await show(edited({ edit: 'moveLamp', args: { scene, lamp: 'L2', to: [6.1, 4.1, 2.9] } }), {
    moving: 'L2',
  });
  expect(again.rays).toBeGreaterThan(0);
  expect(again.rays).toBeLessThan(first.rays / 5);
  // Nearer to A: inverse square of the way, the beam's middle staying on A within its width.
  expect(luxOfA(again.result)).toBeGreaterThan(luxOfA(first.result));
});

test('a carried lamp’s picture is put together of what stays and what moves: the same as all at once', async () => {
  const at = shoot.scenes[scene]!.rig.lamps.L1!.at;
  const step = (k: number, dimmed: Shoot = shoot) =>
    applyEdit(dimmed, {
      edit: 'moveLamp',
      args: { scene, lamp: 'L1', to: [at[0]! + 0.03 * k, at[1]!, at[2]!] },
    }).shoot;
  const dimmer: Edit = { edit: 'setLevel', args: { scene, lamp: 'L2', level: 0.4 } };
  for (const moved of [step(1), step(2), step(3, edited(dimmer))]) {
    await show(moved, { moving: 'L1' });
    const shown = (studio as unknown as { on: Means }).on.angles.get(`${scene}/CA`)!;
    const lit = shown.last!;
    expect(lit.carried?.length).toBeGreaterThan(0);
    const whole = picture(lit.sight.hits, lit.sight.coarse, lit.palette.palette, lit.light, shown.weights);
    const furthest = whole.reduce((most, v, i) => Math.max(most, Math.abs(v - lit.xyz[i]!) / (v + 0.01)), 0);
    expect(furthest).toBeLessThan(1e-5);
  }
});

test('haze is another picture at once; clear air again is the first one', async () => {
  const clear = await show(shoot);
  const air = { haze: { extinctionPerM: 0.08, kind: 'haze' } };
  const hazy = await show(edited({ edit: 'setAir', args: { scene, air } }));
  // Lit from behind, haze lifts what was black.
  expect(mean(hazy.picture)).toBeGreaterThan(1.2 * mean(clear.picture));
  const again = await show(shoot);
  expect(mean(again.picture)).toBeCloseTo(mean(clear.picture), 6);
});

test('a newer wish is read while a picture of the older is under way, and has its own picture after', async () => {
  const carried = (x: number) =>
    edited({ edit: 'moveLamp', args: { scene, lamp: 'L2', to: [x, 4.15, 2.9] } });
  await show(carried(6.3), { moving: 'L2' });
  const older = wished(carried(6.25), { moving: 'L2' });
  const newer = wished(carried(6.1), { moving: 'L2' });
  said.length = 0;
  atPause = () => {
    if (waits) return;
    waits = true;
    studio.abandon(newer);
  };
  await studio.show(older);
  atPause = () => {};
  waits = false;
  const order = said.flatMap((m) => (m.kind === 'read' || m.kind === 'picture' ? [[m.kind, m.turn]] : []));
  expect(order).toEqual([
    ['read', older.turn],
    ['read', newer.turn],
    ['picture', older.turn],
  ]);
  const [first, second] = said.flatMap((m) => (m.kind === 'read' ? [m.result] : []));
  // Nearer to A: by the inverse square there is more.
  expect(luxOfA(second)).toBeGreaterThan(luxOfA(first));
  said.length = 0;
  await studio.show(newer);
  expect(said.filter((m) => m.kind === 'picture').map((m) => m.turn)).toEqual([newer.turn]);
});

test('a step back finds everything again', async () => {
  await show(edited({ edit: 'moveLamp', args: { scene, lamp: 'L2', to: [6.2, 4.2, 2.9] } }));
  const back = await show(shoot);
  // The meters are held again; no picture is traced.
  expect(back.rays).toBeLessThan(first.rays / 20);
  expect(luxOfA(back.result)).toBeCloseTo(luxOfA(first.result), 3);
  // And it is shown again, though it was there all the time.
  expect(mean(back.picture)).toBeGreaterThan(5);
});

test('a diffusion frame: lit by rays once, then weighed like the lamp behind it', async () => {
  // Halfway between L2 and the person it strikes.
  const flag = {
    kind: 'frame',
    at: [6.3, 4.1, 2.2],
    facing: [1, 1, 0.5],
    sizeM: [1, 1],
    sheet: 'full-white',
  };
  const add: Edit = { edit: 'addFlag', args: { scene, id: 'D1', flag: flag as never } };
  const framed = edited(add);
  await show(shoot);
  const under = await show(framed);
  expect(under.rays).toBeGreaterThan(0);
  const lampOn = (r: AngleResult | undefined, lamp: string) =>
    r!.marks.find((m) => m.mark === 'A')!.lamps.find((l) => l.lamp === lamp)!;
  const dim: Edit = { edit: 'setLevel', args: { scene, lamp: 'L2', level: 0.5 } };
  const half = await show(applyEdit(framed, dim).shoot);
  expect(half.rays).toBe(0);
  const bare = await show(edited(dim));
  // One dimmer, one law: through the frame the lamp falls as far as it does bare.
  const fallen = lampOn(half.result, 'L2').directLx / lampOn(under.result, 'L2').directLx;
  expect(fallen).toBeCloseTo(lampOn(bare.result, 'L2').directLx / lampOn(first.result, 'L2').directLx, 5);
  // It softens: less light from that side than bare, and more than straight rays alone would bring.
  const through = lampOn(under.result, 'L2').directLx / lampOn(first.result, 'L2').directLx;
  expect(through).toBeGreaterThan(0.02);
  expect(through).toBeLessThan(0.9);
});

test('a cut: the cheat that is offered was tried, and does what it says once it is made; asked again it costs no ray', async () => {
  const { result } = await show(shoot);
  const { on } = studio as unknown as { on: Means };
  const s = on.angles.get(idOf({ scene, angle: 'CA' }))!;
  // A wide that has the same light, a stop lower on every face.
  const marks = result!.marks.map((m) => ({ ...m, overStops: m.overStops - 1 }));
  const { facesSeen, spots, balance, lamps, exposure } = result!;
  const wide = {
    ref: { scene, angle: 'T' },
    marks,
    facesSeen,
    spots,
    balance,
    lamps,
    eRefLx: exposure.eRefLx,
  };
  const w = wished(shoot, { match: { angle: 'CA', wide, tolerance: MATCH, key: 'k' } });
  const ask = async () => {
    said.length = 0;
    await tryMatch(on, s, w, { aborted: false });
    return said.flatMap((m) => (m.kind === 'matched' ? [m] : []))[0]!;
  };
  const once = await ask();
  expect(once).toMatchObject({ angle: 'CA', key: 'k' });
  // The lens closed by three thirds does it; the key alone would leave the back light a stop too much.
  const offer = once.found.find((f) => f.of === 'A')!;
  if ('why' in offer) throw new Error(offer.why);
  expect(offer.says).toMatch(/^Stop down to T4/);
  expect(offer.becomes.join()).toMatch(/key 1\.0 stops over: then within/);
  const made = await show(applyEdits(shoot, offer.edits).shoot);
  const [a, b] = [result!, made.result!].map((r) => r.marks.find((m) => m.mark === 'A')!.overStops);
  expect(Math.abs(b! - (a! - 1))).toBeLessThan(MATCH.stops);
  await show(shoot);
  const before = Object.values(tracer.rays).reduce((x, y) => x + y, 0);
  expect((await ask()).found).toEqual(once.found);
  expect(Object.values(tracer.rays).reduce((x, y) => x + y, 0)).toBe(before);
});
