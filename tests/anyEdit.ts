/** Every edit there is with arguments that often fit and sometimes do not; and a shoot on which each has something to do. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { applyEdits, type EDITS, type Edit } from '../src/shoot/edits.ts';
import { openShoot } from '../src/shoot/file.ts';
import type { Shoot } from '../src/shoot/schema.ts';

export const open = (name: string) => {
  const o = openShoot(readFileSync(join(import.meta.dirname, `../shoots/${name}.json`), 'utf8'));
  if (!o.ok) throw new Error(o.message.join('\n'));
  return o.shoot;
};
/** The kitchen, with a sketch under its plan. */
export const shoot: Shoot = {
  ...open('kitchen'),
  under: { kitchen: { picture: 'data:image/png;base64,AAAA', px: [400, 300], at: [2, 1], widthM: 6 } },
};
export const rent = shoot.scenes.rent!;
export const kitchen = shoot.places.kitchen!;

/* One generator for every edit there is: arguments that often fit and sometimes do not. */
const metres = fc.double({ min: -5, max: 5, noNaN: true });
const vec = fc.tuple(metres, metres, metres);
const share = fc.double({ min: 0, max: 1, noNaN: true });
const scene = fc.constant('rent');
const place = fc.constant('kitchen');
const lamp = fc.constantFrom('L1', 'L2', 'L3', 'P1', 'N1');
const angle = fc.constantFrom('W1', 'OA', 'OB', 'IN', 'SK', 'N1');
const maybe = <T>(a: fc.Arbitrary<T>) => fc.option(a, { nil: undefined });
const inAngle = maybe(angle);
const mark = fc.constantFrom('A', 'B', 'C', 'N1');
const circuit = fc.constantFrom('ring', 'cooker', 'N1');
const socket = fc.constantFrom('K1', 'K2', 'N1');
const deg = fc.integer({ min: -180, max: 180 });
const name = fc.string({ minLength: 1, maxLength: 12 });
const newId = fc.constantFrom('N1', 'N2', 'A', 'L1', 'OA');
const sheets = fc.array(fc.constantFrom('half-cto', 'half-white'), { maxLength: 3 });
const scrims = fc.array(fc.constantFrom('half', 'full'), { maxLength: 2 });
const support = fc.constantFrom<unknown>({ kind: 'stand', footM: 0.4 }, { kind: 'clamp', on: 'cupboardE' });
const leads = fc.constantFrom<unknown>([], [{ kit: 'lead10' }], [{ kit: 'none' }]);
const finish = fc.record({ reflectance: share });
const one = <T>(group: Record<string, T>) => fc.constantFrom(...Object.values(group));
const wish = fc.record({
  mark,
  reading: fc.constantFrom('ratioStops', 'overStops'),
  target: fc.double({ min: -5, max: 5, noNaN: true }),
});
const camera = fc.constantFrom<unknown>(
  { stop: 4 },
  { ei: 800 },
  { class: 'old-sd', stop: 2.8 },
  { whiteBalance: { kind: 'read', at: 'A', lamps: ['L1', 'L2'] } },
);
const changes = fc.constantFrom<unknown>({ on: false }, { level: 0.5, aim: [1, 1, 1] }, { head: 'panel60' });
const meant = { scene, angle, kind: fc.constantFrom('flare', 'clipped'), lamp: maybe(lamp) };
const look = {
  words: 'sister',
  scene: 'rent',
  angle: 'OA',
  mark: 'A',
  azimuthDeg: 35,
  elevationDeg: 25,
  side: 'left',
  sourceDeg: 2,
  overStops: 0,
};
export const ARGS: Record<keyof typeof EDITS, Record<string, fc.Arbitrary<unknown>>> = {
  moveLamp: { scene, angle: inAngle, lamp, to: vec },
  raiseLamp: { scene, angle: inAngle, lamp, heightM: metres },
  aimLamp: { scene, angle: inAngle, lamp, at: maybe(vec), mark: maybe(mark) },
  focusLamp: { scene, angle: inAngle, lamp, focus: share },
  setLevel: { scene, angle: inAngle, lamp, level: share },
  switchLamp: { scene, angle: inAngle, lamp, on: fc.boolean() },
  setSheets: { scene, angle: inAngle, lamp, sheets },
  setScrims: { scene, angle: inAngle, lamp, scrims },
  setDoors: {
    scene,
    angle: maybe(angle),
    lamp,
    doors: maybe(fc.constant({ top: 30, bottom: 40, left: 60, right: 60 })),
  },
  rollLamp: { scene, lamp, rollDeg: deg },
  setSupport: { scene, angle: inAngle, lamp, support },
  setLamp: { scene, lamp, head: maybe(fc.constantFrom('panel60', 'none')), number: maybe(fc.constant('7')) },
  addLamp: { scene, id: newId, lamp: one(rent.rig.lamps) },
  removeLamp: { scene, lamp },
  cheatLamp: { scene, angle, lamp, changes },
  endCheat: { scene, angle, lamp },
  makeCheatTheRig: { scene, angle, lamp },
  cheatElsewhere: { scene, angle, lamp, to: fc.array(angle, { minLength: 1, maxLength: 3 }) },
  addFlag: {
    scene,
    id: newId,
    flag: fc.record({
      at: vec,
      facing: vec,
      sizeM: fc.constant([0.3, 0.3]),
      kind: fc.constant('flag'),
      angles: fc.array(angle, { maxLength: 2 }),
    }),
  },
  moveFlag: { scene, flag: newId, to: vec, facing: maybe(vec) },
  setFlag: { scene, flag: newId, changes: fc.record({ angles: fc.array(angle, { maxLength: 2 }) }) },
  removeFlag: { scene, flag: newId },
  setFeed: {
    scene,
    lamp,
    feed: maybe(fc.record({ socket, via: maybe(fc.constantFrom('M1', 'M9')), leads })),
  },
  setLead: { scene, lamp, index: fc.nat(1), coiled: fc.boolean() },
  setMultiway: {
    scene,
    id: fc.constantFrom('M1', 'N1'),
    multiway: maybe(fc.record({ socket, leads })),
  },
  readHead: {
    head: fc.constantFrom('fresnel300', 'none'),
    reading: maybe(fc.constant({ kind: 'lux', lux: 133, distanceM: 2.74 })),
  },
  keepReading: {
    id: newId,
    reading: fc.record({
      scene,
      angle,
      mark,
      lamps: fc.constant(['L1']),
      how: fc.constantFrom('lux', 'stop'),
      value: fc.constantFrom(80, -1),
      expected: fc.constantFrom(
        [],
        [{ lamp: 'L1', head: 'fresnel300', place: 'place:L1', directLx: 90, bouncedLx: 4 }],
      ),
    }),
  },
  setReadingAside: { id: newId, aside: fc.boolean() },
  dropReading: { id: newId },
  keepLook: { id: newId, look: fc.constantFrom(look, { ...look, azimuthDeg: 200 }) },
  dropLook: { id: newId },
  moveMark: { scene, mark, to: fc.tuple(metres, metres) },
  turnMark: { scene, angle: inAngle, mark, byDeg: deg },
  setFacing: { scene, angle: inAngle, mark, deg },
  lookAt: {
    scene,
    angle: inAngle,
    mark,
    at: fc.constantFrom('mark:B', 'mark:A', 'camera:OA', 'thing:table', 'mark:Q'),
  },
  setMark: { scene, mark, changes: fc.record({ eyeM: fc.double({ min: 0.5, max: 2, noNaN: true }) }) },
  addMark: { scene, id: newId, mark: one(rent.marks) },
  removeMark: { scene, mark },
  setSpot: { scene, id: fc.constantFrom('table', 'wallA', 'N1'), spot: maybe(one(rent.spots)) },
  moveCamera: { scene, angle, to: vec },
  aimCamera: { scene, angle, at: vec },
  setLens: { scene, angle, focalMm: fc.constantFrom(18, 35, -5) },
  setCamera: { scene, angle: inAngle, camera },
  addAngle: { scene, id: newId, angle: one(rent.angles) },
  removeAngle: { scene, angle },
  setWish: { scene, angle, wish },
  endWish: { scene, angle, mark, reading: fc.constant('ratioStops') },
  setWishes: { scene, angle, wishes: fc.array(wish, { maxLength: 3 }) },
  setCut: {
    scene,
    changes: fc.constantFrom<unknown>({ stops: 0.5 }, { mired: 30, hours: 2 }, { stops: 99 }),
  },
  setCutFrom: { scene, angle, wide: maybe(angle) },
  markMeant: { ...meant, word: maybe(name) },
  unmeant: meant,
  setWhere: {
    place,
    latitudeDeg: maybe(fc.constantFrom(53.4, 95)),
    longitudeDeg: maybe(fc.constant(-2.2)),
    northDeg: maybe(deg),
  },
  setDay: {
    scene,
    day: maybe(
      fc.record({
        date: fc.constantFrom('2026-11-27', '2026-02-30'),
        hour: fc.constantFrom(11, 25),
        weather: fc.constantFrom('clear', 'overcast'),
      }),
    ),
  },
  setAir: {
    scene,
    air: maybe(
      fc.constantFrom<unknown>(
        { haze: { extinctionPerM: 0.02 } },
        { falls: { kind: 'rain', mmPerH: 20 }, haze: { extinctionPerM: 0.1, kind: 'fog' } },
        { haze: { extinctionPerM: -1 } },
      ),
    ),
  },
  layUnder: {
    place,
    under: maybe(
      fc.constantFrom<unknown>(
        { picture: 'data:image/png;base64,AAAA', px: [400, 300], at: [2, 1.5], widthM: 5 },
        { picture: 'https://example.org/plan.png', px: [400, 300], at: [2, 1.5], widthM: 5 },
        { picture: 'data:image/svg+xml;base64,AAAA', px: [400, 300], at: [2, 1.5], widthM: 5 },
      ),
    ),
  },
  changeUnder: {
    place,
    changes: fc.constantFrom({ at: [1, 2] }, { turnDeg: 12 }, { hidden: true }, { seen: 3 }),
  },
  scaleUnder: {
    place,
    from: fc.constantFrom([0, 0], [1, 1]),
    to: fc.constantFrom([1, 1], [4, 0.5]),
    lengthM: fc.constantFrom(3.85, 0, 900),
  },
  setHour: { scene, angle: inAngle, hour: fc.constantFrom(9.5, 12, 15.25) },
  setWeather: { scene, weather: fc.constantFrom('partly', 'fog'), skyType: maybe(fc.nat(18)) },
  readDay: { scene, reading: fc.record({ hour: fc.constantFrom(11, 12), lux: fc.constant(900), at: mark }) },
  dayForNight: { scene, angle, underStops: maybe(fc.constant(2)), kelvin: maybe(fc.constant(3600)) },
  setRoom: {
    place,
    widthM: fc.constantFrom(4.2, 1, 6),
    depthM: fc.constantFrom(3.4, 5),
    heightM: maybe(fc.constant(2.5)),
  },
  setFinish: {
    place,
    surface: fc.constantFrom('walls', 'floor', 'ceiling'),
    wall: maybe(fc.nat(5)),
    room: maybe(fc.constant('hall')),
    finish,
  },
  setOtherRoom: {
    place,
    id: fc.constantFrom('hall', 'N1'),
    room: maybe(
      fc.record({
        name,
        outline: fc.constantFrom<unknown>(
          [
            [-3, 0],
            [-0.1, 0],
            [-0.1, 3],
            [-3, 3],
          ],
          // Over the kitchen's own floor: refused.
          [
            [1, 1],
            [2, 1],
            [2, 2],
          ],
        ),
        floor: finish,
        walls: finish,
        ceilingM: maybe(fc.constant(2.6)),
      }),
    ),
  },
  setOpening: { place, id: fc.constantFrom('door', 'N1'), opening: maybe(one(kitchen.openings)) },
  setPanes: {
    place,
    opening: fc.constantFrom('window', 'N1'),
    panes: fc.array(fc.constantFrom('nd-3', 'nd-6'), { maxLength: 2 }),
  },
  setFurniture: { place, id: fc.constantFrom('table', 'N1'), furniture: maybe(one(kitchen.furniture)) },
  moveFurniture: { place, id: fc.constantFrom('table', 'N1'), to: vec, turnDeg: maybe(deg) },
  setRigging: { place, id: fc.constantFrom('cupboardE', 'N1'), rigging: maybe(one(kitchen.rigging)) },
  setHouseLoad: { place, circuit, load: fc.constantFrom('kettle', 'fridge'), on: fc.boolean() },
  tellHouseLoad: {
    place,
    circuit,
    id: fc.constantFrom('kettle', 'heater'),
    load: maybe(fc.record({ words: name, watts: fc.nat(3000), on: fc.boolean(), socket: maybe(socket) })),
  },
  setCircuit: {
    place,
    circuit,
    changes: fc.constantFrom<unknown>({ ratingA: 32 }, { rcdMa: 30 }, { ratingA: 0 }),
  },
  addCircuit: { place, id: newId, circuit: one(kitchen.supply.circuits) },
  setSocket: { place, id: socket, socket: maybe(one(kitchen.supply.sockets)) },
  setSocketDead: { place, socket, dead: fc.boolean() },
  setHead: { id: fc.constantFrom('panel60', 'N1'), head: maybe(one(shoot.kit.lamps)) },
  setKit: {
    part: fc.constantFrom('leads', 'flags', 'supports'),
    id: fc.constantFrom('lead10', 'small', 'N1'),
    thing: maybe(one(shoot.kit.leads)),
  },
  setPlace: { id: fc.constantFrom('kitchen', 'N1'), place: maybe(fc.constant(kitchen)) },
  setScene: { id: fc.constantFrom('rent', 'N1'), scene: maybe(fc.constant(rent)) },
  setExposureConstant: { constant: fc.integer({ min: 90, max: 610 }) },
  setUnits: { units: fc.constantFrom('metric', 'imperial'), light: maybe(fc.constant('footcandle')) },
  countEdition: {},
  setCrewNote: { crewNote: name },
  rename: { title: name },
  nameThing: { scene: maybe(scene), angle: maybe(angle), mark: maybe(mark), name },
  setOutline: {
    place,
    outline: fc.constantFrom(
      [
        [0, 0],
        [5, 0],
        [5, 4],
        [0, 4],
      ],
      [
        [0, 0],
        [5, 0],
        [5, 2],
        [3, 2],
        [3, 4],
        [0, 4],
      ],
      [
        [0, 0],
        [1, 1],
        [1, 0],
        [0, 1],
      ],
    ),
    ceilingM: maybe(fc.constantFrom(1.9, 2.7)),
    carry: maybe(fc.boolean()),
  },
  moveOpening: {
    place,
    id: fc.constantFrom('door', 'window', 'N1'),
    wall: maybe(fc.nat(4)),
    fromM: metres,
  },
  moveSocket: { place, socket, to: fc.tuple(metres, metres) },
  setRegion: { place, region: fc.constantFrom('uk', 'na', 'jp') },
  own: {
    kind: fc.constantFrom('led-panel-60', 'fresnel-650', 'stand', 'nd-0.6', 'none'),
    count: fc.nat(3),
    volts: maybe(fc.constant(120)),
    guessed: maybe(fc.boolean()),
  },
};
export const edit: fc.Arbitrary<Edit> = fc.oneof(
  ...Object.entries(ARGS).map(([edit, args]) => fc.record(args).map((a) => ({ edit, args: a }))),
);
/** The kitchen with cheats, a flag and two readings, so that every edit has something to work on. */
export const busy = applyEdits(shoot, [
  ...['W1', 'OA', 'OB'].flatMap((angle) =>
    ['L1', 'L2', 'P1'].map((lamp) => ({
      edit: 'setLevel',
      args: { scene: 'rent', angle, lamp, level: 0.4 },
    })),
  ),
  {
    edit: 'setDay',
    args: { scene: 'rent', day: { date: '2026-11-27', hour: 11, weather: 'overcast' } },
  },
  {
    edit: 'addFlag',
    args: {
      scene: 'rent',
      id: 'N1',
      flag: { at: [1.6, 1.5, 1.5], facing: [1, 0, 0], sizeM: [0.1, 0.1], kind: 'flag', angles: ['OB', 'OA'] },
    },
  },
  ...['A', 'L1'].map((id) => ({ edit: 'keepLook', args: { id, look } })),
  ...['A', 'L1'].map((reading) => ({
    edit: 'keepReading',
    args: {
      id: reading,
      reading: {
        scene: 'rent',
        angle: 'OA',
        mark: 'B',
        lamps: ['L2'],
        how: 'footcandle',
        value: 9,
        expected: [{ lamp: 'L2', head: 'panel60', place: 'place:L2', directLx: 80, bouncedLx: 9 }],
      },
    },
  })),
]).shoot;
