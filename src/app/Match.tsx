/** A close-up beside its wide: what a cut between them would show, within a tolerance, and what brings them nearer. */
import { useEffect, useRef, useState } from 'react';
import {
  type Difference,
  digitsOf,
  type MatchRead,
  matchOf,
  type Tolerance,
  toleranceOf,
  wideFor,
} from '../scheme/match.ts';
import type { Neared } from '../scheme/matchCures.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { Choices, Word } from './Choices.tsx';
import { OfferButton } from './Cures.tsx';
import type { AngleResult } from './messages.ts';
import { type State, useStore } from './store.ts';
import { Canvas } from './Tile.tsx';
import { Typed } from './Typed.tsx';
import { readTolerance, toleranceWords } from './typingMatch.ts';

const readOf = (r: AngleResult): MatchRead => ({
  ref: r.ref,
  marks: r.marks,
  facesSeen: r.facesSeen,
  spots: r.spots,
  eRefLx: r.exposure.eRefLx,
  balance: r.balance,
  lamps: r.lamps,
});

export function Match(p: { shoot: Shoot; scene: string; angle: string }) {
  const results = useStore((s) => s.steady ?? s.results);
  const pictures = useStore((s) => s.pictures);
  const matched = useStore((s) => s.matched);
  const asked = useStore((s) => s.match);
  const tried = useStore((s) => s.tried !== undefined);
  const act = useStore((s) => s.act);
  const [open, setOpen] = useState<string>();
  const ids = Object.keys(p.shoot.scenes[p.scene]!.angles).filter((id) => id !== p.angle);
  const close = results[p.angle];
  const chosen = p.shoot.scenes[p.scene]!.angles[p.angle]?.cutFrom;
  const wide =
    chosen !== undefined && ids.includes(chosen)
      ? chosen
      : close && (wideFor(p.shoot, { scene: p.scene, angle: p.angle }, results) ?? ids[0]);
  const other = wide === undefined ? undefined : results[wide];
  const tolerance = toleranceOf(p.shoot.scenes[p.scene]!);
  const found = close && other && matchOf(p.shoot, readOf(other), readOf(close), tolerance);
  const key = found && keyOf(p.shoot, found);
  useAsked(key, tried, () =>
    other ? { angle: p.angle, wide: readOf(other), tolerance, key: key! } : undefined,
  );
  if (!close || wide === undefined) return null;
  const answers =
    matched && matched.key === asked?.key && asked.angle === p.angle ? matched.found : undefined;
  const set = (changes: Partial<Tolerance>) => act({ edit: 'setCut', args: { scene: p.scene, changes } });
  const scene = rigFor(p.shoot, close.ref).scene;
  const name = (kind: string, of: string) =>
    kind === 'face' ? (scene.marks[of]?.name ?? of) : (scene.spots[of]?.name ?? of);
  return (
    <section className="match" aria-label={`${p.angle} against ${wide}`}>
      <h3>
        Cut from{' '}
        <Word k="wide" open={open} onOpen={setOpen}>
          {wide}
        </Word>{' '}
        to {p.angle}
      </h3>
      {open === 'wide' ? (
        <Choices
          label="Cut from"
          list={ids.map((id) => ({ id, words: id, found: [scene.angles[id]!.name], on: id === wide }))}
          onLeave={() => setOpen(undefined)}
          onPick={(id) => {
            setOpen(undefined);
            act({ edit: 'setCutFrom', args: { scene: p.scene, angle: p.angle, wide: id } });
          }}
        />
      ) : null}
      <div className="match-pair">
        {[wide, p.angle].map((id) => (
          <figure key={id}>
            {pictures[id] ? (
              <Canvas picture={pictures[id]} label={`Picture of ${id}`} />
            ) : (
              <div className="none" />
            )}
            <figcaption>{id}</figcaption>
          </figure>
        ))}
      </div>
      <p className="told-line may">
        May differ by
        <Typed
          value={tolerance.stops}
          digits={2}
          unit="stop"
          show={toleranceWords}
          label="A cut may differ by so many stops"
          read={readTolerance('stops', 0.05, 3)}
          onValue={(stops) => set({ stops })}
        />
        <Typed
          value={tolerance.mired}
          digits={0}
          unit="mired"
          label="A cut may differ by so many mired"
          read={readTolerance('mired', 1, 300)}
          onValue={(mired) => set({ mired })}
        />
        <Typed
          value={tolerance.hours}
          digits={1}
          unit="h of the clock"
          label="A key may stand so many hours elsewhere round the face"
          read={readTolerance('hours', 0.1, 6)}
          onValue={(hours) => set({ hours })}
        />
      </p>
      {found ? null : <p className="faint">{wide} is not read yet</p>}
      {found?.parts.map((part) => {
        const off = part.rows.filter((r) => r.off);
        return (
          <div key={`${part.kind}:${part.of}`} data-match={part.of} data-off={off.length}>
            <p>
              <strong>{part.kind === 'face' ? part.of : name('spot', part.of)}</strong>{' '}
              {part.kind === 'face' ? <span className="quiet">{name('face', part.of)}</span> : null}{' '}
              <em className={off.length ? 'off' : ''}>
                {off.length ? `${off.map((r) => r.says).join('; ')}.` : 'cuts.'}
              </em>
            </p>
            <table>
              <thead>
                <tr>
                  <td />
                  <th className="num">{wide}</th>
                  <th className="num">{p.angle}</th>
                  <th className="num">differs</th>
                </tr>
              </thead>
              <tbody>
                {part.rows.map((r) => (
                  <tr key={r.what} data-off={r.off}>
                    <td>{rowWords(r)}</td>
                    <td className="num">{shown(r, r.wide)}</td>
                    <td className="num">{shown(r, r.close)}</td>
                    <td className="num">
                      {r.printedBy === undefined ? (r.off ? 'other' : 'same') : signed(r, r.printedBy)}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
            {off.length && part.kind === 'face' ? (
              <Offered angle={p.angle} wide={wide} answers={answers?.filter((x) => x.of === part.of)} />
            ) : null}
          </div>
        );
      })}
      {found?.notes.map((n) => (
        <p key={n} className="faint">
          {n}
        </p>
      ))}
    </section>
  );
}

/** Cheats that were traced: what each makes of the cut, what it costs; or why there is none. */
function Offered(p: { angle: string; wide: string; answers: Neared[] | undefined }) {
  if (!p.answers) return <p className="quiet">trying what would bring it nearer …</p>;
  return p.answers.map((answer) =>
    'why' in answer ? (
      <p key={answer.of} className="quiet">
        {answer.why}
      </p>
    ) : (
      <div key={answer.says}>
        <OfferButton
          offer={{
            says: `${p.angle} as ${p.wide}: ${answer.says}`,
            act: answer.says.replace(/\.$/, ''),
            scope: `${p.angle} only`,
            edits: answer.edits,
            notes: [...answer.becomes, ...answer.price],
            but: answer.but,
            free: false,
          }}
        />
        {answer.gave.length ? <p className="quiet">{answer.gave.join(' ')}</p> : null}
      </div>
    ),
  );
}

/** Shoots by number, in the order they were seen here. */
const numbers = new WeakMap<Shoot, number>();
let last = 0;
/** The cut as it is shown, as text: what is asked anew only when it reads otherwise. */
function keyOf(shoot: Shoot, m: Found): string {
  if (!numbers.has(shoot)) numbers.set(shoot, ++last);
  const rows = m.parts.map((p) => [p.of, p.rows.map((r) => [r.what, r.off, r.printedBy])]);
  return JSON.stringify([numbers.get(shoot), m.wide.angle, m.close.angle, rows]);
}
type Found = ReturnType<typeof matchOf>;

/** Readings rest this long before a cut is asked about, milliseconds. */
const RESTS_MS = 700;

/** Asks the workers about the cut that is shown, once it stands still; not while something is only tried. */
function useAsked(key: string | undefined, tried: boolean, ask: () => State['match']): void {
  const latest = useRef(ask);
  latest.current = ask;
  useEffect(() => {
    if (key === undefined || tried) return;
    const rest = setTimeout(() => useStore.setState({ match: latest.current() }), RESTS_MS);
    return () => clearTimeout(rest);
  }, [key, tried]);
  useEffect(() => () => useStore.setState({ match: undefined }), []);
}

const UNITS = { stops: '', mired: '', hours: ' h', degrees: '°', words: '' } as const;
/** A difference, with its sign; what rounds to nothing is 0. */
const signed = (r: Difference, v: number): string => {
  const size = Math.abs(v).toFixed(digitsOf(r.unit));
  return `${Number(size) === 0 ? '' : v < 0 ? '−' : '+'}${size}${UNITS[r.unit]}`;
};
const shown = (r: Difference, v: number | string | undefined): string =>
  v === undefined
    ? '—'
    : typeof v === 'string'
      ? v
      : r.what === 'clock'
        ? `${Math.abs(v).toFixed(1)} h ${v < 0 ? 'right' : 'left'}`
        : r.what === 'height'
          ? `${v.toFixed(0)}°`
          : signed(r, v);
/** What stands in a row, with its unit where the figures do not say it. */
const rowWords = (r: Difference): string =>
  r.what === 'clock'
    ? 'key round the face'
    : r.what === 'height'
      ? 'key up'
      : r.unit === 'stops' || r.unit === 'mired'
        ? `${r.what}, ${r.unit}`
        : r.what;
