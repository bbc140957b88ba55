/** The sentence at the place where something was dropped, pasted or chosen that could not be taken. */
import { useEffect, useRef } from 'react';
import { refuse, useRefused } from './refused.ts';

const WIDTH_PX = 360;

export function Refused() {
  const refused = useRefused((s) => s.refused);
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!refused) return;
    const key = (e: KeyboardEvent) => {
      if (e.key !== 'Escape') return;
      e.stopImmediatePropagation();
      refuse(undefined);
    };
    // A press elsewhere has gone on to other things.
    const press = (e: PointerEvent) => {
      if (!refused.busy && !box.current?.contains(e.target as Node)) refuse(undefined);
    };
    addEventListener('keydown', key, true);
    addEventListener('pointerdown', press, true);
    return () => {
      removeEventListener('keydown', key, true);
      removeEventListener('pointerdown', press, true);
    };
  }, [refused]);
  if (!refused) return null;
  const { at, words, busy, acts = [] } = refused;
  const place = at
    ? {
        left: Math.max(8, Math.min(at.x - WIDTH_PX / 2, innerWidth - WIDTH_PX - 8)),
        ...(at.y > innerHeight / 2 ? { bottom: innerHeight - at.y + 8 } : { top: at.y + 8 }),
      }
    : undefined;
  return (
    <div
      ref={box}
      className="refused"
      data-placed={at !== undefined}
      style={place}
      role={busy ? 'status' : 'alert'}
    >
      {words.map((w) => (
        <p key={w}>{w}</p>
      ))}
      {busy ? null : (
        <div className="acts">
          {acts.map((a) => (
            <button
              key={a.words}
              type="button"
              onClick={() => {
                refuse(undefined);
                a.act();
              }}
            >
              {a.words}
            </button>
          ))}
          <button type="button" className="quiet" onClick={() => refuse(undefined)}>
            all right
          </button>
        </div>
      )}
    </div>
  );
}
