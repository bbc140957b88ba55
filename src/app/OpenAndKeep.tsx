import { saveShoot } from '../shoot/file.ts';
import { shootNames, shootText } from './assets.ts';
import { keepAsFile, onePageOf } from './onePageOf.ts';
import { useStore } from './store.ts';

const nameOf = (title: string) =>
  title
    .trim()
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '') || 'shoot';

export function OpenAndKeep() {
  const shoot = useStore((s) => s.history?.shoot);
  const said = useStore((s) => s.said);
  const failures = useStore((s) => s.failures);
  const { open, set } = useStore.getState();
  const take = async (name: string) => {
    try {
      open(await shootText(name), name);
    } catch (error) {
      set({ said: [(error as Error).message] });
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
      <h3>Shoots that come with the program</h3>
      {shootNames.map((n) => (
        <button key={n} type="button" className="boxed" onClick={() => take(n)}>
          {n.replaceAll('-', ' ')}
        </button>
      ))}
      <h3>Your own</h3>
      <label className="boxed file">
        Open a shoot’s file
        <input
          type="file"
          accept=".json,application/json"
          onChange={async (e) => {
            const file = e.target.files?.[0];
            if (file) open(await file.text(), file.name);
            e.target.value = '';
          }}
        />
      </label>
      <span className="faint">or drop it anywhere on this page</span>
      {shoot ? (
        <>
          <h3>Keep</h3>
          <button
            type="button"
            className="boxed"
            onClick={() => keepAsFile(`${nameOf(shoot.title)}.json`, saveShoot(shoot), 'application/json')}
          >
            Save the shoot as a file
          </button>
          <button
            type="button"
            className="boxed"
            onClick={async () => {
              try {
                keepAsFile(
                  `${nameOf(shoot.title)}.html`,
                  await onePageOf({ title: shoot.title, shoot: saveShoot(shoot) }),
                );
              } catch (error) {
                set({ said: [`The page could not be made: ${(error as Error).message}.`] });
              }
            }}
          >
            Save as one page that opens anywhere
          </button>
        </>
      ) : null}
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
