/** The program: opens a shoot, keeps its light worked out, shows it. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { saveShoot } from '../shoot/file.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { AREAS } from './areas.tsx';
import { Bar, Settings } from './Bar.tsx';
import { Checks } from './ChecksPanel.tsx';
import { DayStrip } from './DayStrip.tsx';
import { Earned } from './EarnsPanel.tsx';
import { begunMs, lightWorker, people } from './early.ts';
import { KeptTrouble } from './KeptLine.tsx';
import { Keys } from './Keys.tsx';
import { begin, keptNow } from './keeper.ts';
import { Lights } from './lights.ts';
import { MANY, ManyWall } from './ManyWall.tsx';
import { Meter } from './Meter.tsx';
import { OpenAndKeep } from './OpenAndKeep.tsx';
import { Panel } from './Panel.tsx';
import { Phone } from './Phone.tsx';
import { Polite } from './Polite.tsx';
import { perFrame } from './perFrame.ts';
import { Readings } from './ReadingsPanel.tsx';
import { Refused } from './Refused.tsx';
import { RigTable } from './RigTable.tsx';
import { useRoom } from './roomDraft.ts';
import { Says } from './Says.tsx';
import { Score } from './Score.tsx';
import { ScreenChoice } from './ScreenChoice.tsx';
import { Skip } from './Skip.tsx';
import { anglesIn, type State, shownShoot, useStore } from './store.ts';
import { Tile } from './Tile.tsx';
import { TroubleList } from './TroubleList.tsx';
import { useTaking } from './taking.ts';
import { openersOf, workersFor } from './together.ts';
import { useKeys } from './useKeys.ts';
import { rowsOf } from './views.ts';
import { Where } from './Where.tsx';
import { YourRoom } from './YourRoom.tsx';

declare global {
  interface Window {
    /** For tests and the curious: rays traced so far, how long turns took, what was read. */
    rushlight?: {
      rays: () => { camera: number; shadow: number; bounce: number; link: number };
      timings: () => Lights['timings'];
      /** The shoot that the last of those is of. */
      shown: () => Shoot | undefined;
      results: () => ReturnType<typeof useStore.getState>['results'];
      openMs: { firstPicture?: number; allPictures?: number };
      kept: typeof keptNow;
      act: ReturnType<typeof useStore.getState>['act'];
      shoot: () => { text: string; said: string[] };
    };
  }
}

const PHONE = '(max-width: 700px)';

function useMedia(query: string): boolean {
  const [on, setOn] = useState(() => matchMedia(query).matches);
  useEffect(() => {
    const m = matchMedia(query);
    const hear = () => setOn(m.matches);
    m.addEventListener('change', hear);
    return () => m.removeEventListener('change', hear);
  }, [query]);
  return on;
}

/** Workers of light, alive as long as the page. */
function useLights(angles: number): Lights | undefined {
  const [lights, setLights] = useState<Lights>();
  const count = workersFor(angles);
  useEffect(() => {
    if (angles === 0) return;
    const began = begunMs();
    const openMs: NonNullable<Window['rushlight']>['openMs'] = {};
    const seen = new Set<string>();
    let gone = false;
    const soon = perFrame<(s: State) => Partial<State>>(
      (list) => {
        if (gone) return;
        useStore.setState((s) => {
          const now = { ...s };
          for (const change of list) Object.assign(now, change(now));
          return now;
        });
      },
      undefined,
      () => useStore.getState().busy,
    );
    const steps = useStore.subscribe((s, before) => {
      if (s.busy && s.history !== before.history) soon.now();
    });
    const made = new Lights(lightWorker, { first: openersOf(count), all: count }, people, {
      onRead: (r) => soon((s) => ({ results: { ...s.results, [r.ref.angle]: r } })),
      onPicture: (p) => {
        openMs.firstPicture ??= performance.now() - began;
        if (seen.add(p.angle).size >= angles) openMs.allPictures ??= performance.now() - began;
        soon((s) => ({ pictures: { ...s.pictures, [p.angle]: p } }));
      },
      onAlone: (lamp, p) => useStore.setState((s) => ({ alone: { ...s.alone, [`${lamp}/${p.angle}`]: p } })),
      onStands: (stands) => useStore.setState({ stands }),
      onMatched: (key, found) => useStore.setState({ matched: { key, found } }),
      // While a strike is tried the list stands still under the pointer.
      onEarned: (angle, earned) =>
        useStore.setState((s) => (s.tried ? {} : { earned: { ...s.earned, [angle]: earned } })),
      onOutlines: (angle, o) => useStore.setState((s) => ({ outlines: { ...s.outlines, [angle]: o } })),
      onFailed: (angle, words) =>
        useStore.setState((s) => ({
          failures: [...s.failures, angle ? `${angle}: ${words}` : words].slice(-20),
        })),
    });
    window.rushlight = {
      rays: () => made.rays,
      timings: () => made.timings,
      shown: () => made.shown,
      results: () => useStore.getState().results,
      openMs,
      kept: keptNow,
      act: useStore.getState().act,
      shoot: () => ({
        text: saveShoot(useStore.getState().history!.shoot),
        said: useStore.getState().said,
      }),
    };
    setLights(made);
    return () => {
      gone = true;
      steps();
      made.dispose();
    };
  }, [count, angles]);
  return lights;
}

export function App() {
  const shoot = useStore(shownShoot);
  const scene = useStore((s) => s.scene);
  const day = useStore((s) => s.day);
  const phone = useMedia(PHONE);
  const panel = useStore((s) => s.panel);

  // What was last worked on, what the page carries, else the demo.
  useEffect(() => void begin(), []);

  useEffect(() => {
    document.documentElement.dataset.mode = day ? 'day' : 'set';
  }, [day]);

  useTaking();

  return (
    <>
      {shoot ? (
        <Open key={scene} shoot={shoot} scene={scene} phone={phone} />
      ) : (
        <main className="empty">
          <h1>
            <em>Rushlight</em>
          </h1>
          {panel === 'open' ? <OpenAndKeep /> : null}
        </main>
      )}
      <Polite />
      <KeptTrouble />
      <Refused />
    </>
  );
}

function Open(p: { shoot: Shoot; scene: string; phone: boolean }) {
  const { shoot, scene } = p;
  const list = Object.keys(shoot.scenes[scene]!.angles).join();
  const angles = useMemo(
    (): AngleRef[] => (list ? list.split(',').map((angle) => ({ scene, angle })) : []),
    [list, scene],
  );
  const lights = useLights(anglesIn(shoot, scene).length);
  const chosen = useStore((s) => s.angle);
  const moving = useStore((s) => s.moving);
  const busy = useStore((s) => s.busy);
  const trying = useStore((s) => s.tried !== undefined);
  const stops = useStore((s) => s.stops);
  const only = useStore((s) => s.only);
  const stand = useStore((s) => s.stand);
  const match = useStore((s) => s.match);
  const near = useStore((s) => s.near);
  const panel = useStore((s) => s.panel);
  const area = useStore((s) => s.area);
  const results = useStore((s) => s.results);
  const planLarge = useStore((s) => s.planLarge);
  const score = useStore((s) => s.score);
  const earns = useStore((s) => s.panel === 'earns');
  const day = useStore((s) => s.day);
  useKeys(shoot, scene, angles);
  // Pictures are never under 280 px wide: fewer stand side by side on a narrow page.
  const wide4 = useMedia('(min-width: 1168px)');
  const wide3 = useMedia('(min-width: 880px)');
  // On a narrow page the rig takes its whole width (look.css), under the plan.
  const rigWhole = useMedia('(max-width: 1100px)');
  const fit = wide4 ? 4 : wide3 ? 3 : 2;

  // Whatever is shown is asked for, whole; the workers find what is new in it.
  const order = useRef(chosen);
  order.current = chosen;
  // biome-ignore lint/correctness/useExhaustiveDependencies: the chosen angle matters only while it is near
  useEffect(() => {
    if (!lights) return;
    const sizes: Record<string, { width: number; height: number }> = {};
    for (const a of angles)
      sizes[a.angle] = p.phone
        ? { width: 384, height: 216 }
        : near && a.angle === chosen
          ? { width: 800, height: 450 }
          : { width: 480, height: 270 };
    lights.show({
      shoot,
      angles,
      chosen: order.current,
      sizes,
      moving,
      busy,
      trying,
      stops,
      day,
      score,
      earns,
      only,
      stand: stand !== undefined && chosen ? { mark: stand, angle: chosen } : undefined,
      match,
    });
  }, [
    lights,
    shoot,
    angles,
    moving,
    busy,
    trying,
    stops,
    day,
    score,
    earns,
    only,
    stand,
    match,
    near,
    p.phone,
    near || stand !== undefined ? chosen : '',
  ]);

  const rows = useMemo(() => (angles.length ? rowsOf(shoot, angles, results) : []), [shoot, angles, results]);
  // On set has the meter itself.
  // The day is a strip over the wall; on a phone a panel like the others.
  const noSide = panel === 'none' || (panel === 'day' && !p.phone) || (panel === 'meter' && area === 'onset');
  const side = noSide ? null : <Side panel={panel} shoot={shoot} scene={scene} angles={angles} />;
  // A room that is told, or one with no angle yet: there is nothing else to look at.
  // Another area is looked at meanwhile, if there is anything to be seen in it.
  const told = useRoom((s) => s.telling) !== undefined && area === 'light';
  const telling = told || angles.length === 0;
  const Page = AREAS.find((a) => a.id === area)?.Page;
  const page = Page ? (
    <Page shoot={shoot} scene={scene} angles={angles} angle={chosen ?? angles[0]?.angle ?? ''} />
  ) : null;
  if (telling && p.phone)
    return (
      <main className="phone" data-phone="true">
        <YourRoom />
        <Says />
      </main>
    );
  if (telling)
    return (
      <main className="light" data-phone="false">
        <Bar shoot={shoot} scene={scene} phone={false} />
        <div className="body" data-telling="true">
          <div className="strip">
            {angles.map((a) => (
              <Tile key={a.angle} shoot={shoot} scene={scene} angle={a.angle} small />
            ))}
          </div>
          <YourRoom />
        </div>
        {side}
        <Says />
      </main>
    );
  if (p.phone)
    return <Phone shoot={shoot} scene={scene} angles={angles} rows={rows} side={side} page={page} />;

  if (page)
    return (
      <main className="light">
        <Bar shoot={shoot} scene={scene} phone={false} />
        <div className="area" data-area={area}>
          <h2 className="aside">{AREAS.find((a) => a.id === area)?.words}</h2>
          {page}
        </div>
        {side}
        <Says />
      </main>
    );

  if (score)
    return (
      <main className="light">
        <Bar shoot={shoot} scene={scene} phone={false} />
        <Score shoot={shoot} scene={scene} angles={angles} rows={rows} />
        {side}
        <Says />
      </main>
    );

  // The first picture with a face and nothing across its foot.
  const faceIn = angles.find((a) => {
    const r = results[a.angle];
    return r?.facesSeen.length === 1 && !r.troubles.some((t) => t.severity >= 2 && t.meant === undefined);
  })?.angle;
  const strip = panel === 'day' && !p.phone ? <DayStrip shoot={shoot} scene={scene} /> : null;
  const n = angles.length;
  const columns = Math.min(n <= 2 ? 2 : n <= 5 ? 3 : 4, fit);
  const spare = (columns - (n % columns)) % columns;
  const tileRows = Math.ceil(n / columns);
  const many = (n >= MANY || tileRows > 2) && !near && !planLarge;
  const shown = near && chosen ? angles.filter((a) => a.angle === chosen) : angles;
  return (
    <main className="light" data-phone="false">
      <Skip />
      <Bar shoot={shoot} scene={scene} phone={false} />
      {strip}
      <div
        className="body"
        data-columns={columns}
        data-near={near}
        data-many={many}
        data-plan={planLarge ? 'large' : 'cell'}
        style={
          {
            '--columns': columns,
            '--tile-rows': tileRows,
            '--rig-rows': rows.length,
          } as React.CSSProperties
        }
      >
        {near ? (
          <div className="strip">
            {angles.map((a) => (
              <Tile key={a.angle} shoot={shoot} scene={scene} angle={a.angle} small />
            ))}
          </div>
        ) : null}
        {planLarge && !near ? (
          <div className="strip">
            {angles.map((a) => (
              <Tile key={a.angle} shoot={shoot} scene={scene} angle={a.angle} small />
            ))}
          </div>
        ) : many ? (
          <ManyWall shoot={shoot} scene={scene} angles={angles} />
        ) : (
          shown.map((a) => (
            <Tile key={a.angle} shoot={shoot} scene={scene} angle={a.angle} teach={a.angle === faceIn} />
          ))
        )}
        <div
          className="plan-cell"
          style={
            near || planLarge || many
              ? {}
              : spare > 0
                ? { gridColumn: columns, gridRow: `${tileRows} / span ${rigWhole ? 1 : 2}` }
                : { gridColumn: rigWhole ? '1 / -1' : columns, gridRow: `${tileRows + 1}` }
          }
        >
          <Where shoot={shoot} scene={scene} />
        </div>
        {!near && !planLarge && !many && spare > 1 ? (
          <div
            className="spare"
            style={{ gridColumn: `${columns - spare + 1} / ${columns}`, gridRow: tileRows }}
          >
            <TroubleList shoot={shoot} scene={scene} angles={angles.map((a) => a.angle)} />
          </div>
        ) : null}
        <RigTable shoot={shoot} scene={scene} rows={rows} angles={angles.map((a) => a.angle)} />
      </div>
      {side}
      <Says />
    </main>
  );
}

function Side(p: { panel: string; shoot: Shoot; scene: string; angles: AngleRef[] }) {
  const chosen = useStore((s) => s.angle) ?? p.angles[0]?.angle ?? '';
  const names = p.angles.map((a) => a.angle);
  if (p.panel === 'troubles')
    return (
      <Panel title="Troubles, worst first">
        <TroubleList shoot={p.shoot} scene={p.scene} angles={names} bare />
      </Panel>
    );
  if (p.panel === 'readings')
    return (
      <Panel title={`Readings in ${chosen}`}>
        <Readings shoot={p.shoot} scene={p.scene} angle={chosen} />
      </Panel>
    );
  if (p.panel === 'day')
    return (
      <Panel title="Day">
        <DayStrip shoot={p.shoot} scene={p.scene} />
      </Panel>
    );
  if (p.panel === 'earns')
    return (
      <Panel title="What each lamp earns">
        <Earned shoot={p.shoot} scene={p.scene} angles={names} />
      </Panel>
    );
  if (p.panel === 'meter')
    return (
      <Panel title={`Meter, ${chosen}`}>
        <Meter scene={p.scene} angle={chosen} angles={p.angles} />
      </Panel>
    );
  if (p.panel === 'checks')
    return (
      <Panel title="Checks">
        <Checks />
      </Panel>
    );
  if (p.panel === 'keys')
    return (
      <Panel title="Keys">
        <Keys />
      </Panel>
    );
  const scene = p.shoot.scenes[p.scene]!;
  return (
    <Panel title="Shoots">
      <div className="panel-settings">
        <Settings scene={p.scene} camera={scene.camera} constant={p.shoot.exposureConstant} />
        <ScreenChoice />
      </div>
      <OpenAndKeep />
    </Panel>
  );
}
