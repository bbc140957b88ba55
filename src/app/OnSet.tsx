/** On set: the meter, the sheet it fills, and how well it was foretold. The shooting order is not here yet. */

import { independent } from '../maths/belief.ts';
import { causeWords } from '../readings/causeWords.ts';
import { expectedThen, movedCauses } from '../readings/sheet.ts';
import { CONSTANT } from '../setup/causes.ts';
import { constantOf, learnedOf, luxOf, SURPRISING_SIGMAS, sigmaBefore } from '../setup/learned.ts';
import { valueWords } from '../shoot/editReadings.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { stopWords } from '../shoot/thirds.ts';
import { Aloud } from './Aloud.tsx';
import { lampColour } from './identity.ts';
import { Meter } from './Meter.tsx';
import { atOf, cameraThen, foretold, isLine, linesOf, stopFor } from './metering.ts';
import { Said } from './Said.tsx';
import { useStore } from './store.ts';
import { useLight } from './useUnits.ts';
import { signed } from './views.ts';

export function OnSet(p: { scene: string; angle: string; angles: AngleRef[] }) {
  const shoot = useStore((s) => s.history?.shoot);
  const set = useStore((s) => s.set);
  if (!shoot) return null;
  return (
    <div className="onset">
      <div className="onset-meter">
        <fieldset className="onset-angles" aria-label="Angle">
          {p.angles.map(({ angle }) => (
            <button
              key={angle}
              type="button"
              aria-pressed={angle === p.angle}
              onClick={() => {
                useStore.getState().try(undefined);
                set({ angle, meter: undefined });
              }}
            >
              {angle}
            </button>
          ))}
        </fieldset>
        <Meter scene={p.scene} angle={p.angle} angles={p.angles} />
      </div>
      <div className="onset-paper">
        <MeteringSheet shoot={shoot} scene={p.scene} angle={p.angle} />
        <Foretold shoot={shoot} scene={p.scene} />
        <p className="faint">The shooting order is not in this program yet.</p>
      </div>
    </div>
  );
}

/** Mark × lamp: planned, measured, difference; it fills itself. */
function MeteringSheet(p: { shoot: Shoot; scene: string; angle: string }) {
  const r = useStore((s) => (s.steady ?? s.results)[p.angle]);
  const at = useStore((s) => s.meter);
  const set = useStore((s) => s.set);
  const light = useLight();
  if (!r) return null;
  const ref = { scene: p.scene, angle: p.angle };
  const rows = linesOf(p.shoot, r);
  const rig = rigFor(p.shoot, ref);
  const camera = cameraThen(p.shoot, ref);
  const ids = Object.keys(rig.lamps);
  const best = [...rows].filter((x) => !x.measured).sort((a, b) => b.worth - a.worth)[0];
  const places = [...new Set(rows.map((x) => x.mark ?? x.spot!))];
  return (
    <section className="sheet" aria-label="Metering sheet">
      <h2>
        Metering sheet, {p.angle}{' '}
        <span className="faint set">
          {rows.filter((x) => x.measured).length} of {rows.length} read
        </span>
      </h2>
      <table>
        <thead>
          <tr>
            <th scope="col">where</th>
            <th scope="col">burning</th>
            <th scope="col" className="num">
              should read
            </th>
            <td />
            <th scope="col" className="num">
              ±
            </th>
            <th scope="col" className="num">
              measured
            </th>
            <th scope="col" className="num">
              off
            </th>
          </tr>
        </thead>
        <tbody>
          {places.flatMap((place) =>
            rows
              .filter((x) => (x.mark ?? x.spot) === place)
              .map((x, i) => {
                const wild =
                  x.measured?.surprise && Math.abs(x.measured.surprise.sigmas) >= SURPRISING_SIGMAS;
                return (
                  <tr
                    key={`${place}${x.toward}${x.lamps.join()}`}
                    data-chosen={at !== undefined && isLine(x, at)}
                    onClick={() => {
                      useStore.getState().try(undefined);
                      set({ meter: atOf(x) });
                      document.querySelector('.meter')?.scrollIntoView({ block: 'start' });
                    }}
                  >
                    <th scope="row">
                      {i === 0 ? <strong>{place}</strong> : <span className="aside">{place}</span>}
                    </th>
                    <td>
                      <button type="button" className="line">
                        <Aloud
                          says={`Meter ${place}, ${x.together ? 'all lamps' : `only ${rig.lamps[x.lamps[0]!]?.number}`}`}
                        >
                          {x.together ? (
                            'all'
                          ) : (
                            <>
                              <span
                                className="number"
                                style={
                                  {
                                    '--lamp': lampColour(ids.indexOf(x.lamps[0]!) + 1),
                                  } as React.CSSProperties
                                }
                              >
                                {rig.lamps[x.lamps[0]!]?.number}
                              </span>{' '}
                              only
                            </>
                          )}
                        </Aloud>
                      </button>
                    </td>
                    <td className="num">
                      <Said>{stopWords(stopFor(x.expectedLx, camera))}</Said>
                    </td>
                    <td className="num quiet">{light(x.expectedLx)}</td>
                    <td className="num quiet">{x.bandStops.toFixed(1)}</td>
                    <td className="num">
                      <span className="read-dot" data-metered={x.measured !== undefined} />
                      {x.measured ? (
                        <Said>{valueWords(x.measured.reading)}</Said>
                      ) : x === best ? (
                        <em className="ember-word">worth most</em>
                      ) : (
                        '—'
                      )}
                    </td>
                    <td className={wild ? 'num bad' : 'num'}>
                      {x.measured ? signed(x.measured.overPlanStops) : ''}
                    </td>
                  </tr>
                );
              }),
          )}
        </tbody>
      </table>
    </section>
  );
}

/** Predicted against measured, and what has been learned of the lamps. */
function Foretold(p: { shoot: Shoot; scene: string }) {
  const act = useStore((s) => s.act);
  const { shoot, scene } = p;
  const { list, within, surprises } = foretold(shoot, scene);
  if (list.length === 0)
    return (
      <section className="foretold">
        <h2>Predicted against measured</h2>
        <p className="quiet">
          Nothing has been measured yet. Each reading that is kept corrects the lamp, its kind and the bounce
          of the room in every angle; the line that says “worth most” takes most from the doubt on the faces.
        </p>
      </section>
    );
  const learned = learnedOf(shoot);
  const moved = movedCauses(independent(new Map()), learned.joint).filter(
    (m) => Math.abs(m.to) >= 0.05 || m.sigmaTo < 0.8 * sigmaBefore(m.cause),
  );
  const numbers = (ids: readonly string[]) =>
    ids.map((l) => shoot.scenes[scene]!.rig.lamps[l]?.number ?? l).join(' ');
  return (
    <section className="foretold" aria-label="Predicted against measured">
      <h2>Predicted against measured</h2>
      <p className="quiet">
        {within} of {list.length} within the band of nine in ten, each held against what the others say.
      </p>
      <table>
        <tbody>
          {list.map(([id, r]) => {
            const s = surprises.get(id);
            const off = Math.log2(luxOf(shoot, r) / expectedThen(r));
            const wild = s !== undefined && Math.abs(s.sigmas) >= SURPRISING_SIGMAS;
            return (
              <tr key={id} data-aside={r.aside === true}>
                <td>
                  <strong>{r.mark ?? r.spot}</strong> <span className="quiet">{numbers(r.lamps)}</span>
                </td>
                <td className="num">
                  <Said>{valueWords(r)}</Said>
                </td>
                <td className={wild ? 'num bad' : 'num'}>{signed(off)}</td>
                <td className="quiet">
                  {r.aside
                    ? 'set aside, corrects nothing'
                    : wild && s
                      ? `${Math.abs(s.stops).toFixed(1)} from the rest: look again`
                      : ''}
                </td>
                <td className="faint">{r.when?.slice(11) ?? ''}</td>
                <td>
                  <button
                    type="button"
                    className="tiny"
                    onClick={() => act({ edit: 'setReadingAside', args: { id, aside: !r.aside } })}
                  >
                    {r.aside ? 'count it' : 'set aside'}
                  </button>
                  <button
                    type="button"
                    className="tiny"
                    onClick={() => act({ edit: 'dropReading', args: { id } })}
                  >
                    strike
                  </button>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <h3>What they say</h3>
      <ul className="things">
        {moved.map((m) => (
          <li key={m.cause}>
            {causeWords(shoot, scene, m.cause)}: by {signed(m.to) || '0'}{' '}
            <span className="quiet">
              ±{(1.645 * m.sigmaTo).toFixed(1)}, was ±{(1.645 * sigmaBefore(m.cause)).toFixed(1)}
            </span>
            {m.cause === CONSTANT ? (
              <span className="quiet">
                {' '}
                (C = {shoot.exposureConstant}, works as {Math.round(constantOf(shoot))})
              </span>
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  );
}
