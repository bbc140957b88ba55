/** Where the moon stands and how much of it is lit: the larger terms of Meeus, ch. 47 and 48 [MEEUS-1998]. */
import { DEG } from '../maths/vec3.ts';
import {
  type Bearing2,
  centuries,
  equatorial,
  type OnEarth,
  overhead,
  refractionDeg,
  sunAmongStars,
  turn360,
} from './sun.ts';

/** D, M, M′, F; sine of longitude (1e-6 degree), cosine of distance (metres). From memory, held to example 47.a. */
const LONGITUDE: readonly (readonly [number, number, number, number, number, number])[] = [
  [0, 0, 1, 0, 6288774, -20905355],
  [2, 0, -1, 0, 1274027, -3699111],
  [2, 0, 0, 0, 658314, -2955968],
  [0, 0, 2, 0, 213618, -569925],
  [0, 1, 0, 0, -185116, 48888],
  [0, 0, 0, 2, -114332, -3149],
  [2, 0, -2, 0, 58793, 246158],
  [2, -1, -1, 0, 57066, -152138],
  [2, 0, 1, 0, 53322, -170733],
  [2, -1, 0, 0, 45758, -204586],
  [0, 1, -1, 0, -40923, -129620],
  [1, 0, 0, 0, -34720, 108743],
  [0, 1, 1, 0, -30383, 104755],
  [2, 0, 0, -2, 15327, 10321],
  [0, 0, 1, 2, -12528, 0],
  [0, 0, 1, -2, 10980, 79661],
  [4, 0, -1, 0, 10675, -34782],
  [0, 0, 3, 0, 10034, -23210],
  [4, 0, -2, 0, 8548, -21636],
  [2, 1, -1, 0, -7888, 24208],
  [2, 1, 0, 0, -6766, 30824],
  [1, 0, -1, 0, -5163, -8379],
  [1, 1, 0, 0, 4987, -16675],
  [2, -1, 1, 0, 4036, -12831],
  [2, 0, 2, 0, 3994, -10445],
  [4, 0, 0, 0, 3861, -11650],
  [2, 0, -3, 0, 3665, 14403],
];
/** D, M, M′, F; sine of latitude (1e-6 degree). */
const LATITUDE: readonly (readonly [number, number, number, number, number])[] = [
  [0, 0, 0, 1, 5128122],
  [0, 0, 1, 1, 280602],
  [0, 0, 1, -1, 277693],
  [2, 0, 0, -1, 173237],
  [2, 0, -1, 1, 55413],
  [2, 0, -1, -1, 46271],
  [2, 0, 0, 1, 32573],
  [0, 0, 2, 1, 17198],
  [2, 0, 1, -1, 9266],
  [0, 0, 2, -1, 8822],
  [2, -1, 0, -1, 8216],
  [2, 0, -2, -1, 4324],
  [2, 0, 1, 1, 4200],
];

const sin = (deg: number): number => Math.sin(deg * DEG);
const cos = (deg: number): number => Math.cos(deg * DEG);

/** Ecliptic longitude and latitude, degrees, and distance, km; within 0.02° of the full series. */
export function moonAmongStars(jd: number): {
  longitudeDeg: number;
  latitudeDeg: number;
  distanceKm: number;
} {
  const t = centuries(jd);
  const mean = 218.3164477 + 481267.88123421 * t - 0.0015786 * t * t;
  const d = 297.8501921 + 445267.1114034 * t - 0.0018819 * t * t;
  const m = 357.5291092 + 35999.0502909 * t - 0.0001536 * t * t;
  const p = 134.9633964 + 477198.8675055 * t + 0.0087414 * t * t;
  const f = 93.272095 + 483202.0175233 * t - 0.0036539 * t * t;
  const e = 1 - 0.002516 * t - 0.0000074 * t * t;
  let l = 3958 * sin(119.75 + 131.849 * t) + 1962 * sin(mean - f) + 318 * sin(53.09 + 479264.29 * t);
  let b =
    -2235 * sin(mean) +
    382 * sin(313.45 + 481266.484 * t) +
    175 * (sin(119.75 + 131.849 * t - f) + sin(119.75 + 131.849 * t + f)) +
    127 * sin(mean - p) -
    115 * sin(mean + p);
  let r = 0;
  for (const [kd, km, kp, kf, toL, toR] of LONGITUDE) {
    const a = kd * d + km * m + kp * p + kf * f;
    const k = e ** Math.abs(km);
    l += k * toL * sin(a);
    r += k * toR * cos(a);
  }
  for (const [kd, km, kp, kf, toB] of LATITUDE)
    b += e ** Math.abs(km) * toB * sin(kd * d + km * m + kp * p + kf * f);
  return {
    longitudeDeg: turn360(mean + l / 1e6),
    latitudeDeg: b / 1e6,
    distanceKm: 385000.56 + r / 1000,
  };
}

/** The moon over a place, its horizontal parallax allowed for. */
export function moonOver(jd: number, at: OnEarth): Bearing2 & { distanceKm: number; phaseDeg: number } {
  const moon = moonAmongStars(jd);
  const q = equatorial(moon.longitudeDeg, moon.latitudeDeg, centuries(jd));
  const o = overhead(q.rightAscensionDeg, q.declinationDeg, jd, at);
  const parallax = Math.asin(6378.14 / moon.distanceKm) / DEG;
  const trueElevationDeg = o.elevationDeg - parallax * cos(o.elevationDeg);
  return {
    azimuthDeg: o.azimuthDeg,
    trueElevationDeg,
    elevationDeg: trueElevationDeg + refractionDeg(trueElevationDeg),
    distanceKm: moon.distanceKm,
    phaseDeg: moonPhaseDeg(jd),
  };
}

/** Sun – moon – earth angle, degrees: 0 full, 180 new [MEEUS-1998 48.2–48.3]. */
export function moonPhaseDeg(jd: number): number {
  const moon = moonAmongStars(jd);
  const sun = sunAmongStars(jd);
  const apart = Math.acos(cos(moon.latitudeDeg) * cos(moon.longitudeDeg - sun.longitudeDeg));
  const r = sun.distanceAu * 149597870.7;
  return Math.atan2(r * Math.sin(apart), moon.distanceKm - r * Math.cos(apart)) / DEG;
}

/** Share of its disc that is lit, 0–1. */
export const moonLit = (phaseDeg: number): number => (1 + cos(phaseDeg)) / 2;
