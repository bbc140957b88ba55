/** What was just done or is being tried, in one line for the eye; for the ear it is said by Polite. */
import { useEffect } from 'react';
import { type Difference, differences, differenceWords } from './differences.ts';
import { Said } from './Said.tsx';
import { useStore } from './store.ts';
import { useSaid } from './useUnits.ts';

/** The one line after an act, for six seconds. */
export function Says() {
  const line = useStore((s) => s.line);
  const tried = useStore((s) => s.tried);
  const from = useStore((s) => s.lineFrom);
  const steady = useStore((s) => s.steady);
  const results = useStore((s) => s.results);
  const { set, back } = useStore.getState();
  const said = useSaid();
  useEffect(() => {
    if (!line) return;
    const t = setTimeout(() => set({ line: undefined }), 6000);
    return () => clearTimeout(t);
  }, [line, set]);
  // The meter shows its own reading and what it means.
  if (tried?.edits.some((x) => x.edit === 'keepReading')) return null;
  if (tried)
    return (
      <div className="says">
        <em>trying</em> <span>{said(tried.says)}</span>
        <Differences list={differences(steady ?? {}, results)} />
        <span className="faint">
          press keeps · <kbd>Esc</kbd> leaves
        </span>
      </div>
    );
  if (!line) return null;
  return (
    <div className="says">
      <span>
        <Said>{said(line.words)}</Said>
      </span>
      <Differences list={differences(from, results)} />
      {line.back ? (
        <button type="button" onClick={back}>
          Back a step
        </button>
      ) : null}
    </div>
  );
}

const Differences = (p: { list: Difference[] }) =>
  p.list.length ? (
    <span className="quiet">
      {p.list.slice(0, 4).map(differenceWords).join(' · ')}
      {p.list.length > 4 ? ` · ${p.list.length - 4} more` : ''}
    </span>
  ) : null;
