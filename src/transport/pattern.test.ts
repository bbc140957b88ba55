/**
 * Shadows of patterns against geometry. A straight edge between a lamp `s` wide and a wall: the penumbra is s·b/a wide
 * (similar triangles; a lamp to edge, b edge to wall), and for an even rectangle along the edge the light climbs straight
 * across it. A large even lamp through a card: the open share, whatever the pattern.
 */
import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../maths/vec3.ts';
import { assemble } from '../stage/assemble.ts';
import { buildFlag, type FlagSpec } from '../stage/flag.ts';
import { openShare } from '../stage/patternBody.ts';
import { PATTERNS } from '../stage/patterns/patterns.ts';
import type { Body } from '../stage/stage.ts';
import { lamp, matte, probeAt } from './box.ts';
import { plainTracer } from './plain.ts';
import { glossTable } from './quick/bare.ts';
import { glance, quickDirect, standOf } from './quick/quick.ts';
import { look } from './quick/stillLife.ts';
import type { Emitter } from './scene.ts';

const card = (more: Partial<FlagSpec>): Body[] =>
  buildFlag({
    id: 'C',
    words: 'card',
    kind: 'flag',
    at: [0, 1, 1.5],
    facing: [0, -1, 0],
    sizeM: [1, 1],
    ...more,
  });

/** A wall 4 m square at y = `y`, looking back along −y. */
const wall = (y: number): Body => ({
  part: { id: 'wall:0', words: 'wall', kind: 'room', moving: false },
  positions: Float32Array.of(-2, y, -0.5, 2, y, -0.5, 2, y, 3.5, -2, y, 3.5),
  normals: Float32Array.of(0, -1, 0, 0, -1, 0, 0, -1, 0, 0, -1, 0),
  indices: Uint32Array.of(0, 1, 2, 0, 2, 3),
  material: Uint16Array.of(0, 0),
  materials: [matte(0.5)],
  patch: Uint32Array.of(0, 0),
});

/** A square lamp of side `s` at the origin, 1.5 m up, toward +y. */
const square = (s: number): Emitter => ({
  shape: { kind: 'rectangle', centre: [0, 0, 1.5], axis: [0, 1, 0], up: [0, 0, 1], widthM: s, heightM: s },
  beam: { kind: 'isotropic', cd: 1000 },
});

/** Where values along ascending places first cross `level`. */
function crossing(at: readonly number[], values: ArrayLike<number>, level: number): number {
  for (let i = 1; i < at.length; i++) {
    const [p, q] = [values[i - 1]!, values[i]!];
    if ((p - level) * (q - level) <= 0 && p !== q)
      return at[i - 1]! + ((at[i]! - at[i - 1]!) * (level - p)) / (q - p);
  }
  return Number.NaN;
}

describe.each([
  ['a lamp of 10 cm, card at 1 m, wall 1 m on', 0.1, 1, 1],
  ['the same, wall half a metre on', 0.1, 1, 0.5],
  ['a lamp of 5 cm, card at 0.5 m, wall 2 m on', 0.05, 0.5, 2],
])('%s', (_, s, a, b) => {
  // A slot 30 cm wide: its right edge at x = 0.15.
  const stage = assemble([
    wall(a + b),
    ...card({ at: [0, a, 1.5], pattern: { kind: 'slot', detail: { wideM: 0.3, tallM: 0.3 } } }),
  ]);
  const layers = [lamp('L', square(s))];
  const edgeX = (0.15 * (a + b)) / a;
  const width = (s * b) / a;

  test('reference: the penumbra is as wide as similar triangles make it, its middle where the edge throws it', async () => {
    const tracer = plainTracer();
    await tracer.load({ stage, layers });
    const xs = Array.from({ length: 121 }, (_, i) => edgeX + width * (i / 60 - 1));
    const points = probeAt(
      xs.map((x): readonly [Vec3, Vec3] => [
        [x, a + b - 1e-3, 1.5],
        [0, -1, 0],
      ]),
    );
    const lit = (await tracer.direct(points, 0, { seed: 5, samples: 1024 })).diffuse;
    const bare = xs.map((x) => (1000 * (a + b)) / ((a + b) ** 2 + x * x) ** 1.5);
    const share = xs.map((_, i) => lit[i]! / bare[i]!);
    const [p10, p50, p90] = [0.1, 0.5, 0.9].map((level) => crossing(xs, share, level)) as [
      number,
      number,
      number,
    ];
    // A straight climb: eight tenths of its width between a tenth and nine tenths.
    expect(Math.abs((p10 - p90) / (0.8 * width) - 1)).toBeLessThan(0.03);
    expect(Math.abs(p50 - edgeX)).toBeLessThan(0.01 * width + 1e-3);
    expect(share[0]!).toBeGreaterThan(0.98);
    expect(share.at(-1)!).toBe(0);
  });

  test('quick picture: the same penumbra', async () => {
    const tracer = plainTracer();
    await tracer.load({ stage, layers });
    // From beside the lamp, between card and wall.
    const eye: Vec3 = [edgeX + 0.12, a + 0.12 * b, 1.5];
    const view = look(eye, [edgeX, a + b, 1.5], (1.5 * width) / (0.88 * b));
    const hits = await tracer.hits(view, 192, 108, { seed: 1 });
    const { set, stand } = standOf(layers[0]!);
    const sight = glance(view, hits);
    const light = await quickDirect(tracer, glossTable(stage.materials), sight, set, stand, { seed: 3 });
    let square = 0;
    let count = 0;
    for (let i = 0; i < hits.points.count; i++) {
      const [x, y] = [hits.points.position[3 * i]!, hits.points.position[3 * i + 1]!];
      if (Math.abs(y - a - b) > 0.01 || Math.abs(x - edgeX) > width) continue;
      const z = hits.points.position[3 * i + 2]! - 1.5;
      if (Math.abs(z) > 0.1) continue;
      const bare = (1000 * (a + b)) / ((a + b) ** 2 + x * x + z * z) ** 1.5;
      const want = Math.max(0, Math.min(1, 0.5 - (x - edgeX) / width));
      square += (light.diffuse[i]! / bare - want) ** 2;
      count++;
    }
    expect(count).toBeGreaterThan(500);
    expect(Math.sqrt(square / count)).toBeLessThan(0.05);
  });
});

test.each(PATTERNS.filter((p) => p.kind !== 'branch').map((p) => [p.kind]))(
  'a large even lamp behind a card of %s: what comes through is its open share',
  async (kind) => {
    // Seen from 20 m a lamp 1 m behind the card is just hidden by a whole one; cosines differ by less than 0.1 %.
    const far = 20;
    const scale = (far + 1) / far;
    const emitter: Emitter = {
      shape: {
        kind: 'rectangle',
        centre: [0, 0, 1.5],
        axis: [0, 1, 0],
        up: [0, 0, 1],
        widthM: 0.8 * scale,
        heightM: 0.6 * scale,
      },
      beam: { kind: 'cosine', peakCd: 1000, exponent: 1 },
    };
    const layers = [lamp('L', emitter)];
    const probe = probeAt([
      [
        [0, 1 + far, 1.5],
        [0, -1, 0],
      ],
    ]);
    const asked = async (bodies: Body[]) => {
      const tracer = plainTracer();
      await tracer.load({ stage: assemble([wall(30), ...bodies]), layers });
      return (await tracer.direct(probe, 0, { seed: 2, samples: 16384 })).diffuse[0]!;
    };
    const through = await asked(card({ sizeM: [0.8, 0.6], pattern: { kind } }));
    const share = openShare({ kind }, 0.8, 0.6);
    // 16,384 spread points: a binomial's sigma is at most 0.004; theirs is smaller.
    expect(Math.abs(through / (await asked([])) - share)).toBeLessThan(0.006);
    expect(await asked(card({ sizeM: [0.8, 0.6] }))).toBe(0);
  },
);
