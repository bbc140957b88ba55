/** At least 95 of 100 places of a hard and of a soft key get the name that the craft gives them, on all heads. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { fastTracer } from '../src/engine/fast.ts';
import { keysAbout, namesAt, patternsOf, shareNamed } from '../src/readings/contact.ts';
import { personOn } from '../src/setup/people.ts';
import { assemble } from '../src/stage/assemble.ts';
import { decodePeople } from '../src/stage/people/person.ts';

const data = decodePeople(
  new Uint8Array(readFileSync(new URL('../data/people/people.bin', import.meta.url))),
);
const EYE_M = 1.6;

test('the names are those of the sheet', () => {
  // Rows of the reference head that lie on the grid [CHECKS-CAMERA §4.3].
  for (const [az, el, name] of [
    [0, 0, 'butterfly'],
    [0, 30, 'butterfly'],
    [0, 45, 'butterfly'],
    [0, 60, 'top'],
    [15, 30, 'loop'],
    [30, 30, 'loop'],
    [30, 45, 'loop'],
    [45, 45, 'loop'],
    [60, 30, 'Rembrandt'],
    [90, 0, 'split'],
    [90, 30, 'split'],
    [135, 30, 'kicker'],
  ] as const)
    expect(namesAt(az, el)).toContain(name);
  // No place has every name: the count below can fail.
  for (let az = 0; az <= 180; az += 15)
    for (const el of [0, 30, 60]) expect(namesAt(az, el).length).toBeLessThan(4);
});

test('hard and soft, on every head', async () => {
  const tracer = await fastTracer();
  const shares: number[] = [];
  for (const { id } of data.people) {
    const mark = {
      name: id,
      person: id,
      at: [0, 0] as [number, number],
      eyeM: EYE_M,
      posture: 'standing' as const,
      facings: [90],
    };
    const person = personOn('A', mark as never, 90, undefined, 'near', data)!;
    for (const across of [0.06, 1.2]) {
      const cells = keysAbout(across, EYE_M, 500);
      await tracer.load({ stage: assemble([person.body]), layers: cells.map((c) => c.layer) });
      const patterns = await patternsOf(tracer, person.faceGrid, cells, 1);
      const share = shareNamed(cells, patterns);
      const odd = cells.flatMap(({ az, el }, i) =>
        namesAt(az, el).includes(patterns[i]!) ? [] : [`${az}/${el} ${patterns[i]}`],
      );
      console.log(id, `${across} m`, `${(100 * share).toFixed(1)} %`, odd.join(', '));
      shares.push(share);
    }
  }
  tracer.dispose();
  const mean = shares.reduce((a, b) => a + b, 0) / shares.length;
  console.log(`all heads: ${(100 * mean).toFixed(1)} %, least ${(100 * Math.min(...shares)).toFixed(1)} %`);
  expect(mean).toBeGreaterThanOrEqual(0.95);
  // And no head for itself under nine in ten.
  expect(Math.min(...shares)).toBeGreaterThanOrEqual(0.9);
});
