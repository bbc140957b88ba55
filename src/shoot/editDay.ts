/** Edits of daylight: where on earth the place is, the day, the hour, what a meter said of it; day shot for night. */
import { z } from 'zod';
import {
  angleOf,
  differing,
  EditError,
  type EditKind,
  fixed,
  id,
  kind,
  placeOf,
  sceneOf,
  where,
} from './editing.ts';
import { type CameraSettings, Day, DayReading, type Scene, SceneAir } from './schema.ts';

const hour = z.number().min(0).max(24);
const dayOf = (s: Scene, scene: string): Day => {
  if (!s.day) throw new EditError(`Scene ${scene} has no day yet: tell its date first.`);
  return s.day;
};

/** 14.5 as one says it: 14:30. */
export const clockTime = (h: number): string => {
  const minutes = Math.round(h * 60);
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;
};

export const DAY_EDITS = {
  /** Latitude and longitude go together; `northDeg` is the bearing of the plan's +y. */
  setWhere: kind(
    {
      place: id,
      latitudeDeg: z.number().min(-90).max(90).optional(),
      longitudeDeg: z.number().min(-180).max(180).optional(),
      utcOffsetH: z.number().min(-14).max(14).optional(),
      northDeg: z.number().min(-720).max(720).optional(),
    },
    (s, { place, ...told }) => {
      const p = placeOf(s, place);
      const known = Object.entries(told).filter(([, v]) => v !== undefined);
      if (!known.length) throw new EditError('Say where it is: latitude and longitude, or north.');
      Object.assign(p, Object.fromEntries(known));
      return told.latitudeDeg === undefined
        ? `North of ${p.name} told`
        : `${p.name} is at ${fixed(told.latitudeDeg, 1)}°, ${fixed(told.longitudeDeg ?? p.longitudeDeg ?? 0, 1)}°`;
    },
  ),
  /** Sun and sky of a scene; without `day`: night. */
  setDay: kind({ scene: id, day: Day.optional() }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    if (a.day === undefined) {
      if (!sc.day) throw new EditError(`Scene ${a.scene} is shot without daylight already.`);
      delete sc.day;
      return 'Night';
    }
    sc.day = a.day;
    return `${a.day.date}, ${clockTime(a.day.hour)}, ${a.day.weather}`;
  }),
  /** Haze, rain, snow of a scene; without `air`: clear air. */
  setAir: kind({ scene: id, air: SceneAir.optional() }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    if (!a.air?.haze && !a.air?.falls) {
      if (!sc.air) throw new EditError(`The air of scene ${a.scene} is clear already.`);
      delete sc.air;
      return 'Clear air';
    }
    sc.air = a.air;
    const { haze, falls } = a.air;
    return [
      haze ? `${haze.kind ?? 'haze'}, ${fixed(100 * haze.extinctionPerM, 1)} % a metre` : '',
      falls ? `${falls.kind}, ${fixed(falls.mmPerH, 0)} mm an hour` : '',
    ]
      .filter(Boolean)
      .join('; ');
  }),
  /** Of the scene, or with `angle` of that angle alone; an angle's hour equal to the scene's is dropped. */
  setHour: kind({ scene: id, angle: id.optional(), hour }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    const day = dayOf(sc, a.scene);
    if (a.angle === undefined) day.hour = a.hour;
    else {
      const angle = angleOf(s, a.scene, a.angle);
      if (a.hour === day.hour) delete angle.hour;
      else angle.hour = a.hour;
    }
    const hold =
      a.angle === undefined
        ? Object.entries(sc.angles)
            .filter(([, x]) => x.hour !== undefined)
            .map(([name]) => name)
        : [];
    return `${clockTime(a.hour)}${where(a)}${hold.length ? `; ${hold.join(', ')} ${hold.length > 1 ? 'hold' : 'holds'}` : ''}`;
  }),
  setWeather: kind(
    { scene: id, weather: Day.shape.weather, skyType: z.number().int().min(1).max(16).optional() },
    (s, a) => {
      const day = dayOf(sceneOf(s, a.scene), a.scene);
      day.weather = a.weather;
      if (a.skyType === undefined) delete day.skyType;
      else day.skyType = a.skyType;
      return `Sky: ${a.weather}${a.skyType === undefined ? '' : `, type ${a.skyType}`}`;
    },
  ),
  /** What a meter said of the daylight at an hour; a second reading of that hour and place replaces the first. */
  readDay: kind({ scene: id, reading: DayReading }, (s, a) => {
    const day = dayOf(sceneOf(s, a.scene), a.scene);
    const others = (day.readings ?? []).filter((r) => r.hour !== a.reading.hour || r.at !== a.reading.at);
    // What lies on the glass now is remembered: what is laid later darkens the room.
    const laid = Object.entries(placeOf(s, sceneOf(s, a.scene).place).openings).flatMap(([id, o]) =>
      o.panes?.length ? [[id, o.panes] as const] : [],
    );
    const reading =
      laid.length && !a.reading.panes ? { ...a.reading, panes: Object.fromEntries(laid) } : a.reading;
    day.readings = [...others, reading].sort((x, y) => x.hour - y.hour);
    return `Daylight at ${a.reading.at}, ${clockTime(a.reading.hour)}: ${a.reading.lux} lx`;
  }),
  /**
   * Day for night in one angle: closed down so many stops and balanced to a lower kelvin, so that sun and sky come out
   * dim and blue (common practice, no source: two stops, 3200 to 4000 K).
   */
  dayForNight: kind(
    {
      scene: id,
      angle: id,
      underStops: z.number().min(0).max(5).optional(),
      kelvin: z.number().min(1000).max(25_000).optional(),
    },
    (s, a) => {
      const sc = sceneOf(s, a.scene);
      dayOf(sc, a.scene);
      const angle = angleOf(s, a.scene, a.angle);
      const under = a.underStops ?? 2;
      const kelvin = a.kelvin ?? 3600;
      const stop = Math.min(90, (angle.camera?.stop ?? sc.camera.stop) * 2 ** (under / 2));
      const camera = differing(
        {
          ...angle.camera,
          stop: Math.round(stop * 100) / 100,
          whiteBalance: { kind: 'kelvin', kelvin },
        },
        sc.camera,
      );
      angle.camera = camera as Partial<CameraSettings>;
      return `Day for night in ${a.angle}: ${under} stops under, ${kelvin} K`;
    },
  ),
} satisfies Record<string, EditKind>;
