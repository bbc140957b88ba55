/**
 * Workers behind the tracer port. Calls are cut in pieces of a few milliseconds, which workers take as they become
 * free; the numbers are those of one plain tracer, bit for bit, however many workers there are. Only `rays.camera`
 * may be higher: pieces of a picture overlap by a row.
 */
import { abortError } from '../transport/plain.ts';
import type { TransportScene } from '../transport/scene.ts';
import type { AbortSignalLike, Priority, RayCount, Tracer } from '../transport/tracer.ts';
import { type Cut, cutDirect, cutHits, cutLinks, cutPasses, cutPatchDirect, cutTrace } from './cut.ts';
import { sumsHere } from './fast.ts';
import { type Held, type Ledger, ledger } from './ledger.ts';
import { buffersOf, type FromWorker, type Port, type ToWorker } from './protocol.ts';

/** Milliseconds that a piece should take, and that it should at least. */
const PIECE_MS = 4;
const LEAST_MS = 0.5;
/** Pieces a worker is given ahead, the one it is at included, so that it need not wait for the next. */
const AHEAD = 2;
/** Milliseconds a ray takes, before it is known. */
const FIRST_GUESS = 1.5e-3;
/** Workers may die this often without an answer in between; then the pool gives up. */
const MOST_DEATHS = 3;

/** A call that somebody waits for. */
interface Job {
  cut: Cut<unknown>;
  held: Held;
  priority: Priority;
  signal: AbortSignalLike | undefined;
  /** First unit not yet given out; units not yet answered. */
  next: number;
  left: number;
  msEach: number;
  finish(error?: unknown): void;
}

interface Hand {
  port: Port;
  /** Pieces it has been given and not answered. `job` undefined: nobody waits for it any more. */
  pieces: Map<number, { job: Job | undefined; from: number; to: number }>;
}

/** A stage that workers are making ready. */
interface Building {
  stage: string;
  /** Workers that have not answered. */
  left: number;
  done: Promise<void>;
  settle(error?: unknown): void;
}

type Signal = AbortSignalLike &
  Partial<{
    addEventListener(type: 'abort', run: () => void): void;
    removeEventListener(type: 'abort', run: () => void): void;
  }>;

export interface PoolOptions {
  /** Put stages in memory that workers share. Default: wherever it may be done. */
  share?: boolean;
}

const mayShare = (): boolean =>
  typeof SharedArrayBuffer !== 'undefined' && globalThis.crossOriginIsolated !== false;

/** A tracer whose work is done by `workers` workers that `spawn` makes, when the first scene is loaded. */
export function poolTracer(
  spawn: () => Port,
  workers: number,
  { share = mayShare() }: PoolOptions = {},
): Tracer {
  const wanted = Math.max(1, Math.floor(workers));
  const rays: RayCount = { camera: 0, shadow: 0, bounce: 0, link: 0 };
  const hands = new Set<Hand>();
  const jobs = new Set<Job>();
  const building = new Map<number, Building>();
  const msPerRay = new Map<string, number>();
  let numbers = 0;
  const number = (): number => ++numbers;
  const kept: Ledger = ledger(share, number);
  let current: TransportScene | undefined;
  let deaths = 0;
  let over: Error | undefined;
  let waited = false;

  /** Workers keep the program alive only while somebody waits for them. */
  function tellBusy(): void {
    const now = jobs.size > 0 || building.size > 0;
    if (now !== waited) for (const { port } of hands) port.busy?.(now);
    waited = now;
  }

  function hire(): void {
    while (hands.size < wanted) {
      const hand: Hand = { port: spawn(), pieces: new Map() };
      hands.add(hand);
      hand.port.listen(
        (message) => {
          if (hands.has(hand)) hear(hand, message);
        },
        (why) => {
          if (hands.has(hand)) bury(hand, why);
        },
      );
      hand.port.busy?.(waited);
    }
  }

  function hear(hand: Hand, message: FromWorker): void {
    if (message.kind === 'ready') return;
    const { id } = message;
    const built = building.get(id);
    if (built) {
      if (message.kind === 'failed') {
        kept.drop(built.stage);
        built.settle(errorOf(message));
      } else if (--built.left === 0) built.settle();
      return;
    }
    const piece = hand.pieces.get(id);
    if (!piece) return;
    hand.pieces.delete(id);
    const { job, from, to } = piece;
    if (message.kind === 'answer') {
      deaths = 0;
      for (const kind of ['camera', 'shadow', 'bounce', 'link'] as const) rays[kind] += message.rays[kind];
    }
    if (job && message.kind === 'answer') {
      learn(job, to - from, message.ms);
      job.cut.put(from, to, message.answer);
      job.left -= to - from;
      if (job.left === 0) job.finish();
    } else if (job && message.kind === 'failed') job.finish(errorOf(message));
    pump();
  }

  function learn(job: Job, units: number, ms: number): void {
    const each = Math.max(1e-6, ms / units);
    job.msEach = job.next === job.cut.count ? each : 0.5 * (job.msEach + each);
    const { rate, raysEach } = job.cut;
    msPerRay.set(rate, 0.5 * (msPerRay.get(rate) ?? each / raysEach) + (0.5 * each) / raysEach);
  }

  /** A worker is gone: what was asked for fails, the others begin anew, another is hired when next needed. */
  function bury(hand: Hand, why: string): void {
    hands.delete(hand);
    hand.port.close();
    deaths++;
    const error = new Error(`A worker that traces light has stopped: ${why}`);
    error.name = 'WorkerDied';
    if (deaths >= MOST_DEATHS) over = error;
    const forget = clearAll(error);
    for (const other of hands) other.port.post(forget, []);
    if (over) for (const other of hands) other.port.close();
    if (over) hands.clear();
  }

  function clearAll(error: Error): ToWorker {
    for (const job of [...jobs]) job.finish(error);
    for (const built of [...building.values()]) built.settle(error);
    return kept.clear();
  }

  /** Sees to it that workers have the scene. */
  function hold(scene: TransportScene): Held {
    hire();
    const { held, send, building: id } = kept.hold(scene);
    for (const { port } of hands) for (const message of send) port.post(message, []);
    if (id !== undefined) expect(id, held.stage);
    return held;
  }

  function expect(id: number, stage: string): void {
    let settle = (_error?: unknown): void => {};
    const done = new Promise<void>((resolve, reject) => {
      settle = (error) => {
        building.delete(id);
        tellBusy();
        if (error === undefined) resolve();
        else reject(error);
      };
    });
    // Whoever loads hears of failure; one who only calls hears of it by the call.
    done.catch(() => {});
    building.set(id, { stage, left: hands.size, done, settle });
    tellBusy();
  }

  /** Gives workers pieces, the most urgent first, to the least busy first. */
  function pump(): void {
    for (const job of [...jobs]) if (job.signal?.aborted) job.finish(abortError());
    for (let ahead = 1; ahead <= AHEAD; ahead++) {
      for (const hand of hands) {
        if (hand.pieces.size >= ahead) continue;
        const job = nextJob();
        if (!job) return;
        give(hand, job);
      }
    }
  }

  function nextJob(): Job | undefined {
    let later: Job | undefined;
    for (const job of jobs) {
      if (job.next >= job.cut.count) continue;
      if (job.priority === 'now') return job;
      later ??= job;
    }
    return later;
  }

  function give(hand: Hand, job: Job): void {
    const { cut, held, priority, next: from } = job;
    // Pieces get smaller toward the end, so that workers end together.
    const rest = cut.count - from;
    const least = Math.max(cut.least, LEAST_MS / job.msEach);
    const units = Math.ceil(
      Math.min(rest, Math.max(least, Math.min(PIECE_MS / job.msEach, rest / (2 * wanted)))),
    );
    const to = Math.min(cut.count, from + units);
    job.next = to;
    const id = number();
    try {
      const question = cut.ask(from, to);
      hand.port.post(
        { kind: 'ask', id, stage: held.stage, list: held.list, priority, question },
        buffersOf(question),
      );
      hand.pieces.set(id, { job, from, to });
    } catch (error) {
      job.finish(error);
    }
  }

  /** Nobody waits for this job any more: workers need not either. */
  function letGo(job: Job): void {
    jobs.delete(job);
    for (const { port, pieces } of hands) {
      for (const [id, piece] of pieces) {
        if (piece.job !== job) continue;
        piece.job = undefined;
        port.post({ kind: 'abort', id }, []);
      }
    }
  }

  async function call<T>(
    make: (scene: TransportScene) => Cut<T>,
    options: { signal?: Signal; priority?: Priority },
  ): Promise<T> {
    const { signal, priority = 'now' } = options;
    if (over) throw over;
    if (!current) throw new Error('No scene is loaded: call load(scene) first.');
    if (signal?.aborted) throw abortError();
    const cut = make(current);
    if (cut.count === 0) return cut.whole();
    const held = hold(current);
    const release = kept.pin(held);
    return new Promise<T>((resolve, reject) => {
      const onAbort = (): void => {
        job.finish(abortError());
        pump();
      };
      const job: Job = {
        cut,
        held,
        priority,
        signal,
        next: 0,
        left: cut.count,
        msEach: Math.max(1e-6, (msPerRay.get(cut.rate) ?? FIRST_GUESS) * cut.raysEach),
        finish(error) {
          if (!jobs.has(job)) return;
          letGo(job);
          release();
          signal?.removeEventListener?.('abort', onAbort);
          tellBusy();
          if (error === undefined) resolve(cut.whole());
          else reject(error);
        },
      };
      jobs.add(job);
      signal?.addEventListener?.('abort', onAbort);
      tellBusy();
      pump();
    });
  }

  return {
    name: `pool of ${wanted}`,
    rays,
    ...sumsHere(),
    async load(scene) {
      if (over) throw over;
      current = scene;
      const { stage } = hold(scene);
      for (const built of building.values()) if (built.stage === stage) await built.done;
    },
    hits: (view, width, height, options) => call(() => cutHits(view, width, height, options), options),
    direct: (points, layer, options) => call((scene) => cutDirect(scene, points, layer, options), options),
    patchDirect: (layer, options) => call((scene) => cutPatchDirect(scene, layer, options), options),
    passes: (from, to, options = {}) => call(() => cutPasses(from, to), options),
    links: (points, per, options) => call(() => cutLinks(points, per, options), options),
    trace: (points, options) => call((scene) => cutTrace(scene, points, options), options),
    dispose() {
      over ??= new Error('This pool of workers has been disposed of.');
      current = undefined;
      clearAll(abortError());
      for (const { port } of hands) port.close();
      hands.clear();
    },
  };
}

function errorOf({ name, message }: { name: string; message: string }): Error {
  const error = new Error(message);
  error.name = name;
  return error;
}
