export interface Gathered<T> {
  (item: T): void;
  /** Hands on at once what has come. */
  now: () => void;
}

/** Longest wait for a hand's next step, ms. */
const STEP_MS = 60;

/**
 * Gathers what comes within one frame and hands it on together: a slow phone draws the page once, not once for every
 * angle’s answer. A page that is not looked at draws no frames: there a clock does it. While a hand is at work, what
 * came goes with the hand's next step, so that the page is not drawn in between for little; the hand may be still.
 */
export function perFrame<T>(
  take: (gathered: T[]) => void,
  frame: (go: () => void) => unknown = (go) => requestAnimationFrame(go),
  atHand: () => boolean = () => false,
): Gathered<T> {
  let waiting: T[] = [];
  const now = () => {
    if (waiting.length === 0) return;
    const gathered = waiting;
    waiting = [];
    take(gathered);
  };
  const give = (item: T) => {
    if (waiting.push(item) > 1) return;
    if (!atHand()) frame(now);
    setTimeout(now, STEP_MS);
  };
  return Object.assign(give, { now });
}
