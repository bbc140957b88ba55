/** The pool in a page: workers, or where they cannot be had the page's own thread, with pauses. */
import type { RayCount, Tracer } from '../transport/tracer.ts';
import { fastTracer } from './fast.ts';
import { turn } from './inPage.ts';
import { type PoolOptions, poolTracer } from './pool.ts';
import type { FromWorker, Port } from './protocol.ts';
import TracingWorker from './workerBrowser.ts?worker';

/** Workers worth having: as many as processors, of more than four one left to the page, at most eight; two if not told. */
export const usefulWorkers = (processors = navigator.hardwareConcurrency): number =>
  processors > 4 ? Math.min(8, processors - 1) : Math.max(1, processors || 2);

/** A worker of a page as a pool's port. */
export function browserPort(worker: Worker): Port {
  return {
    post: (message, transfer) => worker.postMessage(message, transfer),
    listen(onMessage, onDeath) {
      worker.onmessage = (event: MessageEvent<FromWorker>) => onMessage(event.data);
      worker.onmessageerror = () => onDeath('its message could not be read');
      worker.onerror = (event) => {
        event.preventDefault?.();
        onDeath(event.message || 'it could not be started');
      };
    },
    close: () => worker.terminate(),
  };
}

/**
 * A tracer on `workers` workers. `spawn` makes one whose inside is workerBrowser.ts; by default the build sees to it:
 * a file of its own, or a blob in the one-file page. The first worker is tried at once; if it does not come up, all
 * is traced on the page's own thread.
 */
export function browserPool(
  workers = usefulWorkers(),
  spawn: () => Worker = () => new TracingWorker(),
  options: PoolOptions = {},
): Tracer {
  const none: RayCount = { camera: 0, shadow: 0, bounce: 0, link: 0 };
  let tracer: Tracer | undefined;
  let disposed = false;
  const ready = firstPort(spawn).then((first) => {
    let spare = first;
    const port = (): Port => {
      const taken = spare ?? browserPort(spawn());
      spare = undefined;
      return taken;
    };
    tracer = first ? poolTracer(port, workers, options) : fastTracer({ pause: turn });
    if (disposed) {
      first?.close();
      tracer.dispose();
    }
    return tracer;
  });
  return {
    get name() {
      return tracer?.name ?? 'pool';
    },
    get rays() {
      return tracer?.rays ?? none;
    },
    load: async (...asked) => (await ready).load(...asked),
    hits: async (...asked) => (await ready).hits(...asked),
    direct: async (...asked) => (await ready).direct(...asked),
    patchDirect: async (...asked) => (await ready).patchDirect(...asked),
    passes: async (...asked) => (await ready).passes(...asked),
    links: async (...asked) => (await ready).links(...asked),
    trace: async (...asked) => (await ready).trace(...asked),
    dispose() {
      disposed = true;
      tracer?.dispose();
    },
  };
}

/** A worker that has said it is ready; undefined if none can be had. */
function firstPort(spawn: () => Worker): Promise<Port | undefined> {
  return new Promise((resolve) => {
    try {
      const port = browserPort(spawn());
      port.listen(
        () => resolve(port),
        () => {
          port.close();
          resolve(undefined);
        },
      );
    } catch {
      resolve(undefined);
    }
  });
}
