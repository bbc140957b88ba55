/** Shoots kept in this browser, and those thrown away a while ago. */
import { useState } from 'react';
import { useNow } from './KeptLine.tsx';
import { sinceWords, useKept } from './kept.ts';
import { type Card, THROWN_DAYS } from './shelf.ts';
import { duplicate, openCardOf, putBack, rename, throwAway } from './shelving.ts';
import { TypedWords } from './TypedWords.tsx';

const DAY_MS = 86_400_000;
const sizeWords = (characters: number) =>
  characters < 1e6
    ? `${Math.max(1, Math.round(characters / 1000))} kB`
    : `${(characters / 1e6).toFixed(1)} MB`;
const pointOf = (e: React.MouseEvent) => ({ x: e.clientX, y: e.clientY });

export function KeptList() {
  const cards = useKept((s) => s.cards);
  const nowMs = useNow(cards[0]?.keptMs);
  const kept = cards.filter((c) => c.thrownMs === undefined);
  const thrown = cards.filter((c) => c.thrownMs !== undefined);
  return (
    <>
      {kept.length ? (
        <>
          <h3>Kept in this browser</h3>
          <ul className="kept-list">
            {kept.map((c) => (
              <Row key={c.id} card={c} nowMs={nowMs} />
            ))}
          </ul>
        </>
      ) : null}
      {thrown.length ? (
        <>
          <h3>Thrown away</h3>
          <ul className="kept-list">
            {thrown.map((c) => (
              <li key={c.id}>
                <span className="name quiet">{c.title}</span>
                <span className="acts">
                  <span className="faint">
                    gone for good {sinceWords(c.thrownMs! + THROWN_DAYS * DAY_MS, nowMs + 100 * 365 * DAY_MS)}
                  </span>
                  <button type="button" onClick={() => putBack(c)}>
                    put back
                  </button>
                </span>
              </li>
            ))}
          </ul>
        </>
      ) : null}
    </>
  );
}

function Row({ card, nowMs }: { card: Card; nowMs: number }) {
  const open = useKept((s) => s.id === card.id);
  const keptMs = useKept((s) => (open ? s.keptMs : undefined)) ?? card.keptMs;
  const [naming, setNaming] = useState(false);
  return (
    <li aria-current={open ? 'true' : undefined}>
      {naming ? (
        <TypedWords
          value={card.title}
          label={`New name of ${card.title}`}
          most={200}
          begins
          onValue={(title) => void rename(card, title, undefined)}
          onLeave={() => setNaming(false)}
        />
      ) : (
        <button
          type="button"
          className="name"
          disabled={open}
          onClick={(e) => openCardOf(card, pointOf(e))}
          title={open ? 'It is open' : 'Open it, with the steps made in it'}
        >
          {card.title}
        </button>
      )}
      <span className="faint facts">
        {sinceWords(keptMs, Math.max(nowMs, keptMs))} · {sizeWords(card.size)}
      </span>
      <span className="acts">
        <button type="button" onClick={() => setNaming(true)}>
          rename
        </button>
        <button type="button" onClick={(e) => duplicate(card, pointOf(e))}>
          duplicate
        </button>
        <button type="button" onClick={(e) => throwAway(card, pointOf(e))}>
          throw away
        </button>
      </span>
    </li>
  );
}
