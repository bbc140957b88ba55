/** The ring of a pulled light: a clock seen from above with the camera at 6, as gaffers say it (common practice). */
import { expect, test } from 'vitest';
import { farther, onRing, ringAngle } from './pull.ts';

const mark = [3, 2] as const;
const eye = [3, 0, 1.6];
/** Hours of a clock whose 6 is the camera. */
const hours = (angle: number) => (6 + (angle * 6) / Math.PI + 24) % 12 || 12;

test('the camera is at 6, what is behind the head at 12, camera right at 3', () => {
  expect(hours(ringAngle(mark, eye, [3, 1, 2]))).toBeCloseTo(6, 9);
  expect(hours(ringAngle(mark, eye, [3, 5, 2]))).toBeCloseTo(12, 9);
  // Seen from the south, east is on the right of the picture.
  expect(hours(ringAngle(mark, eye, [5, 2, 2]))).toBeCloseTo(3, 9);
  expect(hours(ringAngle(mark, eye, [1, 2, 2]))).toBeCloseTo(9, 9);
});

test('along the ring the distance stays, and the angle is the one asked for', () => {
  for (const angle of [-2, -0.3, 0.4, 1.9]) {
    const to = onRing(mark, eye, [4.5, 3, 2], angle);
    expect(Math.hypot(to[0] - 3, to[1] - 2)).toBeCloseTo(Math.hypot(1.5, 1), 9);
    expect(Math.cos(ringAngle(mark, eye, to) - angle)).toBeCloseTo(1, 9);
  }
});

test('nearer and farther keep the way; never on to the face', () => {
  const to = farther(mark, [5, 2, 2], 1.5);
  expect(to).toEqual([6, 2]);
  expect(farther(mark, [5, 2, 2], 0.01)).toEqual([3.5, 2]);
});
