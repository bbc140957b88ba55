/** What comes within a frame is handed on together, once, in its order; without frames a clock does it. */
import { expect, test, vi } from 'vitest';
import { perFrame } from './perFrame.ts';

test('one frame, one handing on; the next frame takes what came since', () => {
  vi.useFakeTimers();
  const frames: (() => void)[] = [];
  const taken: number[][] = [];
  const give = perFrame<number>(
    (list) => taken.push(list),
    (go) => frames.push(go),
  );
  for (const n of [1, 2, 3]) give(n);
  expect(frames).toHaveLength(1);
  frames[0]!();
  give(4);
  vi.advanceTimersByTime(100);
  expect(taken).toEqual([[1, 2, 3], [4]]);
  // A frame that comes late has nothing left to take.
  frames[1]!();
  expect(taken).toHaveLength(2);
  vi.useRealTimers();
});

test('under a hand it goes with the hand’s next step, or by the clock where none comes; no frame is asked for', () => {
  vi.useFakeTimers();
  const frames: (() => void)[] = [];
  const taken: number[][] = [];
  const give = perFrame<number>(
    (list) => taken.push(list),
    (go) => frames.push(go),
    () => true,
  );
  give(1);
  give(2);
  expect(frames).toHaveLength(0);
  expect(taken).toEqual([]);
  give.now();
  expect(taken).toEqual([[1, 2]]);
  give(3);
  vi.advanceTimersByTime(100);
  expect(taken).toEqual([[1, 2], [3]]);
  vi.useRealTimers();
});
