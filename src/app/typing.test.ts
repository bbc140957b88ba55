/** What is typed in place. Lengths by the international foot, 0.3048 m exactly [SP-811 B.8]; stops by 2^(n/2). */
import { expect, test } from 'vitest';
import {
  readDegrees,
  readEi,
  readKelvin,
  readLength,
  readLens,
  readLight,
  readShare,
  readShareOr,
  readStop,
  readStops,
} from './typing.ts';

test('lengths in any usual way', () => {
  expect(readLength('2.2')).toBe(2.2);
  expect(readLength('2,2 m')).toBe(2.2);
  expect(readLength('220cm')).toBeCloseTo(2.2, 12);
  expect(readLength('7ft2')).toBeCloseTo(86 * 0.0254, 12);
  expect(readLength('7\'2"')).toBeCloseTo(86 * 0.0254, 12);
  expect(readLength('tall')).toMatch(/such as/);
  expect(readLength('900')).toMatch(/from/);
});

test('shares in words and per cent', () => {
  expect(readShare('62 %')).toBe(62);
  expect(readShare('half')).toBe(50);
  expect(readShare('120')).toMatch(/0 to 100/);
});

test('stops as they are or as a change: more light is a wider stop', () => {
  expect(readStop(2.8)('T4')).toBe(4);
  expect(readStop(4)('+1')).toBeCloseTo(4 / Math.SQRT2, 2);
  expect(readStop(2.8)('−1/3')).toBeCloseTo(2.8 * 2 ** (1 / 6), 2);
  expect(readStop(2.8)('')).toMatch(/such as/);
});

test('nothing that is typed becomes a number that is none', () => {
  const odd = [
    '',
    ' ',
    '-',
    '+',
    'NaN',
    'Infinity',
    '-Infinity',
    '1e999',
    '٣',
    '1,2,3',
    '9'.repeat(400),
    '+1/0',
    '-1/0',
  ];
  odd.push(
    '+999',
    '-999',
    '0/0',
    '0',
    '-0',
    '--1',
    '1..2',
    '{}',
    '<b>',
    "'; drop",
    '½½',
    '7ft99999in',
    '\u0000',
  );
  for (const read of [
    (t: string) => readLength(t),
    (t: string) => readLength(t, 'imperial'),
    (t: string) => readLight(t),
    (t: string) => readLight(t, 'footcandle'),
    readShare,
    readShareOr((stops) => 50 * 2 ** stops),
    readStop(2.8),
    readEi(320),
    readKelvin(3200),
    readDegrees,
    readLens,
  ])
    for (const text of odd) {
      const v = read(text);
      if (typeof v === 'number') expect(Number.isFinite(v), `${text}: ${v}`).toBe(true);
      else expect(v.length, text).toBeGreaterThan(8);
    }
  for (const far of ['7ft99999', `${'9'.repeat(400)}ft`, '-101', '101 m'])
    expect(readLength(far)).toMatch(/from/);
  expect(readStop(2.8)('+999')).toMatch(/ends between/);
  expect(readStop(2.8)('-999')).toMatch(/ends between/);
  expect(readStop(2.8)('0')).toMatch(/such as/);
});

test('index and kelvin', () => {
  expect(readEi(200)('EI 320')).toBe(320);
  expect(readEi(320)('+1')).toBe(640);
  expect(readKelvin(5600)('3200K')).toBe(3200);
  expect(readKelvin(5600)('3.2k')).toBe(3200);
  // A mired is a million over the kelvin.
  expect(readKelvin(5600)('312.5 mired')).toBe(3200);
  expect(readKelvin(5600)('+134 mired')).toBe(Math.round(1e6 / (1e6 / 5600 + 134)));
  expect(readKelvin(5600)('warm')).toMatch(/kelvin/);
});

test('a bare figure is in the units that are shown; a unit that is typed is that unit', () => {
  expect(readLength('7.5', 'imperial')).toBeCloseTo(7.5 * 0.3048, 4);
  expect(readLength('2.2m', 'imperial')).toBe(2.2);
  expect(readLength('7′ 2½″', 'imperial')).toBeCloseTo(86.5 * 0.0254, 4);
  expect(readLength('30"')).toBeCloseTo(30 * 0.0254, 4);
  expect(readLength('½″')).toBeCloseTo(0.0127, 4);
  expect(readLength('-3ft')).toBeCloseTo(-0.9144, 4);
  expect(readLength('', 'imperial')).toMatch(/such as/);
  expect(readLight('250lx')).toBe(250);
  expect(readLight('25 fc')).toBeCloseTo(269.1, 1);
  expect(readLight('25', 'footcandle')).toBeCloseTo(269.1, 1);
  expect(readLight('250 lux', 'footcandle')).toBe(250);
  expect(readLight('bright')).toMatch(/such as/);
  expect(readDegrees('−15°')).toBe(-15);
  expect(readDegrees('')).toMatch(/degrees/);
  expect(readLens('35 mm')).toBe(35);
});

test('changes in stops, for what dims by its own law', () => {
  expect(readStops('-1/3')).toBeCloseTo(-1 / 3, 12);
  expect(readStops('+1 1/2 stops')).toBe(1.5);
  expect(readStops('−½')).toBe(-0.5);
  expect(readStops('3')).toBeUndefined();
  const led = readShareOr((stops) => 50 * 2 ** stops);
  expect(led('-1')).toBe(25);
  expect(led('+1')).toBe(100);
  expect(led('+2')).toMatch(/full at most/);
  expect(led('half')).toBe(50);
  expect(led('bright')).toMatch(/change such as/);
});
