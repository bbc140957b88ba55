/**
 * How much light stands outside: sun and sky by the sun's height and the weather. Mean design values: a real sky of
 * the same name may give half or twice as much [IES-RP21]; a level metered on the day replaces them.
 */
import { DEG } from '../maths/vec3.ts';

/** What the sky looks like, as one says it. */
export type Weather = 'clear' | 'partly' | 'overcast';

/** Lux before the air, at the mean distance of the sun, and extinction per air mass [IES-RP21]; overcast: no sun. */
const SOLAR_LX = 127500;
const EXTINCTION: Record<Weather, number> = { clear: 0.21, partly: 0.8, overcast: Number.POSITIVE_INFINITY };
/** Lux of the sky alone on open level ground: k · sinⁿ of the sun's height; twice the half-sky's [IES-RP21]. */
const SKY: Record<Weather, readonly [lux: number, power: number]> = {
  clear: [16400, 0.5],
  partly: [45400, 1],
  overcast: [21400, 1],
};
/** Of the clear sky's light while the sun is down: 40 of 400 lx at sunset [CHECKS-CAMERA §7.5]; partly: judgement. */
const AT_DUSK: Record<Weather, number> = { clear: 1, partly: 0.5, overcast: 0.1 };
/** From here up the day's formulas rule alone, degrees; below they give way to the twilight's. */
const DAY_DEG = 10;

/** Relative air mass at the true elevation, degrees [KASTEN-1989]; 38 at the horizon. */
export const airMass = (elevationDeg: number): number =>
  1 /
  (Math.sin(Math.max(0, elevationDeg) * DEG) + 0.50572 * (Math.max(0, elevationDeg) + 6.07995) ** -1.6364);

/** Cubics of log10 lux over elevation / 90°, from their lower end in degrees up [USNO-171]: sun and twilight, clear. */
const SUN_LOG: readonly (readonly [from: number, a: number, b: number, c: number, d: number])[] = [
  [20, 3.74, 3.97, -4.07, 1.47],
  [5, 3.05, 13.28, -45.98, 64.33],
  [-0.8, 2.88, 22.26, -207.64, 1034.3],
  [-5, 2.88, 21.81, -258.11, -858.36],
  [-12, 2.7, 12.17, -431.69, -1899.83],
  [-18, 13.84, 262.72, 1447.42, 2797.93],
];
const MOON_LOG: readonly (readonly [from: number, a: number, b: number, c: number, d: number])[] = [
  [20, -1.95, 4.06, -4.24, 1.56],
  [5, -2.58, 12.58, -42.58, 59.06],
  [-0.8, -2.79, 24.27, -252.95, 1321.29],
];
/** Starlight and airglow, lux [USNO-171]. */
export const STARLIGHT_LX = 10 ** -3.19;

const cubic = (rows: typeof SUN_LOG, deg: number): number | undefined => {
  const r = rows.find(([from]) => deg >= from);
  if (!r) return undefined;
  const x = deg / 90;
  return r[1] + r[2] * x + r[3] * x * x + r[4] * x * x * x;
};

/** Lux on open level ground from sun and clear sky together, sun up or down [USNO-171]. */
export const clearLevelLx = (elevationDeg: number): number => {
  const log = cubic(SUN_LOG, elevationDeg);
  return log === undefined ? STARLIGHT_LX : Math.max(STARLIGHT_LX, 10 ** log);
};

/** Sun on a surface square to it, lux. `distanceAu`: of the sun. */
export function sunNormalLx(weather: Weather, elevationDeg: number, distanceAu = 1): number {
  if (weather === 'overcast' || elevationDeg < -0.3) return 0;
  return (SOLAR_LX / distanceAu ** 2) * Math.exp(-EXTINCTION[weather] * airMass(elevationDeg));
}

/** Sky alone on open level ground, lux, sun up or down. */
export function skyLevelLx(weather: Weather, elevationDeg: number): number {
  const dusk = (deg: number): number =>
    AT_DUSK[weather] *
    Math.max(
      STARLIGHT_LX,
      clearLevelLx(deg) - Math.max(0, sunNormalLx('clear', deg) * Math.sin(Math.max(0, deg) * DEG)),
    );
  if (elevationDeg <= 0) return dusk(elevationDeg);
  const [lux, power] = SKY[weather];
  const day = lux * Math.sin(elevationDeg * DEG) ** power;
  if (elevationDeg >= DAY_DEG) return day;
  // In between the two in proportion, in stops.
  const t = elevationDeg / DAY_DEG;
  return Math.exp((1 - t) * Math.log(dusk(elevationDeg)) + t * Math.log(Math.max(day, 1e-9)));
}

/** The moon on open level ground, clear sky, lux [USNO-171]; `phaseDeg` 0 full; parallax stands for its distance. */
export function moonLevelLx(elevationDeg: number, phaseDeg: number, distanceKm: number): number {
  const log = cubic(MOON_LOG, elevationDeg);
  if (log === undefined) return 0;
  const parallax = Math.asin(6378.14 / distanceKm) / DEG;
  return 10 ** (log - 8.68e-3 * phaseDeg - 2.2e-9 * phaseDeg ** 4 + 2 * Math.log10(parallax / 0.951));
}
