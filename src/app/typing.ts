/** What is typed in place, read in any usual way: a number, or a sentence of what was expected. */

/** 2.2, 2.2m, 220cm, 7ft2, 7'2": metres. */
export function readLength(text: string): number | string {
  const t = text.trim().toLowerCase().replace(',', '.');
  const feet = /^(\d+(?:\.\d+)?)\s*(?:ft|')\s*(?:(\d+(?:\.\d+)?)\s*(?:in|")?)?$/.exec(t);
  if (feet) return (Number(feet[1]) * 12 + Number(feet[2] ?? 0)) * 0.0254;
  const metric = /^(-?\d+(?:\.\d+)?)\s*(m|cm|mm)?$/.exec(t);
  if (!metric) return 'a length such as 2.2, 220cm or 7ft2';
  const v = Number(metric[1]) * (metric[2] === 'cm' ? 0.01 : metric[2] === 'mm' ? 0.001 : 1);
  return v >= -20 && v <= 50 ? v : 'a height from −20 to 50 m';
}

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
    const t = text
      .trim()
      .toLowerCase()
      .replace('−', '-')
      .replace(',', '.')
      .replace('½', '1/2')
      .replace('⅓', '1/3')
      .replace('⅔', '2/3');
    const change = /^([+-])\s*(?:(\d+)\s*\/\s*(\d+)|(\d+(?:\.\d+)?))$/.exec(t);
    if (change) {
      const stops = change[2] ? Number(change[2]) / Number(change[3]) : Number(change[4]);
      // More light is a wider stop.
      return Math.round(now * 2 ** ((change[1] === '+' ? -stops : stops) / 2) * 100) / 100;
    }
    const v = Number(t.replace(/^(t|f\/?)\s*/, ''));
    return v > 0.5 && v <= 64 ? v : 'a T-stop such as 2.8, or a change such as -1/3';
  };

export const readEi = (text: string): number | string => {
  const v = Number(
    text
      .trim()
      .toLowerCase()
      .replace(/^(ei|iso)\s*/, ''),
  );
  return v >= 6 && v <= 409_600 ? v : 'an index such as 320';
};
export const readKelvin = (text: string): number | string => {
  const v = Number(text.trim().toLowerCase().replace(/k$/, '').trim());
  return v >= 1000 && v <= 25_000 ? v : 'kelvin from 1000 to 25000';
};
