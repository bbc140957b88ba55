/** The bar's quiet line: since when the shoot is kept. And, not quiet, why it is not. */
import { useEffect, useState } from 'react';
import { takeOver } from './keeper.ts';
import { sinceWords, useKept } from './kept.ts';
import { saveAsFile } from './saving.ts';
import { useStore } from './store.ts';

/** The time, now and then: every second while seconds are told, then every half minute. */
export function useNow(sinceMs: number | undefined): number {
  const [nowMs, setNow] = useState(Date.now);
  useEffect(() => {
    if (sinceMs === undefined) return;
    setNow(Date.now());
    let timer: ReturnType<typeof setTimeout>;
    const tick = () => {
      setNow(Date.now());
      timer = setTimeout(tick, Date.now() - sinceMs < 60_000 ? 1000 : 30_000);
    };
    timer = setTimeout(tick, 1000);
    return () => clearTimeout(timer);
  }, [sinceMs]);
  return Math.max(nowMs, sinceMs ?? 0);
}

export function KeptLine() {
  const { keptMs, behind, reading, trouble } = useKept();
  const set = useStore((s) => s.set);
  const nowMs = useNow(keptMs);
  const words = reading
    ? 'another window writes this shoot'
    : trouble && behind
      ? 'not kept'
      : keptMs
        ? `kept ${sinceWords(keptMs, nowMs)}`
        : undefined;
  if (!words) return null;
  return (
    <button
      type="button"
      className={trouble && behind ? 'kept bad' : 'kept faint'}
      onClick={() => set({ panel: 'open' })}
      title="Where it is kept, and how to keep a copy"
    >
      {words}
      {keptMs && !reading && !(trouble && behind) ? (
        <span className="where-kept"> in this browser</span>
      ) : null}
    </button>
  );
}

/** A strip under the bar while something is amiss with the keeping: what, and what to do. */
export function KeptTrouble() {
  const { behind, reading, trouble } = useKept();
  if (reading)
    return (
      <div className="kept-strip" role="status">
        <span>
          {reading === 'stolen' || reading === 'passed'
            ? 'Another window has taken over: it writes this shoot now, and what it changes shows here.'
            : 'This shoot is open in another window, which writes it; what it changes shows here.'}
        </span>
        <button type="button" onClick={takeOver}>
          Write it here instead
        </button>
      </div>
    );
  if (!trouble || !behind) return null;
  return (
    <div className="kept-strip bad" role="alert">
      <span>{trouble.join(' ')}</span>
      <button type="button" onClick={() => saveAsFile()}>
        Save as a file
      </button>
    </div>
  );
}
