import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { openShoot } from '../shoot/file.ts';
import type { Mark } from '../shoot/schema.ts';
import { decodePeople } from '../stage/people/decode.ts';
import { geometryOf } from './geometry.ts';
import { personOn, personPart } from './people.ts';

const people = decodePeople(new Uint8Array(readFileSync('data/people/people.bin')));
const opened = openShoot(readFileSync('shoots/slack-water.json', 'utf8'));
if (!opened.ok) throw new Error(opened.message.join());
const { shoot } = opened;
const scene = Object.keys(shoot.scenes)[0]!;

/** Cosine between the way A's left eye looks and the way to a point. */
function eyesOn(change: Partial<Mark>, to: readonly [number, number, number]): number {
  const told = structuredClone(shoot);
  Object.assign(told.scenes[scene]!.marks.A!, change);
  const { face } = geometryOf(told, { scene, angle: 'CA' }, people, 'far').marks.find((m) => m.id === 'A')!;
  const { position, normal } = face!.eyeL;
  const d = [0, 1, 2].map((k) => to[k]! - position[k]!);
  const n = Math.hypot(...d);
  return d.reduce((s, v, k) => s + (v / n) * normal[k]!, 0);
}

test('the eyes rest on what they were told to look at; not on what lies behind the cheek', () => {
  const camera = shoot.scenes[scene]!.angles.CA!.at;
  const mark = shoot.scenes[scene]!.marks.A!;
  const way = (Math.atan2(camera[1] - mark.at[1], camera[0] - mark.at[0]) * 180) / Math.PI;
  // Faced 20° beside the lens: told to, the eyes go the rest of the way.
  const beside = { facings: [way + 20] };
  const told = eyesOn({ ...beside, looksAt: 'camera:CA' }, camera);
  expect(told).toBeGreaterThan(0.99);
  expect(eyesOn({ ...beside, looksAt: 'camera:W' }, camera)).toBeLessThan(told);
  // Behind the head nobody sees it: as if nothing had been told.
  const away = { facings: [way + 170] };
  expect(eyesOn({ ...away, looksAt: 'camera:CA' }, camera)).toBeCloseTo(eyesOn(away, camera), 9);
});

test('cloth: matt has no gloss, satin and leather have, wet cloth is darker and shines', () => {
  const mark: Mark = {
    name: 'A',
    person: 'man-34',
    at: [0, 0],
    eyeM: 1.67,
    posture: 'standing',
    facings: [0],
  };
  const top = (topCloth?: Mark['topCloth']) =>
    personOn(
      'A',
      { ...mark, ...(topCloth ? { topCloth } : {}) },
      0,
      undefined,
      'far',
      people,
    )!.body.materials.find((m) => m.name === 'top')!;
  const mean = (m: { reflectance: Float64Array }) =>
    m.reflectance.reduce((s, v) => s + v, 0) / m.reflectance.length;
  expect(top().gloss).toBeUndefined();
  expect(top('satin').gloss!.roughness).toBeLessThan(top('leather').gloss!.roughness);
  // Normal-incidence reflection of a dielectric of index 1.5 is 4 %; water's, 1.33, 2 %: ((n − 1)/(n + 1))².
  expect(Math.abs(top('leather').gloss!.f0 - (0.5 / 2.5) ** 2)).toBeLessThan(0.01);
  expect(Math.abs(top('wet').gloss!.f0 - (0.33 / 2.33) ** 2)).toBeLessThan(0.01);
  expect(mean(top('wet'))).toBeLessThan(0.7 * mean(top()));
});

test('a person built on one thread and copied to another is the same, its face’s grid included', () => {
  const asked = ['A', shoot.scenes[scene]!.marks.A!, 10, undefined, 'far', people] as const;
  const own = personOn(...asked)!;
  const part = personPart(...asked)!;
  part.take(structuredClone(part.make()) as never);
  const taken = personOn(...asked)!;
  expect(taken).not.toBe(own);
  expect(taken.body).toEqual(own.body);
  expect(taken.face).toEqual(own.face);
  expect(taken.faceGrid.there.some((t) => t > 0)).toBe(true);
  expect(taken.faceGrid).toEqual(own.faceGrid);
});
