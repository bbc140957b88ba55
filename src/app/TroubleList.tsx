/** Everything that is wrong, worst first, once whichever angles it is in; then what is worth knowing, and what is meant. */

import { listed } from '../scheme/listed.ts';
import { NOT_LOOKED_FOR } from '../scheme/troubles.ts';
import type { Shoot } from '../shoot/schema.ts';
import { Cures, OfferButton } from './Cures.tsx';
import { lampColour } from './identity.ts';
import { useStore } from './store.ts';
import { type Fold, foldMeant, foldTroubles, freeOffer } from './troubleViews.ts';
import { useSaid } from './useUnits.ts';

export function TroubleList(p: { shoot: Shoot; scene: string; angles: string[]; bare?: boolean }) {
  const results = useStore((s) => s.steady ?? s.results);
  const scene = p.shoot.scenes[p.scene]!;
  const folds = foldTroubles(results, p.angles).filter((f) => f.severity >= 1);
  const wrong = folds.filter((f) => f.severity >= 2);
  const notes = folds.filter((f) => f.severity < 2);
  const free = freeOffer(results, p.angles);
  const reading = Object.keys(results).length < p.angles.length;
  const title = reading
    ? 'Looking for troubles'
    : wrong.length === 0
      ? 'Nothing wrong was found'
      : 'What is wrong, worst first';
  return (
    <section className="troubles" {...(p.bare ? {} : { 'aria-label': 'Troubles' })}>
      <header>
        {p.bare ? null : <h2>{title}</h2>}
        {free ? (
          <OfferButton
            className="plain all"
            offer={{ ...free, act: `Cure all that cost nothing (${free.edits.length})` }}
          />
        ) : null}
      </header>
      <Groups list={wrong} scene={p.scene} lamps={scene.rig.lamps} angles={p.angles.length} />
      {notes.length ? (
        <details className="notes" open={p.bare === true && wrong.length === 0}>
          <summary>Worth knowing ({notes.length})</summary>
          <Groups list={notes} scene={p.scene} lamps={scene.rig.lamps} angles={p.angles.length} />
        </details>
      ) : null}
      <Meant {...p} />
      <p className="faint not">{NOT_LOOKED_FOR}</p>
    </section>
  );
}

function Groups(p: {
  list: readonly Fold[];
  scene: string;
  lamps: Shoot['scenes'][string]['rig']['lamps'];
  angles: number;
}) {
  const said = useSaid();
  const ids = Object.keys(p.lamps);
  const groups = new Map<string, Fold[]>();
  for (const f of p.list) {
    const key = f.lamp ?? (f.ofSupply ? 'supply' : '');
    groups.set(key, [...(groups.get(key) ?? []), f]);
  }
  return [...groups].map(([key, list]) => (
    <div key={key} className="trouble-group">
      {p.lamps[key] ? (
        <span
          className="number"
          style={{ '--lamp': lampColour(ids.indexOf(key) + 1) } as React.CSSProperties}
        >
          <span className="aside">lamp </span>
          {p.lamps[key].number}
        </span>
      ) : (
        <span className="number none">{key === 'supply' ? 'V' : '·'}</span>
      )}
      <ul>
        {list.map((fold) => (
          <li
            key={fold.key}
            data-severity={fold.severity}
            onPointerDown={() => useStore.getState().set({ angle: fold.angles[0] })}
          >
            {fold.lines.map((line) => (
              <p key={line.says}>
                <b>
                  {fold.ofSupply && line.angles.length === p.angles
                    ? 'supply'
                    : line.angles.length === p.angles && p.angles > 2
                      ? 'every angle'
                      : listed(line.angles)}
                </b>{' '}
                <span className="trouble-says">{said(line.says)}</span>
              </p>
            ))}
            <Cures scene={p.scene} fold={fold} />
          </li>
        ))}
      </ul>
    </div>
  ));
}

/** What is meant stays on the card, quiet, and can be taken back. */
function Meant(p: { shoot: Shoot; scene: string; angles: string[] }) {
  const results = useStore((s) => s.steady ?? s.results);
  const scene = p.shoot.scenes[p.scene]!;
  const list = foldMeant(results, p.angles);
  if (list.length === 0) return null;
  return (
    <ul className="meant" aria-label="Meant">
      {list.map(({ key, word, entries }) => {
        const { t } = entries[0]!;
        const angles = entries.map((e) => e.angle);
        return (
          <li key={key} title={t.says}>
            <span>
              <b>{listed(angles)}</b> {t.short}: <em>meant</em>
              {word && word !== 'meant' ? `, ${word}` : ''}
            </span>
            <button
              type="button"
              className="tiny"
              aria-label={`${t.short} in ${listed(angles)}: no longer meant`}
              onClick={() => {
                const edits = entries.flatMap(({ angle, t: x }) => {
                  const m = scene.angles[angle]!.meant.find(
                    (y) =>
                      y.kind === x.kind &&
                      (!y.lamp || y.lamp === x.lamp) &&
                      (!y.subject || y.subject === x.subject),
                  );
                  return m
                    ? [
                        {
                          edit: 'unmeant',
                          args: {
                            scene: p.scene,
                            angle,
                            kind: m.kind,
                            ...(m.lamp ? { lamp: m.lamp } : {}),
                            ...(m.subject ? { subject: m.subject } : {}),
                          },
                        },
                      ]
                    : [];
                });
                useStore.getState().act(edits);
              }}
            >
              no longer
            </button>
          </li>
        );
      })}
    </ul>
  );
}
