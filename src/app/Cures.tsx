/** Cures on offer: pointing tries, a press keeps; what is wanted all the same is marked meant, with a word. */
import { useRef, useState } from 'react';
import type { Edit } from '../shoot/edits.ts';
import { useStore } from './store.ts';
import type { Fold, Offer } from './troubleViews.ts';
import { useSaid } from './useUnits.ts';

/** Pointer and key doings of anything that tries an offer when pointed at and keeps it when pressed. */
export function useOffer(offer: Offer) {
  const touch = useRef(false);
  const tried = useStore((s) => s.tried?.says === offer.says);
  const { try: attempt, keep } = useStore.getState();
  const wish = { says: offer.says, edits: offer.edits };
  return {
    tried,
    doings: {
      onPointerEnter: (e: React.PointerEvent) => e.pointerType === 'mouse' && attempt(wish),
      onPointerLeave: (e: React.PointerEvent) => e.pointerType === 'mouse' && attempt(undefined),
      onFocus: (e: React.FocusEvent) => e.target.matches(':focus-visible') && attempt(wish),
      onBlur: () => attempt(undefined),
      onPointerDown: (e: React.PointerEvent) => {
        // A finger cannot point without pressing: its first press tries, its second keeps.
        touch.current = e.pointerType !== 'mouse' && !tried;
      },
      onClick: () => {
        if (touch.current) attempt(wish);
        else keep(wish);
        touch.current = false;
      },
    },
  };
}

export function OfferButton(p: { offer: Offer; className?: string }) {
  const { offer } = p;
  const { tried, doings } = useOffer(offer);
  const said = useSaid();
  return (
    <button type="button" className={p.className ?? 'cure'} aria-pressed={tried} {...doings}>
      <span className="act">
        {said(offer.act)}
        {offer.scope ? <span className="scope">, {offer.scope}</span> : null}
      </span>
      {offer.notes.length || offer.but.length ? (
        <span className="price">
          {said(offer.notes.join('; '))}
          {offer.but.length ? (
            <span className="but">
              {offer.notes.length ? ', ' : ''}but {said(offer.but.slice(0, 3).join(' and '))}
              {offer.but.length > 3 ? ' and more' : ''}
            </span>
          ) : null}
        </span>
      ) : null}
    </button>
  );
}

/** Marks a trouble meant in all the angles it is listed for, as one step. */
const meantEdits = (scene: string, fold: Fold, word: string): Edit[] =>
  fold.angles.map((angle) => ({
    edit: 'markMeant',
    args: {
      scene,
      angle,
      kind: fold.kind,
      ...(fold.lamp === undefined ? {} : { lamp: fold.lamp }),
      ...(fold.subject === undefined ? {} : { subject: fold.subject }),
      ...(word.trim() ? { word: word.trim() } : {}),
    },
  }));

export function Cures(p: { scene: string; fold: Fold; few?: boolean }) {
  const [more, setMore] = useState(false);
  const [meaning, setMeaning] = useState(false);
  const [word, setWord] = useState('');
  const { fold } = p;
  const shown = fold.offers.slice(0, more || !p.few ? 6 : 1);
  if (meaning)
    return (
      <form
        className="cures"
        onSubmit={(e) => {
          e.preventDefault();
          useStore.getState().act(meantEdits(p.scene, fold, word));
        }}
      >
        <input
          // biome-ignore lint/a11y/noAutofocus: asked for by the press before
          autoFocus
          className="word"
          placeholder="a word, why"
          aria-label="A word for why it is meant"
          value={word}
          onChange={(e) => setWord(e.target.value)}
          onKeyDown={(e) => {
            if (e.key !== 'Escape') return;
            e.stopPropagation();
            setMeaning(false);
          }}
        />
        <button type="submit" className="plain">
          meant
        </button>
      </form>
    );
  return (
    <span className="cures">
      {shown.map((offer) => (
        <OfferButton key={offer.says} offer={offer} />
      ))}
      {shown.length === 0 ? (
        <span className="quiet none">
          {fold.tried ? 'no cure was found that makes it less' : 'trying what would help …'}
        </span>
      ) : null}
      <span className="rest">
        {!more && p.few && fold.offers.length > 1 ? (
          <button type="button" className="plain" onClick={() => setMore(true)}>
            {fold.offers.length - 1} more
          </button>
        ) : null}
        {fold.ofSupply ? null : (
          <button type="button" className="plain" onClick={() => setMeaning(true)}>
            meant
          </button>
        )}
      </span>
    </span>
  );
}
