/**
 * Two rooms and a doorway, by hand: from a lamp in the hall a straight line passes the doorway or it does not. Where it
 * passes, lux is cd/d² times the cosine; where not, none of it is direct.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../maths/vec3.ts';
import { openShoot } from '../shoot/file.ts';
import { indoors, roomAt } from '../shoot/rooms.ts';
import type { Opening, Place } from '../shoot/schema.ts';
import { assemble, withMoving } from '../stage/assemble.ts';
import { buildRoom } from '../stage/room.ts';
import { ceilingOver } from '../stage/slope.ts';
import { probeAt } from '../transport/box.ts';
import { plainTracer } from '../transport/plain.ts';
import { glossTable } from '../transport/quick/bare.ts';
import { glance, quickDirect, standOf } from '../transport/quick/quick.ts';
import { look } from '../transport/quick/stillLife.ts';
import type { Layer } from '../transport/scene.ts';
import { leadsTo, outletsOf, roomsOf } from './gaps.ts';
import { stillOf } from './still.ts';

const opened = openShoot(readFileSync('shoots/kitchen.json', 'utf8'));
if (!opened.ok) throw new Error(opened.message.join());
const white = { reflectance: 0.7 };
const door: Opening = { kind: 'door', wall: 1, fromM: 1, toM: 1.8, sillM: 0, headM: 2, fill: 'open' };
/** A kitchen 4 × 3 m, a hall 2 × 3 m east of it behind 12 cm of wall and higher, a doorway of 0.8 × 2 m between them. */
const house = (more: Partial<Place> = {}): Place => ({
  ...opened.shoot.places.kitchen!,
  outline: [
    [0, 0],
    [4, 0],
    [4, 3],
    [0, 3],
  ],
  ceilingM: 2.4,
  openings: { door },
  furniture: {},
  rigging: {},
  floor: white,
  walls: white,
  ceiling: white,
  rooms: {
    hall: {
      name: 'the hall',
      outline: [
        [4.12, 0],
        [6.12, 0],
        [6.12, 3],
        [4.12, 3],
      ],
      ceilingM: 2.9,
      floor: white,
      walls: white,
    },
  },
  ...more,
});
const stageOf = (place: Place) => withMoving(stillOf(place).half, []);

const CD = 900;
const AT: Vec3 = [5.6, 1.2, 1.7];
const bulb: Layer = {
  id: 'L',
  lamp: 'L',
  emitters: [
    {
      shape: { kind: 'sphere', centre: AT, axis: [1, 0, 0], up: [0, 0, 1], radiusM: 1e-3 },
      beam: { kind: 'isotropic', cd: CD },
    },
  ],
  key: 'bulb',
  ownParts: [],
};

async function luxAt(place: Place, at: Vec3, normal: Vec3, layer = bulb): Promise<number> {
  const tracer = plainTracer();
  await tracer.load({ stage: stageOf(place), layers: [layer] });
  return (await tracer.direct(probeAt([[at, normal]]), 0, { seed: 1, samples: 64 })).diffuse[0]!;
}

/** Does the line from the lamp pass the doorway (y 1 to 1.8, up to 2 m) on both of its faces, x 4 and 4.12? */
function passes(at: Vec3): boolean {
  return [4, 4.12].every((x) => {
    const t = (x - AT[0]) / (at[0] - AT[0]);
    const y = AT[1] + t * (at[1] - AT[1]);
    const z = AT[2] + t * (at[2] - AT[2]);
    return y > 1 && y < 1.8 && z > 0 && z < 2;
  });
}

describe('a lamp in the hall, seen through the doorway', () => {
  test.each([
    [[2, 1.3, 1.2], true],
    [[0.5, 1.6, 1.5], true],
    [[3.5, 1.35, 0.4], true],
    // Behind the wall beside the door, over its head, and just past either jamb.
    [[2, 2.8, 1.2], false],
    [[3.9, 0.4, 1.2], false],
    [[3.9, 1.3, 2.39], false],
    [[2, 0.1, 1.2], false],
  ] as [Vec3, boolean][])('%s', async (at, seen) => {
    expect(passes(at)).toBe(seen);
    const d = Math.hypot(...AT.map((v, k) => v - at[k]!));
    const cos = (AT[0] - at[0]) / d;
    const lux = await luxAt(house(), at, [1, 0, 0]);
    if (seen) expect(lux / ((CD * cos) / d ** 2)).toBeCloseTo(1, 4);
    else expect(lux).toBe(0);
  });

  test('all over the kitchen: lit where the straight line passes, and nowhere else', async () => {
    const tracer = plainTracer();
    const stage = stageOf(house());
    await tracer.load({ stage, layers: [bulb] });
    const points: Vec3[] = [];
    for (let x = 0.05; x < 4; x += 0.13)
      for (let y = 0.05; y < 3; y += 0.11) for (const z of [0.3, 1.1, 1.9, 2.3]) points.push([x, y, z]);
    const lit = (await tracer.direct(probeAt(points.map((p) => [p, [1, 0, 0]])), 0, { seed: 1, samples: 1 }))
      .diffuse;
    let edge = 0;
    points.forEach((p, i) => {
      // The lamp is 2 mm across: within a few of those of an edge either is right.
      const near = [-1, 1].some((s) =>
        [1, 2].some(
          (k) => passes(p.map((v, j) => (j === k ? v + s * 0.004 : v)) as unknown as Vec3) !== passes(p),
        ),
      );
      if (near) edge++;
      else expect(lit[i]! > 0, p.join()).toBe(passes(p));
    });
    expect(edge).toBeLessThan(points.length * 0.02);
  });

  test('quick picture: the kitchen’s west wall is lit through the doorway only', async () => {
    const stage = stageOf(house());
    const tracer = plainTracer();
    await tracer.load({ stage, layers: [bulb] });
    const view = look([3.6, 1.5, 1.3], [0, 1.5, 1.2], 0.42);
    const hits = await tracer.hits(view, 160, 90, { seed: 1 });
    const { set, stand } = standOf(bulb);
    const light = await quickDirect(tracer, glossTable(stage.materials), glance(view, hits), set, stand, {
      seed: 2,
    });
    let wrong = 0;
    let counted = 0;
    for (let i = 0; i < hits.points.count; i++) {
      const p = [...hits.points.position.slice(3 * i, 3 * i + 3)] as unknown as Vec3;
      if (p[0] > 0.01) continue;
      const d = Math.hypot(...AT.map((v, k) => v - p[k]!));
      const want = passes(p) ? (CD * (AT[0] - p[0])) / d ** 3 : 0;
      counted++;
      if (Math.abs(light.diffuse[i]! - want) > 0.02 * (CD / d ** 2)) wrong++;
    }
    expect(counted).toBeGreaterThan(4000);
    // Pixels on the very edge of the patch of light.
    expect(wrong / counted).toBeLessThan(0.03);
  });

  test('a shut door keeps it out; a leaf that stands open into the hall shades what is behind it', async () => {
    expect(
      await luxAt(house({ openings: { door: { ...door, fill: 'shut' } } }), [2, 1.3, 1.2], [1, 0, 0]),
    ).toBe(0);
    // Hinged at y = 1 on the hall's side and open 90° outward it stands at y = 1, beside the line.
    const ajar = house({ openings: { door: { ...door, leafDeg: -90 } } });
    expect(await luxAt(ajar, [2, 1.5, 1.2], [1, 0, 0])).toBeGreaterThan(50);
    const half = house({ openings: { door: { ...door, leafDeg: -20 } } });
    expect(await luxAt(half, [2, 1.3, 1.2], [1, 0, 0])).toBe(0);
  });

  test('what bounces in the hall comes through too, and not all of it', async () => {
    const tracer = plainTracer();
    await tracer.load({ stage: stageOf(house()), layers: [bulb] });
    const many = (at: Vec3) => probeAt(Array.from({ length: 8 }, () => [at, [1, 0, 0]] as const));
    const mean = async (at: Vec3) => {
      const { layers } = await tracer.trace(many(at), { seed: 3, paths: 512 });
      return layers[0]!.bounced.reduce((a, b) => a + b, 0) / layers[0]!.bounced.length;
    };
    const [inHall, inKitchen] = [await mean([4.4, 2.5, 1.2]), await mean([2, 2.8, 1.2])];
    expect(inKitchen).toBeGreaterThan(0.5);
    expect(inKitchen).toBeLessThan(inHall / 3);
  });
});

test('each room is closed but for what is told: no light of a lamp in the hall without a doorway', async () => {
  const stage = stageOf(house({ openings: {} }));
  const tracer = plainTracer();
  await tracer.load({ stage, layers: [bulb] });
  const points: [Vec3, Vec3][] = [];
  for (let i = 0; i < 400; i++) {
    const at: Vec3 = [
      0.02 + ((i * 0.618) % 1) * 3.96,
      0.02 + ((i * 0.414) % 1) * 2.96,
      0.02 + ((i * 0.732) % 1) * 2.36,
    ];
    points.push([at, [1, 0, 0]]);
  }
  const { layers } = await tracer.trace(probeAt(points), { seed: 5, paths: 16 });
  expect(Math.max(...layers[0]!.bounced)).toBe(0);
  expect(Math.max(...(await tracer.direct(probeAt(points), 0, { seed: 5, samples: 8 })).diffuse)).toBe(0);
});

test('nothing of one room’s outside shows in the next: every surface inside the hall is the hall’s', () => {
  const stage = stageOf(house());
  for (let t = 0; t < stage.material.length; t++) {
    const part = stage.parts[stage.part[t]!]!.id;
    const middle = [0, 1, 2].map(
      (k) => [0, 1, 2].reduce((s, c) => s + stage.positions[stage.indices[3 * t + c]! * 3 + k]!, 0) / 3,
    ) as unknown as Vec3;
    const deep =
      middle[0] > 4.13 &&
      middle[0] < 6.11 &&
      middle[1] > 0.01 &&
      middle[1] < 2.99 &&
      middle[2] > 0.01 &&
      middle[2] < 2.89;
    expect(deep && !part.startsWith('hall:'), part).toBe(false);
  }
});

test('ceilings, indoors and daylight are each room’s own; a door between two lets no daylight in', () => {
  const place = house();
  expect(ceilingOver(place, 1, 1)).toBe(2.4);
  expect(ceilingOver(place, 5, 1)).toBe(2.9);
  expect(roomAt(place, [5, 1])!.id).toBe('hall');
  expect(indoors(place, [4.06, 1.4])).toBe(false);
  expect(outletsOf(place)).toEqual([]);
  expect(leadsTo(place, door)!.id).toBe('hall');
  const window: Opening = {
    kind: 'window',
    room: 'hall',
    wall: 1,
    fromM: 1,
    toM: 2,
    sillM: 1,
    headM: 2,
    fill: 'glass',
  };
  const [only] = outletsOf(house({ openings: { door, window } }));
  expect(only!.id).toBe('window');
  expect(only!.out[0]).toBeCloseTo(1, 9);
  expect(only!.middle[0]).toBeCloseTo(6.12 + 0.1, 9);
  expect(roomsOf(place).map((r) => r.toM)).toEqual([2.4 + 0.2, 2.9 + 0.2]);
});

test('a place of one room is built as ever, triangle for triangle', () => {
  const place = opened.shoot.places.kitchen!;
  expect(place.rooms).toBeUndefined();
  const { furniture: _f, rigging: _r, ...bare } = place;
  const own = stillOf({ ...bare, furniture: {}, rigging: {} }).half;
  const alone = buildRoom({
    outline: place.outline,
    ceilingM: place.ceilingM!,
    floor: { reflectance: 0.5 },
    walls: { reflectance: 0.5 },
    openings: Object.fromEntries(
      Object.entries(place.openings).map(([id, { wall, fromM, toM, sillM, headM, fill, kind, leafDeg }]) => [
        id,
        { wall, fromM, toM, sillM, headM, fill, kind, ...(leafDeg === undefined ? {} : { leafDeg }) },
      ]),
    ),
    ...(place.outside ? { outside: { groundM: place.outside.groundM, ground: { reflectance: 0.2 } } } : {}),
  });
  expect([...assemble(alone.bodies).positions.slice(0, 3000)]).toEqual([...own.positions.slice(0, 3000)]);
});
