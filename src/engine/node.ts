/** The pool in Node: worker threads. */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Tracer } from '../transport/tracer.ts';
import { type PoolOptions, poolTracer } from './pool.ts';
import type { FromWorker, Port } from './protocol.ts';

/** Where Node does not strip types itself, each worker needs the hook that does. */
const execArgv = (process.features as { typescript?: unknown }).typescript
  ? []
  : ['--import', new URL('../../bin/types-hook.js', import.meta.url).href];

/** One worker thread. */
export function nodePort(): Port {
  const worker = new Worker(new URL('./workerNode.ts', import.meta.url), { execArgv });
  return {
    post: (message, transfer) => worker.postMessage(message, transfer),
    listen(onMessage, onDeath) {
      worker.on('message', (message: FromWorker) => onMessage(message));
      worker.on('messageerror', (error) => onDeath(`its message could not be read (${error.message})`));
      worker.on('error', (error) => onDeath(error instanceof Error ? error.message : String(error)));
      worker.on('exit', (code) => onDeath(`it ended with code ${code}`));
    },
    close: () => void worker.terminate(),
    busy: (waited) => (waited ? worker.ref() : worker.unref()),
  };
}

/** A tracer on worker threads, as many as the machine has processors unless said. */
export const nodePool = (workers = availableParallelism(), options: PoolOptions = {}): Tracer =>
  poolTracer(nodePort, workers, options);
