/** How daylight falls through a day: outside, and at a mark or a spot; when the sun goes; when a lamp takes over. */
import { CIVIL_DEG, SUNSET_DEG, sunPasses } from '../light/sun.ts';
import type { Vec3 } from '../maths/vec3.ts';
import type { Day, Place, Scene } from '../shoot/schema.ts';
import { expectedLx, gainOf } from './metered.ts';
import { earthOf, julianOf, skyNow } from './skyNow.ts';

export interface HourOfDay {
  hour: number;
  sunElevationDeg: number;
  /** Clockwise from north. */
  sunAzimuthDeg: number;
  /** Open level ground, lux. */
  levelLx: number;
  /** At the mark, sky and ground alone, meter turned to the opening that gives most; the sun's own patch is not in it. */
  atLx: number | undefined;
}

export interface SunTimes {
  /** By the clocks of the place; undefined where it does not happen. */
  up: number | undefined;
  down: number | undefined;
  /** End of civil dusk: what is left is for night. */
  dark: number | undefined;
}

/** Sunrise, sunset and the end of civil dusk on the scene's date. */
export function sunTimes(day: Pick<Day, 'date'>, place: Place): SunTimes {
  // Midnight by the clocks of the place.
  const jd0 = julianOf(day, place, 0);
  const at = earthOf(place);
  const rim = sunPasses(jd0, at, SUNSET_DEG);
  return { up: rim.up, down: rim.down, dark: sunPasses(jd0, at, CIVIL_DEG).down };
}

/** Rows from hour to hour. `at`: where the meter is held. */
export function fallOfDay(
  scene: Scene,
  place: Place,
  day: Day,
  hours: readonly number[],
  at?: Vec3,
): HourOfDay[] {
  return hours.map((hour) => {
    const then = { ...day, hour };
    const now = skyNow(then, place);
    const gain = gainOf(scene, place, then);
    return {
      hour,
      sunElevationDeg: now.sun.elevationDeg,
      sunAzimuthDeg: now.sun.azimuthDeg,
      levelLx: gain * now.levelLx,
      atLx: at ? gain * expectedLx(place, now, at) : undefined,
    };
  });
}

/** The hour after which daylight stays under `lux`, straight between rows in stops; undefined: it does not cross. */
export function fallsUnder(rows: readonly HourOfDay[], lux: number): number | undefined {
  for (let i = rows.length - 1; i > 0; i--) {
    const [a, b] = [rows[i - 1]!, rows[i]!];
    if (a.atLx === undefined || b.atLx === undefined) return undefined;
    if (b.atLx >= lux) return undefined;
    if (a.atLx >= lux) {
      const t = Math.log(a.atLx / lux) / Math.log(a.atLx / b.atLx);
      return a.hour + t * (b.hour - a.hour);
    }
  }
  return undefined;
}
