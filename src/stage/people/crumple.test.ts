/** Cloth that a bent limb turned inside out is drawn smooth; what is not, stays where it is. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { REST_STEP_M } from '../relief.ts';
import { turnedAt, uncrumple } from './crumple.ts';
import { buildPerson, decodePeople } from './person.ts';

const data = decodePeople(
  new Uint8Array(readFileSync(new URL('../../../data/people/people.bin', import.meta.url))),
);

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

test('hands on a table: no corner of a cuff stands off, whatever posture the cloth was left to hang in', () => {
  for (const person of ['man-34', 'woman-42', 'man-68']) {
    const mesh = buildPerson(data, {
      ...{ person, posture: 'seated', at: [0, 0, 0], facingDeg: 90, eyeHeightM: 1.2, detail: 'near' },
      handsOn: 'table',
    });
    const top = mesh.slots.indexOf('top');
    const far = (places: ArrayLike<number>, a: number, b: number): number =>
      Math.hypot(...[0, 1, 2].map((k) => places[3 * a + k]! - places[3 * b + k]!));
    // The forearm's lower half, by rest places: beyond that far from the middle there are only sleeves.
    const wrist = mesh.tubes[1]!.from[0] + mesh.tubes[1]!.along[0] * mesh.tubes[1]!.endM;
    let longest = 0;
    let seen = 0;
    for (let t = 0; t < mesh.material.length; t++) {
      if (mesh.material[t] !== top) continue;
      const v = [0, 1, 2].map((k) => mesh.indices[3 * t + k]!);
      if (Math.abs(mesh.rest[3 * v[0]!]! * REST_STEP_M) < wrist - 0.08) continue;
      seen++;
      for (let k = 0; k < 3; k++) {
        const [a, b] = [v[k]!, v[(k + 1) % 3]!];
        longest = Math.max(longest, far(mesh.positions, a, b) - far(mesh.rest, a, b) * REST_STEP_M);
      }
    }
    expect(seen).toBeGreaterThan(100);
    // Cloth that hangs stretches by some millimetres where it bends; a spike was 4 cm.
    expect(longest).toBeLessThan(0.015);
  }
});
