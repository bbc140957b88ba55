/** What each lamp earns: struck in turn, what every angle loses, by the stop and by the amp; pointing tries it. */
import { useRef, useState } from 'react';
import { ampsUp } from '../power/verdict.ts';
import { type Earns, earnedWords, ranked } from '../scheme/earns.ts';
import type { Shoot } from '../shoot/schema.ts';
import { lampColour } from './identity.ts';
import { useStore } from './store.ts';

export function Earned(p: { shoot: Shoot; scene: string; angles: string[] }) {
  const earned = useStore((s) => s.earned);
  const supply = useStore((s) => Object.values(s.steady ?? s.results)[0]?.supply);
  const [perAmp, setPerAmp] = useState(false);
  const angles = p.angles.flatMap((angle) => (earned[angle] ? [{ angle, earned: earned[angle] }] : []));
  if (angles.length === 0) return <p className="faint">Lamps are being struck in turn.</p>;
  const list = ranked(angles, (id) => supply?.loads.find((l) => l.id === id)?.nominalCurrentA, perAmp);
  return (
    <div className="earns" data-many={p.angles.length > 3}>
      <p className="quiet">
        Each lamp struck in turn: the greatest loss on what an angle sees, in stops; edges and walls count
        half. The small figure is wishes it breaks.{' '}
        {matchMedia('(hover: none)').matches
          ? 'Tap a strike to try it, again to keep it.'
          : 'Point at a strike to try it, press to keep it.'}{' '}
        Not asked: what clips, and how long a lamp takes to rig.
      </p>
      <p>
        ranked{' '}
        <button type="button" className="boxed" aria-pressed={!perAmp} onClick={() => setPerAmp(false)}>
          over all angles
        </button>{' '}
        <button type="button" className="boxed" aria-pressed={perAmp} onClick={() => setPerAmp(true)}>
          for each amp
        </button>
      </p>
      {angles.length < p.angles.length ? <p className="faint">some angles are still being read</p> : null}
      <table>
        <thead>
          <tr>
            <td />
            {angles.map((a) => (
              <th key={a.angle} scope="col" className="num">
                {a.angle}
              </th>
            ))}
            <th scope="col" className="num">
              all
            </th>
            <th scope="col" className="num">
              amps
            </th>
            <th scope="col" className="num">
              an amp
            </th>
            <td />
          </tr>
        </thead>
        <tbody>
          {list.map((e) => (
            <LampEarns key={e.lamp} e={e} {...p} shown={angles.map((a) => a.angle)} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function LampEarns(p: { e: Earns; shoot: Shoot; scene: string; shown: string[] }) {
  const { e } = p;
  const lamps = p.shoot.scenes[p.scene]!.rig.lamps;
  const lamp = lamps[e.lamp];
  const trying = useStore(
    (s) => s.tried?.edits.some((x) => x.edit === 'switchLamp' && x.args.lamp === e.lamp) ?? false,
  );
  const touch = useRef(false);
  const [open, setOpen] = useState(false);
  if (!lamp) return null;
  const { number } = lamp;
  const cure = {
    edits: [{ edit: 'switchLamp', args: { scene: p.scene, lamp: e.lamp, on: false } }],
    says: `Put ${number} out, whole rig.`,
  };
  const go = useStore.getState();
  return (
    <>
      <tr style={{ '--lamp': lampColour(Object.keys(lamps).indexOf(e.lamp) + 1) } as React.CSSProperties}>
        <td>
          <button type="button" className="lamp-name" aria-expanded={open} onClick={() => setOpen(!open)}>
            <span className="number">{number}</span> <span className="words">{lamp.words}</span>
          </button>
        </td>
        {p.shown.map((angle) => {
          const found = e.byAngle.find((a) => a.angle === angle)?.earned;
          return (
            <td key={angle} className="num" title={found ? earnedWords(found) : ''}>
              {found && found.lostStops >= 0.05 ? (
                <em>{found.lostStops.toFixed(1)}</em>
              ) : (
                <span className="faint">0</span>
              )}
              {found?.broken.length ? <sup className="count">{found.broken.length}</sup> : null}
            </td>
          );
        })}
        <td className="num">{e.stops.toFixed(1)}</td>
        <td className="num quiet">{e.amps === undefined ? '—' : ampsUp(e.amps)}</td>
        <td className="num">{e.stopsPerAmp === undefined ? '' : e.stopsPerAmp.toFixed(1)}</td>
        <td>
          <button
            type="button"
            className="cure"
            aria-pressed={trying}
            onPointerEnter={(ev) => ev.pointerType === 'mouse' && go.try(cure)}
            onPointerLeave={(ev) => ev.pointerType === 'mouse' && go.try(undefined)}
            onPointerDown={(ev) => {
              // A finger’s first press tries, its second keeps.
              touch.current = ev.pointerType !== 'mouse' && !trying;
            }}
            onClick={() => {
              if (touch.current) go.try(cure);
              else go.keep(cure);
              touch.current = false;
            }}
          >
            strike
          </button>
        </td>
      </tr>
      {open ? (
        <tr>
          <td colSpan={p.shown.length + 5}>
            <ul className="things quiet">
              {e.byAngle.map((a) => (
                <li key={a.angle}>
                  <b>{a.angle}</b> {earnedWords(a.earned)}
                </li>
              ))}
            </ul>
          </td>
        </tr>
      ) : null}
    </>
  );
}
