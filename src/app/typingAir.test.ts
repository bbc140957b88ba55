/** Air and rain as they are typed. A range of sight is where 5 % of a beam is left: the meteorologists' definition, from memory. */
import { expect, test } from 'vitest';
import { METRIC } from '../shoot/units.ts';
import { hazeFigure, readFall, readHaze, seesWords } from './typingAir.ts';

test('haze: per cent a metre, or how far one sees through it', () => {
  const read = readHaze('metric');
  for (const t of ['2', '2 %', '2%', '2 per cent a metre', '2,0 %/m']) expect(read(t)).toBe(0.02);
  const perM = read('60 m') as number;
  expect(Math.exp(-perM * 60)).toBeCloseTo(0.05, 4);
  expect(Math.exp(-(read('200 ft') as number) * 60.96)).toBeCloseTo(0.05, 4);
  expect(Math.exp(-(read('1 km') as number) * 1000)).toBeCloseTo(0.05, 3);
  for (const t of ['', 'thick', '0', '-2 %', '0 m', '400 %', '50 km', '2 % %'])
    expect(read(t)).toMatch(/per cent a metre/);
  expect(hazeFigure(0.01)).toBe('1.0 %');
  expect(seesWords(0.01, METRIC)).toBe('300 m');
});

test('what falls: millimetres or inches of water an hour', () => {
  expect(readFall('10')).toBe(10);
  expect(readFall('10 mm an hour')).toBe(10);
  expect(readFall('0.4 in')).toBeCloseTo(10.16, 6);
  expect(readFall('heavy')).toBe(10);
  for (const t of ['', '0', '301', 'cats']) expect(readFall(t)).toMatch(/millimetres/);
});
