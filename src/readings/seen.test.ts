/** Where a body lies on the frame, against the similar triangles of a lens: x / (z tan h). */
import { expect, test } from 'vitest';
import { partOnFrame } from './seen.ts';

const view = {
  eye: [0, 0, 0],
  forward: [0, 1, 0],
  right: [1, 0, 0],
  up: [0, 0, 1],
  tanH: 0.5,
  tanV: 0.25,
} as const;
const triangle = (at: number[]) => ({
  positions: Float32Array.from(at),
  indices: Uint32Array.from([0, 1, 2]),
  part: Uint16Array.from([4]),
});

test('bounds of what is before the lens, beyond the frame’s edges too; what is behind has none', () => {
  // At 2 m the frame is 2 m wide and 1 m high: from −1 to 1, from −.5 to .5.
  const box = partOnFrame(triangle([-1.5, 2, 0, -0.9, 2, 0, -1.5, 2, 0.25]), view, 4)!;
  expect(box.left).toBeCloseTo(-0.25, 6);
  expect(box.right).toBeCloseTo(0.05, 6);
  expect(box.top).toBeCloseTo(0.25, 6);
  expect(box.bottom).toBeCloseTo(0.5, 6);
  expect(partOnFrame(triangle([-1.5, -2, 0, -0.9, -2, 0, -1.5, -2, 0.25]), view, 4)).toBeUndefined();
  expect(partOnFrame(triangle([0, 1, 0, 1, 1, 0, 0, 1, 1]), view, 5)).toBeUndefined();
});
