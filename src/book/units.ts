/** Figures as a sheet says them, in the shoot's own units. */
import type { Shoot } from '../shoot/schema.ts';

export interface Units {
  imperial: boolean;
  footcandles: boolean;
}

/** Square feet in a square metre: lux in a foot-candle. */
export const LUX_PER_FOOTCANDLE = 1 / 0.3048 ** 2;

export function unitsOf(shoot: Shoot, region: string | undefined): Units {
  const american = region === 'na';
  return {
    imperial: (shoot.units ?? (american ? 'imperial' : 'metric')) === 'imperial',
    footcandles: (shoot.light ?? (american ? 'footcandle' : 'lux')) === 'footcandle',
  };
}

const minus = (text: string): string => text.replace('-', '−').replace(/^−(0(\.0*)?)$/, '$1');

/** Unknown is a question mark, never 0. */
export const figure = (v: number | undefined, places = 1): string =>
  v === undefined || Number.isNaN(v) ? '?' : minus(v.toFixed(places));
/** Stops with a sign. */
export const signed = (v: number | undefined, places = 1): string => {
  if (v === undefined || !Number.isFinite(v)) return v === undefined ? '?' : '—';
  const t = figure(v, places);
  return v > 0 && Number(v.toFixed(places)) > 0 ? `+${t}` : t;
};

/** 2.20 m, or 7'3" to the half inch. */
export function lengthOf(m: number, u: Units, unit = true): string {
  if (!u.imperial) return `${minus(m.toFixed(2))}${unit ? ' m' : ''}`;
  const halves = Math.round(Math.abs(m) / 0.0127);
  const feet = Math.floor(halves / 24);
  const inches = (halves % 24) / 2;
  return `${m < 0 && halves ? '−' : ''}${feet ? `${feet}'` : ''}${inches === Math.floor(inches) ? inches : `${Math.floor(inches) || ''}½`}"`;
}

/** Light without its unit: as many places as mean something. */
export const lightOf = (lx: number | undefined, u: Units): string => {
  if (lx === undefined || !Number.isFinite(lx)) return '?';
  const v = u.footcandles ? lx / LUX_PER_FOOTCANDLE : lx;
  return figure(v, v >= 10 ? 0 : 1);
};
export const lightUnit = (u: Units): string => (u.footcandles ? 'fc' : 'lx');
/** The other unit, for those who read it. */
export const otherLight = (lx: number | undefined, u: Units): string =>
  lightOf(lx, { ...u, footcandles: !u.footcandles });
export const otherUnit = (u: Units): string => (u.footcandles ? 'lx' : 'fc');

const MARKED = [
  '0.5',
  '0.7',
  '1',
  '1.4',
  '2',
  '2.8',
  '4',
  '5.6',
  '8',
  '11',
  '16',
  '22',
  '32',
  '45',
  '64',
  '90',
];

/** A T-stop in thirds as rings are marked: 2.8, 2.8⅓, 2.8⅔; N = 2^(k/2) [ISO-517]. */
export function stopOf(t: number | undefined): string {
  if (t === undefined || !(t > 0)) return '?';
  const thirds = Math.round(6 * Math.log2(t));
  const whole = Math.floor(thirds / 3);
  const name = MARKED[whole + 2];
  if (name === undefined) return whole < 0 ? 'under 0.5' : 'over 90';
  return `${name}${['', '⅓', '⅔'][thirds - 3 * whole]}`;
}
