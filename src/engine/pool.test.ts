/** A pool of workers gives the numbers of one tracer alone, hears who calls it off, and says so when a worker dies. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { boxQuads, lamp, matte, pointsInside, probeAt, type Quad, stageOf } from '../transport/box.ts';
import type { Emitter, TransportScene, View } from '../transport/scene.ts';
import type { AbortSignalLike, SurfacePoints, Tracer } from '../transport/tracer.ts';
import { fastTracer } from './fast.ts';
import { inPagePort } from './inPage.ts';
import { MOST_STAGES } from './ledger.ts';
import { nodePool, nodePort } from './node.ts';
import { poolTracer } from './pool.ts';
import type { Port, ToWorker } from './protocol.ts';

type Material = Quad['material'];
const shiny: Material = { ...matte(0.4, 'varnish'), gloss: { f0: 0.05, roughness: 0.3 } };
const mirror: Material = { ...matte(0.8, 'mirror'), kind: 'mirror' };
const glass: Material = { ...matte(0, 'pane'), kind: 'glass' };
const net: Material = { ...matte(0.3, 'net'), kind: 'sheet', straight: 0.6 };

const ball: Emitter = {
  shape: { kind: 'sphere', centre: [2, 2, 2.2], axis: [0, 0, -1], up: [0, 1, 0], radiusM: 0.2 },
  beam: { kind: 'isotropic', cd: 100 },
};
const panel: Emitter = {
  shape: {
    kind: 'rectangle',
    centre: [1, 1, 2.8],
    axis: [0, 0, -1],
    up: [0, 1, 0],
    widthM: 0.6,
    heightM: 0.3,
  },
  beam: { kind: 'isotropic', cd: 300 },
};
const wall = (y: number, material: Material, part: string): Quad => ({
  corner: [0.5, y, 0],
  sideU: [1.2, 0, 0],
  sideV: [0, 0, 2],
  material,
  cells: [4, 4],
  part,
});

/** A room with everything that light can meet; `x`: where the crate that moves stands. */
function sceneOf(key: string, x = 2, ...lights: Emitter[][]): TransportScene {
  const room = boxQuads(
    [0, 0, 0],
    [4, 4, 3],
    'in',
    { floor: shiny, ceiling: matte(0.8), walls: matte(0.5) },
    0.5,
  );
  const crate = boxQuads([x, 1, 0], [x + 0.6, 1.6, 0.9], 'out', matte(0.2), 0.3, 'crate');
  const stage = stageOf(
    [
      ...room,
      wall(2.6, glass, 'pane'),
      wall(3.2, mirror, 'mirror'),
      { ...wall(2.2, net, 'net'), corner: [2.2, 2.2, 0] },
      ...crate.map((q) => ({ ...q, moving: true })),
    ],
    `${key} ${x}`,
  );
  stage.stillKey = key;
  return {
    stage,
    layers: (lights.length ? lights : [[ball], [panel, ball]]).map((e, i) => lamp(`L${i}`, ...e)),
  };
}
const view: View = {
  eye: [2, 0.3, 1.5],
  forward: [0, 1, 0],
  right: [1, 0, 0],
  up: [0, 0, 1],
  tanH: 0.8,
  tanV: 0.6,
};

/** Everything a tracer can be asked of a scene, as alone data. */
async function everything(tracer: Tracer, points: SurfacePoints) {
  const seed = 5;
  const ends = points.position.map((x, i) => x + [0.9, -0.4, 1.1][i % 3]!);
  return {
    hits: await tracer.hits(view, 48, 36, { seed }),
    jittered: await tracer.hits(view, 32, 24, { seed, jitter: true, samples: 3, rows: { from: 3, to: 22 } }),
    ball: await tracer.direct(points, 0, { seed, samples: 4 }),
    both: await tracer.direct(points, 1, { seed, samples: 2 }),
    open: await tracer.direct(points, 1, { seed, samples: 2, shadows: false }),
    patches: await tracer.patchDirect(1, { seed, samples: 6 }),
    somePatches: await tracer.patchDirect(0, { seed, samples: 6, patches: { from: 17, to: 203 } }),
    passes: await tracer.passes(points.position, ends),
    links: await tracer.links(points, 12, { seed }),
    paths: await tracer.trace(points, { seed, paths: 5 }),
    morePaths: await tracer.trace(points, { seed, paths: 3, begun: 5, only: [1] }),
  };
}
const pictured = async (tracer: Tracer): Promise<SurfacePoints> =>
  (await tracer.hits(view, 24, 18, { seed: 2, jitter: true, samples: 1 })).points;

/** A port that notes what workers are told. */
const telling = (port: Port, told: ToWorker[]): Port => ({
  ...port,
  post(message, transfer) {
    told.push(message);
    port.post(message, transfer);
  },
});

const one = sceneOf('room');
let alone: Tracer;
let points: SurfacePoints;
let right: Awaited<ReturnType<typeof everything>>;
let pool: Tracer;
beforeAll(async () => {
  alone = fastTracer();
  await alone.load(one);
  points = await pictured(alone);
  right = await everything(alone, points);
  pool = nodePool(2);
  await pool.load(one);
});
afterAll(() => pool.dispose());

describe('the numbers are those of one tracer alone, bit for bit', () => {
  test('the fixture asks something of every method', () => {
    expect(points.count).toBeGreaterThan(400);
    expect(right.hits.glow.pixel.length).toBeGreaterThan(10);
    expect(right.hits.points.count).toBeGreaterThan(48 * 36);
    for (const some of [right.ball.gloss, right.both.diffuse, right.patches, right.paths.layers[1]!.bounced])
      expect(some.filter((x) => x > 0).length).toBeGreaterThan(50);
    expect(new Set(right.passes).size).toBeGreaterThan(2);
  });

  test('two workers, shared memory', async () => {
    expect(await everything(pool, points)).toEqual(right);
  });

  test('two workers, everything sent; the moving half alone when only that changes', async () => {
    const told: ToWorker[] = [];
    const heard = (): Port => {
      const port = nodePort();
      return telling(port, told);
    };
    const sending = poolTracer(heard, 2, { share: false });
    await sending.load(one);
    expect(await everything(sending, points)).toEqual(right);
    const moved = sceneOf('room', 2.8);
    await sending.load(moved);
    await alone.load(moved);
    expect(await everything(sending, points)).toEqual(await everything(alone, points));
    await alone.load(one);
    const stages = told.filter((m) => m.kind === 'stage');
    expect(stages.length).toBe(4);
    expect(stages[0]!.stage.positions.length).toBe(one.stage.positions.length);
    expect(stages[2]!.stage.positions.length).toBeLessThan(0.2 * one.stage.positions.length);
    sending.dispose();
  });

  test('three in the page', async () => {
    const inPage = poolTracer(() => inPagePort(), 3);
    await inPage.load(one);
    expect(await everything(inPage, points)).toEqual(right);
    inPage.dispose();
  });

  test('a list cut from a longer one, and an empty one', async () => {
    const late = { ...points, firstIndex: 1000 };
    const asked = { seed: 3, samples: 2 };
    expect(await pool.direct(late, 1, asked)).toEqual(await alone.direct(late, 1, asked));
    expect(await pool.direct(late, 1, asked)).not.toEqual(await alone.direct(points, 1, asked));
    expect((await pool.direct(probeAt([]), 0, asked)).diffuse.length).toBe(0);
  });
});

describe('scenes', () => {
  const angles = Array.from({ length: MOST_STAGES + 3 }, (_, i) =>
    sceneOf('room', 2 + i / 12, [{ ...ball, gain: 1 + i }], [panel]),
  );
  const asked = { seed: 4, samples: 2 };
  const light = async (tracer: Tracer) => {
    const calls = [tracer.direct(points, 0, asked), tracer.links(points, 4, { seed: 1 })] as const;
    return [(await calls[0]).diffuse, await calls[1]];
  };

  test('several by turns, more than are kept, without waiting: each call speaks of its own', async () => {
    const expected: Awaited<ReturnType<typeof light>>[] = [];
    const fresh = fastTracer();
    for (const scene of angles) {
      await fresh.load(scene);
      expected.push(await light(fresh));
    }
    for (const k of [0, 1]) expect(expected[0]![k]).not.toEqual(expected[9]![k]);
    for (let round = 0; round < 2; round++) {
      const calls = angles.map((scene) => {
        void pool.load(scene);
        return light(pool);
      });
      expect(await Promise.all(calls)).toEqual(expected);
    }
  });

  test('a stage that is known is not sent again; of layers only new ones', async () => {
    const told: ToWorker[] = [];
    const tracer = poolTracer(() => {
      const port = inPagePort();
      return telling(port, told);
    }, 1);
    await tracer.load(one);
    await tracer.load(sceneOf('room', 2.6));
    expect(told.map((m) => m.kind)).toEqual(['stage', 'list', 'stage']);
    await tracer.load(one);
    expect(told.length).toBe(3);
    const brighter = { stage: one.stage, layers: [one.layers[0]!, lamp('L1', { ...panel, gain: 2 })] };
    await tracer.load(brighter);
    expect(told.slice(3)).toMatchObject([{ kind: 'list', layers: [brighter.layers[1]] }]);
    await alone.load(brighter);
    expect(await tracer.direct(points, 1, asked)).toEqual(await alone.direct(points, 1, asked));
    await alone.load(one);
    tracer.dispose();
  });

  test('a call without a scene, and for a layer that is not there, say so as the alone tracer does', async () => {
    const tracer = nodePool(1);
    await expect(tracer.direct(points, 0, asked)).rejects.toThrow('No scene is loaded');
    await tracer.load(one);
    await expect(tracer.direct(points, 7, asked)).rejects.toThrow('There is no layer 7');
    await expect(tracer.trace(points, { seed: 1, paths: 1, only: [7] })).rejects.toThrow(
      'There is no layer 7',
    );
    tracer.dispose();
    await expect(tracer.direct(points, 0, asked)).rejects.toThrow('disposed');
  });
});

test('rays are those of the alone tracer, but for the rows where pieces of a picture meet', async () => {
  const [a, b] = [fastTracer(), nodePool(2)];
  const spent = { ...b.rays };
  for (const tracer of [a, b]) {
    await tracer.load(one);
    await tracer.direct(points, 1, { seed: 1, samples: 4 });
    await tracer.links(points, 8, { seed: 1 });
    await tracer.patchDirect(0, { seed: 1, samples: 4 });
    await tracer.passes(points.position, points.position.slice().reverse());
    await tracer.trace(points, { seed: 1, paths: 4 });
  }
  expect(a.rays.bounce).toBeGreaterThan(points.count * 4);
  expect(spent).toEqual({ camera: 0, shadow: 0, bounce: 0, link: 0 });
  expect(b.rays).toEqual(a.rays);
  for (const tracer of [a, b]) await tracer.hits(view, 64, 48, { seed: 1, samples: 1 });
  expect(b.rays.camera).toBeGreaterThanOrEqual(a.rays.camera);
  b.dispose();
});

describe('calls are called off', () => {
  // Some ten seconds of work, in pieces of a few milliseconds.
  const long = (options: { signal?: AbortSignalLike; priority?: 'now' | 'later' }, tracer = pool) =>
    tracer.trace(points, { seed: 1, paths: 400, ...options });

  test('promptly, whatever the signal is, and the workers are free at once', async () => {
    await pool.load(one);
    const controller = new AbortController();
    const flag = { aborted: false };
    const ends = Promise.allSettled([long({ signal: controller.signal }), long({ signal: flag })]);
    await new Promise((resolve) => setTimeout(resolve, 30));
    const begun = performance.now();
    controller.abort();
    flag.aborted = true;
    for (const end of await ends) expect(end).toMatchObject({ reason: { name: 'AbortError' } });
    const soon = performance.now() - begun;
    await pool.direct(
      probeAt([
        [
          [1, 1, 1],
          [0, 0, 1],
        ],
      ]),
      0,
      { seed: 1, samples: 1 },
    );
    // A worker called off still tells of the few milliseconds' piece it was in; then the count stands still.
    await new Promise((resolve) => setTimeout(resolve, 250));
    const spent = pool.rays.bounce;
    await new Promise((resolve) => setTimeout(resolve, 250));
    expect(pool.rays.bounce).toBe(spent);
    // The two take ten seconds if nobody calls them off, on a machine that does nothing else.
    expect(soon).toBeLessThan(1000);
  });

  test('what is asked for now overtakes what may come later', async () => {
    const controller = new AbortController();
    const order: string[] = [];
    const later = long({ signal: controller.signal, priority: 'later' }).catch(() => order.push('later'));
    await pool.direct(points, 0, { seed: 1, samples: 8, priority: 'now' });
    order.push('now');
    controller.abort();
    await later;
    expect(order).toEqual(['now', 'later']);
  });

  test('disposing ends what is waited for', async () => {
    const tracer = nodePool(2);
    await tracer.load(one);
    const call = long({}, tracer);
    setTimeout(() => tracer.dispose(), 10);
    await expect(call).rejects.toMatchObject({ name: 'AbortError' });
  });
});

describe('a worker dies', () => {
  test('who waits is told, and the next call is answered by another', async () => {
    const deaths: ((why: string) => void)[] = [];
    const tracer = poolTracer(() => {
      const port = nodePort();
      return {
        ...port,
        listen: (hear, die) => {
          deaths.push(die);
          port.listen(hear, die);
        },
      };
    }, 2);
    await tracer.load(one);
    const calls = Promise.allSettled([
      tracer.trace(points, { seed: 1, paths: 400 }),
      tracer.links(points, 400, { seed: 1 }),
    ]);
    setTimeout(() => deaths[1]!('out of memory'), 20);
    for (const end of await calls)
      expect(end).toMatchObject({
        reason: { name: 'WorkerDied', message: expect.stringContaining('out of memory') },
      });
    expect(await tracer.links(points, 12, { seed: 5 })).toEqual(right.links);
    expect(deaths.length).toBe(3);
    tracer.dispose();
  });

  test('when they all die at once the pool gives up and says why', async () => {
    const tracer = poolTracer(
      () => ({
        post() {},
        listen: (_hear, die) => void setTimeout(() => die('no room')),
        close() {},
      }),
      1,
    );
    for (let i = 0; i < 5; i++) await expect(tracer.load(one)).rejects.toThrow('no room');
    await expect(tracer.direct(points, 0, { seed: 1, samples: 1 })).rejects.toThrow('no room');
  });

  test('a stage that cannot be made ready is an error of load', async () => {
    const broken = { ...sceneOf('broken'), layers: [] };
    broken.stage = { ...broken.stage, materials: undefined as never };
    await expect(pool.load(broken)).rejects.toThrow();
    await pool.load(one);
    expect(await pool.links(points, 12, { seed: 5 })).toEqual(right.links);
  });
});

test('points made by hand all over a box', async () => {
  let n = 0;
  const at = probeAt(pointsInside([0, 0, 0], [4, 4, 3], 300, () => (n++ * 0.6180339887) % 1).at);
  expect(await pool.trace(at, { seed: 2, paths: 5 })).toEqual(await alone.trace(at, { seed: 2, paths: 5 }));
});
