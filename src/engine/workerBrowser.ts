/** A worker of a page: answers the pool that made it. */
import { turn } from './inPage.ts';
import type { FromWorker, ToWorker } from './protocol.ts';
import { serve } from './serve.ts';

const here = globalThis as unknown as {
  postMessage(message: FromWorker, transfer: ArrayBuffer[]): void;
  onmessage: ((event: MessageEvent<ToWorker>) => void) | null;
};
serve(
  {
    post: (message, transfer) => here.postMessage(message, transfer),
    listen: (onMessage) => {
      here.onmessage = (event) => onMessage(event.data);
    },
  },
  turn,
);
