/** The day of a scene told in one sentence: date, hour, sky, where on earth; what stands in the sky then, in words. */
import { useState } from 'react';
import { sunTimes } from '../setup/fall.ts';
import { skyNow } from '../setup/skyNow.ts';
import { clockTime } from '../shoot/editDay.ts';
import type { Edit } from '../shoot/edits.ts';

import type { Day, DayReading, Shoot } from '../shoot/schema.ts';
import { lightFigure, lightUnit, unitsOf } from '../shoot/units.ts';
import { type Choice, Choices, Word } from './Choices.tsx';
import { Typed } from './Typed.tsx';
import { readDegrees, readLight } from './typing.ts';
import {
  bearingWord,
  clocksWords,
  dateFigure,
  dateWords,
  earthWords,
  isoDate,
  readClocks,
  readDate,
  readEarth,
  readHour,
} from './typingDay.ts';

/** Skies one can name at a glance; the numbers are CIE general skies. */
const SKIES: readonly {
  id: string;
  words: string;
  found: string[];
  weather: Day['weather'];
  skyType?: number;
}[] = [
  { id: 'clear', words: 'clear', found: ['blue', 'sunny', 'sun'], weather: 'clear' },
  { id: 'hazy', words: 'clear, hazy', found: ['milky', 'polluted'], weather: 'clear', skyType: 13 },
  { id: 'partly', words: 'partly cloudy', found: ['broken', 'cloud'], weather: 'partly' },
  { id: 'overcast', words: 'overcast', found: ['grey', 'gray', 'dull', 'cloud'], weather: 'overcast' },
  { id: 'even', words: 'even grey', found: ['fog', 'mist', 'flat'], weather: 'overcast', skyType: 5 },
];
const skyOf = (d: Day) =>
  SKIES.find((s) => s.weather === d.weather && s.skyType === d.skyType)?.words ??
  `${d.weather}${d.skyType === undefined ? '' : `, sky ${d.skyType}`}`;

export function DayFields(p: {
  shoot: Shoot;
  scene: string;
  /** Hours are this angle's alone. */
  angle?: string | undefined;
  act: (edit: Edit | readonly Edit[]) => unknown;
}) {
  const [open, setOpen] = useState<string>();
  const scene = p.shoot.scenes[p.scene]!;
  const place = p.shoot.places[scene.place]!;
  const units = unitsOf(p.shoot, p.scene);
  const day = scene.day;
  const tell = (day: Day | undefined) =>
    p.act({ edit: 'setDay', args: { scene: p.scene, ...(day ? { day } : {}) } });
  if (!day)
    return (
      <p className="told-line">
        Shot by night, or where no daylight comes in.{' '}
        <button
          type="button"
          className="boxed"
          onClick={() => {
            const now = new Date();
            const date = `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`;
            tell({ date, hour: 14, weather: 'overcast' });
          }}
        >
          by day
        </button>
      </p>
    );
  const hour = (p.angle === undefined ? undefined : scene.angles[p.angle]?.hour) ?? day.hour;
  const now = skyNow(day, place, hour);
  const set = (changes: Partial<Record<keyof Day, unknown>>) => {
    const next: Record<string, unknown> = { ...day, ...changes };
    for (const [k, v] of Object.entries(next)) if (v === undefined) delete next[k];
    return tell(next as Day);
  };
  const earth = (told: Record<string, number>) =>
    p.act({ edit: 'setWhere', args: { place: scene.place, ...told } });
  const untold = place.latitudeDeg === undefined;
  const list: Choice[] = SKIES.map((s) => ({
    id: s.id,
    words: s.words,
    found: s.found,
    on: s.weather === day.weather && s.skyType === day.skyType,
  }));
  const up = now.sun.elevationDeg;
  const mark = Object.keys(scene.marks)[0];
  const same = (r: DayReading) => r.at === mark && Math.abs(r.hour - hour) < 1e-6;
  const read = day.readings?.find(same);
  const others = (day.readings ?? []).filter((r) => !same(r));
  const readLevel = (t: string) => {
    const v = readLight(t, units.light);
    return typeof v === 'number' && !(v > 0 && v <= 200_000) ? 'light up to 200 000 lx' : v;
  };
  const times = sunTimes(day, place);
  const clock = (h: number | undefined) => (h === undefined ? undefined : clockTime(h));
  const [rises, sets, dark] = [clock(times.up), clock(times.down), clock(times.dark)];
  return (
    <div className="day-told">
      <p className="told-line">
        On{' '}
        <Typed
          value={dateFigure(day.date)}
          digits={0}
          unit=""
          show={dateWords}
          label="Date"
          read={readDate(dateFigure(day.date))}
          onValue={(v) => set({ date: isoDate(v) })}
        />{' '}
        at{' '}
        <Typed
          value={hour}
          digits={2}
          unit=""
          show={clockTime}
          label={`Hour by the clocks there${p.angle === undefined ? '' : `, ${p.angle} only`}`}
          read={readHour}
          onValue={(v) =>
            p.act({
              edit: 'setHour',
              args: { scene: p.scene, hour: v, ...(p.angle === undefined ? {} : { angle: p.angle }) },
            })
          }
        />
        {p.angle === undefined ? '' : ` in ${p.angle}`} under a sky{' '}
        <Word k="sky" open={open} onOpen={setOpen}>
          {skyOf(day)}
        </Word>{' '}
        at{' '}
        <Typed
          value={place.latitudeDeg ?? 52}
          digits={1}
          unit=""
          show={(v) => earthWords(v, 'N', 'S')}
          label="Latitude"
          read={readEarth('n', 's', 90)}
          onValue={(latitudeDeg) => earth({ latitudeDeg, longitudeDeg: place.longitudeDeg ?? 0 })}
        />{' '}
        <Typed
          value={place.longitudeDeg ?? 0}
          digits={1}
          unit=""
          show={(v) => earthWords(v, 'E', 'W')}
          label="Longitude"
          read={readEarth('e', 'w', 180)}
          onValue={(longitudeDeg) => earth({ longitudeDeg, latitudeDeg: place.latitudeDeg ?? 52 })}
        />
        {untold ? ' (supposed)' : ''} with clocks at{' '}
        <Typed
          value={place.utcOffsetH ?? 0}
          digits={1}
          unit=""
          show={clocksWords}
          label="Clocks ahead of universal time, hours"
          read={readClocks}
          onValue={(utcOffsetH) => earth({ utcOffsetH })}
        />
        {' · the plan’s top lies '}
        <Typed
          value={place.northDeg ?? 0}
          digits={0}
          unit="° from north"
          label="Bearing of the plan’s top from north, degrees"
          read={readDegrees}
          onValue={(northDeg) => earth({ northDeg })}
        />
        {' · open ground has '}
        <Typed
          value={day.levelLx ?? now.levelLx}
          digits={0}
          unit={lightUnit(units)}
          show={(v) => lightFigure(v, units)}
          label="Light on open level ground at the scene’s hour, as told by a meter"
          read={readLevel}
          onValue={(levelLx) => set({ levelLx })}
        />{' '}
        {day.levelLx === undefined ? (
          <span className="faint">a mean of such skies</span>
        ) : (
          <button type="button" className="tiny" onClick={() => set({ levelLx: undefined })}>
            told; as computed again
          </button>
        )}{' '}
        {mark === undefined ? null : (
          <>
            {`· at ${mark} a meter said `}
            <Typed
              value={read?.lux ?? 0}
              digits={0}
              unit={read ? lightUnit(units) : ''}
              show={(v) => (v > 0 ? lightFigure(v, units) : 'nothing')}
              label={`Daylight at ${mark} by a meter at this hour; 0: none was held`}
              read={(t) => (/^(0|nothing|none)$/i.test(t.trim()) ? 0 : readLevel(t))}
              onValue={(lux) =>
                lux > 0
                  ? p.act({ edit: 'readDay', args: { scene: p.scene, reading: { hour, lux, at: mark } } })
                  : set({ readings: others.length ? others : undefined })
              }
            />
            .{' '}
          </>
        )}
        <button type="button" className="tiny" onClick={() => tell(undefined)}>
          by night instead
        </button>
      </p>
      {open === 'sky' ? (
        <Choices
          label="The sky"
          list={list}
          onLeave={() => setOpen(undefined)}
          onPick={(id) => {
            const s = SKIES.find((x) => x.id === id)!;
            setOpen(undefined);
            return p.act({
              edit: 'setWeather',
              args: {
                scene: p.scene,
                weather: s.weather,
                ...(s.skyType === undefined ? {} : { skyType: s.skyType }),
              },
            });
          }}
        />
      ) : null}
      <p className="told-line">
        <em>
          Sun {Math.abs(up).toFixed(0)}° {up < 0 ? 'under the horizon' : 'up'} in the{' '}
          {bearingWord(now.sun.azimuthDeg)} ({now.sun.azimuthDeg.toFixed(0)}° from north)
          {now.moon
            ? `; moon ${now.moon.elevationDeg.toFixed(0)}° up in the ${bearingWord(now.moon.azimuthDeg)}`
            : ''}
          {rises && sets ? `; up ${rises}, down ${sets}${dark ? `, dark by ${dark}` : ''}` : ''}.
        </em>
      </p>
    </div>
  );
}
