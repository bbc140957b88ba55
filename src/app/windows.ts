/** What windows of one browser say to each other about kept shoots. */
import type { Entry } from '../shoot/journal.ts';

export type Said =
  /** A shoot went from one count to another; undefined entries: read it anew. */
  | { kind: 'kept'; id: string; was: number; seq: number; entries: Entry[] | undefined }
  /** Another window would like to write it. */
  | { kind: 'please'; id: string }
  /** The list changed. */
  | { kind: 'shelf' };

let channel: BroadcastChannel | undefined;
try {
  channel = new BroadcastChannel('rushlight');
} catch {
  // Not in this browser, or not for this page: windows go by the shelf alone.
}

export const tell = (said: Said): void => channel?.postMessage(said);
export function hear(heard: (said: Said) => void): void {
  channel?.addEventListener('message', (event: MessageEvent<Said>) => heard(event.data));
}
