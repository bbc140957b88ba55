/** Something more on the plan: typed by name, then tapped where it goes; Enter alone puts it on free floor. */
import { useRef, useState } from 'react';
import { type Puttable, putDown, searchPuttable } from '../scheme/putDown.ts';
import { freeWall } from '../shoot/moreOpenings.ts';
import type { Shoot } from '../shoot/schema.ts';
import { freeFloor } from '../shoot/tell.ts';
import { useStore } from './store.ts';

const SORTS: Record<Puttable['sort'], string> = {
  lamp: 'lamp',
  beam: 'in the beam',
  thing: 'thing',
  person: 'person',
  room: 'room behind the nearest wall',
  opening: 'in the nearest wall',
};
/** Offered before anything is typed. */
const FIRST = ['lamp', 'flag', 'frame', 'bounce', 'chair', 'person'] as const;

export function Adding(p: {
  shoot: Shoot;
  scene: string;
  angle: string;
  putting: Puttable | undefined;
  onPutting: (what: Puttable | undefined) => void;
  onPut: (what: Puttable, at: readonly [number, number]) => void;
}) {
  const [typed, setTyped] = useState('');
  const [wrong, setWrong] = useState(false);
  const input = useRef<HTMLInputElement>(null);
  const found = typed.trim() ? searchPuttable(p.shoot, p.scene, typed) : [];
  const place = p.shoot.scenes[p.scene]!.place;
  /** Where it goes without a tap. */
  const free = (what: Puttable) =>
    what.sort === 'opening' ? freeWall(p.shoot.places[place]!) : freeFloor(p.shoot, place);
  const choose = (what: Puttable) => {
    setTyped('');
    setWrong(false);
    p.onPutting(what);
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would be a form's
    <div className="adding" role="group" aria-label="Add to the plan">
      {p.putting ? (
        <>
          <span className="ember-word">Tap where the {p.putting.words} goes.</span>
          <button type="button" className="tiny" onClick={() => p.onPut(p.putting!, free(p.putting!))}>
            {p.putting.sort === 'opening' ? 'in a free wall' : 'on free floor'}
          </button>
          <button type="button" className="tiny" onClick={() => p.onPutting(undefined)}>
            leave it
          </button>
        </>
      ) : (
        <>
          <input
            ref={input}
            className="find"
            value={typed}
            maxLength={80}
            placeholder="add a lamp, a flag, a window, somebody …"
            aria-label="Add to the plan: type a name"
            aria-invalid={wrong}
            onChange={(e) => {
              setTyped(e.target.value);
              setWrong(false);
            }}
            onKeyDown={(e) => {
              if (e.key === 'Enter') {
                if (found[0]) {
                  p.onPut(found[0], free(found[0]));
                  setTyped('');
                } else if (typed.trim()) setWrong(true);
              }
              if (e.key === 'Escape') {
                e.stopPropagation();
                e.nativeEvent.stopImmediatePropagation();
                setTyped('');
                setWrong(false);
                input.current?.blur();
              }
            }}
          />
          {found.map((w) => (
            <button
              key={`${w.sort}:${w.id}`}
              type="button"
              className="boxed"
              data-put={`${w.sort}:${w.id}`}
              title={`${SORTS[w.sort]}: tap it, then the plan`}
              onClick={() => choose(w)}
            >
              {w.words}
            </button>
          ))}
          {typed.trim() && !found.length ? (
            <span role="alert" className={wrong ? 'bad' : 'quiet'}>
              Nothing is called “{typed.slice(0, 24)}”. Try {FIRST.slice(0, 4).join(', ')} or {FIRST[5]}.
            </span>
          ) : null}
        </>
      )}
    </div>
  );
}

/** Sets it down as one step and says what was done besides; the thing that came of it. */
export function put(
  shoot: Shoot,
  scene: string,
  angle: string,
  what: Puttable,
  at: readonly [number, number],
) {
  const made = putDown(shoot, { scene, angle }, what, at);
  const { act, set } = useStore.getState();
  if (made.edits.length && act(made.edits) !== undefined) return undefined;
  if (made.says.length) {
    const words = `${what.words[0]!.toUpperCase()}${what.words.slice(1)}: ${made.says.join('; ')}.`;
    set({ line: { words, back: made.edits.length > 0, stamp: Date.now() } });
  }
  return made.ref;
}
