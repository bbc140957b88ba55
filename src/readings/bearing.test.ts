import { expect, test } from 'vitest';
import { bearing, clock, wrap } from './bearing.ts';

test('hand-worked bearings of the boat shed', () => {
  // Widow at (3.3, 2.6, 1.6) faces east opened 15° to the south; lamps as rigged.
  const key = bearing([3.3, 2.6, 1.6], -15, [6.5, 4.5, 2.9]);
  expect(key.azimuthDeg).toBeCloseTo(45.7, 1);
  expect(key.side).toBe('left');
  expect(key.elevationDeg).toBeCloseTo(19.3, 1);
  expect(key.distanceM).toBeCloseTo(3.94, 2);
  expect(bearing([3.3, 2.6, 1.6], -15, [1.5, 4.5, 2.9]).azimuthDeg).toBeCloseTo(148.5, 1);
  expect(bearing([3.3, 2.6, 1.6], -15, [4.2, 9.4, 4.0]).azimuthDeg).toBeCloseTo(97.5, 1);
});

test('the clock has the camera at 6, the far side at 12 and the right of the picture at 3', () => {
  expect(clock([0, 0, 0], [0, -3, 0], [0, -1, 0])).toBe(6);
  expect(clock([0, 0, 0], [0, -3, 0], [0, 2, 0])).toBe(12);
  expect(clock([0, 0, 0], [0, -3, 0], [2, 0, 0])).toBe(3);
  expect(clock([0, 0, 0], [0, -3, 0], [-2, 0, 0])).toBe(9);
  expect(wrap(190)).toBe(-170);
});
