/**
 * The day as a strip: the sun's height through its hours, and the light on a face against the set stop. A drag of the
 * line changes the hour in every picture; angles shot at an hour of their own are marked.
 */
import { type PointerEvent, useEffect, useMemo, useRef, useState } from 'react';
import { exposureOf } from '../setup/develop.ts';
import { fallOfDay, fallsUnder, type HourOfDay, sunTimes } from '../setup/fall.ts';
import { constantOf } from '../setup/learned.ts';
import { clockTime } from '../shoot/editDay.ts';
import type { Shoot } from '../shoot/schema.ts';
import { AirFields } from './AirFields.tsx';
import { DayFields } from './DayFields.tsx';
import { useStore } from './store.ts';

const W = 1000;
const H = 74;
/** Foot of the sun's arc and the room over it. */
const FLOOR = 62;
const SNAP_H = 1 / 12;
const MOST_STOPS = 6;

/** Rows of the light at the eyes, once the page is drawn: each asks rays through the windows. */
function useAtEyes(p: { shoot: Shoot; scene: string; from: number; to: number }): HourOfDay[] | undefined {
  const scene = p.shoot.scenes[p.scene]!;
  const { day } = scene;
  const place = p.shoot.places[scene.place]!;
  const [mark] = Object.entries(scene.marks)[0] ?? [];
  const m = mark === undefined ? undefined : scene.marks[mark];
  const key = JSON.stringify([
    day && { ...day, ...(day.levelLx === undefined ? { hour: 0 } : {}) },
    m && [m.at, m.eyeM],
    place.openings,
    place.outline,
    place.northDeg,
    place.latitudeDeg,
    place.longitudeDeg,
    place.utcOffsetH,
    p.from,
    p.to,
  ]);
  const [rows, setRows] = useState<HourOfDay[]>();
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key is their content
  useEffect(() => {
    if (!day || !m) return setRows(undefined);
    let gone = false;
    const found: HourOfDay[] = [];
    let h = p.from;
    const step = () => {
      if (gone) return;
      const until = performance.now() + 24;
      while (h <= p.to + 1e-6 && performance.now() < until) {
        found.push(...fallOfDay(scene, place, day, [h], [m.at[0], m.at[1], m.eyeM]));
        h += 0.5;
      }
      if (h <= p.to + 1e-6) setTimeout(step, 10);
      else setRows(found);
    };
    const first = setTimeout(step, 60);
    return () => {
      gone = true;
      clearTimeout(first);
    };
  }, [key]);
  return rows;
}

export function DayStrip(p: { shoot: Shoot; scene: string }) {
  const act = useStore((s) => s.act);
  const { drag, drop, leave, set } = useStore.getState();
  const chosen = useStore((s) => s.angle);
  const [alone, setAlone] = useState(false);
  const line = useRef<HTMLDivElement>(null);
  const held = useRef(false);
  const scene = p.shoot.scenes[p.scene]!;
  const place = p.shoot.places[scene.place]!;
  const { day } = scene;
  const angle = alone ? chosen : undefined;
  const { date } = day ?? {};

  const times = useMemo(() => (date ? sunTimes({ date }, place) : undefined), [date, place]);
  // From before sunrise until it is dark; where the sun does neither, the whole day.
  const [from, to] = useMemo((): [number, number] => {
    const up = times?.up;
    const dark = times?.dark ?? times?.down;
    return up === undefined || dark === undefined || dark <= up
      ? [0, 24]
      : [Math.max(0, Math.floor(up - 0.5)), Math.min(24, Math.ceil(dark + 0.5))];
  }, [times]);
  const arc = useMemo(() => {
    if (!day) return [];
    const hours = Array.from({ length: Math.round((to - from) * 4) + 1 }, (_, i) => from + i / 4);
    return fallOfDay(scene, place, day, hours);
  }, [day, scene, place, from, to]);
  const eyes = useAtEyes({ shoot: p.shoot, scene: p.scene, from, to });
  const asked = exposureOf(scene.camera, constantOf(p.shoot)).eRefLx;
  const mark = Object.keys(scene.marks)[0];
  const fields = (
    <>
      <DayFields key={angle ?? ''} shoot={p.shoot} scene={p.scene} angle={angle} act={act} />
      <AirFields shoot={p.shoot} scene={p.scene} act={act} />
    </>
  );
  if (!day) return <section className="day-strip">{fields}</section>;

  const hour = (angle === undefined ? undefined : scene.angles[angle]?.hour) ?? day.hour;
  const x = (h: number) => ((h - from) / (to - from)) * W;
  const top = Math.max(20, ...arc.map((r) => r.sunElevationDeg));
  const sunY = (deg: number) => FLOOR - (FLOOR - 8) * (Math.max(0, deg) / top);
  const stopY = (stops: number) =>
    FLOOR / 2 + 4 - (Math.max(-MOST_STOPS, Math.min(MOST_STOPS, stops)) / MOST_STOPS) * (FLOOR / 2 - 4);
  const stopsAt = (r: HourOfDay) => (r.atLx && r.atLx > 0 ? Math.log2(r.atLx / asked) : undefined);
  const path = (rows: readonly HourOfDay[], y: (r: HourOfDay) => number | undefined) => {
    let pen = 'M';
    return rows
      .flatMap((r) => {
        const v = y(r);
        if (v === undefined) return [];
        const d = `${pen}${x(r.hour).toFixed(1)} ${v.toFixed(1)}`;
        pen = 'L';
        return [d];
      })
      .join('');
  };
  const near = arc.reduce<HourOfDay | undefined>(
    (b, r) => (!b || Math.abs(r.hour - hour) < Math.abs(b.hour - hour) ? r : b),
    undefined,
  );
  const nearEyes = eyes?.reduce<HourOfDay | undefined>(
    (b, r) => (!b || Math.abs(r.hour - hour) < Math.abs(b.hour - hour) ? r : b),
    undefined,
  );
  const over = nearEyes && stopsAt(nearEyes);
  const gone = eyes ? fallsUnder(eyes, asked) : undefined;
  const edit = (h: number) => ({
    edit: 'setHour' as const,
    args: { scene: p.scene, hour: h, ...(angle === undefined ? {} : { angle }) },
  });
  const hourAt = (e: PointerEvent) => {
    const r = line.current!.getBoundingClientRect();
    const h = from + ((e.clientX - r.left) / r.width) * (to - from);
    return +Math.max(0, Math.min(24, Math.round(h / SNAP_H) * SNAP_H)).toFixed(4);
  };
  const holders = Object.entries(scene.angles)
    .filter(([, a]) => a.hour !== undefined)
    .map(([id]) => id);
  const hours = Array.from({ length: Math.floor(to) - Math.ceil(from) + 1 }, (_, i) => Math.ceil(from) + i);
  const sky =
    over === undefined
      ? ''
      : `; daylight alone is ${Math.abs(over).toFixed(1)} stops ${over < 0 ? 'under' : 'over'} at ${mark}`;
  return (
    <section className="day-strip" aria-label="Day">
      <div
        className="day-line"
        ref={line}
        role="slider"
        tabIndex={0}
        aria-label={`Hour${angle === undefined ? '' : ` in ${angle}`}`}
        aria-valuemin={0}
        aria-valuemax={24}
        aria-valuenow={+hour.toFixed(2)}
        aria-valuetext={`${clockTime(hour)}, sun ${near?.sunElevationDeg.toFixed(0)}° up${sky}`}
        onPointerDown={(e) => {
          if (e.button > 0) return;
          held.current = true;
          line.current?.setPointerCapture(e.pointerId);
          drag(edit(hourAt(e)), {});
        }}
        onPointerMove={(e) => {
          if (held.current) drag(edit(hourAt(e)), {});
        }}
        onPointerUp={() => {
          if (held.current) drop();
          held.current = false;
        }}
        onPointerCancel={() => {
          if (held.current) leave();
          held.current = false;
        }}
        onKeyDown={(e) => {
          const by = { ArrowLeft: -1, ArrowRight: 1, PageDown: -12, PageUp: 12 }[e.key];
          if (!by) return;
          e.preventDefault();
          e.stopPropagation();
          const step = e.shiftKey ? 1 / 60 : SNAP_H;
          act(edit(+Math.max(0, Math.min(24, hour + by * step)).toFixed(4)));
        }}
      >
        <svg viewBox={`0 0 ${W} ${H}`} preserveAspectRatio="none" aria-hidden="true">
          <path
            className="sky"
            d={`${path(arc, (r) => sunY(r.sunElevationDeg))}L${W} ${FLOOR}L0 ${FLOOR}Z`}
          />
          <path className="arc" d={path(arc, (r) => sunY(r.sunElevationDeg))} />
          <path className="asked" d={`M0 ${stopY(0)}H${W}`} />
          {eyes ? <path className="level" d={path(eyes, (r) => stopsAt(r) && stopY(stopsAt(r)!))} /> : null}
          <path className="ground" d={`M0 ${FLOOR}H${W}`} />
          {hours.map((h) => (
            <path key={h} className="tick" d={`M${x(h)} ${FLOOR}v${h % 3 ? 4 : 8}`} />
          ))}
          {Object.entries(scene.angles).map(([id, a]) =>
            a.hour === undefined ? null : <path key={id} className="own" d={`M${x(a.hour)} 4V${FLOOR}`} />,
          )}
          <path className="now" d={`M${x(hour)} 0V${H}`} />
        </svg>
        <span
          className="day-sun"
          style={{ left: `${x(hour) / 10}%`, top: sunY(near?.sunElevationDeg ?? 0) }}
        />
        {hours.map((h) =>
          h % 3 ? null : (
            <span key={h} className="day-hour" style={{ left: `${x(h) / 10}%` }}>
              {h}
            </span>
          ),
        )}
        {Object.entries(scene.angles).map(([id, a]) =>
          a.hour === undefined ? null : (
            <span key={id} className="day-own" style={{ left: `${x(a.hour) / 10}%` }}>
              {id}
            </span>
          ),
        )}
        <span className="day-asked" style={{ top: stopY(0) }}>
          set stop
        </span>
      </div>
      <div className="day-words">
        <p className="told-line">
          <span className="scope">
            {['all angles', `${chosen} only`].map((words, i) => (
              <button
                key={words}
                type="button"
                aria-pressed={alone === (i === 1)}
                onClick={() => setAlone(i === 1)}
              >
                {words}
              </button>
            ))}
          </span>{' '}
          <em>
            {mark === undefined
              ? ''
              : over === undefined
                ? 'Asking what comes in …'
                : `Daylight alone: ${mark} ${over < 0 ? '−' : '+'}${Math.abs(over).toFixed(1)} now${gone === undefined ? '' : `, under the stop from ${clockTime(gone)}`}; sunshine’s own patch is not in it.`}
          </em>
          {holders.length && angle === undefined ? (
            <>
              <span className="ember-word">
                {holders.join(', ')}{' '}
                {holders.length > 1 ? 'hold hours of their own' : 'holds an hour of its own'}
              </span>
              <button
                type="button"
                className="tiny"
                onClick={() =>
                  act(
                    holders.map((a) => ({
                      edit: 'setHour' as const,
                      args: { scene: p.scene, angle: a, hour: day.hour },
                    })),
                  )
                }
              >
                let all follow
              </button>
            </>
          ) : null}
          <button type="button" className="tiny end" onClick={() => set({ panel: 'none' })}>
            shut
          </button>
        </p>
        {fields}
      </div>
    </section>
  );
}
