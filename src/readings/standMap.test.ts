/** Where can they stand, held to laws: inverse square, the cosine, which side a lamp is on, a wall in between. */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { beamOfLamp, kitLampById } from '../light/kitlamps.ts';
import { geometryOf } from '../setup/geometry.ts';
import { personOn } from '../setup/people.ts';
import { weightsOf } from '../setup/weights.ts';
import { newShoot } from '../shoot/newShoot.ts';
import type { Shoot } from '../shoot/schema.ts';
import { decodePeople } from '../stage/people/decode.ts';
import { plainTracer } from '../transport/plain.ts';
import { floorGrid } from './standGrid.ts';
import { directionsOf, faceShade, type StandMap, standLight, standMap } from './standMap.ts';

const SEED = 5;
const LAMP = [2.1, 3, 1.6] as const;
const EYE_M = 1.6;
/** C N² / (t S) with C 250, T2.8 as 2^1.5, a fiftieth, EI 3200: 31.25 lx [ISO-2720]. */
const ASKED_LX = 31.25;

/** One bare bulb that shines alike all round, at the height of the eyes, in a bare room; one person who looks north. */
function bulbRoom(): Shoot {
  const shoot = newShoot({ region: 'eu', widthM: 4.2, depthM: 3.6, people: 1, how: 'standing' });
  const place = shoot.places.room!;
  place.furniture = {};
  place.openings = {};
  const scene = shoot.scenes.scene1!;
  scene.camera = {
    class: 'modern',
    ei: 3200,
    fps: 25,
    shutter: { kind: 'time', seconds: 1 / 50 },
    stop: 2.8,
    whiteBalance: { kind: 'kelvin', kelvin: 3200 },
  };
  scene.marks.A = { ...scene.marks.A!, at: [1, 1], eyeM: EYE_M, facings: [90], posture: 'standing' };
  scene.angles.T = {
    name: 'T',
    at: [3.5, 3.2, 1.5],
    lookAt: [1, 1, 1.5],
    focalMm: 35,
    sensorMm: [24.9, 14],
    cheats: {},
    wishes: [],
    meant: [],
  };
  shoot.kit.lamps.B = { kind: 'led-bulb', held: 'owned' };
  scene.rig.lamps.L1 = {
    head: 'B',
    number: '1',
    on: true,
    at: [...LAMP],
    aim: [2.1, 1, 1.6],
    focus: 0,
    level: 1,
    scrims: [],
    sheets: [],
    support: { kind: 'hand' },
  };
  return shoot;
}
const ref = { scene: 'scene1', angle: 'T' };

async function mapOf(shoot: Shoot, facingDeg = 90): Promise<StandMap> {
  const bare = structuredClone(shoot);
  delete bare.scenes.scene1!.marks.A!.person;
  const geometry = geometryOf(bare, ref, undefined);
  const tracer = plainTracer();
  await tracer.load(geometry.transport);
  const grid = floorGrid(shoot.places.room!, 0.25);
  const light = await standLight(tracer, geometry, grid, { eyeM: EYE_M, facingDeg }, undefined, {
    seed: SEED,
  });
  return standMap(geometry, weightsOf(shoot, ref).weights, light, ASKED_LX, undefined);
}

describe('one bare bulb, what bounces left out', () => {
  let map: StandMap;
  let candela = 0;
  beforeAll(async () => {
    const shoot = bulbRoom();
    map = await mapOf(shoot);
    const beam = beamOfLamp(kitLampById('led-bulb')!);
    if (beam.kind !== 'isotropic') throw new Error(`the bulb shines ${beam.kind}`);
    candela = beam.cd * weightsOf(shoot, ref).weights.layers[0]!.white[1];
  });

  test('the reading is the inverse square of the way to the bulb, in stops over what the camera asks', () => {
    let read = 0;
    for (const p of map.points) {
      const d = Math.hypot(LAMP[0] - p.at[0], LAMP[1] - p.at[1], LAMP[2] - EYE_M);
      if (p.key === undefined || d < 0.6) continue;
      // By hand: E = I / d², stops = log2 (E / 31.25). The bulb is 6 cm of a ball, six points of it are asked.
      expect(Math.abs(p.overStops - Math.log2(candela / d ** 2 / ASKED_LX)), `${p.at}`).toBeLessThan(0.05);
      read++;
    }
    expect(read).toBeGreaterThan(60);
  });

  test('twice as far is two stops less, whatever the bulb', () => {
    const at = (x: number, y: number) =>
      map.points.reduce((b, p) =>
        Math.hypot(p.at[0] - x, p.at[1] - y) < Math.hypot(b.at[0] - x, b.at[1] - y) ? p : b,
      );
    const [near, far] = [at(2.1, 1.95), at(2.1, 0.9)];
    const d = (p: { at: readonly [number, number] }) => Math.hypot(p.at[0] - LAMP[0], p.at[1] - LAMP[1]);
    expect(near.overStops - far.overStops).toBeCloseTo(2 * Math.log2(d(far) / d(near)), 1);
  });

  test('one who looks north has the bulb on the left where it lies west of them', () => {
    for (const p of map.points)
      if (p.key !== undefined && Math.abs(p.at[0] - LAMP[0]) > 0.05)
        expect(p.side, `${p.at}`).toBe(LAMP[0] < p.at[0] ? 'left' : 'right');
  });

  test('with their back to it nobody has a key, and without bounce no light on the face', async () => {
    const turned = await mapOf(bulbRoom(), 270);
    const before = turned.points.filter((p) => p.at[1] < LAMP[1] - 0.5);
    expect(before.length).toBeGreaterThan(20);
    expect(before.every((p) => p.key === undefined && p.overStops === Number.NEGATIVE_INFINITY)).toBe(true);
  });
});

test('what stands in the way makes a shadow on the floor map, and nobody stands inside it', async () => {
  const shoot = bulbRoom();
  const board = {
    kind: 'box',
    at: [2.1, 2.2, 0] as [number, number, number],
    sizeM: [0.6, 0.1, 2.2] as [number, number, number],
    finish: { reflectance: 0.02 },
  };
  shoot.places.room!.furniture.board = board;
  const map = await mapOf(shoot);
  for (const p of map.points) {
    // The ray from the bulb through a point meets the board's line y = 2.2 at this x.
    const t = (LAMP[1] - 2.2) / (LAMP[1] - p.at[1]);
    const x = LAMP[0] + t * (p.at[0] - LAMP[0]);
    expect(Math.abs(p.at[0] - 2.1) < 0.3 && Math.abs(p.at[1] - 2.2) < 0.05).toBe(false);
    if (p.at[1] > 2 || Math.abs(Math.abs(x - 2.1) - 0.3) < 0.1) continue;
    expect(p.key === undefined, `${p.at}`).toBe(Math.abs(x - 2.1) < 0.3);
  }
});

test('a lamp before the face lights both eyes, from high above the brow keeps it from them, from behind none', async () => {
  const people = decodePeople(new Uint8Array(readFileSync('data/people/people.bin')));
  const shoot = bulbRoom();
  const mark = shoot.scenes.scene1!.marks.A!;
  const built = personOn('A', mark, 90, undefined, 'medium', people)!;
  const geometry = {
    id: 'A',
    eyes: [mark.at[0], mark.at[1], mark.eyeM] as const,
    facingDeg: 90,
    part: 0,
    face: built.face,
    faceGrid: built.faceGrid,
    skinReflectance: 0.3,
  };
  const tracer = plainTracer();
  const way = (elevationDeg: number, azimuthDeg: number) => {
    const e = (elevationDeg * Math.PI) / 180;
    const a = ((90 + azimuthDeg) * Math.PI) / 180;
    return [Math.cos(a) * Math.cos(e), Math.sin(a) * Math.cos(e), Math.sin(e)] as const;
  };
  const [before, above, behind] = [way(5, 0), way(85, 0), way(10, 180)];
  const shade = (await faceShade(tracer, geometry, built.body, [before, above, behind], {}))!;
  const shares = (dir: readonly [number, number, number]) => {
    const at = shade.at(dir);
    const lit = (from: number, n: number) => at.subarray(from, from + n).filter((v) => v > 0.25).length / n;
    return [lit(0, shade.left), lit(shade.left, shade.right)];
  };
  for (const share of shares(before)) expect(share).toBeGreaterThan(0.5);
  for (const share of shares(above)) expect(share).toBeLessThan(0.25);
  for (const share of shares(behind)) expect(share).toBe(0);
});

test('the directions of a map are those of its points to its lamps', async () => {
  const shoot = bulbRoom();
  const geometry = geometryOf(shoot, ref, undefined);
  const grid = floorGrid(shoot.places.room!, 0.5);
  const light = { grid, eyeM: EYE_M, facingDeg: 90, toward: [], front: { layers: new Map(), bounced: [] } };
  const d = directionsOf(geometry, light);
  expect(d).toHaveLength(grid.points.length);
  const [x, y] = grid.points[0]!;
  const l = Math.hypot(LAMP[0] - x, LAMP[1] - y, LAMP[2] - EYE_M);
  expect(d[0]![0]).toBeCloseTo((LAMP[0] - x) / l, 9);
});
