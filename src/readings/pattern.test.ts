/**
 * Patterns by their shadows, on all our heads, against the table of the reference head [CHECKS-CAMERA §4.3], whose
 * angles are good to about ten degrees: a name counts if it comes within ten degrees of its row.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { headLight, type Light } from '../checks/peopleLight.ts';
import { buildPerson, decodePeople } from '../stage/people/person.ts';
import { edgeOnCheekMm, type Pattern } from './pattern.ts';

const data = decodePeople(
  new Uint8Array(readFileSync(new URL('../../data/people/people.bin', import.meta.url))),
);

/** Azimuth, elevation, class by shadows. */
const TABLE: readonly (readonly [number, number, Pattern])[] = [
  [0, 0, 'butterfly'],
  [0, 30, 'butterfly'],
  [0, 45, 'butterfly'],
  [0, 60, 'top'],
  [0, 75, 'top'],
  [15, 30, 'loop'],
  [30, 30, 'loop'],
  [40, 30, 'loop'],
  [30, 45, 'loop'],
  [45, 45, 'loop'],
  [50, 0, 'Rembrandt'],
  [55, 15, 'Rembrandt'],
  [60, 30, 'Rembrandt'],
  [70, 30, 'Rembrandt'],
  [70, 45, 'Rembrandt'],
  [80, 0, 'split'],
  [90, 0, 'split'],
  [90, 30, 'split'],
  [110, 30, 'kicker'],
  [135, 30, 'kicker'],
  [0, -30, 'under'],
  [45, -30, 'under'],
];

/** A bare head and a small hard source 2 m off. */
const head = (person: string): Light =>
  headLight(
    buildPerson(data, {
      person,
      posture: 'standing',
      at: [0, 0, 0],
      facingDeg: 90,
      eyeHeightM: 1.6,
      detail: 'near',
    }),
    1.6,
  );

const heads = new Map(data.people.map((p) => [p.id, head(p.id)]));

test('every row of the table, on every head, within ten degrees of its place', () => {
  const missed: string[] = [];
  for (const [id, light] of heads)
    for (const [az, el, name] of TABLE) {
      const near = [
        [az, el],
        [az - 10, el],
        [az + 10, el],
        [az, el + 10],
        [az, el - 10],
      ] as const;
      if (!near.some(([a, e]) => light(Math.abs(a), e).pattern === name))
        missed.push(`${id} ${az}/${el}: ${name}, not ${light(az, el).pattern}`);
    }
  expect(missed).toEqual([]);
}, 120_000);

test('shares at the ends of the table: in front both eyes and cheeks, at the side half a face, from behind nothing', () => {
  // Rows 0/30, 90/0 and 135/30; tolerance of the table: shares ±.15.
  for (const [id, light] of heads) {
    const front = light(0, 30);
    for (const share of [front.nearCheek, front.farCheek]) expect(share, id).toBeGreaterThan(0.85);
    expect(light(90, 0).farHalf, id).toBeLessThan(0.15);
    expect(light(135, 30).nearCheek, id).toBeLessThan(0.15);
  }
}, 60_000);

test('a key from the right does to the right what one from the left does to the left', () => {
  // Faces are uneven by a millimetre or two, no more: shares within .25, the same name but at borders.
  const light = heads.get('man-34')!;
  for (const [az, el] of [
    [30, 30],
    [55, 15],
    [90, 0],
  ] as const) {
    const [l, r] = [light(az, el, true), light(az, el, false)];
    expect(r.pattern).toBe(l.pattern);
    expect(Math.abs(l.farHalf - r.farHalf)).toBeLessThan(0.25);
  }
});

test('soft edge of the nose’s shadow: p = S·b/a [CHECKS-CAMERA §4.5]', () => {
  // A 0.60 m source 2 m off, b 35 mm: by hand 0.6 × 35 / 1.965 = 10.7 mm.
  expect(edgeOnCheekMm(0.6, 2)).toBeCloseTo(10.69, 1);
  expect(edgeOnCheekMm(0.01, 3)).toBeLessThan(0.2);
});
