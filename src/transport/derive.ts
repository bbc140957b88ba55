/**
 * Values worked out from others, kept by the content they came from: equal keys, equal values. Bounded in bytes,
 * oldest use out first; a value that is being made is made once, whoever asks; making stops when nobody waits any more.
 */
import type { AbortSignalLike } from './tracer.ts';

export interface Making {
  /** Heard by whatever makes the value: becomes aborted when the last who waited has gone. */
  signal: AbortSignalLike;
}

export interface Derived {
  /**
   * The value of `key`, made by `make` unless it is there or on its way. `bytes`: what it takes. With `signal`,
   * this caller stops waiting (AbortError) as soon as `leave` is called or the signal is found aborted.
   */
  get<T>(
    key: string,
    make: (making: Making) => Promise<T> | T,
    bytes: (value: T) => number,
    signal?: AbortSignalLike,
  ): Promise<T>;
  /** The value if it is there now; counts as a use. */
  peek<T>(key: string): T | undefined;
  /** Forgets values whose key starts so; what is on its way is let finish but not kept. */
  drop(start: string): void;
  /** Looks whether those who wait still want to: call it after aborting signals (they cannot be listened to here). */
  sweep(): void;
  readonly bytes: number;
  readonly count: number;
}

interface Kept {
  value: unknown;
  bytes: number;
}
interface Waiter {
  signal: AbortSignalLike | undefined;
  leave: () => void;
}
interface OnItsWay {
  promise: Promise<unknown>;
  waiters: Set<Waiter>;
  signal: { aborted: boolean };
  dropped: boolean;
}

const cancelled = (): Error => {
  const error = new Error('Nobody waits for this any more.');
  error.name = 'AbortError';
  return error;
};

/** `limitBytes`: what may be kept; a single value above it is handed out but not kept. */
export function derived(limitBytes: number): Derived {
  // A Map remembers the order of insertion: the first is the one longest unused.
  const kept = new Map<string, Kept>();
  const onItsWay = new Map<string, OnItsWay>();
  let bytes = 0;

  function keep(key: string, value: unknown, size: number): void {
    if (size > limitBytes) return;
    const before = kept.get(key);
    if (before) {
      bytes -= before.bytes;
      kept.delete(key);
    }
    kept.set(key, { value, bytes: size });
    bytes += size;
    for (const [old, { bytes: freed }] of kept) {
      if (bytes <= limitBytes) break;
      kept.delete(old);
      bytes -= freed;
    }
  }

  function peek<T>(key: string): T | undefined {
    const found = kept.get(key);
    if (!found) return undefined;
    kept.delete(key);
    kept.set(key, found);
    return found.value as T;
  }

  /** Lets those go who no longer want to wait; stops making what nobody waits for. */
  function sweep(): void {
    for (const [key, way] of onItsWay) {
      for (const waiter of way.waiters) {
        if (!waiter.signal?.aborted) continue;
        way.waiters.delete(waiter);
        waiter.leave();
      }
      if (way.waiters.size === 0) {
        way.signal.aborted = true;
        onItsWay.delete(key);
      }
    }
  }

  return {
    get bytes() {
      return bytes;
    },
    get count() {
      return kept.size;
    },
    peek,
    sweep,
    drop(start) {
      for (const [key, { bytes: freed }] of kept) {
        if (!key.startsWith(start)) continue;
        kept.delete(key);
        bytes -= freed;
      }
      for (const [key, way] of onItsWay) {
        if (!key.startsWith(start)) continue;
        way.dropped = true;
        onItsWay.delete(key);
      }
    },
    async get(key, make, size, signal) {
      if (signal?.aborted) throw cancelled();
      sweep();
      if (kept.has(key)) return peek(key)!;
      let way = onItsWay.get(key);
      if (!way) {
        const heard = { aborted: false };
        const fresh: OnItsWay = {
          promise: Promise.resolve(),
          waiters: new Set(),
          signal: heard,
          dropped: false,
        };
        onItsWay.set(key, fresh);
        fresh.promise = (async () => {
          try {
            const value = await make({ signal: heard });
            if (!fresh.dropped && !heard.aborted) keep(key, value, size(value));
            return value;
          } finally {
            if (onItsWay.get(key) === fresh) onItsWay.delete(key);
          }
        })();
        fresh.promise.catch(() => undefined);
        way = fresh;
      }
      const { promise, waiters } = way;
      return new Promise((resolve, reject) => {
        const waiter: Waiter = { signal, leave: () => reject(cancelled()) };
        waiters.add(waiter);
        promise.then(
          (value) => {
            waiters.delete(waiter);
            if (signal?.aborted) reject(cancelled());
            else resolve(value as never);
          },
          (error) => {
            waiters.delete(waiter);
            reject(error);
          },
        );
      });
    },
  };
}
