/** Nobody is looked into: a line from before the trunk meets cloth or skin that faces it, wherever a shirt gapes. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { decodePeople } from './decode.ts';
import { buildPerson, type PersonMesh } from './person.ts';

const data = decodePeople(readFileSync(new URL('../../../data/people/people.bin', import.meta.url)));

/** Whether what is met first along +y from (x, -∞, z) turns its front to where the line comes from; nothing met: undefined. */
function frontMet({ positions: p, indices }: PersonMesh, x: number, z: number): boolean | undefined {
  let nearest = Number.POSITIVE_INFINITY;
  let front: boolean | undefined;
  for (let t = 0; t < indices.length; t += 3) {
    const [a, b, c] = [3 * indices[t]!, 3 * indices[t + 1]!, 3 * indices[t + 2]!];
    const side = (u: number, v: number) =>
      (p[v]! - p[u]!) * (z - p[u + 2]!) - (p[v + 2]! - p[u + 2]!) * (x - p[u]!);
    const [wc, wa, wb] = [side(a, b), side(b, c), side(c, a)];
    const area = wa + wb + wc;
    if (area === 0 || Math.min(wa / area, wb / area, wc / area) < 0) continue;
    const y = (wa * p[a + 1]! + wb * p[b + 1]! + wc * p[c + 1]!) / area;
    // Seen from -y, x to the right and z up: counter-clockwise is the front.
    if (y < nearest) [nearest, front] = [y, area > 0];
  }
  return front;
}

test.each(data.people.map((p) => p.id))('%s seated: the front of the trunk is closed', (person) => {
  // Facing -y.
  const mesh = buildPerson(data, {
    person,
    posture: 'seated',
    at: [0, 0, 0],
    facingDeg: -90,
    eyeHeightM: 1.2,
    seatHeightM: 0.45,
    detail: 'near',
  });
  const chin = mesh.points.chin.position[2];
  let met = 0;
  for (let z = 0.62; z < chin - 0.12; z += 0.02)
    for (let x = -0.05; x <= 0.05; x += 0.0125) {
      const front = frontMet(mesh, x, z);
      if (front !== undefined) met++;
      expect(front, `${x.toFixed(3)}, ${z.toFixed(3)}`).not.toBe(false);
    }
  expect(met).toBeGreaterThan(100);
});
