/** Gloss in bounced light against paths: a varnished wall sends a lamp's light on in a lobe, not evenly. */
import { expect, test } from 'vitest';
import { constant, SAMPLES } from '../../colour/spectrum.ts';
import type { Vec3 } from '../../maths/vec3.ts';
import { boxQuads, lamp, matte, probeAt, stageOf } from '../box.ts';
import { plainTracer } from '../plain.ts';
import { gather, NO_GUIDE } from './gather.ts';
import { fieldFrom, fieldOf, LINKS, PROBE_LINKS, probeLinks, quickProbes, roomOf } from './quick.ts';
import { sheenOf } from './sheen.ts';
import { solve } from './solve.ts';
import { spot } from './stillLife.ts';

const options = { seed: 5 };
const varnish = {
  name: 'varnish',
  reflectance: constant(0.06),
  kind: 'opaque' as const,
  gloss: { f0: 0.06, roughness: 0.5 },
};
/** A dark room whose north wall is varnished; a lamp that grazes it from the west. */
const quads = boxQuads([0, 0, 0], [5, 3, 2.5], 'in', matte(0.05), 0.25).map((q) =>
  q.part === 'wall:north' ? { ...q, material: varnish } : q,
);
const stage = stageOf(quads);
const layer = lamp('graze', spot([0.5, 2, 1.3], [2.2, 3, 1.3], 0.05, 2000, 4));
/** Where the lamp's image lies along the wall, opposite the wall, and back beside the lamp. */
const places: [Vec3, Vec3][] = [
  [
    [4.2, 2, 1.3],
    [-0.6, 0.8, 0],
  ],
  [
    [2.2, 0.6, 1.3],
    [0, 1, 0],
  ],
  [
    [0.4, 1.6, 1.3],
    [0.8, 0.6, 0],
  ],
];

test('a varnished wall grazed by a lamp: probes before, opposite and behind within .12 stop of paths', async () => {
  const tracer = plainTracer();
  await tracer.load({ stage, layers: [layer] });
  const room = await roomOf(tracer, stage, options);
  const lit = await fieldOf(tracer, room, layer, 0, options);
  const probes = probeAt(places);
  const links = await probeLinks(tracer, room, probes, options);
  const { bounced } = await quickProbes(tracer, room, probes, links, 0, lit, options);
  const paths = await tracer.trace(probes, { seed: 2, paths: 6000 });
  const off = places.map((_, i) =>
    Math.abs(Math.log2(bounced[i * SAMPLES]! / paths.layers[0]!.bounced[i * SAMPLES]!)),
  );
  expect(Math.max(...off)).toBeLessThan(0.12);

  // Were the gloss to leave evenly, as what has bounced before does, one of them at least would be half a stop off.
  const direct = await tracer.patchDirect(0, { ...options, samples: 8 });
  const even = solve(room.patches, room.links, LINKS, direct);
  const flat = await gather(tracer, room.patches, even, NO_GUIDE, probes, links, PROBE_LINKS, {
    ...options,
    guided: 0,
  });
  const evenOff = places.map((_, i) =>
    Math.abs(Math.log2(flat[i * SAMPLES]! / paths.layers[0]!.bounced[i * SAMPLES]!)),
  );
  expect(Math.max(...evenOff)).toBeGreaterThan(0.5);
});

test('the same wall grazed by the sky through a window: within the goal’s .15 stop of paths', async () => {
  const open = stageOf(quads.filter((q) => q.part !== 'wall:west'));
  const outline: [number, number][] = [
    [-0.1, -0.1],
    [5.1, -0.1],
    [5.1, 3.1],
    [-0.1, 3.1],
  ];
  const sky = lamp('sky', {
    shape: {
      kind: 'far',
      half: 'sky',
      rooms: [{ outline, fromM: -0.1, toM: 2.6 }],
      portal: { corner: [-0.001, 2.7, 0.8], u: [0, -1.5, 0], v: [0, 0, 1.2] },
    },
    beam: { kind: 'isotropic', cd: 100 },
  });
  const tracer = plainTracer();
  await tracer.load({ stage: open, layers: [sky] });
  const room = await roomOf(tracer, open, options);
  const lit = await fieldOf(tracer, room, sky, 0, options);
  expect(lit.sheen).toBeDefined();
  const probes = probeAt(places);
  const links = await probeLinks(tracer, room, probes, options);
  const { bounced } = await quickProbes(tracer, room, probes, links, 0, lit, options);
  const paths = await tracer.trace(probes, { seed: 2, paths: 6000 });
  const off = places.map((_, i) =>
    Math.abs(Math.log2(bounced[i * SAMPLES]! / paths.layers[0]!.bounced[i * SAMPLES]!)),
  );
  expect(Math.max(...off)).toBeLessThan(0.15);
});

test('no gloss, no sheen; an unlit patch has none', async () => {
  const none = stageOf(boxQuads([0, 0, 0], [2, 2, 2], 'in', matte(0.5), 0.5));
  const tracer = plainTracer();
  await tracer.load({ stage: none, layers: [layer] });
  const room = await roomOf(tracer, none, options);
  const lit = fieldFrom(room, layer, new Float32Array(none.patchCount).fill(10));
  expect(lit.sheen).toBeUndefined();
  await tracer.load({ stage, layers: [layer] });
  const varnished = await roomOf(tracer, stage, options);
  expect(sheenOf(varnished.patches, lit.set, lit.stand, new Float32Array(stage.patchCount))).toBeUndefined();
});
