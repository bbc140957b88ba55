/**
 * The meter: what a meter held there should read, what it does read, and what that means in every angle before it is
 * kept. The reading under way is the edit that is being tried, so pictures, rulers and rows show it everywhere.
 */

import { useState } from 'react';
import { byCamera, DEFAULT_ZEBRA, luxRead, NOISE_STOPS, type ReadBy, wouldRead } from '../camera/meter.ts';
import { expectedAt } from '../readings/meter.ts';
import { instrumentOf, movedCauses, recordOf } from '../readings/sheet.ts';
import { BOUNCE_SLOPE, surfacesCause } from '../setup/causes.ts';
import { kindOf } from '../setup/lamps.ts';
import { learnedOf, shiftOf } from '../setup/learned.ts';
import { type AngleRef, isDaylight, rigFor } from '../shoot/rigFor.ts';
import type { MeterReading, Shoot } from '../shoot/schema.ts';
import { ofThirds, stopWords, THIRD, thirdsOf, thirdWords } from '../shoot/thirds.ts';
import { Aloud } from './Aloud.tsx';
import { lampColour } from './identity.ts';
import { MeterSum } from './MeterSum.tsx';
import {
  atOf,
  cameraThen,
  dayOf,
  facesNowThen,
  footcandles,
  headWords,
  isLine,
  linesOf,
  movedWords,
  nextLine,
  pointAt,
  readingId,
  said,
  stopFor,
  surpriseWords,
  thirds,
  towardWords,
} from './metering.ts';
import { Picture } from './Picture.tsx';
import { Said } from './Said.tsx';
import { type MeterAt, useStore } from './store.ts';
import { Tape } from './Tape.tsx';
import { readMeasured, type TypedReading } from './typedReading.ts';
import { useUnits } from './useUnits.ts';
import { lux, signed } from './views.ts';

const WAYS: [ReadBy, string][] = [
  ['stop', 'grey card'],
  ['zebra', 'zebra'],
  ['lux', 'lux'],
  ['footcandle', 'fc'],
];

export function Meter(p: { scene: string; angle: string; angles: AngleRef[] }) {
  const shoot = useStore((s) => s.history?.shoot);
  const results = useStore((s) => s.results);
  const before = useStore((s) => s.steady ?? s.results);
  const tried = useStore((s) => s.tried);
  const chosen = useStore((s) => s.meter);
  const way = useStore((s) => s.readBy);
  const { set, keep } = useStore.getState();
  const units = useUnits();
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState<string>();
  const r = before[p.angle];
  if (!shoot || !r) return <p className="faint">The light is being read.</p>;

  const ref = { scene: p.scene, angle: p.angle };
  const rig = rigFor(shoot, ref);
  const camera = cameraThen(shoot, ref);
  const rows = linesOf(shoot, r);
  const first = nextLine(rows);
  const at = chosen && pointAt(r, chosen) ? chosen : first && atOf(first);
  const point = at && pointAt(r, at);
  if (!at || !point) return <p className="faint">No lamp gives light on anything that this angle sees.</p>;

  const learned = learnedOf(shoot);
  const surfaces = surfacesCause(shoot.scenes[p.scene]!.place);
  const typed = tried?.edits.find((x) => x.edit === 'keepReading');
  const draft = typed?.args.reading as MeterReading | undefined;
  const how = draft?.how ?? way;
  const e = expectedAt(point, at.lamps, learned.joint, surfaces, instrumentOf(how));
  /** The T-number a reading has on the tape: zebra’s own where zebra is read. */
  const scale: ReadBy = how === 'zebra' ? 'zebra' : 'stop';
  const onTape = (lx: number) => wouldRead(scale, lx, camera, camera.response, draft?.zebraPercent);
  const measuredLx = draft
    ? luxRead(draft.how, draft.value, camera, camera.response, draft.zebraPercent)
    : undefined;
  const offStops = measuredLx === undefined ? 0 : Math.log2(measuredLx / e.lx);
  const tapeThirds = measuredLx === undefined ? thirdsOf(onTape(e.lx)) : 6 * Math.log2(onTape(measuredLx));
  const row = rows.findIndex((x) => isLine(x, at));

  const clear = () => {
    if (draft) useStore.getState().try(undefined);
    setText('');
    setWrong(undefined);
  };
  const hold = (to: MeterAt) => {
    clear();
    set({ meter: to });
  };
  const measure = (t: TypedReading) => {
    set({ readBy: t.how });
    const reading = recordOf(point, at.lamps, ref, t, camera, r.noiseStops, undefined);
    const whom = at.mark ?? at.spot;
    useStore.getState().try({
      edits: [{ edit: 'keepReading', args: { id: readingId(shoot), reading } }],
      says: `${whom}, ${lampWords(at.lamps)}: ${said(t.how, t.value)} measured`,
    });
  };
  const lampWords = (lamps: readonly string[]) => {
    const own = lamps.filter((l) => !isDaylight(l));
    return own.length === 1 ? `${rig.lamps[own[0]!]?.number} only` : 'all lamps';
  };
  /** A reading so many thirds from T1 on the tape, in the way readings are made. */
  const toThirds = (n: number) => {
    const lx = luxRead(scale, ofThirds(n), camera, camera.response, draft?.zebraPercent);
    measure({
      how,
      value: wouldRead(how, lx, camera, camera.response, draft?.zebraPercent),
      ...(draft?.zebraPercent === undefined ? {} : { zebraPercent: draft.zebraPercent }),
    });
  };
  const take = () => {
    if (!text.trim()) return;
    const t = readMeasured(text, units.light, stopFor(e.lx, camera));
    if (typeof t === 'string') return setWrong(`Not read: “${text}”. Type ${t}.`);
    setWrong(undefined);
    setText('');
    measure(t);
  };
  const keepIt = () => {
    if (!tried || !typed || !draft) return;
    const d = new Date();
    const two = (v: number) => String(v).padStart(2, '0');
    const when = `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}T${two(d.getHours())}:${two(d.getMinutes())}`;
    const next = nextLine(rows, at);
    keep({ ...tried, edits: [{ ...typed, args: { ...typed.args, reading: { ...draft, when } } }] });
    set({ meter: next ? atOf(next) : at });
  };

  const mark = r.marks.find((m) => m.mark === at.mark);
  const day = dayOf(r);
  const burning = (rows.find((x) => x.together)?.lamps ?? at.lamps).filter((l) => !isDaylight(l));
  const own = at.lamps.filter((l) => !isDaylight(l));
  const places = [...new Set(rows.map((x) => x.mark ?? x.spot!))];
  const alone = own.length === 1 && burning.length > 1 ? own[0] : undefined;
  const ids = Object.keys(rig.lamps);
  return (
    <section className="meter" aria-label="Meter" data-drafting={draft !== undefined}>
      <div className="meter-top">
        <fieldset className="meter-where" aria-label="Where it is held">
          {places.map((id) => {
            const own =
              rows.find((x) => (x.mark ?? x.spot) === id && x.together) ??
              rows.find((x) => (x.mark ?? x.spot) === id);
            return (
              <button
                key={id}
                type="button"
                aria-pressed={(at.mark ?? at.spot) === id}
                onClick={() => own && hold(atOf(own))}
              >
                {id}
              </button>
            );
          })}
          {at.mark !== undefined && alone === undefined
            ? [
                [mark?.toward ?? 'camera', mark && mark.toward !== 'camera' ? 'to the key' : 'to the camera'],
                ['left', 'to their left'],
                ['right', 'to their right'],
              ].map(([toward, words]) => (
                <button
                  key={toward}
                  type="button"
                  className="quiet"
                  aria-pressed={at.toward === toward}
                  onClick={() => hold({ ...at, toward: toward! })}
                >
                  {words}
                </button>
              ))
            : null}
        </fieldset>
        <header>
          <span className="quiet">
            {at.mark === undefined ? rig.scene.spots[at.spot!]?.name : rig.scene.marks[at.mark]?.name},{' '}
            {towardWords(shoot, ref, at)}
          </span>
          {row >= 0 ? (
            <span className="faint end">
              {row + 1} of {rows.length}
            </span>
          ) : null}
        </header>
      </div>
      <fieldset className="meter-lamps" aria-label="Lamps that burn">
        {burning.map((id) => (
          <button
            key={id}
            type="button"
            aria-pressed={alone === id}
            onClick={() =>
              hold({ ...at, toward: at.mark === undefined ? at.toward : id, lamps: [id, ...day] })
            }
          >
            <Aloud says={`Only lamp ${rig.lamps[id]!.number}`}>
              <span
                className="number"
                style={{ '--lamp': lampColour(ids.indexOf(id) + 1) } as React.CSSProperties}
              >
                {rig.lamps[id]!.number}
              </span>
            </Aloud>
            {alone === id ? <span className="only">only</span> : null}
          </button>
        ))}
        {burning.length > 1 ? (
          <button
            type="button"
            aria-pressed={alone === undefined}
            onClick={() =>
              hold({
                ...at,
                toward: at.mark === undefined ? at.toward : (mark?.toward ?? 'camera'),
                lamps: [...burning, ...day],
              })
            }
          >
            all
          </button>
        ) : null}
      </fieldset>
      <p className="should">
        Should read{' '}
        <strong>
          <Said>
            {how === 'zebra'
              ? `zebra ${draft?.zebraPercent ?? DEFAULT_ZEBRA} % at ${said('zebra', onTape(e.lx))}`
              : stopWords(stopFor(e.lx, camera))}
          </Said>
        </strong>{' '}
        <span className="quiet">
          {units.light === 'footcandle'
            ? `${footcandles(e.lx)} fc, ${lux(e.lx)} lx`
            : `${lux(e.lx)} lx, ${footcandles(e.lx)} fc`}
          , give or take <Said>{thirds(e.bandStops)}</Said>
        </span>
      </p>
      <Tape
        thirds={tapeThirds}
        planned={6 * Math.log2(onTape(e.lx))}
        bandStops={e.bandStops}
        label="What was read"
        says={
          measuredLx === undefined
            ? 'nothing read yet'
            : `${said(how, draft!.value)}, ${thirdWords(offStops, 'under', 'over', 'as planned')}`
        }
        onThirds={toThirds}
      />
      <p className="meter-figure" data-read={draft !== undefined}>
        <Said>{said(how, draft?.value ?? wouldRead(how, e.lx, camera, camera.response))}</Said>
      </p>
      <p className="meter-off" data-read={draft !== undefined}>
        <Said>
          {draft ? thirdWords(offStops, 'under the plan', 'over the plan', 'as planned') : 'not read yet'}
        </Said>
      </p>
      <fieldset className="meter-ways" aria-label="How it is read">
        {WAYS.map(([id, words]) => (
          <button
            key={id}
            type="button"
            aria-pressed={how === id}
            onClick={() => {
              set({ readBy: id });
              if (measuredLx !== undefined)
                measure({ how: id, value: wouldRead(id, measuredLx, camera, camera.response) });
            }}
          >
            {words}
          </button>
        ))}
        <span className="faint">
          {byCamera(how)
            ? `EI ${camera.ei}, 1/${Math.round(1 / camera.shutterS)} s, ±${(1.645 * NOISE_STOPS[how]).toFixed(1)} by eye`
            : 'a light meter'}
        </span>
      </fieldset>
      <div className="meter-act">
        <div className="meter-keys">
          <button type="button" onClick={() => toThirds(Math.round(tapeThirds) - 1)}>
            <Aloud says="A third of a stop less">
              − <Said>{THIRD[1]}</Said>
            </Aloud>
          </button>
          <button type="button" className="keep" disabled={!draft} onClick={keepIt}>
            Keep reading
          </button>
          <button type="button" onClick={() => toThirds(Math.round(tapeThirds) + 1)}>
            <Aloud says="A third of a stop more">
              + <Said>{THIRD[1]}</Said>
            </Aloud>
          </button>
        </div>
        <div className="meter-foot">
          <button
            type="button"
            onClick={() => measure({ how, value: wouldRead(how, e.lx, camera, camera.response) })}
          >
            as planned
          </button>
          <form
            onSubmit={(ev) => {
              ev.preventDefault();
              take();
            }}
          >
            <input
              className="measured"
              aria-label="I measured: lux, foot-candles, a stop, or zebra at a stop"
              placeholder="I measured … 250lx, 23fc, T4"
              value={text}
              aria-invalid={wrong !== undefined}
              onChange={(ev) => {
                setText(ev.target.value);
                setWrong(undefined);
              }}
              onBlur={take}
            />
          </form>
          {draft ? (
            <button type="button" onClick={clear}>
              leave
            </button>
          ) : (
            <button
              type="button"
              onClick={() => {
                const i = rows.findIndex((x) => isLine(x, at));
                const next = rows[(i + 1) % rows.length];
                if (next) hold(atOf(next));
              }}
            >
              skip
            </button>
          )}
        </div>
        {wrong ? (
          <p role="alert" className="bad">
            {wrong}
          </p>
        ) : null}
      </div>
      <Meaning
        shoot={shoot}
        triedShoot={tried?.shoot}
        draftId={typed?.args.id as string | undefined}
        scene={p.scene}
        angles={p.angles}
        before={before}
        after={results}
        alone={alone}
      />
      <MeterSum
        shoot={shoot}
        at={at}
        point={point}
        result={r}
        doubts={e.doubts}
        bounceGain={2 ** (BOUNCE_SLOPE * shiftOf(learned, surfaces))}
      />
    </section>
  );
}

/** What the reading means in every angle, before it is kept. */
function Meaning(p: {
  shoot: Shoot;
  triedShoot: Shoot | undefined;
  draftId: string | undefined;
  scene: string;
  angles: AngleRef[];
  before: ReturnType<typeof useStore.getState>['results'];
  after: ReturnType<typeof useStore.getState>['results'];
  alone: string | undefined;
}) {
  const pictures = useStore((s) => s.pictures);
  if (!p.draftId || !p.triedShoot) return null;
  const now = learnedOf(p.triedShoot);
  const moved = movedCauses(learnedOf(p.shoot).joint, now.joint).filter(
    (m) => Math.abs(m.to - m.from) >= 0.05,
  );
  const surprise = surpriseWords(now.surprises.get(p.draftId));
  const lamp = p.alone === undefined ? undefined : p.shoot.scenes[p.scene]!.rig.lamps[p.alone];
  const kind = lamp && kindOf(p.shoot.kit.lamps[lamp.head]);
  const weight =
    p.alone === undefined ? undefined : Object.values(p.after)[0]?.lamps.find((l) => l.id === p.alone);
  const was =
    p.alone === undefined ? undefined : Object.values(p.before)[0]?.lamps.find((l) => l.id === p.alone);
  return (
    <div className="meaning">
      {surprise ? <p className="bad">{surprise}</p> : null}
      {lamp && kind && weight ? (
        <p>
          <strong>
            <Said>{headWords(lamp.number, kind.words, weight.shiftStops)}</Said>
          </strong>
          {was ? (
            <span className="quiet">
              {' '}
              Doubt about {lamp.number} goes from ±{was.bandStops.toFixed(1)} to ±
              {weight.bandStops.toFixed(1)}.
            </span>
          ) : null}
        </p>
      ) : null}
      <p className="quiet">
        {moved.length
          ? `Moves ${moved
              .slice(0, 3)
              .map((m) => movedWords(p.shoot, p.scene, m))
              .join('; ')}.`
          : 'Moves nothing by a twentieth of a stop.'}
      </p>
      <ul className="meaning-angles">
        {p.angles.map(({ angle }) => {
          const faces = facesNowThen(p.before[angle], p.after[angle]);
          return (
            <li key={angle}>
              <Picture picture={pictures[angle]} label={`Picture of ${angle} with the reading`} />
              <b>{angle}</b>
              {faces.length ? (
                faces.map((f) => (
                  <span key={f.mark}>
                    {f.mark} <span className="faint">{signed(f.was)} to</span> {signed(f.is)}
                  </span>
                ))
              ) : (
                <span className="faint">{p.before[angle] && p.after[angle] ? 'no face' : 'being read'}</span>
              )}
            </li>
          );
        })}
      </ul>
    </div>
  );
}
