/** What is typed in place. Lengths by the international foot, 0.3048 m exactly (NIST SP 811, B.6); stops by 2^(n/2). */
import { expect, test } from 'vitest';
import { readEi, readKelvin, readLength, readShare, readStop } from './typing.ts';

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

test('index and kelvin', () => {
  expect(readEi('EI 320')).toBe(320);
  expect(readKelvin('3200K')).toBe(3200);
  expect(readKelvin('warm')).toMatch(/kelvin/);
});
