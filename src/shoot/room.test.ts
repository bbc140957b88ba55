import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { REGION } from '../power/region.ts';
import { BUILDERS } from '../stage/furniture.ts';
import { applyEdit, applyEdits } from './edits.ts';
import { openShoot, saveShoot } from './file.ts';
import { kitKind, type Region } from './kit.ts';
import { newShoot, ROOM_ID, rectangle, SCENE_ID } from './newShoot.ts';
import { faults, looseEnds } from './references.ts';
import { Shoot } from './schema.ts';
import { HOW, middleOf, seating } from './seatings.ts';
import {
  owned,
  tellKit,
  tellLamp,
  tellOpening,
  tellPeople,
  tellPerson,
  tellSocket,
  tellThing,
} from './tell.ts';
import { furnitureOf, roomThing, searchThings, THINGS } from './things.ts';
import { MAINS, WALL_TONES } from './usualRoom.ts';
import { areaM2, atWall, nearestWall, onFloor, tidyOutline, wallLengthM, wallWord } from './walls.ts';

fc.configureGlobal({ seed: 20 });
const REGIONS: Region[] = ['uk', 'eu', 'na', 'au', 'jp'];
const L_SHAPE = [
  [0, 0],
  [5, 0],
  [5, 2.5],
  [3, 2.5],
  [3, 5],
  [0, 5],
] as const;

describe('a new room', () => {
  test.each(REGIONS)('in %s opens as a file, with nothing that leads nowhere', (region) => {
    for (const people of [1, 2, 3] as const)
      for (const how of HOW)
        for (const outline of [undefined, L_SHAPE]) {
          const shoot = newShoot({ region, people, how, ...(outline ? { outline } : {}) });
          expect(Shoot.safeParse(shoot).success).toBe(true);
          expect([...faults(shoot), ...looseEnds(shoot)]).toEqual([]);
          const again = openShoot(saveShoot(shoot));
          expect(again.ok && again.notes).toEqual([]);
          const scene = shoot.scenes[SCENE_ID]!;
          expect(Object.keys(scene.marks)).toHaveLength(people);
          for (const m of Object.values(scene.marks))
            expect(onFloor(shoot.places[ROOM_ID]!.outline, m.at)).toBe(true);
        }
  });

  test('what nobody told is marked so: finishes, openings, sockets, the circuit', () => {
    const place = newShoot({ region: 'uk' }).places[ROOM_ID]!;
    for (const f of [place.floor, place.walls, place.ceiling!]) expect(f.guessed).toBe(true);
    for (const o of Object.values(place.openings)) expect(o.guessed).toBe(true);
    for (const s of Object.values(place.supply.sockets)) expect(s.guessed).toBe(true);
    const [circuit] = Object.values(place.supply.circuits);
    expect(circuit!.device).toBe('unknown');
    expect(circuit!.ratingA).toBeUndefined();
    expect(circuit!.cable!.known).toBe(false);
    // The worse case: everything on one.
    expect(Object.keys(place.supply.circuits)).toHaveLength(1);
    expect(place.supply.earthing).toBe('unknown');
  });

  test('volts are those the power rules have', () => {
    for (const r of REGIONS) expect(MAINS[r].nominalV).toBe(REGION[r].nominalV);
  });

  test('corners that cross or enclose nothing are refused in a sentence', () => {
    expect(() =>
      newShoot({
        region: 'uk',
        outline: [
          [0, 0],
          [2, 2],
          [2, 0],
          [0, 2],
        ],
      }),
    ).toThrow(/cross/);
    expect(() =>
      newShoot({
        region: 'uk',
        outline: [
          [0, 0],
          [1, 0],
        ],
      }),
    ).toThrow(/three corners/);
  });

  test('tones of walls run from white to dark', () => {
    const r = WALL_TONES.map((t) => t.reflectance);
    expect([...r].sort((a, b) => b - a)).toEqual(r);
  });
});

describe('walls', () => {
  test('corners tapped clockwise are turned round; twice tapped ones are one', () => {
    const out = tidyOutline([
      [0, 0],
      [0, 3],
      [4, 3],
      [4, 0],
      [0, 0.01],
    ]);
    expect(typeof out).toBe('object');
    expect(out).toHaveLength(4);
    expect(areaM2(out as [number, number][])).toBeCloseTo(12, 1);
  });

  test('a point goes to its wall and back', () => {
    fc.assert(
      fc.property(fc.nat(5), fc.double({ min: 0.05, max: 0.95, noNaN: true }), (wall, share) => {
        const along = share * wallLengthM(L_SHAPE, wall);
        const p = atWall(L_SHAPE, wall, along, 0.03);
        expect(onFloor(L_SHAPE, p)).toBe(true);
        const back = nearestWall(L_SHAPE, p);
        expect(back.offM).toBeLessThanOrEqual(0.0301);
        if (back.wall === wall) expect(back.alongM).toBeCloseTo(along, 6);
      }),
    );
  });

  test('walls are called by where they lie', () => {
    const room = rectangle(4, 3);
    expect([0, 1, 2, 3].map((w) => wallWord(room, w))).toEqual(['south', 'east', 'north', 'west']);
    // +y points east: the wall that lay south lies west.
    expect(wallWord(room, 0, 90)).toBe('west');
  });

  test('the middle of an L is on its floor, as far from walls as anywhere', () => {
    const { at, clearM } = middleOf(L_SHAPE);
    expect(onFloor(L_SHAPE, at)).toBe(true);
    // The largest circle in this L touches the two outer walls and the inner corner: r(1+1/√2) = … ≥ 1.4 m.
    expect(clearM).toBeGreaterThan(1.4);
  });
});

describe('telling', () => {
  const shoot = newShoot({ region: 'uk' });
  const place = shoot.places[ROOM_ID]!;

  test('the first window and socket told take the place of the supposed ones, the next are more', () => {
    const one = applyEdits(shoot, tellOpening(place, ROOM_ID, 'window', [0.05, 1.5])).shoot;
    const told = one.places[ROOM_ID]!;
    expect(Object.values(told.openings).filter((o) => o.kind === 'window')).toEqual([
      expect.not.objectContaining({ guessed: true }),
    ]);
    const two = applyEdits(one, tellOpening(told, ROOM_ID, 'window', [2, 0])).shoot;
    expect(Object.values(two.places[ROOM_ID]!.openings).filter((o) => o.kind === 'window')).toHaveLength(2);

    const s1 = applyEdits(shoot, tellSocket(place, ROOM_ID, [2, 0])).shoot;
    expect(Object.values(s1.places[ROOM_ID]!.supply.sockets)).toHaveLength(1);
    const s2 = applyEdits(s1, tellSocket(s1.places[ROOM_ID]!, ROOM_ID, [4.2, 1])).shoot;
    const sockets = Object.values(s2.places[ROOM_ID]!.supply.sockets);
    expect(sockets).toHaveLength(2);
    for (const s of sockets) expect(s.guessed ?? false).toBe(false);
  });

  test('a sofa tapped near a wall stands with its back to it, looking into the room', () => {
    fc.assert(
      fc.property(fc.nat(3), fc.double({ min: 0, max: 1, noNaN: true }), (wall, share) => {
        const tap = atWall(place.outline, wall, share * wallLengthM(place.outline, wall), 0.2);
        for (const t of [roomThing('sofa')!, roomThing('shelves')!]) {
          const { id, edits } = tellThing(place, ROOM_ID, t, tap);
          const f = applyEdits(shoot, edits).shoot.places[ROOM_ID]!.furniture[id]!;
          // Its footprint's four corners are in the room.
          const a = ((f.turnDeg ?? 0) * Math.PI) / 180;
          for (const [x, y] of [
            [-0.5, -0.5],
            [0.5, -0.5],
            [0.5, 0.5],
            [-0.5, 0.5],
          ] as const) {
            const [px, py] = [x * f.sizeM[0], y * f.sizeM[1]];
            const p = [
              f.at[0] + px * Math.cos(a) - py * Math.sin(a),
              f.at[1] + px * Math.sin(a) + py * Math.cos(a),
            ];
            expect(onFloor(place.outline, p as [number, number])).toBe(true);
          }
          const front = t.front === 'x' ? a : a - Math.PI / 2;
          const ahead: [number, number] = [f.at[0] + Math.cos(front), f.at[1] + Math.sin(front)];
          expect(onFloor(place.outline, ahead)).toBe(true);
        }
      }),
    );
  });

  test('people set down again leave no chair behind', () => {
    const sofa = applyEdits(shoot, tellPeople(shoot, SCENE_ID, 3, 'sofa')).shoot;
    expect(Object.keys(sofa.places[ROOM_ID]!.furniture)).toEqual(['sofa']);
    const stand = applyEdits(sofa, tellPeople(sofa, SCENE_ID, 1, 'standing')).shoot;
    expect(Object.keys(stand.places[ROOM_ID]!.furniture)).toEqual([]);
    const { id, edits } = tellPerson(stand, SCENE_ID, [1, 1]);
    expect(id).toBe('B');
    const marks = applyEdits(stand, edits).shoot.scenes[SCENE_ID]!.marks;
    // B looks at A.
    const [a, b] = [marks.A!, marks.B!];
    const to = (Math.atan2(a.at[1] - b.at[1], a.at[0] - b.at[0]) * 180) / Math.PI;
    expect(b.facings[0]).toBeCloseTo(to, 0);
  });

  test('a lamp brings a stand and a lead until somebody counts them', () => {
    let s = applyEdits(shoot, tellLamp(shoot, 'fresnel-650', 2)).shoot;
    s = applyEdits(s, tellLamp(s, 'bulb-60', 1)).shoot;
    expect(owned(s, 'fresnel-650')).toEqual({ count: 2, guessed: false });
    expect(owned(s, 'stand')).toEqual({ count: 2, guessed: true });
    expect(owned(s, 'lead-uk-10-15')).toEqual({ count: 3, guessed: true });
    s = applyEdits(s, tellKit(s, 'stand-small', 1)).shoot;
    expect(owned(s, 'stand').count).toBe(0);
    s = applyEdits(s, tellLamp(s, 'fresnel-300', 1)).shoot;
    expect(owned(s, 'stand').count).toBe(0);
    expect(owned(s, 'stand-small')).toEqual({ count: 1, guessed: false });
    s = applyEdits(s, tellLamp(s, 'fresnel-650', 0)).shoot;
    expect(Object.values(s.kit.lamps).map((h) => h.kind)).toEqual(['bulb-60', 'fresnel-300']);
    expect(kitKind('fresnel-300')).toBeDefined();
  });

  test('a region brings its volts to supply, sockets and bulbs', () => {
    const s = applyEdits(shoot, tellLamp(shoot, 'fresnel-650', 1)).shoot;
    const na = applyEdit(s, { edit: 'setRegion', args: { place: ROOM_ID, region: 'na' } }).shoot;
    const supply = na.places[ROOM_ID]!.supply;
    expect([supply.nominalV, supply.frequencyHz]).toEqual([120, 60]);
    expect(Object.values(supply.sockets)[0]!.kind).toBe('us-15');
    expect(Object.values(na.kit.lamps)[0]!.volts).toBe(120);
    expect(supply.words).toMatch(/outlets/);
  });
});

describe('corners moved', () => {
  test('openings keep to their walls, sockets too, people stay on the floor', () => {
    const size = fc.double({ min: 1.6, max: 12, noNaN: true });
    fc.assert(
      fc.property(size, size, fc.constantFrom(...HOW), (w, d, how) => {
        const before = newShoot({ region: 'uk', how });
        const { shoot } = applyEdit(before, {
          edit: 'setOutline',
          args: { place: ROOM_ID, outline: rectangle(w, d), carry: true },
        });
        expect([...faults(shoot), ...looseEnds(shoot)]).toEqual([]);
        const p = shoot.places[ROOM_ID]!;
        for (const s of Object.values(p.supply.sockets))
          expect(nearestWall(p.outline, [s.at[0], s.at[1]]).offM).toBeLessThan(0.11);
        for (const m of Object.values(shoot.scenes[SCENE_ID]!.marks))
          expect(onFloor(p.outline, m.at)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test('the kitchen made an L keeps door and window in walls', () => {
    const open = openShoot(readFileSync(new URL('../../shoots/kitchen.json', import.meta.url), 'utf8'));
    if (!open.ok) throw new Error('the kitchen does not open');
    const { shoot } = applyEdit(open.shoot, {
      edit: 'setOutline',
      args: { place: 'kitchen', outline: L_SHAPE.map(([x, y]) => [x, y]) },
    });
    expect(faults(shoot)).toEqual([]);
    expect(looseEnds(shoot).filter((l) => /opening/.test(l))).toEqual([]);
    // Without `carry` nothing in it moves.
    expect(shoot.places.kitchen!.furniture).toEqual(open.shoot.places.kitchen!.furniture);
  });
});

describe('things', () => {
  test('every thing is one the stage can build, of a name of its own, found by its words first', () => {
    expect(new Set(THINGS.map((t) => t.id)).size).toBe(THINGS.length);
    for (const t of THINGS) {
      expect(Object.keys(BUILDERS), t.id).toContain(t.kind);
      expect(searchThings(t.words, 3), t.id).toContain(t);
      expect(furnitureOf(t, 1, 1).finish.guessed).toBe(true);
    }
  });
  test.each([
    ['couch', 'sofa'],
    ['closet', 'wardrobe'],
    ['bookcase', 'shelves'],
    ['telly', 'screen'],
    ['double bed', 'bed-double'],
    ['frige', 'fridge'],
    ['coffee', 'table-low'],
    ['sofa', 'sofa'],
  ])('typing “%s” finds it', (typed, id) => {
    expect(searchThings(typed)[0]?.id).toBe(id);
  });
});

test('seats look at what they belong to', () => {
  for (const count of [1, 2, 3] as const) {
    const { marks, furniture } = seating(rectangle(5, 4), count, 'table');
    for (const [id, m] of Object.entries(marks)) expect(furniture[`chair${id}`]!.turnDeg).toBe(m.facings[0]);
  }
});
