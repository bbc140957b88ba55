/** What was just done or is being tried, said in one line. */
import { useEffect } from 'react';
import { useStore } from './store.ts';

/** The one line after an act, for six seconds. */
export function Says() {
  const line = useStore((s) => s.line);
  const tried = useStore((s) => s.tried);
  const { set, back } = useStore.getState();
  useEffect(() => {
    if (!line) return;
    const t = setTimeout(() => set({ line: undefined }), 6000);
    return () => clearTimeout(t);
  }, [line, set]);
  if (tried)
    return (
      <div className="says" role="status">
        <em>trying</em> <span>{tried.edit.says.replace(/\.$/, '')}</span>
        <span className="faint">
          press keeps · <kbd>Esc</kbd> leaves
        </span>
      </div>
    );
  if (!line) return null;
  return (
    <div className="says" role="status">
      <span>{line.words}</span>
      {line.back ? (
        <button type="button" onClick={back}>
          Back a step
        </button>
      ) : null}
    </div>
  );
}
