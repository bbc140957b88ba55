/** The same on a phone: a small wall on top, the chosen picture full width, lamps under the thumb. */
import { useRef } from 'react';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { AREAS } from './areas.tsx';
import { Settings } from './Bar.tsx';
import { lampColour, lampDash, lampDoubled } from './identity.ts';
import { PhoneHead } from './PhoneHead.tsx';
import { Says } from './Says.tsx';
import { Skip } from './Skip.tsx';
import { useStore } from './store.ts';
import { Teach } from './Teach.tsx';
import { Tile } from './Tile.tsx';
import type { Row } from './views.ts';
import { countTroubles, supplyTroubles } from './views.ts';
import { SmallPlan, Where } from './Where.tsx';

export function Phone(p: {
  shoot: Shoot;
  scene: string;
  angles: AngleRef[];
  rows: Row[];
  side: React.ReactNode;
  page: React.ReactNode;
}) {
  const chosen = useStore((s) => s.angle) ?? p.angles[0]?.angle;
  const planLarge = useStore((s) => s.planLarge);
  const panel = useStore((s) => s.panel);
  const area = useStore((s) => s.area);
  const stops = useStore((s) => s.stops);
  const results = useStore((s) => s.results);
  const last = useStore((s) => s.history?.done.at(-1)?.says);
  const { set, back } = useStore.getState();
  const swipe = useRef<number | undefined>(undefined);
  const troubles = countTroubles(results);
  const scene = p.shoot.scenes[p.scene]!;
  const supply = supplyTroubles(results).filter((t) => t.severity >= 2).length;
  // Light, what is wrong in it, then the other areas.
  const [light, ...others] = AREAS.map((a) => (
    <button
      key={a.id}
      type="button"
      aria-pressed={panel === 'none' && area === a.id}
      onClick={() => set({ area: a.id, panel: 'none' })}
    >
      {a.words}
      {a.id === 'power' && supply ? <sup className="count">{supply}</sup> : null}
    </button>
  ));
  return (
    <main className="phone" data-phone="true">
      <Skip />
      {area === 'onset' ? (
        <h1 className="aside">{p.shoot.title}</h1>
      ) : (
        <PhoneHead shoot={p.shoot} scene={p.scene} />
      )}
      {p.page ? (
        <div className="area" data-area={area}>
          <h2 className="aside">{AREAS.find((a) => a.id === area)?.words}</h2>
          {p.page}
        </div>
      ) : (
        <>
          <div className="small-wall">
            {p.angles.map((a) => (
              <button
                key={a.angle}
                type="button"
                className="small-cell"
                aria-label={`Angle ${a.angle}`}
                onClick={() => set({ angle: a.angle, planLarge: false })}
              >
                <Tile shoot={p.shoot} scene={p.scene} angle={a.angle} small />
              </button>
            ))}
            <button
              type="button"
              className="small-cell where-cell"
              aria-pressed={planLarge}
              onClick={() => set({ planLarge: !planLarge })}
            >
              {planLarge ? <em>picture</em> : <SmallPlan shoot={p.shoot} scene={p.scene} />}
              {planLarge ? null : <b className="tag">where</b>}
            </button>
          </div>
          {chosen ? (
            <div
              className="chosen"
              onTouchStart={(e) => {
                swipe.current = planLarge ? undefined : e.touches[0]?.clientX;
              }}
              onTouchEnd={(e) => {
                const from = swipe.current;
                const to = e.changedTouches[0]?.clientX;
                if (from === undefined || to === undefined || Math.abs(to - from) < 60) return;
                const i = p.angles.findIndex((a) => a.angle === chosen);
                const next = p.angles[(i + (to < from ? 1 : -1) + p.angles.length) % p.angles.length];
                if (next) set({ angle: next.angle });
              }}
            >
              {planLarge ? (
                <Where shoot={p.shoot} scene={p.scene} />
              ) : (
                <Tile key={chosen} shoot={p.shoot} scene={p.scene} angle={chosen} teach phone />
              )}
            </div>
          ) : null}
          <div className="tools">
            <button type="button" disabled={!last} onClick={back}>
              Back a step
            </button>
            <button
              type="button"
              onPointerDown={() => set({ was: true })}
              onPointerUp={() => set({ was: false })}
              onPointerCancel={() => set({ was: false })}
            >
              Was
            </button>
            <button type="button" aria-pressed={stops} onClick={() => set({ stops: !stops })}>
              Stops
            </button>
            <button
              type="button"
              aria-pressed={panel === 'readings'}
              onClick={() => set({ panel: 'readings' })}
            >
              Readings
            </button>
            <button type="button" aria-pressed={panel === 'earns'} onClick={() => set({ panel: 'earns' })}>
              Earns
            </button>
            <Settings scene={p.scene} camera={scene.camera} constant={p.shoot.exposureConstant} few />
          </div>
          <Teach at="only" phone />
          <ul className="thumb" aria-label="Rig">
            {p.rows.map((row) => (
              <ThumbRow key={row.id} scene={p.scene} row={row} angle={chosen ?? ''} />
            ))}
          </ul>
        </>
      )}
      <nav className="areas" aria-label="What to look at">
        {light}
        <button type="button" aria-pressed={panel === 'troubles'} onClick={() => set({ panel: 'troubles' })}>
          Troubles{troubles ? <sup className="count">{troubles}</sup> : null}
        </button>
        {others}
      </nav>
      {p.side}
      <Says />
    </main>
  );
}

/** A lamp under the thumb: drag anywhere = burn; hold its number = only. */
function ThumbRow(p: { scene: string; row: Row; angle: string }) {
  const { row, scene } = p;
  const { drag, drop, leave, set } = useStore.getState();
  const held = useRef<{ x: number; y: number; level: number; on: boolean } | undefined>(undefined);
  const cell = row.cells.find((c) => c.angle === p.angle);
  return (
    <li
      style={{ '--lamp': lampColour(row.identity), '--share': `${row.level * 100}%` } as React.CSSProperties}
      data-lamp={row.id}
    >
      <button
        type="button"
        className="number"
        aria-label={`Only lamp ${row.number}, held`}
        onPointerDown={() => set({ only: row.id, lamp: row.id })}
        onPointerUp={() => set({ only: undefined })}
        onPointerCancel={() => set({ only: undefined })}
        onContextMenu={(e) => e.preventDefault()}
      >
        {row.number}
      </button>
      <div
        className="slide"
        role="slider"
        tabIndex={0}
        aria-label={`Lamp ${row.number} burns`}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={Math.round(row.level * 100)}
        onPointerDown={(e) => {
          held.current = { x: e.clientX, y: e.clientY, level: row.level, on: false };
          set({ lamp: row.id });
        }}
        onPointerMove={(e) => {
          const h = held.current;
          if (!h) return;
          const dx = e.clientX - h.x;
          if (!h.on && Math.abs(dx) < 8) return;
          if (!h.on) {
            h.on = true;
            e.currentTarget.setPointerCapture(e.pointerId);
          }
          const level = Math.max(0, Math.min(1, h.level + dx / e.currentTarget.clientWidth));
          drag({ edit: 'setLevel', args: { scene, lamp: row.id, level: +level.toFixed(3) } }, {});
        }}
        onPointerUp={() => {
          if (held.current?.on) drop();
          held.current = undefined;
        }}
        onPointerCancel={() => {
          if (held.current?.on) leave();
          held.current = undefined;
        }}
        onKeyDown={(e) => {
          const by = e.key === 'ArrowRight' ? 0.01 : e.key === 'ArrowLeft' ? -0.01 : 0;
          if (by)
            useStore.getState().act({
              edit: 'setLevel',
              args: { scene, lamp: row.id, level: Math.max(0, Math.min(1, row.level + by)) },
            });
        }}
      >
        <span className="job">
          <span className="does">
            <em className={cell && cell.trouble >= 2 ? 'job-trouble' : ''}>{cell?.job ?? ''}</em>{' '}
            {cell?.stops}
          </span>
          <span className="faint">{row.words}</span>
        </span>
        <span className="line">
          <svg aria-hidden="true">
            <line className="rest" x1="0" x2="100%" y1="6" y2="6" />
            {/* Its pattern as on the plan; the lamps after the fourth have their line doubled. */}
            {(lampDoubled(row.identity) ? [3.5, 8.5] : [6]).map((y) => (
              <line
                key={y}
                x1="0"
                x2={`${row.level * 100}%`}
                y1={y}
                y2={y}
                strokeDasharray={lampDash(row.identity)}
              />
            ))}
          </svg>
        </span>
      </div>
      <span className="figure">{Math.round(row.level * 100)} %</span>
    </li>
  );
}
