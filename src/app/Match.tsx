/** A close-up beside its wide: what a cut between them would show, within a tolerance, and what brings them nearer. */
import { useState } from 'react';
import { create } from 'zustand';
import {
  type Difference,
  digitsOf,
  MATCH,
  type MatchRead,
  matchOf,
  type Tolerance,
  wideFor,
} from '../scheme/match.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { Choices, Word } from './Choices.tsx';
import { OfferButton } from './Cures.tsx';
import type { AngleResult } from './messages.ts';
import { useStore } from './store.ts';
import { Canvas } from './Tile.tsx';
import { Typed } from './Typed.tsx';
import { readTolerance, toleranceWords } from './typingMatch.ts';

/** Kept while the page is open: against which angle, and how near is near enough. */
const useMatch = create<{ tolerance: Tolerance; against: Record<string, string> }>(() => ({
  tolerance: { ...MATCH },
  against: {},
}));

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
  const { tolerance, against } = useMatch();
  const [open, setOpen] = useState<string>();
  const ids = Object.keys(p.shoot.scenes[p.scene]!.angles).filter((id) => id !== p.angle);
  const close = results[p.angle];
  if (!close || ids.length === 0) return null;
  const chosen = against[p.angle];
  const wide =
    chosen !== undefined && ids.includes(chosen)
      ? chosen
      : (wideFor(p.shoot, { scene: p.scene, angle: p.angle }, results) ?? ids[0]!);
  const other = results[wide];
  const set = (t: Partial<Tolerance>) => useMatch.setState({ tolerance: { ...tolerance, ...t } });
  const found = other && matchOf(p.shoot, readOf(other), readOf(close), tolerance);
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
            useMatch.setState({ against: { ...against, [p.angle]: id } });
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
      <p className="told-line">
        May differ by{' '}
        <Typed
          value={tolerance.stops}
          digits={2}
          unit="stop"
          show={toleranceWords}
          label="A cut may differ by so many stops"
          read={readTolerance('stops', 0.05, 3)}
          onValue={(stops) => set({ stops })}
        />
        {' · '}
        <Typed
          value={tolerance.mired}
          digits={0}
          unit="mired"
          label="A cut may differ by so many mired"
          read={readTolerance('mired', 1, 300)}
          onValue={(mired) => set({ mired })}
        />
        {' · '}
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
            {typeof part.nearer === 'string' ? (
              <p className="quiet">{part.nearer}</p>
            ) : part.nearer?.edits.length ? (
              <OfferButton
                offer={{
                  says: `${p.angle} as ${wide}: ${part.nearer.says}`,
                  act: part.nearer.says.replace(/\.$/, ''),
                  scope: `${p.angle} only`,
                  edits: part.nearer.edits,
                  notes: part.nearer.gave.map((g) => g.replace(/\.$/, '')),
                  but: [],
                  free: false,
                }}
              />
            ) : part.nearer?.gave.length ? (
              <p className="quiet">No cheat of the key brings it nearer. {part.nearer.gave.join(' ')}</p>
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
