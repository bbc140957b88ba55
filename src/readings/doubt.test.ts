import { expect, test } from 'vitest';
import { type Cause, difference, doubt, sensitivity } from './doubt.ts';

/** A small generator with a fixed seed (mulberry32), and normal deviates by Box and Muller. */
function normals(seed: number) {
  let a = seed >>> 0;
  const u = () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - u())) * Math.cos(2 * Math.PI * u());
}

/**
 * Worlds are drawn from the causes, each with its own lamps' parts; the band must hold the truth in
 * 0.90 ± 0.01 of them (JCGM 100 coverage). 40,000 worlds: standard error 0.0015.
 */
test('the 90 % band covers 0.90 ± 0.01 of simulated worlds', () => {
  const causes = new Map<string, Cause>([
    ['kind:fresnel', { words: 'what a fresnel of this kind gives', sigmaStops: 0.3 }],
    ['kind:open', { words: 'what an open-face of this kind gives', sigmaStops: 0.3 }],
    ['head:1', { words: 'head 1', sigmaStops: 0.12 }],
    ['head:2', { words: 'head 2', sigmaStops: 0.12 }],
    ['head:3', { words: 'head 3', sigmaStops: 0.12 }],
    ['walls', { words: 'how light the walls are', sigmaStops: 0.4 }],
    ['constant', { words: 'the exposure constant', sigmaStops: 0.1 }],
  ]);
  const normal = normals(20_261_125);
  let uniform = 0.37;
  const next = () => {
    uniform = (uniform + 0.6180339887) % 1;
    return uniform;
  };
  let inside = 0;
  let insideRatio = 0;
  const worlds = 40_000;
  for (let w = 0; w < worlds; w++) {
    const parts = [1, 2, 3].map((n) => ({
      amount: 300 * 2 ** (-6 * next()),
      scaledBy: new Map([
        [n < 3 ? 'kind:fresnel' : 'kind:open', 1],
        [`head:${n}`, 1],
        ['constant', 1],
      ]),
    }));
    const bounce = {
      amount: 60 * 2 ** (-4 * next()),
      scaledBy: new Map([
        ['kind:fresnel', 1],
        ['walls', 1.4],
        ['constant', 1],
      ]),
    };
    const lit = [...parts, bounce];
    const shade = [bounce];
    const draw = new Map([...causes].map(([id, c]) => [id, c.sigmaStops * normal()]));
    const truth = (sum: typeof lit) =>
      Math.log2(
        sum.reduce(
          (s, p) => s + p.amount * 2 ** [...p.scaledBy].reduce((e, [c, k]) => e + k * draw.get(c)!, 0),
          0,
        ),
      );
    const plain = (sum: typeof lit) => Math.log2(sum.reduce((s, p) => s + p.amount, 0));
    const one = doubt(sensitivity(lit), causes);
    if (Math.abs(truth(lit) - plain(lit)) <= one.bandStops) inside++;
    const two = doubt(difference(sensitivity(lit), sensitivity(shade)), causes);
    if (Math.abs(truth(lit) - truth(shade) - plain(lit) + plain(shade)) <= two.bandStops) insideRatio++;
  }
  expect(Math.abs(inside / worlds - 0.9)).toBeLessThan(0.01);
  expect(Math.abs(insideRatio / worlds - 0.9)).toBeLessThan(0.01);
});

test('a common cause cancels in a ratio', () => {
  const causes = new Map<string, Cause>([['kind', { words: 'kind', sigmaStops: 0.5 }]]);
  const s = sensitivity([{ amount: 10, scaledBy: new Map([['kind', 1]]) }]);
  expect(doubt(s, causes).bandStops).toBeCloseTo(0.5 * 1.6449, 3);
  expect(doubt(difference(s, s), causes).bandStops).toBe(0);
});
