/** Shoots: the one that is open, where it is kept, copies of it; those on the shelf; others to open. */
import { shootNames, shootText } from './assets.ts';
import { KeptHow } from './KeptHow.tsx';
import { useNow } from './KeptLine.tsx';
import { KeptList } from './KeptList.tsx';
import { sinceWords, useKept } from './kept.ts';
import { openFile } from './opening.ts';
import { refuse } from './refused.ts';
import { beginRoom } from './roomDraft.ts';
import { saveAsFile } from './saving.ts';
import { sendOn } from './sendOn.ts';
import { useStore } from './store.ts';
import { TypedWords } from './TypedWords.tsx';

const SAVE_KEY = /Mac|iP(hone|ad)/.test(navigator.platform) ? '⌘S' : 'Ctrl S';

export function OpenAndKeep() {
  const said = useStore((s) => s.said);
  const failures = useStore((s) => s.failures);
  const shoot = useStore((s) => s.history?.shoot);
  const { open } = useStore.getState();
  const take = async (name: string, e: React.MouseEvent) => {
    try {
      open(await shootText(name), name, 'demo');
    } catch (error) {
      refuse({
        words: [`${name} could not be fetched (${(error as Error).message}).`, 'Nothing was changed.'],
        at: { x: e.clientX, y: e.clientY },
      });
    }
  };
  return (
    <div className="opens">
      {said.length ? (
        <div role="alert">
          {said.map((s) => (
            <p key={s}>{s}</p>
          ))}
        </div>
      ) : null}
      {shoot ? <ThisShoot title={shoot.title} /> : null}
      <KeptList />
      <h3>Open another</h3>
      <button
        type="button"
        className="boxed"
        onClick={() => {
          useStore.getState().set({ panel: 'none' });
          beginRoom();
        }}
      >
        Now your room
      </button>
      <OpenButton />
      <span className="faint by-hand">or drop it anywhere on this page, or paste its text</span>
      <p className="demos">
        <span className="quiet">Come with the program:</span>
        {shootNames.map((n) => (
          <button key={n} type="button" className="boxed" onClick={(e) => take(n, e)}>
            {n.replaceAll('-', ' ')}
          </button>
        ))}
      </p>
      <KeptHow />
      {failures.length ? (
        <>
          <h3>What went wrong inside</h3>
          <ul className="things bad">
            {failures.map((f) => (
              <li key={f}>{f}</li>
            ))}
          </ul>
        </>
      ) : null}
    </div>
  );
}

function ThisShoot({ title }: { title: string }) {
  const { keptMs, saved, file, reading, trouble, behind } = useKept();
  const act = useStore((s) => s.act);
  const shoot = useStore((s) => s.history?.shoot);
  const kind = useStore((s) => s.origin?.kind);
  const nowMs = useNow(saved && (!keptMs || saved.ms > keptMs) ? saved.ms : keptMs);
  return (
    <section className="this-shoot" aria-label="The shoot that is open">
      <TypedWords
        value={title}
        label="Name of the shoot"
        most={200}
        onValue={(words) => act({ edit: 'rename', args: { title: words } })}
      />
      <p className="quiet">
        {reading
          ? 'Another window writes it.'
          : trouble && behind
            ? 'What was changed last is not kept.'
            : keptMs
              ? `Kept ${sinceWords(keptMs, nowMs)} in this browser.`
              : kind === 'page'
                ? 'As it came in this page. From the first change on it is kept in this browser.'
                : 'A demo, nothing changed yet. From the first change on it is kept in this browser.'}{' '}
        {saved
          ? `Saved to ${saved.name} ${sinceWords(saved.ms, Math.max(nowMs, saved.ms))}${saved.shoot === shoot ? '' : '; changed since'}.`
          : null}
      </p>
      <button type="button" className="boxed" onClick={() => saveAsFile()}>
        {file ? `Save to ${file.name}` : 'Save as a file'} <kbd>{SAVE_KEY}</kbd>
      </button>
      {file ? (
        <button type="button" className="boxed" onClick={() => saveAsFile({ another: true })}>
          Save to another file
        </button>
      ) : null}
      <button type="button" className="boxed" onClick={() => sendOn()}>
        Send on as one page
      </button>
      <p className="faint">One page is program and shoot in one file, which opens anywhere.</p>
    </section>
  );
}

/** The browser's own way of choosing files, which tells where the file is, or else the plain one. */
function OpenButton() {
  const pick = (window as Partial<Picker>).showOpenFilePicker;
  return (
    <label className="boxed file">
      Open a file
      <input
        type="file"
        accept=".json,.html,application/json,text/html"
        onClick={async (e) => {
          if (!pick) return;
          e.preventDefault();
          const box = e.currentTarget.parentElement!.getBoundingClientRect();
          const at = { x: box.left + box.width / 2, y: box.bottom };
          try {
            const [handle] = await pick.call(window, {
              types: [
                { description: 'Shoot', accept: { 'application/json': ['.json'], 'text/html': ['.html'] } },
              ],
            });
            if (handle)
              await openFile(await handle.getFile(), at, handle.name.endsWith('.json') ? handle : undefined);
          } catch (error) {
            if ((error as Error).name !== 'AbortError')
              refuse({ words: [`The file could not be reached (${(error as Error).message}).`], at });
          }
        }}
        onChange={async (e) => {
          const input = e.target;
          const box = input.parentElement!.getBoundingClientRect();
          const file = input.files?.[0];
          if (file) await openFile(file, { x: box.left + box.width / 2, y: box.bottom });
          input.value = '';
        }}
      />
    </label>
  );
}
interface Picker {
  showOpenFilePicker: (options: {
    types: { description: string; accept: Record<string, string[]> }[];
  }) => Promise<FileSystemFileHandle[]>;
}
