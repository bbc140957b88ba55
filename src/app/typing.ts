/** What is typed in place, read in any usual way: a number, or a sentence of what was expected. */
import type { Units } from '../shoot/units.ts';

const FRACTIONS: Record<string, string> = { '¼': '.25', '½': '.5', '¾': '.75', '⅓': '.3333', '⅔': '.6667' };
/** Lower case, decimal points, true minus and fractions as figures, all sorts of foot and inch marks as ' and ". */
const plain = (text: string): string =>
  text
    .trim()
    .toLowerCase()
    .replace(',', '.')
    .replaceAll('−', '-')
    .replace(/[¼½¾⅓⅔]/g, (c) => FRACTIONS[c]!)
    .replace(/[′’‘]/g, "'")
    .replace(/[″“”]|''/g, '"');

const FOOT = 0.3048;
/** 2.2, 2.2 m, 220 cm, 7ft2, 7'2", 7' 2½, 30in: metres. A bare figure is in the units that are shown. */
export function readLength(text: string, units: Units['length'] = 'metric'): number | string {
  const t = plain(text);
  const example = units === 'imperial' ? "7'2, 7.2ft or 2.2m" : '2.2, 220cm or 7ft2';
  const feet =
    /^(-?)\s*(\d+(?:\.\d+)?)\s*(?:ft|feet|')\s*(?:(\d*(?:\.\d+)?)\s*(?:in|")?)?$/.exec(t) ??
    (units === 'imperial' ? /^(-?)\s*(\d+(?:\.\d+)?)$/.exec(t) : null);
  const inches = /^(-?)\s*(\d*(?:\.\d+)?)\s*(?:in|inch|inches|")$/.exec(t);
  const metric = /^(-?\d*(?:\.\d+)?)\s*(m|cm|mm)?$/.exec(t);
  let v: number;
  if (feet) v = (feet[1] ? -1 : 1) * (Number(feet[2]) + Number(feet[3] || 0) / 12) * FOOT;
  else if (inches?.[2]) v = ((inches[1] ? -1 : 1) * Number(inches[2]) * FOOT) / 12;
  else if (metric?.[1] && metric[1] !== '-')
    v = Number(metric[1]) * (metric[2] === 'cm' ? 0.01 : metric[2] === 'mm' ? 0.001 : 1);
  else return `a length such as ${example}`;
  // Half a millimetre is nothing that anybody measures.
  return v >= -100 && v <= 100 ? +v.toFixed(4) : 'a length from −100 to 100 m';
}

/** 250, 250lx, 23fc: lux. A bare figure is in the units that are shown. */
export function readLight(text: string, units: Units['light'] = 'lux'): number | string {
  const found = /^(\d*(?:\.\d+)?)\s*(lx|lux|fc|footcandles?|foot-candles?)?$/.exec(
    plain(text).replace(/\s+/g, ''),
  );
  const example = units === 'footcandle' ? '25, 25fc or 250lx' : '250, 250lx or 25fc';
  if (!found?.[1]) return `light such as ${example}`;
  const fc = found[2] ? found[2].startsWith('f') : units === 'footcandle';
  const v = Number(found[1]) * (fc ? 1 / FOOT ** 2 : 1);
  // As much as the shoot's file takes.
  return v <= 1e7 ? v : `light such as ${example}`;
}

/** 15, 15°, -15, 15 deg: degrees. */
export function readDegrees(text: string): number | string {
  const v = Number(plain(text).replace(/\s*(°|deg|degrees)$/, ''));
  return text.trim() !== '' && Math.abs(v) <= 720 ? v : 'degrees such as 15 or -15';
}

/** A change in stops: +1/3, -1, -½, 2/3 down; undefined: it is none. */
export function readStops(text: string): number | undefined {
  const t = text
    .trim()
    .toLowerCase()
    .replace(',', '.')
    .replace('−', '-')
    .replace('½', '1/2')
    .replace('⅓', '1/3')
    .replace('⅔', '2/3')
    .replace(/\s*stops?\b/, '');
  const found = /^([+-])\s*(?:(\d+)\s*\/\s*(\d+)|(\d+)\s+(\d+)\s*\/\s*(\d+)|(\d*\.?\d+))$/.exec(t);
  if (!found) return undefined;
  const [, sign, a, b, whole, c, d, plainly] = found;
  const size = a ? Number(a) / Number(b) : whole ? Number(whole) + Number(c) / Number(d) : Number(plainly);
  return Number.isFinite(size) ? (sign === '-' ? -size : size) : undefined;
}

/**
 * 62, 62 %, half, a third, full; or a change in stops (-1/3, +1), which a dimmer's own law turns into its share:
 * `byStops` says what share gives so many stops more.
 */
export const readShareOr =
  (byStops: (stops: number) => number) =>
  (text: string): number | string => {
    const stops = readStops(text);
    if (stops === undefined) {
      const v = readShare(text);
      return typeof v === 'string' ? `${v}, or a change such as -1/3` : v;
    }
    const v = byStops(stops);
    return v > 100.5 ? 'less: it burns full at most' : Math.min(100, v);
  };

/** 62, 62 %, half, a third, full: per cent. */
export function readShare(text: string): number | string {
  const t = text.trim().toLowerCase().replace('%', '').replace(',', '.').trim();
  const words: Record<string, number> = {
    full: 100,
    half: 50,
    quarter: 25,
    third: 100 / 3,
    out: 0,
    '½': 50,
    '¼': 25,
  };
  const v = words[t.replace(/^a /, '')] ?? (/^\d+(\.\d+)?$/.test(t) ? Number(t) : Number.NaN);
  return v >= 0 && v <= 100 ? v : 'a share from 0 to 100 %, or half, quarter, full';
}

/** 2.8, T2.8, f/2.8; or a change in stops: +1/3, -1, +½. */
export const readStop =
  (now: number) =>
  (text: string): number | string => {
    // More light is a wider stop.
    const stops = readStops(text);
    if (stops !== undefined) {
      const to = Math.round(now * 2 ** (-stops / 2) * 100) / 100;
      return to > 0.5 && to <= 64 ? to : 'a change that ends between T0.5 and T64, such as -1/3';
    }
    const v = Number(plain(text).replace(/^(t|f\/?)\s*/, ''));
    return v > 0.5 && v <= 64 ? v : 'a T-stop such as 2.8, or a change such as -1/3';
  };

/** 320, EI 320, ISO 320; or a change in stops. */
export const readEi =
  (now: number) =>
  (text: string): number | string => {
    const stops = readStops(text);
    const v =
      stops === undefined
        ? Number(plain(text).replace(/^(ei|iso)\s*/, ''))
        : Math.round((now * 2 ** stops) / 5) * 5;
    return v >= 6 && v <= 409_600 ? v : 'an index such as 320, or a change such as +1';
  };

/** 3200, 3200 K, 3.2k; mired: 312 mired, MK⁻¹, or a change in mired: +20 mired. */
export const readKelvin =
  (now: number) =>
  (text: string): number | string => {
    const t = plain(text).replace(/\s+/g, '');
    const mired = /^([+-]?)(\d+(?:\.\d+)?)(?:mired|mireds|mk-1|mk⁻¹)$/.exec(t);
    const kilo = /^(\d{1,2}(?:\.\d+)?)k$/.exec(t);
    const v = mired
      ? 1e6 / (mired[1] ? 1e6 / now + Number(`${mired[1]}${mired[2]}`) : Number(mired[2]))
      : kilo
        ? Number(kilo[1]) * 1000
        : Number(t.replace(/k$/, ''));
    return v >= 1000 && v <= 25_000 ? Math.round(v) : 'kelvin from 1000 to 25000, or mired such as 312 mired';
  };

/** 50, 50 mm: millimetres of focal length. */
export function readLens(text: string): number | string {
  const v = Number(plain(text).replace(/\s*mm$/, ''));
  return v >= 1 && v <= 3000 ? v : 'a lens such as 35 or 35mm';
}
