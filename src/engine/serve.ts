/**
 * The worker's side of a pool, the same in Node, in a browser and in the page itself: keeps stages and layers as it
 * is told, one plain tracer per stage, and answers one question at a time, those asked for `now` first.
 */

import type { World } from '../transport/intersect.ts';
import { abortError, plainTracer } from '../transport/plain.ts';
import type { Layer } from '../transport/scene.ts';
import type { Hits, RayCount, Stretch, Tracer } from '../transport/tracer.ts';
import { fastWorldOf } from './fast.ts';
import {
  type Answer,
  buffersOf,
  type FromWorker,
  type Outlet,
  type Question,
  STAGE_ARRAYS,
  type Stage,
  type ToWorker,
} from './protocol.ts';

/** A stage that is ready for rays. */
interface Kept {
  stage: Stage;
  world: World;
  tracer: Tracer;
  /** List of layers the tracer has been loaded with. */
  list: number;
}

type Ask = Extract<ToWorker, { kind: 'ask' }>;

/** `pause`: resolves after messages that wait have been heard. */
export function serve(outlet: Outlet, pause: () => Promise<void>): void {
  const stages = new Map<string, Kept>();
  const layers = new Map<string, Layer>();
  const lists = new Map<number, Layer[]>();
  const queue: Ask[] = [];
  let asked: { id: number; signal: { aborted: boolean } } | undefined;
  let working = false;

  const fail = (id: number, error: unknown): void => {
    const { name, message } = error instanceof Error ? error : new Error(String(error));
    outlet.post({ kind: 'failed', id, name, message }, []);
  };

  function keep({ id, stage, like, before }: Extract<ToWorker, { kind: 'stage' }>): void {
    const begun = performance.now();
    const whole = like ? rejoined(stage, like.same, stages.get(like.key)?.stage) : stage;
    const old = before === undefined ? undefined : stages.get(before)?.world;
    const world = fastWorldOf(whole, old);
    const tracer = plainTracer({ pause, worldOf: () => world });
    stages.set(whole.key, { stage: whole, world, tracer, list: -1 });
    outlet.post({ kind: 'built', id, ms: performance.now() - begun }, []);
  }

  async function answer({ id, stage, list, question }: Ask): Promise<void> {
    const signal = { aborted: false };
    asked = { id, signal };
    try {
      const kept = stages.get(stage);
      const lit = lists.get(list);
      if (!kept || !lit) throw new Error(`This worker has no stage ${stage} with layers ${list}.`);
      if (kept.list !== list) {
        await kept.tracer.load({ stage: kept.stage, layers: lit });
        kept.list = list;
      }
      const begun = performance.now();
      const rays: RayCount = { ...kept.tracer.rays };
      const answer = await answerOf(kept.tracer, question, signal);
      for (const kind of ['camera', 'shadow', 'bounce', 'link'] as const)
        rays[kind] = kept.tracer.rays[kind] - rays[kind];
      const message: FromWorker = { kind: 'answer', id, ms: performance.now() - begun, rays, answer };
      outlet.post(message, buffersOf(answer));
    } catch (error) {
      fail(id, error);
    }
    asked = undefined;
  }

  async function work(): Promise<void> {
    if (working) return;
    working = true;
    while (queue.length > 0) {
      const urgent = queue.findIndex((ask) => ask.priority === 'now');
      await answer(queue.splice(Math.max(0, urgent), 1)[0]!);
      if (queue.length > 0) await pause();
    }
    working = false;
  }

  outlet.listen((message) => {
    switch (message.kind) {
      case 'stage':
        try {
          keep(message);
        } catch (error) {
          fail(message.id, error);
        }
        break;
      case 'list':
        for (const layer of message.layers) layers.set(layer.key, layer);
        lists.set(
          message.list,
          message.keys.map((key) => layers.get(key)!),
        );
        break;
      case 'forget':
        for (const key of message.stages) {
          stages.get(key)?.tracer.dispose();
          stages.delete(key);
        }
        for (const list of message.lists) lists.delete(list);
        for (const key of message.layers) layers.delete(key);
        break;
      case 'ask':
        queue.push(message);
        void work();
        break;
      case 'abort': {
        if (asked?.id === message.id) asked.signal.aborted = true;
        const i = queue.findIndex((ask) => ask.id === message.id);
        if (i >= 0) {
          queue.splice(i, 1);
          fail(message.id, abortError());
        }
      }
    }
  });
  outlet.post({ kind: 'ready' }, []);
}

async function answerOf(tracer: Tracer, q: Question, signal: { aborted: boolean }): Promise<Answer> {
  switch (q.method) {
    case 'hits':
      return onlyRows(await tracer.hits(q.view, q.width, q.height, { ...q.options, signal }), q.options.rows);
    case 'direct':
      return tracer.direct(q.points, q.layer, { ...q.options, signal });
    case 'patchDirect': {
      const { from, to } = q.options.patches;
      return (await tracer.patchDirect(q.layer, { ...q.options, signal })).slice(from, to);
    }
    case 'passes':
      return tracer.passes(q.from, q.to, { signal });
    case 'links':
      return tracer.links(q.points, q.per, { ...q.options, signal });
    case 'trace':
      return tracer.trace(q.points, { ...q.options, signal });
  }
}

/** Of a picture's starts, only those of the rows that were asked for, and the end. */
const onlyRows = (hits: Hits, rows: Stretch): Hits => ({
  ...hits,
  pixelStart: hits.pixelStart.slice(rows.from * hits.width, rows.to * hits.width + 1),
});

/** A stage put together from the front of another and what was sent of it. */
function rejoined(sent: Stage, same: Record<string, number>, front: Stage | undefined): Stage {
  if (!front) throw new Error(`Stage ${sent.key} was sent in part, and its other part is not here.`);
  const whole = { ...sent };
  for (const name of STAGE_ARRAYS) {
    const n = same[name]!;
    const [head, tail] = [front[name], sent[name]];
    if (n === 0 || !head || !tail) continue;
    const made = new (head.constructor as new (n: number) => NonNullable<typeof head>)(n + tail.length);
    made.set(head.subarray(0, n));
    made.set(tail, n);
    (whole as Record<string, unknown>)[name] = made;
  }
  return whole;
}
