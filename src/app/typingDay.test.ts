import { expect, test } from 'vitest';
import {
  clocksWords,
  dateFigure,
  dateWords,
  isoDate,
  readClocks,
  readDate,
  readEarth,
  readHour,
} from './typingDay.ts';

const read = readDate(20261127);

test('a date in any usual way; a day that no month has is refused', () => {
  for (const t of ['2027-03-05', '5.3.2027', '05/03/2027', '5 March 2027', 'mar 5 2027', '5th mar 2027'])
    expect(read(t), t).toBe(20270305);
  expect(read('5 mar')).toBe(20260305);
  // Gregorian leap years: 2028 is one, 2100 would not be.
  expect(read('29 feb 2028')).toBe(20280229);
  for (const t of ['29 feb 2027', '31.4.2027', 'soon', '', '13/13/2027'])
    expect(typeof read(t), t).toBe('string');
  expect(isoDate(dateFigure('2027-03-05'))).toBe('2027-03-05');
  expect(dateWords(20270305)).toBe('5 Mar 2027');
});

test('an hour by the clock, in halves of a day or of decimals', () => {
  for (const t of ['14:30', '14.30', '14h30', '1430', '2:30pm', '2.30 pm', '14.5h'])
    expect(readHour(t), t).toBeCloseTo(14.5, 4);
  expect([readHour('12am'), readHour('12pm'), readHour('9'), readHour('24')]).toEqual([0, 12, 9, 24]);
  for (const t of ['25', '14:75', '13pm', 'noon-ish', '']) expect(typeof readHour(t), t).toBe('string');
});

test('a place on earth: minutes are sixtieths, south and west are negative', () => {
  const lat = readEarth('n', 's', 90);
  const lon = readEarth('e', 'w', 180);
  expect(lat('51°30′ N')).toBe(51.5);
  expect(lat('33.9s')).toBe(-33.9);
  expect(lon('0.1 W')).toBe(-0.1);
  expect(lon('-13,25')).toBe(-13.25);
  for (const t of ['91', '12 E', 'here']) expect(typeof lat(t), t).toBe('string');
});

test('clocks ahead of universal time', () => {
  expect([readClocks('+1'), readClocks('UTC-5:30'), readClocks('5.75')]).toEqual([1, -5.5, 5.75]);
  expect(typeof readClocks('15')).toBe('string');
  expect([clocksWords(1), clocksWords(-5.5)]).toEqual(['UTC+1', 'UTC−5:30']);
});
