/** Feet and foot-candles. The foot is 0.3048 m exactly; 1 lm/ft² = 10.763 91 lx [SP-811 B.8]. */
import { expect, test } from 'vitest';
import {
  inUnits,
  LUX_PER_FC,
  lengthFigure,
  lengthWords,
  lightWords,
  METRIC,
  type Units,
  unitsOf,
} from './units.ts';

const FEET: Units = { length: 'imperial', light: 'footcandle' };

test('one foot-candle is 10.76391 lux [SP-811 B.8]', () => {
  expect(LUX_PER_FC).toBeCloseTo(10.76391, 5);
  expect(lightWords(269, FEET)).toBe('25.0 fc');
  expect(lightWords(269, METRIC)).toBe('269 lx');
});

test('lengths to the nearest half inch; never further off than a quarter of one', () => {
  expect(lengthWords(0.3048 * 7 + 0.0254 * 2, FEET)).toBe('7′ 2″');
  expect(lengthWords(2.2, FEET)).toBe('7′ 2½″');
  expect(lengthWords(3.048, FEET)).toBe('10′');
  expect(lengthWords(0.0127, FEET)).toBe('½″');
  expect(lengthWords(-0.15, FEET)).toBe('−6″');
  // Rounded up to a whole foot it is said as one.
  expect(lengthWords(0.304, FEET)).toBe('1′');
  expect(lengthWords(2.2, METRIC)).toBe('2.20 m');
  expect(lengthFigure(-1.5, METRIC)).toBe('−1.50');
  for (let m = -3; m < 9; m += 0.0137) {
    const said = /^(−?)(?:(\d+)′)? ?(?:(\d*)([¼½¾]?)″)?$/.exec(lengthWords(m, FEET))!;
    const part = { '': 0, '¼': 0.25, '½': 0.5, '¾': 0.75 }[said[4] ?? ''] ?? 0;
    const inches = 12 * Number(said[2] ?? 0) + Number(said[3] || 0) + part;
    expect(Math.abs((said[1] ? -inches : inches) * 0.0254 - m)).toBeLessThanOrEqual(0.25 * 0.0254 + 1e-9);
  }
});

test('sentences are turned whole: lengths, light, points; metric ones stay', () => {
  const said =
    '1 moved 0.60 m in OA; board 0.40 m × 0.40 m at (4.00, 2.83, 2.32); 73 lx on the glass, 13.1° off.';
  expect(inUnits(said, METRIC)).toBe(said);
  expect(inUnits(said, FEET)).toBe(
    '1 moved 1′ 11½″ in OA; board 1′ 3½″ × 1′ 3½″ at (13′ 1½″, 9′ 3½″, 7′ 7½″); 6.8 fc on the glass, 13.1° off.',
  );
  // Not lengths: areas, milliamps, minutes, metres in a word.
  for (const other of ['2.5 mm² of copper', '30 mA', '13.5 m² of wall', '5 min', '3 marks'])
    expect(inUnits(other, FEET)).toBe(other);
});

test('without a choice of its own a shoot is in its region’s units', () => {
  const shoot = (region: string, more = {}) =>
    ({ places: { p: { supply: { region } } }, scenes: { s: { place: 'p' } }, ...more }) as never;
  expect(unitsOf(shoot('na'), 's')).toEqual(FEET);
  expect(unitsOf(shoot('uk'), 's')).toEqual(METRIC);
  expect(unitsOf(shoot('na', { units: 'metric' }), 's')).toEqual({ length: 'metric', light: 'footcandle' });
});
