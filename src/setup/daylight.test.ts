/** Daylight of a document: lights, levels, metering, hours; against the formulas by hand and the tracer itself. */
import { expect, test } from 'vitest';
import { skyLevelLx } from '../light/dayLevels.ts';
import { applyEdit, applyEdits } from '../shoot/edits.ts';
import { openShoot } from '../shoot/file.ts';
import { lightName, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { plainTracer } from '../transport/plain.ts';
import { probes } from '../transport/points.ts';
import { daylightOf } from './daylight.ts';
import { fallOfDay } from './fall.ts';
import { geometryOf } from './geometry.ts';
import { expectedLx } from './metered.ts';
import { skyNow } from './skyNow.ts';
import { weightsOf } from './weights.ts';

/** An empty room 4 × 4 × 2.6 m, one window 2 × 1 m in its south wall, in the north of England. */
const room = (day: object | undefined, over: object = {}): Shoot => {
  const grey = { reflectance: 0.5 };
  const opened = openShoot(
    JSON.stringify({
      format: 'rushlight-shoot',
      version: { major: 1, minor: 0 },
      title: 'Room',
      exposureConstant: 250,
      places: {
        room: {
          name: 'Room',
          latitudeDeg: 53.4,
          longitudeDeg: -2.2,
          utcOffsetH: 0,
          outline: [
            [0, 0],
            [4, 0],
            [4, 4],
            [0, 4],
          ],
          ceilingM: 2.6,
          floor: { reflectance: 0.2 },
          ceiling: { reflectance: 0.7 },
          walls: grey,
          openings: {
            win: {
              kind: 'window',
              words: 'south window',
              wall: 0,
              fromM: 1,
              toM: 3,
              sillM: 1,
              headM: 2,
              fill: 'glass',
            },
          },
          furniture: {},
          rigging: {},
          outside: { groundM: 0, ground: { reflectance: 0.1 } },
          supply: {
            region: 'uk',
            nominalV: 230,
            frequencyHz: 50,
            earthing: 'unknown',
            circuits: {},
            sockets: {},
          },
          ...over,
        },
      },
      scenes: {
        s: {
          name: 'S',
          place: 'room',
          ...(day ? { day } : {}),
          camera: {
            class: 'modern',
            ei: 800,
            fps: 25,
            shutter: { kind: 'time', seconds: 0.02 },
            stop: 4,
            whiteBalance: { kind: 'kelvin', kelvin: 5600 },
          },
          marks: {
            A: { name: 'A', at: [2, 2], eyeM: 1.2, posture: 'seated', facings: [270] },
          },
          spots: {},
          angles: {
            W: {
              name: 'W',
              at: [0.5, 3.5, 1.5],
              lookAt: [2, 1, 1],
              focalMm: 25,
              sensorMm: [24.9, 14],
              cheats: {},
              wishes: [],
              meant: [],
            },
          },
          rig: { lamps: {}, flags: {}, multiways: {} },
        },
      },
      kit: { lamps: {}, supports: {}, sheets: {}, flags: {}, leads: {}, multiways: {} },
    }),
  );
  if (!opened.ok) throw new Error(opened.message.join('\n'));
  return opened.shoot;
};
const ref = { scene: 's', angle: 'W' };
const day = { date: '2026-11-27', hour: 12, weather: 'overcast' };

/** Lux at the eyes of A toward the window, by paths: direct and bounced, with the weights of the moment. */
async function traced(shoot: Shoot): Promise<number> {
  const tracer = plainTracer();
  const angle = geometryOf(shoot, ref, undefined);
  const { weights } = weightsOf(shoot, ref);
  await tracer.load(angle.transport);
  const found = await tracer.trace(probes([{ position: [2, 2, 1.2], normal: [0, -1, 0] }]), {
    seed: 4,
    paths: 16384,
  });
  return found.layers.reduce((sum, l, i) => {
    const w = weights.layers[i]!;
    let lux = w.white[1] * l.direct.diffuse[0]!;
    for (let k = 0; k < 12; k++) lux += w.matrix[12 + k]! * l.bounced[k]!;
    return sum + lux;
  }, 0);
}

test('by night there is no daylight; by day sky and ground through each opening, the sun where it is up and clear', () => {
  expect(daylightOf(rigFor(room(undefined), ref))).toEqual([]);
  const ids = (d: object) => daylightOf(rigFor(room(d), ref)).map((l) => l.id);
  expect(ids(day)).toEqual(['sky:win', 'day:sky', 'ground:win', 'day:ground']);
  expect(ids({ ...day, weather: 'clear' })).toEqual([
    'day:sun',
    'sky:win',
    'day:sky',
    'ground:win',
    'day:ground',
  ]);
  expect(ids({ ...day, hour: 17, weather: 'clear' })).not.toContain('day:sun');
  expect(lightName(rigFor(room(day), ref), 'sky:win')).toBe('sky, south window');
  // A full moon on a clear winter night (24 December 2026), none under cloud.
  expect(ids({ date: '2026-12-24', hour: 1.5, weather: 'clear' })).toContain('day:moon');
  expect(ids({ date: '2026-12-24', hour: 1.5, weather: 'overcast' })).not.toContain('day:moon');
  // No opening, no ground told: nothing.
  const shut = applyEdit(room(day), { edit: 'setOpening', args: { place: 'room', id: 'win' } }).shoot;
  expect(daylightOf(rigFor(shut, ref)).map((l) => l.id)).toEqual(['day:sky', 'day:ground']);
});

test('sunshine comes from where the sun stands: at noon in winter from the south, low', () => {
  const sun = daylightOf(rigFor(room({ ...day, weather: 'clear' }), ref)).find((l) => l.id === 'day:sun')!;
  // 15.4° up, 180° round: it travels north and down.
  expect(sun.axis[1]).toBeGreaterThan(0.95);
  expect(sun.axis[2]).toBeCloseTo(-Math.sin((15.4 * Math.PI) / 180), 2);
  // With the plan turned so that +y is south it comes from +y.
  const turned = daylightOf(rigFor(room({ ...day, weather: 'clear' }, { northDeg: 180 }), ref));
  expect(turned.find((l) => l.id === 'day:sun')!.axis[1]).toBeLessThan(-0.95);
});

test('under an overcast sky another hour moves no light, only its weight; the sun’s hour moves the sun', () => {
  const of = (d: object) => daylightOf(rigFor(room(d), ref));
  const shape = (d: object) => JSON.stringify(of(d).map((l) => [l.id, l.emitters]));
  expect(shape({ ...day, hour: 10 })).toBe(shape({ ...day, hour: 15 }));
  expect(of({ ...day, hour: 15 })[0]!.factor / of(day)[0]!.factor).toBeCloseTo(
    skyLevelLx('overcast', skyNow({ ...day, hour: 15 } as never, room(day).places.room!).sun.elevationDeg) /
      skyLevelLx('overcast', skyNow(day as never, room(day).places.room!).sun.elevationDeg),
    9,
  );
  expect(shape({ ...day, weather: 'clear', hour: 10 })).not.toBe(
    shape({ ...day, weather: 'clear', hour: 15 }),
  );
});

test('traced light at a face is what the formulas expect: straight through the pane and the mean of all bounces', async () => {
  const shoot = room(day);
  const place = shoot.places.room!;
  const lux = await traced(shoot);
  const expected = expectedLx(place, skyNow(shoot.scenes.s!.day!, place), [2, 2, 1.2]);
  // The mean of bounces is not the bounce at a point, and frame and reveals take a little: a third of a stop.
  expect(Math.abs(Math.log2(lux / expected))).toBeLessThan(0.34);
}, 60_000);

test('a metered day is held to its meter, at its hour and between hours', async () => {
  const metered = applyEdits(room(day), [
    { edit: 'readDay', args: { scene: 's', reading: { hour: 11, lux: 900, at: 'A' } } },
    { edit: 'readDay', args: { scene: 's', reading: { hour: 13.5, lux: 700, at: 'A' } } },
    { edit: 'readDay', args: { scene: 's', reading: { hour: 15.5, lux: 120, at: 'A' } } },
    { edit: 'setHour', args: { scene: 's', hour: 11 } },
  ]).shoot;
  expect(Math.abs(Math.log2((await traced(metered)) / 900))).toBeLessThan(0.34);
  const at = (hour: number) =>
    daylightOf(rigFor(applyEdit(metered, { edit: 'setHour', args: { scene: 's', hour } }).shoot, ref))[0]!
      .factor;
  expect(at(15.5) / at(11)).toBeCloseTo(120 / 900, 6);
  expect(at(13.5) / at(11)).toBeCloseTo(700 / 900, 6);
  // Falls all the afternoon.
  for (let h = 13.5; h < 15.5; h += 0.25) expect(at(h + 0.25)).toBeLessThan(at(h));
}, 60_000);

test('a level told for open ground takes the place of the formula’s', () => {
  const shoot = room({ ...day, levelLx: 8000 });
  const now = skyNow(shoot.scenes.s!.day!, shoot.places.room!);
  expect(now.levelLx).toBeCloseTo(8000, 6);
  expect(skyNow(shoot.scenes.s!.day!, shoot.places.room!, 14).levelLx).toBeLessThan(8000);
});

test('a window of a stated level is an even pane: its lux where it was metered, without any sky', async () => {
  const lit = room(undefined);
  const win = { ...lit.places.room!.openings.win!, light: { lux: 400, atM: 2, cctK: 5600 } };
  const shoot = applyEdit(lit, {
    edit: 'setOpening',
    args: { place: 'room', id: 'win', opening: win },
  }).shoot;
  const lights = daylightOf(rigFor(shoot, ref));
  expect(lights.map((l) => l.id)).toEqual(['window:win']);
  const tracer = plainTracer();
  const angle = geometryOf(shoot, ref, undefined);
  await tracer.load(angle.transport);
  const { weights } = weightsOf(shoot, ref);
  // 2 m in front of the pane, which stands 0.1 m behind the wall's face.
  const e = await tracer.direct(probes([{ position: [2, 1.9, 1.5], normal: [0, -1, 0] }]), 0, {
    seed: 2,
    samples: 4096,
  });
  expect(Math.abs((weights.layers[0]!.white[1] * e.diffuse[0]!) / 400 - 1)).toBeLessThan(0.02);
});

test('neutral sheets on the glass take what their density says, once', async () => {
  const bare = await traced(room(day));
  const sheet = await traced(
    applyEdit(room(day), { edit: 'setPanes', args: { place: 'room', opening: 'win', panes: ['nd-6'] } })
      .shoot,
  );
  expect(Math.abs(Math.log2(bare / sheet) - 0.6 * Math.log2(10))).toBeLessThan(0.05);
}, 60_000);

test('day for night: two stops down and balanced blue, in that angle alone', () => {
  const night = applyEdit(room(day), { edit: 'dayForNight', args: { scene: 's', angle: 'W' } }).shoot;
  const { camera } = rigFor(night, ref);
  expect(camera.stop).toBeCloseTo(8, 6);
  expect(camera.whiteBalance).toEqual({ kind: 'kelvin', kelvin: 3600 });
  expect(night.scenes.s!.camera.stop).toBe(4);
});

test('a meter read before neutral was laid says what came through clear glass; read through it, what came through it', () => {
  const read = { hour: 11, lux: 500, at: 'A' };
  const lay = { edit: 'setPanes', args: { place: 'room', opening: 'win', panes: ['nd-6'] } };
  const meter = { edit: 'readDay', args: { scene: 's', reading: read } };
  const eyes = (s: Shoot): [number, number, number] => {
    const m = s.scenes.s!.marks.A!;
    return [m.at[0], m.at[1], m.eyeM];
  };
  const at = (s: Shoot) =>
    fallOfDay(s.scenes.s!, s.places.room!, { ...s.scenes.s!.day!, hour: 11 }, [11], eyes(s))[0]!.atLx!;
  const before = applyEdits(room(day), [meter]).shoot;
  expect(at(before)).toBeCloseTo(500, 3);
  // All light comes by this window: a density takes its own share of all of it.
  expect(at(applyEdit(before, lay).shoot) / 500).toBeCloseTo(10 ** -0.6, 6);
  const through = applyEdits(room(day), [lay, meter]).shoot;
  expect(through.scenes.s!.day!.readings![0]!.panes).toEqual({ win: ['nd-6'] });
  expect(at(through)).toBeCloseTo(500, 3);
});
