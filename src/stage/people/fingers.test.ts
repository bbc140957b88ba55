import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { REST_STEP_M } from '../relief.ts';
import { buildPerson, decodePeople } from './person.ts';

const data = decodePeople(
  new Uint8Array(readFileSync(new URL('../../../data/people/people.bin', import.meta.url))),
);
const TABLE_M = 0.74;
/** At a table, looking south: the hands lie on its far side of the body. */
const atTable = (person: string) =>
  buildPerson(data, {
    ...{ person, posture: 'seated', at: [0, 0, 0], facingDeg: -90, detail: 'near', handsOn: 'table' },
    eyeHeightM: person === 'boy-8' ? 1 : 1.2,
    tableHeightM: TABLE_M,
  });

test.each(['man-26', 'woman-33', 'boy-8'])(
  '%s: hands lie on the table, not in it, fingertips and all',
  (person) => {
    const mesh = atTable(person);
    const skin = mesh.slots.indexOf('skin');
    const nails = mesh.fingers.filter((f) => f.half);
    expect(nails).toHaveLength(10);
    let lowest = 1;
    const tips = nails.map(() => 1);
    for (let t = 0; t < mesh.material.length; t++) {
      if (mesh.material[t] !== skin) continue;
      for (let k = 0; k < 3; k++) {
        const v = 3 * mesh.indices[3 * t + k]!;
        const over = mesh.positions[v + 2]! - TABLE_M;
        if (mesh.positions[v + 1]! < -0.2 && Math.abs(over) < 0.12) lowest = Math.min(lowest, over);
        nails.forEach(({ at }, i) => {
          if (Math.hypot(...at.map((x, c) => mesh.rest[v + c]! * REST_STEP_M - x)) < 0.014)
            tips[i] = Math.min(tips[i]!, over);
        });
      }
    }
    // Flesh gives: a pad is flattened by a few millimetres.
    expect(lowest).toBeGreaterThan(-0.004);
    // Fingers but the thumbs touch it.
    tips.forEach((over, i) => {
      if (i % 5 > 0) expect(Math.abs(over)).toBeLessThan(0.006);
    });
  },
);

test('a nail lies on the skin and looks the way the skin does there', () => {
  for (const person of data.people) {
    const mesh = atTable(person.id);
    for (const { at, out } of mesh.fingers.filter((f) => f.half)) {
      let best = 1;
      let height = 0;
      for (let v = 0; v < mesh.rest.length; v += 3) {
        const d = at.map((x, c) => mesh.rest[v + c]! * REST_STEP_M - x);
        const off = Math.hypot(...d);
        if (off < 0.008) height = Math.max(height, d[0]! * out[0] + d[1]! * out[1] + d[2]! * out[2]);
        best = Math.min(best, off);
      }
      expect(best).toBeLessThan(0.004);
      // Nothing of the finger stands much over it.
      expect(height).toBeLessThan(0.002);
    }
  }
});
