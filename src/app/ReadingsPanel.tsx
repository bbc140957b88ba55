/** The readings of an angle, each with its sum in words and its doubts. */
import { useState } from 'react';
import { sharpIn, sharpWords } from '../readings/depth.ts';
import { faceWords } from '../readings/faces.ts';
import { constantOf } from '../setup/learned.ts';
import { lightName, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { lengthWords } from '../shoot/units.ts';
import { lampColour } from './identity.ts';
import { KeepLook, Looks } from './Looks.tsx';
import { Match } from './Match.tsx';
import { meterOn } from './metering.ts';
import { useStore } from './store.ts';
import { useLight, useSaid, useUnits } from './useUnits.ts';
import { clockWord, ratioWords, signed } from './views.ts';

export function Readings(p: { shoot: Shoot; scene: string; angle: string }) {
  const r = useStore((s) => s.results[p.angle]);
  const [open, setOpen] = useState<string>();
  const light = useLight();
  const said = useSaid();
  const units = useUnits();
  const set = useStore((s) => s.set);
  if (!r) return <p className="faint">not read yet</p>;
  const rig = rigFor(p.shoot, r.ref);
  const state = r.quick ? 'quick' : `converged, noise ${Math.max(0.01, r.noiseStops).toFixed(2)} stop`;
  return (
    <div className="readings">
      <p className="quiet">
        {state}. An 18 % card is on grey at {light(r.exposure.eRefLx)} (constant C ={' '}
        {p.shoot.exposureConstant}
        {Math.abs(constantOf(p.shoot) / p.shoot.exposureConstant - 1) > 0.005
          ? `, ${Math.round(constantOf(p.shoot))} by the camera’s own readings`
          : ''}
        ). T{r.savingStop.toFixed(1)} saves every highlight that is not meant to go.
      </p>
      <p className="quiet" data-sharp>
        In {p.angle} it is {said(`${sharpWords(sharpIn(rig, p.angle), (m) => `${m.toFixed(2)} m`)}.`)}
      </p>
      {r.marks.map((m) => {
        const mark = rig.scene.marks[m.mark]!;
        const shown = r.facesSeen.includes(m.mark);
        const key = m.lamps.find((l) => l.role === 'key');
        return (
          <section key={m.mark} data-mark={m.mark}>
            <button
              type="button"
              className="reading"
              aria-expanded={open === m.mark}
              onClick={() => setOpen(open === m.mark ? undefined : m.mark)}
            >
              <strong>{m.mark}</strong> <span className="quiet">{mark.name}</span>{' '}
              {shown ? '' : <span className="faint">face not seen here</span>}
              <span className="figure">
                <span className="read-dot" data-metered={m.metered} />
                {light(m.incidentLx)} <span className="faint">±{m.bandStops.toFixed(1)}</span>
              </span>
            </button>
            <p>
              {key ? (
                <>
                  <em>key</em> {lightName(rig, key.lamp)} from {clockWord(key.clock)},{' '}
                  {Math.round(key.elevationDeg)}° up, {Math.round(key.azimuthDeg)}° round;{' '}
                </>
              ) : (
                <>
                  <em>no key here</em>;{' '}
                </>
              )}
              asks T{m.askedT.toFixed(1)}, {signed(m.overStops)} at T{r.exposure.stop.toFixed(1)}
              {m.ratio === undefined ? '' : `; ${ratioWords(m.ratio)} (${m.ratioStops?.toFixed(1)} stops)`}
              {m.backOverKeyStops === undefined ? '' : `; back ${signed(m.backOverKeyStops)} over key`}.
            </p>
            {open === m.mark ? (
              <>
                <table>
                  <thead>
                    <tr>
                      <td />
                      <th>does</th>
                      <th className="num">direct</th>
                      <th className="num">by way of walls</th>
                      <th>from</th>
                    </tr>
                  </thead>
                  <tbody>
                    {[...m.lamps]
                      .sort((a, b) => b.lx - a.lx)
                      .map((l) => (
                        <tr key={l.lamp}>
                          <td>
                            <span
                              className="number"
                              style={
                                {
                                  '--lamp': lampColour(Object.keys(rig.lamps).indexOf(l.lamp) + 1),
                                } as React.CSSProperties
                              }
                            >
                              {lightName(rig, l.lamp)}
                            </span>
                          </td>
                          <td>
                            <em>{l.role === 'none' ? 'rests' : l.role}</em>
                          </td>
                          <td className="num">{light(l.directLx)}</td>
                          <td className="num">{light(l.bouncedLx)}</td>
                          <td className="quiet">
                            {clockWord(l.clock)}, {lengthWords(l.distanceM, units)}
                          </td>
                        </tr>
                      ))}
                  </tbody>
                </table>
                {m.face ? (
                  <p>
                    <em>{faceWords(m.face, (lamp) => lightName(rig, lamp))}</em>
                  </p>
                ) : null}
                <p className="quiet">
                  Meter toward {m.toward === 'camera' ? 'the camera' : lightName(rig, m.toward)}, all lamps
                  burning: {light(m.incidentLx)}; log₂({light(m.incidentLx)} ÷ {light(r.exposure.eRefLx)}) ={' '}
                  {signed(m.overStops, 2)}. {m.ratio === undefined ? '' : `Ratio: ${m.convention}. `}
                  {m.doubts.length ? `Doubts: ${m.doubts.join('; ')}.` : ''}{' '}
                  {m.metered ? 'Metered here.' : 'Not metered.'}
                </p>
                <button
                  type="button"
                  className="boxed"
                  onClick={() => set({ panel: 'meter', meter: meterOn(r, { kind: 'face', id: m.mark }) })}
                >
                  I measured …
                </button>{' '}
                <KeepLook mark={m.mark} name={mark.name} result={r} />
              </>
            ) : null}
          </section>
        );
      })}
      <Match shoot={p.shoot} scene={p.scene} angle={p.angle} />
      <Looks scene={p.scene} angle={p.angle} />
      {r.spots.map((s) => (
        <section key={s.spot}>
          <p>
            <strong>{s.spot}</strong> <span className="quiet">{rig.scene.spots[s.spot]?.name}</span>{' '}
            {s.seen ? '' : <span className="faint">not seen here</span>}
            <span className="figure">
              <span className="read-dot" data-metered={s.metered} />
              {light(s.lx)} <span className="faint">±{s.bandStops.toFixed(1)}</span>
            </span>
          </p>
          <p className="quiet">
            {s.overGreyStops === undefined ? '' : `${signed(s.overGreyStops)} about grey`}
            {s.underKeyStops === undefined ? '' : `, ${s.underKeyStops.toFixed(1)} under key`}
            {s.doubts.length ? `; ${s.doubts.join('; ')}` : ''}
            <button
              type="button"
              className="tiny"
              onClick={() => set({ panel: 'meter', meter: meterOn(r, { kind: 'spot', id: s.spot }) })}
            >
              I measured …
            </button>
          </p>
        </section>
      ))}
      {r.notes.length ? (
        <>
          <h3>Notes</h3>
          <ul className="things quiet">
            {[...new Set(r.notes)].map((n) => (
              <li key={n}>{n}</li>
            ))}
          </ul>
        </>
      ) : null}
    </div>
  );
}
