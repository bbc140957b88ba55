/** No face is a mirror image, and none is a caricature. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { decodePeople } from './decode.ts';
import { POINT_VERTEX } from './facePoints.ts';

const data = decodePeople(
  new Uint8Array(readFileSync(new URL('../../../data/people/people.bin', import.meta.url))),
);

test('the two halves of every face differ by tenths of a millimetre to 3 mm, smoothly; the body does not', () => {
  for (const who of data.people) {
    let most = 0;
    let steepest = 0;
    const off = (v: number) => {
      const m = data.mirror[v]!;
      return [
        who.body[3 * v]! + who.body[3 * m]!,
        who.body[3 * v + 1]! - who.body[3 * m + 1]!,
        who.body[3 * v + 2]! - who.body[3 * m + 2]!,
      ];
    };
    for (let v = 0; v < data.mirror.length; v++) {
      if (who.hidden[v] || who.hidden[data.mirror[v]!]) continue;
      const d = Math.hypot(...(off(v) as [number, number, number]));
      if (who.body[3 * v + 2]! < who.body[3 * POINT_VERTEX.neckPit + 2]! - 0.05) {
        expect(d).toBeLessThan(3e-4);
        continue;
      }
      most = Math.max(most, d);
    }
    // Neighbours move together: no crease.
    for (let f = 0; f < data.quads.length; f += 4) {
      const [a, b] = [data.quads[f]!, data.quads[f + 1]!];
      if (who.hidden[a] || who.hidden[b]) continue;
      const [p, q] = [off(a), off(b)];
      const edge = Math.hypot(
        ...([0, 1, 2].map((k) => who.body[3 * a + k]! - who.body[3 * b + k]!) as [number, number, number]),
      );
      const d = Math.hypot(...([0, 1, 2].map((k) => p[k]! - q[k]!) as [number, number, number]));
      if (edge > 0.002) steepest = Math.max(steepest, d / edge);
    }
    expect(most, who.id).toBeGreaterThan(8e-4);
    expect(most, who.id).toBeLessThan(4.5e-3);
    expect(steepest, who.id).toBeLessThan(0.35);
  }
});
