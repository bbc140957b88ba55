/** A worker thread of Node: answers the pool that made it. */
import { parentPort } from 'node:worker_threads';
import type { ToWorker } from './protocol.ts';
import { serve } from './serve.ts';

const port = parentPort;
if (!port) throw new Error('This file is the inside of a worker: node.ts starts it.');
serve(
  {
    post: (message, transfer) => port.postMessage(message, transfer),
    listen: (onMessage) => {
      port.on('message', (message: ToWorker) => onMessage(message));
    },
  },
  () => new Promise((resolve) => setImmediate(resolve)),
);
