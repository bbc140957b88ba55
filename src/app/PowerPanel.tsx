/** What the supply carries: circuits, plugs and leads, volts at the lamps; what was not checked. */
import { useEffect, useState } from 'react';
import type { Solution } from '../power/solve.ts';
import { ampsUp } from '../power/verdict.ts';
import { marginWords } from '../scheme/marginWords.ts';
import type { Shoot } from '../shoot/schema.ts';
import { lampColour } from './identity.ts';
import { useStore } from './store.ts';

export function Power(p: { shoot: Shoot; scene: string; angle: string }) {
  const result = useStore((s) => s.results[p.angle]);
  const act = useStore((s) => s.act);
  const placeId = p.shoot.scenes[p.scene]!.place;
  const place = p.shoot.places[placeId]!;
  const [cautions, setCautions] = useState<readonly string[]>([]);
  useEffect(() => {
    // The network is told its cautions only here.
    void import('../scheme/supplied.ts').then(({ suppliedOf }) =>
      setCautions(suppliedOf(p.shoot, { scene: p.scene, angle: p.angle }).cautions),
    );
  }, [p.shoot, p.scene, p.angle]);
  const s: Solution | undefined = result?.supply;
  if (!s) return <p className="faint">not solved yet</p>;
  const loads = s.loads;
  const scene = p.shoot.scenes[p.scene]!;
  const ids = Object.keys(scene.rig.lamps);
  const things = [...s.upstream, ...s.circuits, ...s.devices];
  return (
    <div className="power">
      <p className="quiet">
        {place.supply.words ?? ''} Amps are rounded up. As {p.angle} is shot, cheats included.
      </p>
      {s.circuits.map((c) => (
        <figure key={c.id} className="amps">
          <figcaption>
            <strong>{c.words}</strong>{' '}
            <span className={c.level === 'over' ? 'bad' : 'quiet'}>
              {ampsUp(c.nominalCurrentA)} A{c.limitA === undefined ? '' : ` of ${c.limitA}`}
              {c.marginA === undefined ? '' : `, ${marginWords(c.marginA)}`}
            </span>
          </figcaption>
          <AmpsBar circuit={c.id} limitA={c.limitA} loads={loads} ids={ids} />
        </figure>
      ))}
      <div className="power-two">
        <div>
          <h3>House loads</h3>
          <ul className="house">
            {Object.entries(place.supply.circuits).flatMap(([cid, c]) =>
              Object.entries(c.houseLoads).map(([lid, l]) => (
                <li key={`${cid}${lid}`}>
                  <label>
                    <input
                      type="checkbox"
                      checked={l.on}
                      onChange={(e) =>
                        act({
                          edit: 'setHouseLoad',
                          args: { place: placeId, circuit: cid, load: lid, on: e.target.checked },
                        })
                      }
                    />
                    {l.words} <span className="faint">{l.watts} W</span>
                  </label>
                </li>
              )),
            )}
          </ul>
          <h3>Lamps</h3>
          <table>
            <tbody>
              {loads
                .filter((l) => scene.rig.lamps[l.id])
                .map((l) => (
                  <tr key={l.id}>
                    <td>
                      <span
                        className="number"
                        style={{ '--lamp': lampColour(ids.indexOf(l.id) + 1) } as React.CSSProperties}
                      >
                        {scene.rig.lamps[l.id]!.number}
                      </span>
                    </td>
                    <td>{scene.rig.lamps[l.id]!.words ?? l.words}</td>
                    <td className="num">{ampsUp(l.nominalCurrentA)} A</td>
                    <td className="num">
                      {l.volts === undefined ? 'no working point' : `${l.volts.toFixed(1)} V`}
                    </td>
                    <td className="num quiet">
                      {l.dropV === undefined ? '' : `${l.dropV.toFixed(1)} V lost`}
                    </td>
                  </tr>
                ))}
            </tbody>
          </table>
          <h3>Everything on the way</h3>
          <ul className="things">
            {things.map((d) => (
              <li key={d.id} className={d.level === 'over' ? 'bad' : ''}>
                {d.words}: <span className="quiet">{d.verdict}</span>
              </li>
            ))}
          </ul>
        </div>
        <div>
          <h3>Not checked</h3>
          <ul className="things">
            {s.notChecked.map((n) => (
              <li key={n}>{n}</li>
            ))}
          </ul>
          <h3>Mind</h3>
          <ul className="things quiet">
            {cautions.map((n) => (
              <li key={n}>{n}</li>
            ))}
          </ul>
        </div>
      </div>
    </div>
  );
}

/** The same ruler from 0: what each load takes, hatched beyond the limit. */
function AmpsBar(p: {
  circuit: string;
  limitA: number | undefined;
  loads: Solution['loads'];
  ids: string[];
}) {
  const own = p.loads.filter((l) => l.circuit === p.circuit && l.nominalCurrentA > 0);
  const sum = own.reduce((a, l) => a + l.nominalCurrentA, 0);
  const most = Math.max((p.limitA ?? 16) * 1.25, sum * 1.08);
  const house = own.filter((l) => !p.ids.includes(l.id));
  const lamps = own.filter((l) => p.ids.includes(l.id));
  let at = 0;
  return (
    <svg className="amps-bar" viewBox="0 0 600 34" preserveAspectRatio="none" aria-hidden="true">
      <defs>
        <pattern id="house" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="6" stroke="var(--ink3)" strokeWidth="3" />
        </pattern>
      </defs>
      {p.limitA === undefined ? null : (
        <rect
          x={(p.limitA / most) * 600}
          width={600 - (p.limitA / most) * 600}
          height={34}
          fill="var(--trouble)"
          opacity={0.18}
        />
      )}
      {[...house, ...lamps].map((l) => {
        const from = at;
        at += l.nominalCurrentA;
        const i = p.ids.indexOf(l.id);
        return (
          <rect
            key={l.id}
            x={(from / most) * 600 + 0.5}
            y={8}
            width={Math.max(1, (l.nominalCurrentA / most) * 600 - 1)}
            height={18}
            fill={i < 0 ? 'url(#house)' : lampColour(i + 1)}
          />
        );
      })}
      {p.limitA === undefined ? null : (
        <line
          x1={(p.limitA / most) * 600}
          x2={(p.limitA / most) * 600}
          y1={0}
          y2={34}
          stroke="var(--ink)"
          strokeWidth={2}
        />
      )}
    </svg>
  );
}
