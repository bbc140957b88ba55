/**
 * The journal of a shoot: what was done to it since it was last written whole, as plain data. Replayed on that
 * writing it gives the same shoot with the same steps to go back.
 */
import { back, forward, type History, leave, MOST, type Step, stepped } from './history.ts';

export type Entry = { did: Step } | { went: 'back' | 'forward' };

interface Steps {
  done: readonly Step[];
  undone: readonly Step[];
}
const same = (a: Steps, b: Steps): boolean =>
  a.done.length === b.done.length &&
  a.undone.length === b.undone.length &&
  a.done.every((s, i) => s === b.done[i]) &&
  a.undone.every((s, i) => s === b.undone[i]);

/** What an entry does to the two lists of steps. */
function after({ done, undone }: Steps, entry: Entry): Steps {
  if ('did' in entry) return { done: [...done, entry.did].slice(-MOST), undone: [] };
  return entry.went === 'back'
    ? { done: done.slice(0, -1), undone: [...undone, done.at(-1)!] }
    : { done: [...done, undone.at(-1)!], undone: undone.slice(0, -1) };
}

/**
 * What leads from one history to a later one of the same shoot, drags under way left out. Undefined: no few entries
 * do (another shoot, or too much at once); then it must be written whole.
 */
export function entriesBetween(was: History, is: History): Entry[] | undefined {
  const a = leave(was);
  const b = leave(is);
  if (a.shoot === b.shoot && same(a, b)) return [];

  // Steps both have; the oldest may have gone from the later one.
  const gone = b.done.length ? a.done.indexOf(b.done[0]!) : 0;
  const first = Math.max(0, gone);
  let common = 0;
  while (first + common < a.done.length && a.done[first + common] === b.done[common]) common++;

  const out: Entry[] = [];
  let at: Steps = a;
  const add = (entry: Entry) => {
    out.push(entry);
    at = after(at, entry);
  };
  while (at.done.length > first + common) add({ went: 'back' });
  for (const step of b.done.slice(common))
    add(at.undone.at(-1) === step ? { went: 'forward' } : { did: step });
  return out.length && same(at, b) ? out : undefined;
}

/** The entries done again, in order. Throws where one does not fit the shoot it meets. */
export function replay(from: History, entries: readonly Entry[]): History {
  let h = from;
  for (const entry of entries) {
    const next = 'did' in entry ? stepped(h, entry.did) : entry.went === 'back' ? back(h) : forward(h);
    if (next === h) throw new Error('The journal goes back further than its steps.');
    h = next;
  }
  return h;
}
