/** Reads a large shoot away from the page, which goes on meanwhile. */
import { openShoot } from '../shoot/file.ts';

self.onmessage = (event: MessageEvent<string>) => self.postMessage(openShoot(event.data));
