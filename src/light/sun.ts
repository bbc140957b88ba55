/**
 * Where the sun stands. Meeus, Astronomical Algorithms, ch. 25 (low accuracy, 0.01°), sidereal time ch. 12, refraction
 * 16.4 [MEEUS-1998]; the same series as NOAA's solar calculator. Universal and dynamical time are taken as one: a
 * minute apart, the sun moves 0.0007° in it.
 */
import { DEG } from '../maths/vec3.ts';

/** A place on earth, degrees; north and east are positive. */
export interface OnEarth {
  latitudeDeg: number;
  longitudeDeg: number;
}

/** A body in the sky as seen from a place, degrees. */
export interface Bearing2 {
  /** Clockwise from north. */
  azimuthDeg: number;
  /** Above the level horizon, refraction included. */
  elevationDeg: number;
  /** The same without air. */
  trueElevationDeg: number;
}

const sin = (deg: number): number => Math.sin(deg * DEG);
const cos = (deg: number): number => Math.cos(deg * DEG);
export const turn360 = (deg: number): number => ((deg % 360) + 360) % 360;

/** Julian day of a calendar date (Gregorian) and an hour of universal time [MEEUS-1998 ch. 7]. */
export function julianDay(year: number, month: number, day: number, hourUt = 0): number {
  const [y, m] = month > 2 ? [year, month] : [year - 1, month + 12];
  const a = Math.floor(y / 100);
  const b = 2 - a + Math.floor(a / 4);
  return Math.floor(365.25 * (y + 4716)) + Math.floor(30.6001 * (m + 1)) + day + b - 1524.5 + hourUt / 24;
}

/** Julian centuries from 2000 January 1, noon. */
export const centuries = (jd: number): number => (jd - 2451545) / 36525;

/** Apparent obliquity of the ecliptic, degrees. */
export const obliquityDeg = (t: number): number =>
  23.4392911 - 0.0130042 * t - 1.64e-7 * t * t + 0.00256 * cos(125.04 - 1934.136 * t);

/** Right ascension and declination, degrees, from ecliptic longitude and latitude. */
export function equatorial(
  longitude: number,
  latitude: number,
  t: number,
): { rightAscensionDeg: number; declinationDeg: number } {
  const e = obliquityDeg(t);
  return {
    rightAscensionDeg: turn360(
      Math.atan2(sin(longitude) * cos(e) - Math.tan(latitude * DEG) * sin(e), cos(longitude)) / DEG,
    ),
    declinationDeg: Math.asin(sin(latitude) * cos(e) + cos(latitude) * sin(e) * sin(longitude)) / DEG,
  };
}

/** Sidereal time at Greenwich, degrees [MEEUS-1998 12.4]. */
const siderealDeg = (jd: number): number => {
  const t = centuries(jd);
  return turn360(
    280.46061837 + 360.98564736629 * (jd - 2451545) + 0.000387933 * t * t - (t * t * t) / 38710000,
  );
};

/** Lift by refraction at the true elevation, degrees, for ordinary air [MEEUS-1998 16.4]; faded out under −1°. */
export function refractionDeg(trueElevationDeg: number): number {
  const h = Math.max(-1, trueElevationDeg);
  const lift = 1.02 / Math.tan((h + 10.3 / (h + 5.11)) * DEG) / 60;
  return trueElevationDeg >= -1 ? lift : lift * Math.max(0, 1 + (trueElevationDeg + 1) / 4);
}

/** A body at right ascension and declination, as it stands over a place; parallax is the caller's. */
export function overhead(
  rightAscensionDeg: number,
  declinationDeg: number,
  jd: number,
  at: OnEarth,
): { azimuthDeg: number; elevationDeg: number } {
  const hour = siderealDeg(jd) + at.longitudeDeg - rightAscensionDeg;
  const d = declinationDeg;
  const p = at.latitudeDeg;
  return {
    azimuthDeg: turn360(Math.atan2(sin(hour), cos(hour) * sin(p) - Math.tan(d * DEG) * cos(p)) / DEG + 180),
    elevationDeg: Math.asin(Math.max(-1, Math.min(1, sin(p) * sin(d) + cos(p) * cos(d) * cos(hour)))) / DEG,
  };
}

/** The sun among the stars, degrees; its distance in astronomical units [MEEUS-1998 ch. 25]. */
export function sunAmongStars(jd: number): {
  longitudeDeg: number;
  rightAscensionDeg: number;
  declinationDeg: number;
  distanceAu: number;
} {
  const t = centuries(jd);
  const mean = 280.46646 + 36000.76983 * t + 0.0003032 * t * t;
  const m = 357.52911 + 35999.05029 * t - 0.0001537 * t * t;
  const e = 0.016708634 - 0.000042037 * t - 0.0000001267 * t * t;
  const c =
    (1.914602 - 0.004817 * t - 0.000014 * t * t) * sin(m) +
    (0.019993 - 0.000101 * t) * sin(2 * m) +
    0.000289 * sin(3 * m);
  const longitudeDeg = turn360(mean + c - 0.00569 - 0.00478 * sin(125.04 - 1934.136 * t));
  return {
    longitudeDeg,
    ...equatorial(longitudeDeg, 0, t),
    distanceAu: (1.000001018 * (1 - e * e)) / (1 + e * cos(m + c)),
  };
}

/** Where the sun stands over a place; within 0.02° of the full theory while it is up. */
export function sunOver(jd: number, at: OnEarth): Bearing2 {
  const s = sunAmongStars(jd);
  const o = overhead(s.rightAscensionDeg, s.declinationDeg, jd, at);
  // Parallax: 8.794″ at most.
  const trueElevationDeg = o.elevationDeg - 0.002443 * cos(o.elevationDeg);
  return {
    azimuthDeg: o.azimuthDeg,
    trueElevationDeg,
    elevationDeg: trueElevationDeg + refractionDeg(trueElevationDeg),
  };
}

/** The sun's middle stands here, true elevation, when its upper rim is seen to rise or set; and where dusks end. */
export const SUNSET_DEG = -0.833;
export const CIVIL_DEG = -6;
export const NAUTICAL_DEG = -12;

/**
 * Hours of universal time on the day that begins at Julian day `jd0` (0 h) at which the sun's true elevation passes
 * `elevationDeg`: rising and setting; undefined where it does not.
 */
export function sunPasses(
  jd0: number,
  at: OnEarth,
  elevationDeg: number,
  /** Hour at which the day asked for begins, universal time: −12 … 12 by the clock of the place. */
  fromHour = 0,
): { up: number | undefined; down: number | undefined } {
  const height = (h: number): number => sunOver(jd0 + h / 24, at).trueElevationDeg - elevationDeg;
  const out: { up: number | undefined; down: number | undefined } = { up: undefined, down: undefined };
  const step = 0.25;
  for (let h = fromHour; h < fromHour + 24; h += step) {
    const a = height(h);
    const b = height(h + step);
    if (a * b > 0) continue;
    let [lo, hi] = [h, h + step];
    for (let k = 0; k < 30; k++) {
      const mid = (lo + hi) / 2;
      if (height(mid) * a > 0) lo = mid;
      else hi = mid;
    }
    if (a < 0) out.up ??= lo;
    else out.down ??= lo;
  }
  return out;
}
