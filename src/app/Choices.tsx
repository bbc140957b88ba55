/**
 * A sentence that is told in words to tap: each stands on a thin line, and a press opens what may stand in its place,
 * to be tapped or typed.
 */
import { useEffect, useId, useRef, useState } from 'react';
import { type Findable, finder } from '../shoot/found.ts';

export interface Choice extends Findable {
  id: string;
  /** It holds now. */
  on: boolean;
  /** Shown beside its words: #rrggbb. */
  hex?: string;
}

/** So many are offered before anything is typed; typing finds them all. */
const AT_FIRST = 16;

/** One word of the sentence. */
export function Word(p: {
  k: string;
  open: string | undefined;
  onOpen: (k?: string) => void;
  children: string;
}) {
  const here = p.open === p.k;
  return (
    <button
      type="button"
      className="told-word"
      aria-expanded={here}
      data-word={p.k}
      onClick={() => p.onOpen(here ? undefined : p.k)}
    >
      {p.children}
    </button>
  );
}

/** What may stand in the place of a word that is open. */
export interface InPlace {
  label: string;
  list: readonly Choice[];
  /** A sentence where it was refused. */
  pick: (id: string) => unknown;
  read?: (text: string) => { id: string } | string;
  /** Several may hold: the list stays open. */
  stays?: boolean;
}

/** The choices of the word that is open, if one is. */
export function OpenChoices({ of, onLeave }: { of: InPlace | undefined; onLeave: () => void }) {
  if (!of) return null;
  return (
    <Choices
      label={of.label}
      list={of.list}
      {...(of.read ? { read: of.read } : {})}
      onLeave={onLeave}
      onPick={(id) => {
        const refused = of.pick(id);
        if (typeof refused !== 'string' && !of.stays) onLeave();
        return refused;
      }}
    />
  );
}

export function Choices(p: {
  label: string;
  list: readonly Choice[];
  onPick: (id: string) => unknown;
  onLeave: () => void;
  /** What else may be typed: the id that it means, or what was expected. */
  read?: (text: string) => { id: string } | string;
}) {
  const [typed, setTyped] = useState('');
  const [wrong, setWrong] = useState<string>();
  const input = useRef<HTMLInputElement>(null);
  const group = useRef<HTMLDivElement>(null);
  const id = useId();
  useEffect(() => {
    // A finger has not asked for a keyboard yet.
    if (matchMedia('(pointer: fine)').matches) input.current?.focus({ preventScroll: true });
    else group.current?.scrollIntoView({ block: 'nearest' });
  }, []);
  const find = finder(p.list);
  const shown = typed ? find(typed, 12) : p.list;
  const list = typed && shown.length ? shown : p.list.slice(0, AT_FIRST);
  const take = () => {
    if (!typed.trim()) return p.onLeave();
    const read = p.read?.(typed);
    const best = read && typeof read === 'object' ? read.id : shown[0]?.id;
    if (best === undefined) {
      const expected =
        typeof read === 'string'
          ? read
          : `one of ${p.list
              .slice(0, 5)
              .map((c) => c.words)
              .join(', ')}${p.list.length > 5 ? ' …' : ''}`;
      return setWrong(`Not read: “${typed.slice(0, 24)}”. Type ${expected}.`);
    }
    const refused = p.onPick(best);
    if (typeof refused === 'string') return setWrong(refused);
    setTyped('');
    setWrong(undefined);
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would be a form's
    <div ref={group} className="choices" role="group" aria-label={p.label}>
      <input
        ref={input}
        className="find"
        value={typed}
        maxLength={80}
        placeholder="type or tap"
        aria-label={p.label}
        aria-invalid={wrong !== undefined}
        aria-describedby={wrong ? id : undefined}
        onChange={(e) => {
          setTyped(e.target.value);
          setWrong(undefined);
        }}
        onKeyDown={(e) => {
          if (e.key === 'Enter') take();
          if (e.key === 'Escape') {
            e.stopPropagation();
            e.nativeEvent.stopImmediatePropagation();
            if (typed) setTyped('');
            else p.onLeave();
          }
        }}
      />
      {list.map((c) => (
        <button
          key={c.id}
          type="button"
          className="boxed"
          aria-pressed={c.on}
          onClick={() => {
            const refused = p.onPick(c.id);
            setWrong(typeof refused === 'string' ? refused : undefined);
          }}
        >
          {c.hex ? <span className="hue" style={{ background: c.hex }} /> : null}
          {c.words}
        </button>
      ))}
      {wrong ? (
        <p id={id} role="alert" className="bad">
          {wrong}
        </p>
      ) : null}
    </div>
  );
}
