/** What opens beside the wall: troubles, supply, readings, checks, keys, other shoots. */
import { useEffect, useState } from 'react';
import type { RESPONSES } from '../camera/response.ts';
import type { CheckRow } from '../checks/row.ts';
import type { Solution } from '../power/solve.ts';
import type { Trouble } from '../scheme/trouble.ts';
import { kindOf, loadOf } from '../setup/lamps.ts';
import { saveShoot } from '../shoot/file.ts';
import { rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { peopleBytes, shootNames, shootText } from './assets.ts';
import { lampColour } from './identity.ts';
import { keepAsFile, onePageOf } from './onePageOf.ts';
import { useStore } from './store.ts';
import { CureStrip } from './Tile.tsx';
import { clockWord, isOfAngle, lux, ratioWords, signed, supplyTroubles } from './views.ts';

export function Panel(p: { title: string; children: React.ReactNode }) {
  const set = useStore((s) => s.set);
  return (
    <aside className="panel" aria-label={p.title}>
      <header>
        <h2>{p.title}</h2>
        <button type="button" className="end quiet" onClick={() => set({ panel: 'none' })}>
          shut <kbd>Esc</kbd>
        </button>
      </header>
      <div className="panel-body">{p.children}</div>
    </aside>
  );
}

/* ------------------------------------------------------------------------------------------ troubles */

export function TroubleList(p: { shoot: Shoot; scene: string; angles: string[]; bare?: boolean }) {
  const results = useStore((s) => s.steady ?? s.results);
  const set = useStore((s) => s.set);
  const scene = p.shoot.scenes[p.scene]!;
  const all: { angle: string; t: Trouble }[] = p.angles.flatMap((angle) =>
    (results[angle]?.troubles ?? []).filter((t) => isOfAngle(t.kind)).map((t) => ({ angle, t })),
  );
  const supply = supplyTroubles(results);
  const live = all.filter(({ t }) => t.meant === undefined);
  const meant = all.filter(({ t }) => t.meant !== undefined);
  const lamps = Object.keys(scene.rig.lamps);
  const groups = [...lamps, undefined]
    .map((lamp) => ({
      lamp,
      list: live.filter(({ t }) => t.lamp === lamp).sort((a, b) => b.t.severity - a.t.severity),
    }))
    .filter((g) => g.list.length > 0)
    .sort((a, b) => b.list[0]!.t.severity - a.list[0]!.t.severity);
  const grave = supply.filter((t) => t.severity >= 1);
  return (
    <section className="troubles" aria-label="Troubles">
      {p.bare ? null : (
        <h2>{live.length + grave.length === 0 ? 'Nothing wrong was found' : 'What is wrong, worst first'}</h2>
      )}
      {live.length && !p.bare ? (
        <p className="faint">Point at a cure to try it; a press keeps it, Esc leaves.</p>
      ) : null}
      {Object.keys(results).length < p.angles.length ? <p className="faint">still reading</p> : null}
      {groups.map((g) => (
        <div key={g.lamp ?? '-'} className="trouble-group">
          {g.lamp ? (
            <span
              className="number"
              style={{ '--lamp': lampColour(lamps.indexOf(g.lamp) + 1) } as React.CSSProperties}
            >
              {scene.rig.lamps[g.lamp]!.number}
            </span>
          ) : (
            <span className="number none">·</span>
          )}
          <ul>
            {g.list.map(({ angle, t }) => (
              <li
                key={`${angle}${t.kind}${t.subject}`}
                data-severity={t.severity}
                onPointerDown={() => set({ angle })}
              >
                <b>{angle}</b>
                <CureStrip list scene={p.scene} angle={angle} trouble={t} others={0} />
              </li>
            ))}
          </ul>
        </div>
      ))}
      {grave.length > 0 ? (
        <div className="trouble-group">
          <span className="number none">V</span>
          <ul>
            {grave.map((t) => (
              <li key={`${t.kind}${t.subject}`} data-severity={t.severity}>
                <b>supply</b>
                <CureStrip list scene={p.scene} angle={p.angles[0]!} trouble={t} others={0} />
              </li>
            ))}
          </ul>
        </div>
      ) : null}
      {meant.length > 0 ? (
        <ul className="meant">
          {meant.map(({ angle, t }) => (
            <li key={`${angle}${t.kind}${t.lamp}${t.subject}`} title={t.says}>
              <b>{angle}</b> {t.lamp ? `${scene.rig.lamps[t.lamp]?.number} ` : ''}
              {t.kind.replaceAll('-', ' ')}: <em>meant</em>
              {t.meant && t.meant !== 'meant' ? `, ${t.meant}` : ''}
              <button
                type="button"
                className="tiny"
                onClick={() => {
                  const m = scene.angles[angle]!.meant.find(
                    (x) =>
                      x.kind === t.kind &&
                      (!x.lamp || x.lamp === t.lamp) &&
                      (!x.subject || x.subject === t.subject),
                  );
                  if (m)
                    useStore.getState().act({
                      edit: 'unmeant',
                      args: {
                        scene: p.scene,
                        angle,
                        kind: m.kind,
                        ...(m.lamp ? { lamp: m.lamp } : {}),
                        ...(m.subject ? { subject: m.subject } : {}),
                      },
                    });
                }}
              >
                no longer
              </button>
            </li>
          ))}
        </ul>
      ) : null}
    </section>
  );
}

/* --------------------------------------------------------------------------------------------- power */

export const ampsUp = (a: number): string => (Math.ceil(a * 10 - 1e-7) / 10).toFixed(1);

export function Power(p: { shoot: Shoot; scene: string; angle: string }) {
  const result = useStore((s) => s.results[p.angle]);
  const act = useStore((s) => s.act);
  const placeId = p.shoot.scenes[p.scene]!.place;
  const place = p.shoot.places[placeId]!;
  const [cautions, setCautions] = useState<string[]>([]);
  useEffect(() => {
    // The network is told its cautions only here.
    void cautionsOf(p.shoot, p.scene, p.angle).then(setCautions);
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
              {c.marginA === undefined
                ? ''
                : c.marginA >= 0
                  ? `, margin ${(Math.floor(c.marginA * 10) / 10).toFixed(1)} A at the worst volts`
                  : `, ${ampsUp(-c.marginA)} A too much at the worst volts`}
            </span>
          </figcaption>
          <AmpsBar circuit={c.id} limitA={c.limitA} loads={loads} ids={ids} />
        </figure>
      ))}
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
                <td className="num quiet">{l.dropV === undefined ? '' : `${l.dropV.toFixed(1)} V lost`}</td>
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
  );
}

async function cautionsOf(shoot: Shoot, sceneId: string, angle: string): Promise<string[]> {
  const { networkOf } = await import('../setup/network.ts');
  const { cautions } = await import('../power/caution.ts');
  const rig = rigFor(shoot, { scene: sceneId, angle });
  const network = networkOf(
    shoot.places[rig.scene.place]!,
    shoot.kit,
    rig.lamps,
    rig.scene.rig.multiways,
    (id) => {
      const lamp = rig.lamps[id]!;
      const head = shoot.kit.lamps[lamp.head];
      const kind = kindOf(head);
      return head && kind ? loadOf(lamp, head, kind) : undefined;
    },
  );
  return cautions(network);
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

/* ------------------------------------------------------------------------------------------ readings */

export function Readings(p: { shoot: Shoot; scene: string; angle: string }) {
  const r = useStore((s) => s.results[p.angle]);
  const [open, setOpen] = useState<string>();
  if (!r) return <p className="faint">not read yet</p>;
  const rig = rigFor(p.shoot, r.ref);
  const state = r.quick ? 'quick' : `converged, noise ${Math.max(0.01, r.noiseStops).toFixed(2)} stop`;
  return (
    <div className="readings">
      <p className="quiet">
        {state}. An 18 % card is on grey at {lux(r.exposure.eRefLx)} lx (constant C ={' '}
        {p.shoot.exposureConstant}). T{r.savingStop.toFixed(1)} saves every highlight that is not meant to go.
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
                {lux(m.incidentLx)} lx <span className="faint">±{m.bandStops.toFixed(1)}</span>
              </span>
            </button>
            <p>
              {key ? (
                <>
                  <em>key</em> {rig.lamps[key.lamp]!.number} from {clockWord(key.clock)},{' '}
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
                      <th />
                      <th>does</th>
                      <th>direct</th>
                      <th>by way of walls</th>
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
                              {rig.lamps[l.lamp]!.number}
                            </span>
                          </td>
                          <td>
                            <em>{l.role === 'none' ? 'rests' : l.role}</em>
                          </td>
                          <td className="num">{lux(l.directLx)} lx</td>
                          <td className="num">{lux(l.bouncedLx)} lx</td>
                          <td className="quiet">
                            {clockWord(l.clock)}, {l.distanceM.toFixed(2)} m
                          </td>
                        </tr>
                      ))}
                  </tbody>
                </table>
                <p className="quiet">
                  Meter toward{' '}
                  {m.toward === 'camera' ? 'the camera' : (rig.lamps[m.toward]?.number ?? m.toward)}, all
                  lamps burning: {lux(m.incidentLx)} lx; log₂({lux(m.incidentLx)} ÷ {lux(r.exposure.eRefLx)})
                  = {signed(m.overStops, 2)}. {m.ratio === undefined ? '' : `Ratio: ${m.convention}. `}
                  {m.doubts.length ? `Doubts: ${m.doubts.join('; ')}.` : ''} Not metered.
                </p>
              </>
            ) : null}
          </section>
        );
      })}
      {r.spots.map((s) => (
        <section key={s.spot}>
          <p>
            <strong>{s.spot}</strong> <span className="quiet">{rig.scene.spots[s.spot]?.name}</span>{' '}
            {s.seen ? '' : <span className="faint">not seen here</span>}
            <span className="figure">
              {lux(s.lx)} lx <span className="faint">±{s.bandStops.toFixed(1)}</span>
            </span>
          </p>
          <p className="quiet">
            {s.overGreyStops === undefined ? '' : `${signed(s.overGreyStops)} about grey`}
            {s.underKeyStops === undefined ? '' : `, ${s.underKeyStops.toFixed(1)} under key`}
            {s.doubts.length ? `; ${s.doubts.join('; ')}` : ''}
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

/* -------------------------------------------------------------------------------------------- checks */

export function Checks() {
  const [rows, setRows] = useState<CheckRow[]>([]);
  const [at, setAt] = useState<string>();
  const [failed, setFailed] = useState<string>();
  const run = async () => {
    setRows([]);
    setFailed(undefined);
    const { default: CheckWorker } = await import('./check.worker.ts?worker');
    const worker = new CheckWorker();
    worker.onmessage = (
      e: MessageEvent<{ rows?: CheckRow[]; subject?: string; done?: boolean; failed?: string }>,
    ) => {
      if (e.data.subject) setAt(e.data.subject);
      if (e.data.rows) setRows((had) => [...had, ...e.data.rows!]);
      if (e.data.failed) setFailed(e.data.failed);
      if (e.data.done || e.data.failed) {
        setAt(undefined);
        worker.terminate();
      }
    };
    setAt('…');
    worker.postMessage(await peopleBytes());
  };
  const wrong = rows.filter((r) => !r.holds).length;
  return (
    <div className="checks">
      <p className="quiet">
        Published values beside what this program computes, each with its tolerance and source. Transport
        takes tens of seconds and is left to the terminal.
      </p>
      <p>
        <button type="button" className="boxed" onClick={run} disabled={at !== undefined}>
          {at ? `computing: ${at}` : rows.length ? 'Compute again' : 'Compute them now'}
        </button>{' '}
        {rows.length ? (
          <span data-checks={rows.length}>
            {rows.length} values,{' '}
            {wrong === 0 ? 'all within tolerance' : <b className="bad">{wrong} outside</b>}
          </span>
        ) : null}
        {failed ? <span className="bad"> {failed}</span> : null}
      </p>
      <table>
        <tbody>
          {rows.map((r) => (
            <tr key={r.id} className={r.holds ? '' : 'bad'} title={r.source}>
              <td>{r.what}</td>
              <td className="num">{short(r.got)}</td>
              <td className="num quiet">
                {short(r.expected)} ± {short(r.tolerance)} {r.unit}
              </td>
              <td className="faint source">{r.source}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
const short = (v: number) => (Number.isInteger(v) ? String(v) : Number(v.toPrecision(4)).toString());

/* ---------------------------------------------------------------------------------------------- keys */

export const KEYS: [string, string][] = [
  ['1 – 9, held', 'only that lamp, in all angles'],
  ['⇧ 1 – 9', 'that lamp out, or lit again'],
  ['V, held', 'every picture: was | is'],
  ['E', 'stops in our ramp'],
  ['Enter', 'bring the chosen angle near; again: the wall'],
  ['← →', 'the angle before, the angle after'],
  ['K', 'the rig as a matrix: each lamp alone in each angle'],
  ['P', 'the plan large'],
  ['Z, ⇧ Z', 'back a step, forward again'],
  ['T', 'troubles'],
  ['R', 'readings of the chosen angle'],
  ['W', 'power'],
  ['C', 'checks'],
  ['D', 'daylight, set'],
  ['Esc', 'leave: a try, a drag, what is open'],
  ['⇧ while dragging', 'free of the 5 cm steps'],
  ['?', 'these keys'],
];
export const Keys = () => (
  <dl className="keys">
    {KEYS.map(([k, what]) => (
      <div key={k}>
        <dt>{k}</dt>
        <dd>{what}</dd>
      </div>
    ))}
  </dl>
);

/* ---------------------------------------------------------------------------------------------- open */

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

/** Words for the camera's class. */
export const CLASS_WORDS: Record<keyof typeof RESPONSES, string> = {
  'old-sd': 'old SD video',
  modern: 'modern video',
  wide: 'wide range',
};
