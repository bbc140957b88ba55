/** What sun, moon and sky do over a place at an hour of a day. */
import { moonLevelLx, skyLevelLx, sunNormalLx, type Weather } from '../light/dayLevels.ts';
import { moonOver } from '../light/moon.ts';
import { CLEAR, levelOverZenith, OVERCAST, type Sky, skyOverZenith, towards } from '../light/sky.ts';
import { julianDay, type OnEarth, sunAmongStars, sunOver } from '../light/sun.ts';
import { DEG, type Vec3 } from '../maths/vec3.ts';
import type { Day, Place } from '../shoot/schema.ts';

/** Sun lower than this gives no light, and the moon counts from here, degrees. */
const SUN_GONE_DEG = -0.3;
const MOON_COUNTS_DEG = -4;
/** The shape of the twilight sky no longer follows the sun under this, degrees (judgement). */
const SHAPE_DEG = -6;
/** Skies the same all round, whatever the sun does. */
const SUNLESS: ReadonlySet<number> = new Set([1, 3, 5, OVERCAST]);

/** Sun, moon and levels of a scene at an hour. */
export interface SkyNow {
  jd: number;
  sun: { azimuthDeg: number; elevationDeg: number };
  moon: { azimuthDeg: number; elevationDeg: number; phaseDeg: number } | undefined;
  sky: Sky;
  weather: Weather;
  /** Lux: sun square to it; sky, moon and ground's light on the level. */
  sunLx: number;
  skyLx: number;
  moonLx: number;
  levelLx: number;
}

const typeOf = (day: Day): number =>
  day.skyType ?? (day.weather === 'clear' ? CLEAR : day.weather === 'partly' ? 7 : OVERCAST);
/** Where nobody has told it: the middle of England. */
export const earthOf = (place: Place): OnEarth => ({
  latitudeDeg: place.latitudeDeg ?? 52,
  longitudeDeg: place.longitudeDeg ?? 0,
});

/** Julian day of an hour by the clocks of the place. */
export function julianOf(day: Pick<Day, 'date'>, place: Place, hour: number): number {
  const [y, m, d] = day.date.split('-').map(Number) as [number, number, number];
  return julianDay(y, m, d, hour - (place.utcOffsetH ?? 0));
}

/** The day as the formulas alone have it. */
export function untold(day: Day): Day {
  const { levelLx: _told, ...rest } = day;
  return rest;
}

/** What the sky does at the day's hour, unmetered unless `levelLx` is told. */
export function skyNow(day: Day, place: Place, hour = day.hour): SkyNow {
  const jd = julianOf(day, place, hour);
  const at = earthOf(place);
  const sun = sunOver(jd, at);
  const weather: Weather = day.weather;
  const up = sun.elevationDeg;
  let sunLx = up > SUN_GONE_DEG ? sunNormalLx(weather, up, sunAmongStars(jd).distanceAu) : 0;
  let skyLx = skyLevelLx(weather, up);
  let moon: SkyNow['moon'];
  let moonLx = 0;
  if (up < MOON_COUNTS_DEG) {
    const m = moonOver(jd, at);
    if (m.elevationDeg > 0) {
      moon = m;
      const veil = weather === 'clear' ? 1 : weather === 'partly' ? 0.5 : 0;
      moonLx = veil * moonLevelLx(m.elevationDeg, m.phaseDeg, m.distanceKm);
    }
  }
  const level = (): number => sunLx * Math.sin(Math.max(0, up) * DEG) + skyLx + moonLx;
  if (day.levelLx !== undefined && level() > 0) {
    // Told for the scene's own hour; at another the day's shape goes with it.
    const told = day.levelLx / skyNow(untold(day), place, day.hour).levelLx;
    sunLx *= told;
    skyLx *= told;
    moonLx *= told;
  }
  return {
    jd,
    sun: { azimuthDeg: sun.azimuthDeg, elevationDeg: up },
    moon,
    sky: {
      type: typeOf(day),
      // Where the sun plays no part, its hour must not seem to move the sky.
      sun: SUNLESS.has(typeOf(day))
        ? [0, 0, 1]
        : towards(sun.azimuthDeg, Math.max(SHAPE_DEG, up), place.northDeg ?? 0),
    },
    weather,
    sunLx,
    skyLx,
    moonLx,
    levelLx: level(),
  };
}

/** Luminance of the sky and the far ground toward a unit direction, cd/m², unmetered. */
export function luminanceOf(now: SkyNow, groundReflectance: number): (dir: Vec3) => number {
  const zenith = now.skyLx / levelOverZenith(now.sky);
  const below = (groundReflectance * now.levelLx) / Math.PI;
  return (d) => (d[2] > 0 ? zenith * skyOverZenith(now.sky, d) : below);
}
