/**
 * The writer's seat: of all windows that show one kept shoot only one may write. Held by the browser's own locks, so
 * that it is free again when a window closes, however it ends.
 */

/** Why one does not write just now. */
export type Why = 'taken' | 'passed' | 'stolen';
export interface Hears {
  /** `guarded`: no other window can write meanwhile. */
  writes: (guarded: boolean) => void;
  reads: (why: Why) => void;
}
export interface Seat {
  /** Lets another window have it, and waits for it to come free. */
  pass: () => void;
  /** Takes it from a window that does not answer. */
  steal: () => void;
  /** Gets up for good. */
  leave: () => void;
}

export function takeSeat(id: string, hears: Hears): Seat {
  const name = `rushlight-shoot-${id}`;
  let locks: LockManager | undefined;
  try {
    locks = navigator.locks;
  } catch {
    // A page of no origin.
  }
  let stop = new AbortController();
  let rise: (() => void) | undefined;
  let left = false;

  const sit = () =>
    new Promise<void>((up) => {
      rise = up;
      if (left) up();
      else hears.writes(true);
    });
  const ask = (options: LockOptions, sat: LockGrantedCallback<void> = sit) => {
    if (!locks) return queueMicrotask(() => left || hears.writes(false));
    locks.request(name, options, sat).catch((error: DOMException) => {
      if (left || (options.signal?.aborted ?? false)) return;
      if (error.name !== 'AbortError') return hears.writes(false);
      rise = undefined;
      hears.reads('stolen');
      wait();
    });
  };
  const wait = () => {
    stop = new AbortController();
    ask({ signal: stop.signal });
  };

  ask({ ifAvailable: true }, (lock) => {
    if (lock) return sit();
    hears.reads('taken');
    wait();
    return Promise.resolve();
  });
  return {
    pass() {
      if (!rise) return;
      rise();
      rise = undefined;
      hears.reads('passed');
      wait();
    },
    steal() {
      if (rise) return;
      stop.abort();
      ask({ steal: true });
    },
    leave() {
      left = true;
      stop.abort();
      rise?.();
    },
  };
}
