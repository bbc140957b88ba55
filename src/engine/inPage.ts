/** A worker that is none: answers on the thread that asks, with pauses. Where workers cannot be had, and for tests. */
import type { FromWorker, Port, ToWorker } from './protocol.ts';
import { serve } from './serve.ts';

/** Resolves after messages and events that wait have had their turn; sooner than a timer, which waits 4 ms. */
export function turn(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(0);
  });
}

/** Nothing is copied, so what is handed over by a message must not be used again by the one who sent it. */
export function inPagePort(pause: () => Promise<void> = turn): Port {
  let toPool: ((message: FromWorker) => void) | undefined;
  let toWorker: ((message: ToWorker) => void) | undefined;
  let open = true;
  serve(
    {
      post: (message) => void pause().then(() => open && toPool?.(message)),
      listen: (onMessage) => {
        toWorker = onMessage;
      },
    },
    pause,
  );
  return {
    post: (message) => void pause().then(() => open && toWorker?.(message)),
    listen: (onMessage) => {
      toPool = onMessage;
    },
    close: () => {
      open = false;
    },
  };
}
