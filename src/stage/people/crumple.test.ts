/** Cloth that a bent limb turned inside out is drawn smooth; what is not, stays where it is. */
import { expect, test } from 'vitest';
import { turnedAt, uncrumple } from './crumple.ts';

/** A level net of n × n points, 1 cm apart, faces up. */
function net(n: number) {
  const p = new Float32Array(3 * n * n);
  const t: number[] = [];
  for (let y = 0; y < n; y++)
    for (let x = 0; x < n; x++) {
      p.set([0.01 * x, 0.01 * y, 0.002 * Math.sin(x)], 3 * (y * n + x));
      if (x + 1 < n && y + 1 < n) {
        const a = y * n + x;
        t.push(a, a + 1, a + n + 1, a, a + n + 1, a + n);
      }
    }
  return { p, t: Uint32Array.from(t) };
}

test('flat cloth is left to the last bit', () => {
  const { p, t } = net(20);
  const before = p.slice();
  expect(turnedAt(p, t).some((v) => v === 1)).toBe(false);
  uncrumple(p, t, new Uint8Array(400));
  expect(p).toEqual(before);
});

test('a fold pushed through itself is opened, far from it nothing moves; a hem is spared', () => {
  const { p, t } = net(20);
  // One row of points pulled back over three others.
  for (let y = 8; y < 12; y++) p[3 * (y * 20 + 11)]! -= 0.035;
  const hem = p.slice();
  expect(turnedAt(p, t).some((v) => v === 1)).toBe(true);
  const far = [...p.subarray(0, 3 * 20)];
  uncrumple(p, t, new Uint8Array(400));
  expect(turnedAt(p, t).some((v) => v === 1)).toBe(false);
  expect([...p.subarray(0, 3 * 20)]).toEqual(far);
  const spared = hem.slice();
  uncrumple(spared, t, turnedAt(hem, t));
  expect(spared).toEqual(hem);
});
