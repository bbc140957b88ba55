/**
 * The quick light of a demo's angle with its long sums in WebAssembly, against the plain ones: each number within 1e-5, and
 * all within 1e-6 rms. Under a hundredth of the greatest a difference counts against that hundredth: 1e-5 of it is what
 * 32-bit floats round off the greatest (a lamp that grazes a surface is a small difference of large numbers).
 */
import { expect, test } from 'vitest';
import { fastTracer } from '../src/engine/fast.ts';
import { geometryOf } from '../src/setup/geometry.ts';
import { bareAt } from '../src/transport/quick/bare.ts';
import { fieldFrom, glance, linkSight, quickBounced, roomOf, standOf } from '../src/transport/quick/quick.ts';
import { shade } from '../src/transport/quick/shade.ts';
import { peopleData, shootNamed } from './demo.ts';

const WITHIN = 1e-5;
const RMS = 1e-6;
const LITTLE = 1e-2;

function expectAlike(ours: Float32Array, plain: Float32Array, what: string): void {
  expect(ours.length).toBe(plain.length);
  const most = plain.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
  expect(most, what).toBeGreaterThan(0);
  let worst = 0;
  let squares = 0;
  for (let i = 0; i < plain.length; i++) {
    const off = Math.abs(ours[i]! - plain[i]!) / Math.max(Math.abs(plain[i]!), LITTLE * most);
    worst = Math.max(worst, off);
    squares += off * off;
  }
  expect(worst, what).toBeLessThan(WITHIN);
  expect(Math.sqrt(squares / plain.length), what).toBeLessThan(RMS);
}

test('slack water’s two-shot: lamps, bounces, links, nooks and smoothing come out the same both ways', async () => {
  const options = { seed: 5 };
  const { transport, view } = geometryOf(
    shootNamed('slack-water'),
    { scene: 'slack', angle: 'T' },
    peopleData(),
    'far',
  );
  const fast = fastTracer();
  const { sums, ...slow } = fast;
  expect(sums?.flatLight).toBeDefined();
  await fast.load(transport);
  const room = await roomOf(fast, transport.stage, options);
  const plain = { ...room, sums: undefined };
  const hits = await fast.hits(view, 120, 68, { ...options, samples: 3 });
  const sight = await linkSight(fast, room, glance(view, hits), options);
  const n = hits.points.count;
  const dark = () => ({ diffuse: new Float32Array(n), gloss: new Float32Array(n) });
  for (const [l, layer] of transport.layers.entries()) {
    const { set, stand } = standOf(layer);
    const [ours, theirs] = [dark(), dark()];
    bareAt(set, stand, room.gloss, hits.points, 0, n, ours, sums!.flatLight);
    bareAt(set, stand, room.gloss, hits.points, 0, n, theirs);
    expectAlike(ours.diffuse, theirs.diffuse, `layer ${l}: lux`);
    expectAlike(ours.gloss, theirs.gloss, `layer ${l}: gloss`);
    expectAlike(
      await shade(fast, set, hits, sight.fine, theirs.diffuse, options),
      await shade(slow, set, hits, sight.fine, theirs.diffuse, options),
      `layer ${l}: shadows`,
    );
    const patches = await fast.patchDirect(l, { ...options, samples: 2 });
    const rough = l % 2 === 0;
    const field = fieldFrom(room, layer, patches, { rough });
    expectAlike(
      field.field.exitance,
      fieldFrom(plain, layer, patches, { rough }).field.exitance,
      `layer ${l}: field`,
    );
    const asked = { ...options, guided: false };
    expectAlike(
      await quickBounced(fast, room, sight, field, theirs, asked),
      await quickBounced(slow, plain, sight, field, theirs, asked),
      `layer ${l}: bounced`,
    );
  }
});
