/** A picture under the plan: its scale by one known length, its place in the file; what a picture's first bytes say. */
import { expect, test } from 'vitest';
import { writePng } from '../cli/png.ts';
import { applyEdit, applyEdits, patched } from './edits.ts';
import { openShoot, saveShoot } from './file.ts';
import { newShoot } from './newShoot.ts';
import { pictureHead } from './pictureHead.ts';
import { cornersOf, heightM, MOST_LETTERS, scaledBy, type Underlay } from './underlay.ts';

const shoot = newShoot({ region: 'eu' });
const place = Object.keys(shoot.places)[0]!;
const under = {
  picture: 'data:image/jpeg;base64,/9j/4AAQSkZJRg==',
  px: [800, 600] as [number, number],
  at: [3, 2] as [number, number],
  widthM: 8,
  turnDeg: 30,
};

test('one known length: the two points are so far apart afterwards, the first where it was, the shape kept', () => {
  const [from, to] = [
    [1, 1],
    [4, 5],
  ] as const;
  const changes = scaledBy(under, from, to, 4);
  if (typeof changes === 'string') throw new Error(changes);
  const after: Underlay = { ...under, ...changes };
  // A point of the picture in shares of its size, before and after.
  const inPicture = (u: Underlay, [x, y]: readonly [number, number]) => {
    const a = (-u.turnDeg! * Math.PI) / 180;
    const [dx, dy] = [x - u.at[0], y - u.at[1]];
    return [
      (dx * Math.cos(a) - dy * Math.sin(a)) / u.widthM,
      (dx * Math.sin(a) + dy * Math.cos(a)) / heightM(u),
    ] as const;
  };
  const there = inPicture(under, to);
  // 5 m shown, 4 m known: the second point lies four fifths of the way.
  const end = inPicture(after, [1 + 3 * 0.8, 1 + 4 * 0.8]);
  expect(end[0]).toBeCloseTo(there[0], 4);
  expect(end[1]).toBeCloseTo(there[1], 4);
  expect(inPicture(after, from)[0]).toBeCloseTo(inPicture(under, from)[0], 4);
  expect(after.widthM / heightM(after)).toBeCloseTo(800 / 600, 6);
  const [a, , c] = cornersOf(after);
  expect(Math.hypot(c![0] - a![0], c![1] - a![1])).toBeCloseTo(Math.hypot(after.widthM, heightM(after)), 6);
});

test('points that are one, a length of nothing or of a mile are refused in a sentence', () => {
  expect(scaledBy(under, [1, 1], [1.001, 1], 3)).toMatch(/further apart/);
  expect(scaledBy(under, [1, 1], [2, 1], 0)).toMatch(/5 cm/);
  expect(scaledBy(under, [1, 1], [1.05, 1], 900)).toMatch(/would be .* m wide/);
});

test('it is in the file and comes back; one step lays it and one takes it; no address may stand for it', () => {
  const laid = applyEdit(shoot, { edit: 'layUnder', args: { place, under } });
  const opened = openShoot(saveShoot(laid.shoot));
  expect(opened.ok && opened.shoot.under).toEqual({ [place]: under });
  expect(patched(laid.shoot, laid.inverse, laid.orders)).toEqual(shoot);
  const away = applyEdits(laid.shoot, [{ edit: 'layUnder', args: { place } }]);
  expect(away.shoot.under).toBeUndefined();
  for (const picture of [
    'https://example.org/plan.jpg',
    'data:image/svg+xml;base64,PHN2Zz4=',
    'data:text/html;base64,AAAA',
    'data:image/png;base64,"><script>',
    `data:image/png;base64,${'A'.repeat(MOST_LETTERS)}`,
  ])
    expect(() =>
      applyEdit(shoot, { edit: 'layUnder', args: { place, under: { ...under, picture } } }),
    ).toThrow();
});

test('first bytes: a PNG as the program writes it, JPEG and WebP by their layouts; all else is none', () => {
  const png = new Uint8Array(writePng(37, 21, new Uint8Array(37 * 21 * 3)));
  expect(pictureHead(png)).toEqual({ kind: 'png', width: 37, height: 21 });
  // SOI, a comment, then a frame header: length, bits, height, width (T.81 B.2.2, from memory).
  const jpeg = [0xff, 0xd8, 0xff, 0xfe, 0, 4, 9, 9, 0xff, 0xc2, 0, 17, 8, 1, 0x2c, 2, 0x58, 3, 1, 1, 1];
  expect(pictureHead(Uint8Array.from(jpeg))).toEqual({ kind: 'jpeg', width: 600, height: 300 });
  const chunk = (id: string, rest: number[]) => [
    ...[...'RIFF'].map((c) => c.charCodeAt(0)),
    ...[0, 0, 0, 0],
    ...[...`WEBP${id}`].map((c) => c.charCodeAt(0)),
    ...[0, 0, 0, 0],
    ...rest,
    ...new Array(12).fill(0),
  ];
  // 24 bits each, less one (RFC 9649, from memory).
  expect(pictureHead(Uint8Array.from(chunk('VP8X', [0, 0, 0, 0, 0x57, 2, 0, 0x2b, 1, 0])))).toEqual({
    kind: 'webp',
    width: 600,
    height: 300,
  });
  for (const bad of [
    [],
    [0xff, 0xd8],
    jpeg.slice(0, 9),
    [...'<svg></svg>'].map((c) => c.charCodeAt(0)),
    chunk('XXXX', []),
  ])
    expect(pictureHead(Uint8Array.from(bad))).toBeUndefined();
});
