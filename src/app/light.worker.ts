/** A worker of light: looks after some angles with a tracer of its own. */
import { fastTracer, fastWorldOf } from '../engine/fast.ts';
import { decodePeople } from '../stage/people/decode.ts';
import type { World } from '../transport/intersect.ts';
import { bytesAt } from './bytes.ts';
import type { FromLight, ToLight, Wanted } from './messages.ts';
import { Studio } from './studio.ts';

// A message to oneself lets the messages of others in between, faster than a timer would.
const channel = new MessageChannel();
const waiting: (() => void)[] = [];
channel.port1.onmessage = () => waiting.shift()?.();
const pause = () =>
  new Promise<void>((go) => {
    waiting.push(go);
    channel.port2.postMessage(0);
  });

const say = (message: FromLight, transfer: ArrayBuffer[] = []) => self.postMessage(message, { transfer });
let next: Wanted | undefined;
let expected: Extract<ToLight, { kind: 'expect' }> | undefined;
let busy = false;
let ready = false;
let given = false;
// Trees are built once for both tracers: the one of pictures, and the one that reads meanwhile.
const worlds = new WeakMap<World['stage'], World>();
const worldOf: typeof fastWorldOf = (stage, before) => {
  const world = worlds.get(stage) ?? fastWorldOf(stage, before);
  worlds.set(stage, world);
  return world;
};
const studio = new Studio({
  tracer: fastTracer({ pause, worldOf }),
  reader: fastTracer({ pause, worldOf }),
  people: undefined,
  say,
  pause,
  newer: () => next !== undefined,
});

async function work(): Promise<void> {
  if (busy || !ready) return;
  busy = true;
  if (expected) {
    const { expected: what, ports } = expected;
    expected = undefined;
    // What fails here fails again, and is said, when it is to be shown.
    await studio.expect(what, ports).catch(() => {});
  }
  while (next) {
    const now = next;
    next = undefined;
    try {
      await studio.show(now);
    } catch (error) {
      if ((error as Error).name !== 'AbortError')
        say({ kind: 'failed', turn: now.turn, angle: '', words: String((error as Error).stack ?? error) });
    }
  }
  busy = false;
}

async function take(figures: Uint8Array<ArrayBuffer> | string): Promise<void> {
  try {
    studio.people = decodePeople(typeof figures === 'string' ? await bytesAt(figures) : figures);
    ready = true;
    say({ kind: 'ready' });
    void work();
  } catch (error) {
    say({ kind: 'failed', turn: 0, angle: '', words: `The figures of people could not be read: ${error}.` });
  }
}

self.onmessage = (event: MessageEvent<ToLight>) => {
  const message = event.data;
  if (message.kind === 'people') {
    if (given) return;
    given = true;
    void take(message.bytes);
  } else if (message.kind === 'expect') {
    expected = message;
  } else if (message.kind === 'show') {
    next = message.wanted;
    studio.abandon(message.wanted);
  }
  void work();
};
