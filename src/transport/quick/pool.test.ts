/** Quick light is the same, bit for bit, over a pool of workers. */
import { expect, test } from 'vitest';
import { fastTracer } from '../../engine/fast.ts';
import { nodePool } from '../../engine/node.ts';
import type { Tracer } from '../tracer.ts';
import { fieldOf, probeLinks, quickLayer, quickProbes, roomOf, sightOf } from './quick.ts';
import { stillLife } from './stillLife.ts';

test('two workers give what one thread gives', async () => {
  const { stage, layers, view } = stillLife();
  const options = { seed: 4 };
  const run = async (tracer: Tracer) => {
    await tracer.load({ stage, layers });
    const room = await roomOf(tracer, stage, options);
    const hits = await tracer.hits(view, 96, 54, options);
    const sight = await sightOf(tracer, room, view, hits, options);
    const probes = sight.coarse.points;
    const links = await probeLinks(tracer, room, probes, options);
    const out = [];
    for (const [l, layer] of layers.entries()) {
      const lit = await fieldOf(tracer, room, layer, l, options);
      out.push(await quickLayer(tracer, room, sight, lit, { ...options, layer: l }));
      out.push(await quickProbes(tracer, room, probes, links, l, lit, options));
    }
    tracer.dispose();
    return out;
  };
  const one = await run(fastTracer());
  const two = await run(nodePool(2));
  expect(JSON.stringify(two)).toBe(JSON.stringify(one));
});
