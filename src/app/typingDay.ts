/** Days, hours and places on earth as they are typed: a number, or a sentence of what was expected. */

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const DATE = 'a date such as 27 Nov 2026 or 2026-11-27';

/** 2026-11-27 as one figure, so that it can be shown and compared: 20261127. */
export const dateFigure = (iso: string): number => Number(iso.replaceAll('-', ''));
export const isoDate = (v: number): string =>
  `${String(Math.floor(v / 10_000)).padStart(4, '0')}-${String(Math.floor(v / 100) % 100).padStart(2, '0')}-${String(v % 100).padStart(2, '0')}`;
/** 27 Nov 2026. */
export const dateWords = (v: number): string => {
  const month = MONTHS[(Math.floor(v / 100) % 100) - 1] ?? '';
  return `${v % 100} ${month[0]?.toUpperCase()}${month.slice(1)} ${Math.floor(v / 10_000)}`;
};

/** 2026-11-27, 27.11.2026, 27/11/2026, 27 nov 2026, nov 27; without a year the one of `now`. */
export const readDate =
  (now: number) =>
  (text: string): number | string => {
    const t = text.trim().toLowerCase().replaceAll(',', ' ');
    const year = Math.floor(now / 10_000);
    const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(t);
    const dots = /^(\d{1,2})[./](\d{1,2})(?:[./](\d{4}))?\.?$/.exec(t);
    const words =
      /^(?:(\d{1,2})(?:st|nd|rd|th)?\.?\s+)?([a-z]{3,9})\.?(?:\s+(\d{1,2})(?:st|nd|rd|th)?)?(?:\s+(\d{4}))?$/.exec(
        t,
      );
    let y: number;
    let m: number;
    let d: number;
    if (iso) [y, m, d] = [Number(iso[1]), Number(iso[2]), Number(iso[3])];
    else if (dots) [d, m, y] = [Number(dots[1]), Number(dots[2]), Number(dots[3] ?? year)];
    else if (words) {
      const month = MONTHS.findIndex((x) => words[2]!.startsWith(x));
      const day = words[1] ?? words[3];
      if (month < 0 || day === undefined) return DATE;
      [y, m, d] = [Number(words[4] ?? year), month + 1, Number(day)];
    } else return DATE;
    // Days of a month, leap years of the Gregorian calendar with them.
    const leap = (y % 4 === 0 && y % 100 !== 0) || y % 400 === 0;
    const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][m - 1];
    if (days === undefined || d < 1 || d > days || y < 1901 || y > 2099) return DATE;
    return y * 10_000 + m * 100 + d;
  };

/** 14:30, 14.30, 14h30, 1430, 2:30 pm, 9am, 14.5 h: hours after midnight. */
export function readHour(text: string): number | string {
  const wrong = 'an hour such as 14:30 or 2.30pm';
  const t = text.trim().toLowerCase().replace(/\s+/g, '');
  const decimal = /^(\d{1,2}\.\d+)h$/.exec(t);
  const clock = /^(\d{1,2})(?:[:.h](\d{2})|(?<=\d{2})(\d{2}))?h?(am|pm)?$/.exec(t);
  let v: number;
  if (decimal) v = Number(decimal[1]);
  else if (clock) {
    const minutes = Number(clock[2] ?? clock[3] ?? 0);
    let h = Number(clock[1]);
    if (minutes > 59 || (clock[4] && (h < 1 || h > 12))) return wrong;
    if (clock[4]) h = (h % 12) + (clock[4] === 'pm' ? 12 : 0);
    v = h + minutes / 60;
  } else return wrong;
  return v >= 0 && v <= 24 ? +v.toFixed(4) : wrong;
}

/** 51.5, 51.5 N, 51°30′ N, 0.1 W, -0.1: degrees, north and east positive. */
export const readEarth =
  (plus: 'n' | 'e', minus: 's' | 'w', most: number) =>
  (text: string): number | string => {
    const t = text
      .trim()
      .toLowerCase()
      .replace(',', '.')
      .replace('−', '-')
      .replace(/[′’]/g, "'")
      .replace(/[″”]/g, '"')
      .replace(/\s+/g, '');
    const found = /^(-?)(\d+(?:\.\d+)?)°?(?:(\d+(?:\.\d+)?)')?(?:(\d+(?:\.\d+)?)")?([nsew])?$/.exec(t);
    const wrong = `degrees such as ${most === 90 ? '51.5 N or 51°30′' : '0.1 W or 13°24′ E'}`;
    if (!found || (found[5] && found[5] !== plus && found[5] !== minus)) return wrong;
    const v = Number(found[2]) + Number(found[3] ?? 0) / 60 + Number(found[4] ?? 0) / 3600;
    const signed = found[1] || found[5] === minus ? -v : v;
    return Math.abs(signed) <= most ? +signed.toFixed(4) : wrong;
  };
export const earthWords = (v: number, plus: string, minus: string): string =>
  `${Math.abs(v).toFixed(1)}° ${v < 0 ? minus : plus}`;

/** +1, -5:30, UTC+1, 5.5: hours that the clocks are ahead. */
export function readClocks(text: string): number | string {
  const t = text
    .trim()
    .toLowerCase()
    .replace(/^(utc|gmt)/, '')
    .replace('−', '-')
    .replace(/\s+/g, '');
  const found = /^([+-]?)(\d{1,2})(?::(\d{2})|\.(\d+))?h?$/.exec(t === '' ? '0' : t);
  const wrong = 'hours such as +1 or -5:30';
  if (!found) return wrong;
  const v = Number(found[2]) + (found[3] ? Number(found[3]) / 60 : found[4] ? Number(`0.${found[4]}`) : 0);
  const signed = found[1] === '-' ? -v : v;
  return Math.abs(signed) <= 14 ? signed : wrong;
}
export const clocksWords = (h: number): string => {
  const minutes = Math.round(Math.abs(h) * 60);
  return `UTC${h < 0 ? '−' : '+'}${Math.floor(minutes / 60)}${minutes % 60 ? `:${String(minutes % 60).padStart(2, '0')}` : ''}`;
};

const POINTS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'];
/** Where a bearing from north points. */
export const bearingWord = (deg: number): string => POINTS[((Math.round(deg / 45) % 8) + 8) % 8]!;
