import { expect, test } from 'vitest';
import { stopWords, thirdWords } from '../shoot/thirds.ts';
import { readMeasured } from './typedReading.ts';

const read = (text: string) => readMeasured(text, 'lux', 4);

test('lux, foot-candles, a bare number as the shoot has it', () => {
  expect(read('250lx')).toEqual({ how: 'lux', value: 250 });
  expect(read(' 250 LUX')).toEqual({ how: 'lux', value: 250 });
  expect(read('23fc')).toEqual({ how: 'footcandle', value: 23 });
  expect(read('7,9 fc')).toEqual({ how: 'footcandle', value: 7.9 });
  expect(read('85')).toEqual({ how: 'lux', value: 85 });
  expect(readMeasured('85', 'footcandle', 4)).toEqual({ how: 'footcandle', value: 85 });
});

test('stops: marked numbers are exact, thirds go on from them', () => {
  expect(read('T4')).toEqual({ how: 'stop', value: 4 });
  expect(read('t2.8')).toMatchObject({ how: 'stop', value: expect.closeTo(Math.SQRT2 * 2, 9) });
  for (const text of ['T2.8⅓', 'T2.8 1/3', 't2.8+1/3', 'f/2.8 ⅓'])
    expect(read(text)).toMatchObject({
      how: 'stop',
      value: expect.closeTo(2 * Math.SQRT2 * 2 ** (1 / 6), 9),
    });
  expect(read('T4-1/3')).toMatchObject({ how: 'stop', value: expect.closeTo(4 * 2 ** (-1 / 6), 9) });
  expect(read('T3.3')).toEqual({ how: 'stop', value: 3.3 });
});

test('zebra on the grey card', () => {
  for (const text of ['zebra T4', 'z T4', 'zebra 4', 'Zebra at T4'])
    expect(read(text)).toEqual({ how: 'zebra', value: 4 });
  for (const text of ['zebra 60 at T5.6', 'zebra 60% T5.6', 'z60 t5.6'])
    expect(read(text)).toMatchObject({
      how: 'zebra',
      zebraPercent: 60,
      value: expect.closeTo(4 * Math.SQRT2, 9),
    });
});

test('a change against the plan', () => {
  expect(read('+1/3')).toMatchObject({ how: 'stop', value: expect.closeTo(4 * 2 ** (1 / 6), 9) });
  expect(read('−⅔')).toMatchObject({ how: 'stop', value: expect.closeTo(4 * 2 ** (-1 / 3), 9) });
  expect(read('-1 1/3')).toMatchObject({ how: 'stop', value: expect.closeTo(4 * 2 ** (-2 / 3), 9) });
});

test('what is none of these says what was expected', () => {
  for (const text of ['', 'bright', 'T', '0lx', 'T900', 'zebra', 'zebra 5 T4', '-', '250 lumens'])
    expect(typeof read(text)).toBe('string');
});

test('stops said in thirds, there and back', () => {
  expect(stopWords(4)).toBe('T4');
  expect(stopWords(2.8 * 2 ** (1 / 6))).toBe('T2.8\u20091⁄3');
  expect(stopWords(2 * 2 ** (1 / 3))).toBe('T2\u20092⁄3');
  expect(stopWords(1)).toBe('T1');
  expect(stopWords(0.7)).toBe('T0.7');
  for (let k = -6; k < 30; k++) {
    const r = read(stopWords(2 ** (k / 6)));
    expect(r).toMatchObject({ how: 'stop' });
    expect((r as { value: number }).value).toBeCloseTo(2 ** (k / 6), 9);
  }
  expect(thirdWords(-1.33, 'under', 'over', 'as planned')).toBe('1\u20091⁄3 under');
  expect(thirdWords(0.1, 'under', 'over', 'as planned')).toBe('as planned');
  expect(thirdWords(0.68, 'under', 'over', 'as planned')).toBe('2⁄3 over');
});
