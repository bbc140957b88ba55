/** Lights kept with people: kept from a face as it is lit, asked for on another; what cannot be held is said. */
import { useRef, useState } from 'react';
import { type Asked, askLook, lookOf, lookWords } from '../scheme/look.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { AngleResult } from './messages.ts';
import { useStore, type Wish } from './store.ts';

const readOf = (r: AngleResult, mark: string) => {
  const m = r.marks.find((x) => x.mark === mark);
  return m && { mark: m, eRefLx: r.exposure.eRefLx, balance: r.balance, lamps: r.lamps };
};

/** A free name for a look. */
function lookId(shoot: Shoot, words: string): string {
  const plain =
    words
      .replace(/[^A-Za-z0-9]+/g, '-')
      .replace(/^[^A-Za-z]+|-+$/g, '')
      .slice(0, 30) || 'light';
  const taken = (id: string) => shoot.looks !== undefined && Object.hasOwn(shoot.looks, id);
  let id = plain;
  for (let n = 2; taken(id); n++) id = `${plain}-${n}`;
  return id;
}

/** “Keep this light with the widow.” */
export function KeepLook(p: { mark: string; name: string; result: AngleResult }) {
  const shoot = useStore((s) => s.history?.shoot);
  const [why, setWhy] = useState<string>();
  const keep = () => {
    const read = readOf(p.result, p.mark);
    if (!shoot || !read) return;
    const look = lookOf(shoot, p.result.ref, read, p.name);
    if (typeof look === 'string') return setWhy(look);
    setWhy(undefined);
    useStore.getState().act({ edit: 'keepLook', args: { id: lookId(shoot, p.name), look } });
  };
  return (
    <>
      <button type="button" className="boxed" onClick={keep}>
        Keep this light with the {p.name}
      </button>
      {why ? <p className="bad">{why}</p> : null}
    </>
  );
}

export function Looks(p: { scene: string; angle: string }) {
  const shoot = useStore((s) => s.history?.shoot);
  const result = useStore((s) => (s.steady ?? s.results)[p.angle]);
  const [asked, setAsked] = useState<{ look: string; mark: string; answer: Asked | string }>();
  if (!shoot || !result || !shoot.looks || Object.keys(shoot.looks).length === 0) return null;
  const marks = result.facesSeen.length ? result.facesSeen : result.marks.map((m) => m.mark);
  return (
    <section className="looks" aria-label="Lights kept with people">
      <h3>Lights kept with people</h3>
      <ul>
        {Object.entries(shoot.looks).map(([id, look]) => (
          <li key={id}>
            <strong>{look.words}</strong>{' '}
            <span className="faint">
              {look.scene === p.scene ? '' : `${shoot.scenes[look.scene]?.name ?? look.scene}, `}
              {look.angle}
            </span>
            <br />
            <em>{lookWords(look)}</em>
            <div>
              {marks.map((mark) => (
                <button
                  key={mark}
                  type="button"
                  className="boxed"
                  aria-pressed={asked?.look === id && asked.mark === mark}
                  onClick={() => {
                    const read = readOf(result, mark);
                    if (read)
                      setAsked({ look: id, mark, answer: askLook(shoot, result.ref, mark, look, read) });
                  }}
                >
                  ask for it on {mark}
                </button>
              ))}
              <button
                type="button"
                className="tiny"
                onClick={() => useStore.getState().act({ edit: 'dropLook', args: { id } })}
              >
                no longer
              </button>
            </div>
            {asked?.look === id ? <Answer answer={asked.answer} onKept={() => setAsked(undefined)} /> : null}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What comes nearest, and what gave; pointing tries it, a press keeps it. */
function Answer(p: { answer: Asked | string; onKept: () => void }) {
  if (typeof p.answer === 'string') return <p className="bad">{p.answer}</p>;
  const { edits, says, gave } = p.answer;
  return (
    <div className="cure-list">
      {edits.length ? <Wished says={says} edits={edits} onKept={p.onKept} /> : <p>{says}</p>}
      {gave.length ? (
        <ul className="gave">
          {gave.map((g) => (
            <li key={g}>{g}</li>
          ))}
        </ul>
      ) : (
        <p className="quiet">Nothing of it had to give, as planned; the light says the rest.</p>
      )}
    </div>
  );
}

function Wished(p: Wish & { onKept: () => void }) {
  const tried = useStore((s) => s.tried?.says === p.says);
  const touch = useRef(false);
  const wish = { says: p.says, edits: p.edits };
  const go = useStore.getState();
  return (
    <button
      type="button"
      className="cure"
      aria-pressed={tried}
      onPointerEnter={(e) => e.pointerType === 'mouse' && go.try(wish)}
      onPointerLeave={(e) => e.pointerType === 'mouse' && go.try(undefined)}
      onPointerDown={(e) => {
        // A finger’s first press tries, its second keeps.
        touch.current = e.pointerType !== 'mouse' && !tried;
      }}
      onClick={() => {
        if (touch.current) go.try(wish);
        else {
          go.keep(wish);
          p.onKept();
        }
        touch.current = false;
      }}
    >
      {p.says.replace(/\.$/, '')}
    </button>
  );
}
