import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { decodePeople } from '../stage/people/decode.ts';
import { buildPerson } from '../stage/people/person.ts';
import { applyEdit } from './edits.ts';
import { openShoot } from './file.ts';
import { looksOf } from './looks.ts';
import {
  CLOTHS,
  FIGURES,
  figureOf,
  HAIRS,
  hueWords,
  inPosture,
  type Posture,
  readHue,
  seatUnder,
} from './persons.ts';
import type { Mark, Place } from './schema.ts';
import { furnitureOf, roomThing } from './things.ts';

const data = decodePeople(new Uint8Array(readFileSync('data/people/people.bin')));

describe('the figures one can choose', () => {
  test('are those of the bake, with its own colours', () => {
    expect(FIGURES.map((f) => f.id).sort()).toEqual(data.people.map((p) => p.id).sort());
    for (const p of data.people) {
      const f = figureOf(p.id)!;
      expect([f.words, f.complexion, f.hair, f.top, f.bottom]).toEqual([
        p.words,
        p.complexion,
        p.hairColour,
        p.wardrobe.top,
        p.wardrobe.bottom,
      ]);
    }
  });

  test.each(FIGURES.map((f) => f.id))(
    '%s built at its listed heights is neither dwarf nor giant',
    (person) => {
      const f = figureOf(person)!;
      for (const posture of Object.keys(f.eyesM) as Posture[]) {
        const m = buildPerson(data, {
          person,
          posture,
          at: [0, 0, 0],
          facingDeg: 0,
          eyeHeightM: f.eyesM[posture],
          detail: 'far',
          ...(posture === 'seated' ? { seatHeightM: 0.45 } : {}),
        });
        // Lying has its own size and its own height; a head on a pillow of a bed is not asked here.
        expect(m.sizeRatio, posture).toBeGreaterThan(0.985);
        expect(m.sizeRatio, posture).toBeLessThan(1.015);
        expect(Math.abs(m.eyesM - f.eyesM[posture]), posture).toBeLessThan(0.03);
      }
    },
  );
});

const bare: Mark = { name: 'A', person: 'man-34', at: [1, 1], eyeM: 1.67, posture: 'standing', facings: [0] };
const room = (furniture: Place['furniture'] = {}) => ({ furniture }) as Place;

test('who sits takes the seat that is there; who lies goes down to the bed or to the floor', () => {
  const stool = furnitureOf(roomThing('stool')!, 1, 1);
  const bed = furnitureOf(roomThing('bed-single')!, 1, 1);
  expect(seatUnder(room(), [1, 1])).toBeUndefined();
  expect(inPosture(room({ s: stool }), bare, 'seated')).toEqual({
    posture: 'seated',
    seatM: 0.46,
    eyeM: +(1.22 + 0.01).toFixed(2),
  });
  expect(inPosture(room(), bare, 'lying')).toMatchObject({ seatM: 0, eyeM: 0.24 });
  const onBed = inPosture(room({ b: bed }), bare, 'lying');
  expect(onBed.seatM).toBeGreaterThan(0.3);
  expect(onBed.eyeM).toBeCloseTo(0.24 + onBed.seatM!, 2);
  // On a landing everything goes up with it.
  expect(inPosture(room(), { ...bare, baseM: 1.2 }, 'standing').eyeM).toBeCloseTo(2.87, 5);
});

test('a colour is said and read by its word; other figures are kept as they are', () => {
  for (const list of [HAIRS, CLOTHS])
    for (const h of list) {
      expect(readHue(list, h.words)).toEqual({ hex: h.hex });
      expect(hueWords(list, h.hex)).toBe(h.words);
    }
  expect(readHue(HAIRS, '#3A2a1e')).toEqual({ hex: '#3a2a1e' });
  expect(typeof readHue(HAIRS, 'glorp')).toBe('string');
  expect(hueWords(CLOTHS, '#00ff00')).toBe('#00ff00');
});

test('a mark looks at another, at a camera, at a thing; in one angle only its head turns', () => {
  const opened = openShoot(readFileSync('shoots/kitchen.json', 'utf8'));
  if (!opened.ok) throw new Error(opened.message.join());
  const { shoot } = opened;
  const [scene, sc] = Object.entries(shoot.scenes)[0]!;
  const [a, b] = Object.keys(sc.marks) as [string, string];
  const list = looksOf(sc, shoot.places[sc.place]!, a);
  expect(list.map((l) => l.at)).toContain(`mark:${b}`);
  for (const { at } of list) {
    const after = applyEdit(shoot, { edit: 'lookAt', args: { scene, mark: a, at } }).shoot.scenes[scene]!
      .marks[a]!;
    expect(after.looksAt).toBe(at);
  }
  // By hand: the way from A to B is the arc tangent of the steps north over the steps east.
  const [p, q] = [sc.marks[a]!.at, sc.marks[b]!.at];
  const turned = applyEdit(shoot, { edit: 'lookAt', args: { scene, mark: a, at: `mark:${b}` } }).shoot;
  const way = (Math.atan2(q[1] - p[1], q[0] - p[0]) * 180) / Math.PI;
  expect(turned.scenes[scene]!.marks[a]!.facings[0]).toBeCloseTo(way, 1);
  const angle = Object.keys(sc.angles)[0]!;
  const alone = applyEdit(shoot, {
    edit: 'lookAt',
    args: { scene, angle, mark: a, at: `camera:${angle}` },
  }).shoot;
  expect(alone.scenes[scene]!.marks[a]!.looksAt).toBeUndefined();
  expect(() => applyEdit(shoot, { edit: 'lookAt', args: { scene, mark: a, at: 'mark:Q' } })).toThrow(
    /nothing called/,
  );
});

test('a cut told as their own again is no cut; what a mark cannot be without stays', () => {
  const opened = openShoot(readFileSync('shoots/kitchen.json', 'utf8'));
  if (!opened.ok) throw new Error();
  const [scene, sc] = Object.entries(opened.shoot.scenes)[0]!;
  const mark = Object.keys(sc.marks)[0]!;
  const set = (s: typeof opened.shoot, changes: object) =>
    applyEdit(s, { edit: 'setMark', args: { scene, mark, changes } }).shoot;
  const bald = set(opened.shoot, { cut: 'bald' });
  const back = set(bald, { cut: undefined, posture: undefined });
  expect('cut' in back.scenes[scene]!.marks[mark]!).toBe(false);
  expect(back.scenes[scene]!.marks[mark]!.posture).toBe(sc.marks[mark]!.posture);
});
