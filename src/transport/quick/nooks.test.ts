/** Bounced light in nooks against paths: boards close together on a wall, lit from the room alone. */
import { expect, test } from 'vitest';
import { SAMPLES } from '../../colour/spectrum.ts';
import { boxQuads, lamp, matte, type Quad, stageOf } from '../box.ts';
import { plainTracer } from '../plain.ts';
import { crowding } from './nooks.ts';
import { fieldOf, glance, LINKS, linkSight, quickBounced, quickDirect, roomOf, type Sight } from './quick.ts';
import { closedLinks } from './solve.ts';
import { look, spot } from './stillLife.ts';
import { neighboursOf, pick, TAP_UNIT, TAPS } from './thin.ts';

const board = matte(0.5, 'board');
/** Upright boards 4 cm deep and 1 cm apart on the north wall of a room; a patch is a whole side of a board. */
const boards: Quad[] = Array.from({ length: 24 }, (_, i) =>
  boxQuads([1.9 + 0.01 * i, 2.96, 1.1], [1.902 + 0.01 * i, 3, 1.5], 'out', board, Infinity, 'boards'),
).flat();
const stage = stageOf([...boxQuads([0, 0, 0], [4, 3, 2.5], 'in', matte(0.6), 0.25), ...boards]);
const layer = lamp('up', spot([1, 1, 1.5], [1.2, 1.1, 2.5], 0.06, 3000, 6));
const view = look([2.1, 2.45, 1.35], [2.02, 3, 1.3], 0.25);
const options = { seed: 3 };

test('bounced light between boards: a quarter nearer to paths than without points for nooks, at least', async () => {
  const tracer = plainTracer();
  await tracer.load({ stage, layers: [layer] });
  const room = await roomOf(tracer, stage, options);
  const hits = await tracer.hits(view, 240, 135, options);
  const plain = glance(view, hits);
  const sight = await linkSight(tracer, room, plain, options);
  const { first, near } = sight.nooks!;
  expect(first).toBe(plain.coarse.points.count);
  expect(sight.coarse.points.count - first).toBeGreaterThan(1000);
  expect(Math.max(...crowding(near, LINKS))).toBeGreaterThan(0.9);
  // What there would be without: the same points but for the added ones, their links as they are.
  const found = await tracer.links(plain.coarse.points, LINKS, options);
  const without: Sight = {
    ...plain,
    links: closedLinks(found, room.patches.count),
    near: neighboursOf(plain.coarse, 2),
  };

  const inside: number[] = [];
  for (let i = 0; i < hits.points.count; i++) {
    // Between the first board and the last, 1 cm and more behind their front edges.
    const [x, y, z] = hits.points.position.subarray(i * 3, i * 3 + 3) as unknown as [number, number, number];
    if (x > 1.9 && x < 2.132 && y > 2.97 && z > 1.12 && z < 1.48) inside.push(i);
  }
  const some = Uint32Array.from({ length: 100 }, (_, k) => inside[Math.floor((k * inside.length) / 100)]!);
  const paths = await tracer.trace(pick(hits.points, some), { seed: 9, paths: 1000 });
  const lit = await fieldOf(tracer, room, layer, 0, options);
  const missOf = async (of: Sight): Promise<number> => {
    const direct = await quickDirect(tracer, room.gloss, of, lit.set, lit.stand, options);
    const bounced = await quickBounced(tracer, room, of, lit, direct, options);
    let square = 0;
    some.forEach((i, s) => {
      let quick = direct.diffuse[i]!;
      for (let t = i * TAPS; t < (i + 1) * TAPS; t++)
        quick += (of.coarse.tapWeight[t]! / TAP_UNIT) * bounced[of.coarse.tap[t]! * SAMPLES + 5]!;
      const want = paths.layers[0]!.direct.diffuse[s]! + paths.layers[0]!.bounced[s * SAMPLES + 5]!;
      square += Math.log2(quick / want) ** 2;
    });
    return Math.sqrt(square / some.length);
  };
  const [a, b] = [await missOf(sight), await missOf(without)];
  expect(a).toBeLessThan(0.75 * b);
});
