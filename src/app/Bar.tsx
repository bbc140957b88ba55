/** The bar: mark, title, areas, back a step, was, stops, the camera's settings. */
import { CLASSES, RESPONSES } from '../camera/response.ts';
import { clockTime } from '../shoot/editDay.ts';
import type { CameraSettings, Scene, Shoot } from '../shoot/schema.ts';
import { AREAS } from './areas.tsx';
import { KeptLine } from './KeptLine.tsx';
import { SceneChoice } from './SceneChoice.tsx';
import { type Panel, useStore } from './store.ts';
import { Typed } from './Typed.tsx';
import { readEi, readKelvin, readStop } from './typing.ts';
import { useSaid } from './useUnits.ts';
import { countTroubles, supplyTroubles } from './views.ts';

/** A rush in its holder, lit: our mark. */
export const Mark = () => (
  <svg width="22" height="30" viewBox="0 0 22 30" aria-hidden="true">
    <path d="M3 29 L15.5 11" stroke="var(--ink2)" strokeWidth="2.4" strokeLinecap="round" />
    <path d="M9.2 20 l-2.6 -2.4 M9.2 20 l3.4 1.2" stroke="var(--ink3)" strokeWidth="1.4" />
    <path d="M15.6 11 C13 8 15.4 4.6 17.6 1 C18.6 4.6 20.4 8 15.6 11 Z" fill="var(--ember)" />
  </svg>
);

export function Bar(p: { shoot: Shoot; scene: string; phone: boolean }) {
  const title = p.shoot.title;
  const scene = p.shoot.scenes[p.scene]!;
  const history = useStore((s) => s.history);
  const was = useStore((s) => s.was);
  const stops = useStore((s) => s.stops);
  const score = useStore((s) => s.score);
  const area = useStore((s) => s.area);
  const panel = useStore((s) => s.panel);
  const results = useStore((s) => s.results);
  const hasBefore = useStore((s) => Object.keys(s.before).length > 0);
  const { set, back } = useStore.getState();
  const toggle = (name: Panel) => set({ panel: panel === name ? 'none' : name });
  const said = useSaid();
  const undoes = history?.done.at(-1)?.says;
  const last = undoes && said(undoes);
  const troubles = countTroubles(results);
  const supply = supplyTroubles(results).filter((t) => t.severity >= 2).length;
  return (
    <header className="bar">
      <button type="button" className="mark" onClick={() => toggle('open')} aria-label="Shoots: open, keep">
        <Mark />
      </button>
      <h1>
        <button
          type="button"
          className="title"
          onClick={() => toggle('open')}
          title="Open another shoot, keep this one"
        >
          <em>{title}</em>
        </button>
      </h1>
      <span className="which">
        <SceneChoice shoot={p.shoot} scene={p.scene} />
        <KeptLine />
      </span>
      <nav aria-label="Areas" className="areas">
        {AREAS.map((a) => (
          <button key={a.id} type="button" aria-pressed={area === a.id} onClick={() => set({ area: a.id })}>
            {a.words}
            {a.id === 'power' && supply ? <sup className="count">{supply}</sup> : null}
          </button>
        ))}
      </nav>
      <nav aria-label="Beside the wall">
        <button type="button" aria-pressed={panel === 'troubles'} onClick={() => toggle('troubles')}>
          Troubles{troubles ? <sup className="count">{troubles}</sup> : null}
        </button>
        <button type="button" aria-pressed={panel === 'readings'} onClick={() => toggle('readings')}>
          Readings
        </button>
        <button type="button" aria-pressed={panel === 'checks'} onClick={() => toggle('checks')}>
          Checks
        </button>
        {p.phone ? null : <DayPress scene={scene} />}
      </nav>
      <span className="space" />
      <button
        type="button"
        className="back"
        disabled={!last}
        onClick={back}
        title={last ? `Undoes: ${last}` : ''}
      >
        Back a step{last ? <span className="faint undoes"> {last}</span> : null} <kbd>Z</kbd>
      </button>
      <button
        type="button"
        className="boxed"
        aria-pressed={was}
        disabled={!hasBefore}
        onPointerDown={() => set({ was: true })}
        onPointerUp={() => set({ was: false })}
        onPointerLeave={() => was && set({ was: false })}
        title="Held: every picture splits, was left, is right"
      >
        Was <kbd>V</kbd>
      </button>
      <button
        type="button"
        className="boxed"
        aria-pressed={score}
        title="The rig as a matrix: each lamp alone in each angle"
        onClick={() => set({ score: !score, near: false, planLarge: false })}
      >
        Score <kbd>K</kbd>
      </button>
      <button type="button" className="boxed" aria-pressed={stops} onClick={() => set({ stops: !stops })}>
        Stops <kbd>E</kbd>
      </button>
      {p.phone ? null : (
        <Settings scene={p.scene} camera={scene.camera} constant={p.shoot.exposureConstant} />
      )}
    </header>
  );
}

/** When it is, as one says it; a press opens the day. */
export function DayPress(p: { scene: Scene }) {
  const panel = useStore((s) => s.panel);
  const { set } = useStore.getState();
  const { day, air } = p.scene;
  return (
    <button
      type="button"
      className="day-press"
      aria-pressed={panel === 'day'}
      title={`${day ? `${day.date}, ${day.weather}` : 'No daylight'}: date, hour, sky, where on earth; haze, rain or snow`}
      onClick={() => set({ panel: panel === 'day' ? 'none' : 'day', area: 'light', score: false })}
    >
      {day ? clockTime(day.hour) : 'Night'}
      {air ? `, ${air.falls?.kind ?? air.haze?.kind ?? 'haze'}` : ''}
    </button>
  );
}

export function Settings(p: { scene: string; camera: CameraSettings; constant: number; few?: boolean }) {
  const act = useStore((s) => s.act);
  const angle = useStore((s) => s.angle);
  const lamp = useStore((s) => s.lamp);
  const scene = useStore((s) => s.history?.shoot.scenes[p.scene]);
  const read = useStore((s) => (s.angle ? s.results[s.angle]?.balance : undefined));
  const c = p.camera;
  const camera = (camera: Record<string, unknown>) =>
    act({ edit: 'setCamera', args: { scene: p.scene, camera } });
  const wb = c.whiteBalance;
  const marks = Object.keys(scene?.marks ?? {});
  const lamps = Object.keys(scene?.rig.lamps ?? {});
  const at = marks[0];
  const under = lamp ?? lamps[0];
  const own = angle ? scene?.angles[angle]?.camera : undefined;
  return (
    <span className="settings" title={`Exposure constant C = ${p.constant} lux (ISO 2720)`}>
      {p.few ? null : <span className="faint">EI</span>}
      {p.few ? null : (
        <Typed
          value={c.ei}
          digits={0}
          unit=""
          label="Exposure index, or a change in stops"
          read={readEi(c.ei)}
          onValue={(ei) => camera({ ei })}
        />
      )}
      <span className="faint">T</span>
      <Typed
        value={c.stop}
        digits={1}
        unit=""
        label="T-stop, or a change such as −1/3"
        read={readStop(c.stop)}
        onValue={(stop) => camera({ stop })}
      />
      {p.few ? null : wb.kind === 'kelvin' ? (
        <Typed
          value={wb.kelvin}
          digits={0}
          unit="K"
          label="White balance, kelvin or mired"
          read={readKelvin(wb.kelvin)}
          onValue={(kelvin) => camera({ whiteBalance: { kind: 'kelvin', kelvin } })}
        />
      ) : (
        <button
          type="button"
          className="tiny"
          title="Balanced on a card; press for kelvin"
          onClick={() =>
            camera({
              whiteBalance: { kind: 'kelvin', kelvin: Math.round((read?.cctK ?? 3200) / 50) * 50 },
            })
          }
        >
          card: {read ? `${Math.round(read.cctK)} K` : '…'}
          {read?.clamped ? ', as near as it goes' : ''}
        </button>
      )}
      {!p.few && wb.kind === 'kelvin' && at && under ? (
        <button
          type="button"
          className="tiny seldom"
          title={`White balance by reading a card at ${at} under lamp ${scene?.rig.lamps[under]?.number} alone, gel and all`}
          onClick={() => camera({ whiteBalance: { kind: 'read', at, lamps: [under] } })}
        >
          card at {at} under {scene?.rig.lamps[under]?.number}
        </button>
      ) : null}
      {p.few ? null : (
        <select
          className="tiny seldom"
          aria-label="The camera’s class"
          title={`The camera’s class: clips ${RESPONSES[c.class].stopsAboveGrey} stops over grey, noise takes over ${RESPONSES[c.class].stopsBelowGrey} under (planning values)`}
          value={c.class}
          onChange={(e) => camera({ class: e.target.value as CameraSettings['class'] })}
        >
          {CLASSES.map((id) => (
            <option key={id} value={id}>
              {RESPONSES[id].short}
            </option>
          ))}
        </select>
      )}
      {own && Object.keys(own).length ? <span className="faint">{angle} differs</span> : null}
    </span>
  );
}
