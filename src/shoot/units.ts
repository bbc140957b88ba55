/**
 * Metres or feet, lux or foot-candles, as the shoot says, else as they are used in its region. Everything is computed in
 * metres and lux; only what is shown and what is typed goes through here. One foot is 0.3048 m exactly, and so one
 * foot-candle (a lumen on a square foot) 1 / 0.3048² lux [SP-811 B.8].
 */
import type { Shoot } from './schema.ts';

export interface Units {
  length: 'metric' | 'imperial';
  light: 'lux' | 'footcandle';
}
export const METRIC: Units = { length: 'metric', light: 'lux' };

export const FOOT_M = 0.3048;
export const LUX_PER_FC = 1 / FOOT_M ** 2;

/** The shoot's own choice; without one, feet and foot-candles in North America (common practice). */
export function unitsOf(shoot: Pick<Shoot, 'units' | 'light' | 'places' | 'scenes'>, scene?: string): Units {
  const place = scene === undefined ? undefined : shoot.scenes[scene]?.place;
  const region = (place === undefined ? Object.values(shoot.places)[0] : shoot.places[place])?.supply.region;
  return {
    length: shoot.units ?? (region === 'na' ? 'imperial' : 'metric'),
    light: shoot.light ?? (region === 'na' ? 'footcandle' : 'lux'),
  };
}

const PARTS = ['', '¼', '½', '¾'];

/** 9 ft 6½ in as 9′ 6½″, to the nearest half inch (a quarter under a foot); under a foot inches alone. */
function feet(m: number): string {
  const sign = m < 0 ? '−' : '';
  const inches = Math.abs(m) / (FOOT_M / 12);
  const per = inches < 12 ? 4 : 2;
  const n = Math.round(inches * per);
  const whole = Math.floor(n / per);
  const part = PARTS[((n % per) * 4) / per]!;
  const ft = Math.floor(whole / 12);
  const rest = whole % 12;
  if (ft === 0) return n === 0 ? '0′' : `${sign}${rest || !part ? rest : ''}${part}″`;
  return rest || part ? `${sign}${ft}′ ${rest || !part ? rest : ''}${part}″` : `${sign}${ft}′`;
}

/** A length without its unit's name in metric (2.20), with its marks in feet (7′ 2½″). */
export const lengthFigure = (m: number, u: Units, digits = 2): string =>
  u.length === 'imperial' ? feet(m) : m.toFixed(digits).replace('-', '−');
export const lengthUnit = (u: Units): string => (u.length === 'imperial' ? '' : 'm');
export const lengthWords = (m: number, u: Units, digits = 2): string =>
  u.length === 'imperial' ? feet(m) : `${lengthFigure(m, u, digits)} m`;

/** Light on a surface, in three figures at most. */
export function lightFigure(lx: number, u: Units): string {
  const v = u.light === 'footcandle' ? lx / LUX_PER_FC : lx;
  if (v >= 1000) return Math.round(v).toLocaleString('en').replaceAll(',', ' ');
  return v >= 100 || v === 0 ? v.toFixed(0) : v >= 10 ? v.toFixed(u.light === 'lux' ? 0 : 1) : v.toFixed(1);
}
export const lightUnit = (u: Units): string => (u.light === 'footcandle' ? 'fc' : 'lx');
export const lightWords = (lx: number, u: Units): string => `${lightFigure(lx, u)} ${lightUnit(u)}`;

const NUMBER = String.raw`[−-]?\d[\d  ,]*(?:\.\d+)?`;
const LENGTH = new RegExp(`(${NUMBER})[  ]m(?![\\p{L}\\d²³/])`, 'gu');
const LIGHT = new RegExp(`(${NUMBER})[  ]lx(?![\\p{L}\\d])`, 'gu');
const POINT = /\((−?-?\d+\.\d+), (−?-?\d+\.\d+), (−?-?\d+\.\d+)\)/g;
const value = (text: string): number => Number(text.replace(/[\s ,]/g, '').replace('−', '-'));

/**
 * A sentence made in metres and lux, in these units: “0.60 m” becomes “1′ 11½″”, “73 lx” “6.8 fc”, a point in the room
 * its three lengths. A sentence that is metric already stays as it is.
 */
export function inUnits(sentence: string, u: Units): string {
  let said = sentence;
  if (u.length === 'imperial')
    said = said
      .replace(
        POINT,
        (_all, ...v: string[]) =>
          `(${v
            .slice(0, 3)
            .map((x) => feet(value(x)))
            .join(', ')})`,
      )
      .replace(LENGTH, (_all, v: string) => feet(value(v)));
  if (u.light === 'footcandle') said = said.replace(LIGHT, (_all, v: string) => lightWords(value(v), u));
  return said;
}
