/** Places of shadow rays: every turn spreads its rays over the whole emitter, however many it asks. */
import { expect, test } from 'vitest';
import { emitterSet } from '../emitter.ts';
import { probes } from '../points.ts';
import type { Tracer } from '../tracer.ts';
import { ask, foundAt } from './places.ts';

const square = emitterSet([
  {
    shape: { kind: 'rectangle', centre: [0, 0, 2], axis: [0, 0, -1], up: [0, 1, 0], widthM: 1, heightM: 1 },
    beam: { kind: 'cosine', peakCd: 100, exponent: 1 },
  },
]);
const points = probes([{ position: [0, 0, 0], normal: [0, 0, 1] }]);

test.each(Array.from({ length: 16 }, (_, i) => i))(
  'turn %i: 32 rays, each quarter gets a quarter',
  async (turn) => {
    const seen: number[] = [];
    // Only the shadow rays are asked of it.
    const tracer = {
      passes: async (_: Float32Array, to: Float32Array) => {
        seen.push(...to);
        return new Float32Array(to.length / 3).fill(1);
      },
    } as unknown as Tracer;
    await ask(tracer, square, points, Uint32Array.of(0), Uint8Array.of(turn), 0, 32, foundAt(1), { seed: 1 });
    const quarters = [0, 0, 0, 0];
    for (let i = 0; i < seen.length; i += 3) quarters[(seen[i]! > 0 ? 1 : 0) + (seen[i + 1]! > 0 ? 2 : 0)]!++;
    expect(quarters).toEqual([8, 8, 8, 8]);
  },
);
