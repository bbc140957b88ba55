/** What hangs in the air and what falls, as they are typed: a number, or a sentence of what was expected. */
import { extinctionOfRange, rangeOfExtinction } from '../light/haze.ts';
import { lengthWords, type Units } from '../shoot/units.ts';
import { readLength } from './typing.ts';

/** As the schema takes it, per metre. */
const MOST_PER_M = 3;
const MOST_MM = 300;

/** 1, 1 %, or how far one sees, 60 m, 200ft: extinction per metre. A bare figure is per cent a metre. */
export const readHaze =
  (units: Units['length']) =>
  (text: string): number | string => {
    const wrong = 'per cent a metre from 0.05 to 300 such as 2 %, or how far one sees such as 60 m';
    const t = text.trim().toLowerCase().replace(',', '.');
    const share = /^(\d*\.?\d+)\s*(?:%|per ?cent)?(?:\s*(?:a|per|\/)\s*m(?:etre)?)?$/.exec(t);
    const metres = share ? undefined : farLength(t, units);
    if (!share && !(metres && metres > 0)) return wrong;
    const perM = share ? Number(share[1]) / 100 : extinctionOfRange(metres!);
    // Under this a beam of a whole house's length loses a hundredth.
    return perM >= 5e-4 && perM <= MOST_PER_M ? +perM.toPrecision(4) : wrong;
  };

/** Lengths in a room are read as any; those beyond it in metres, kilometres or feet. */
function farLength(t: string, units: Units['length']): number | undefined {
  const far = /^(\d*\.?\d+)\s*(km|m|ft|feet|')$/.exec(t);
  if (far) return Number(far[1]) * { km: 1000, m: 1, ft: 0.3048, feet: 0.3048, "'": 0.3048 }[far[2]!]!;
  const v = readLength(t, units);
  return typeof v === 'number' ? v : undefined;
}

/** 1.0 % a metre (one sees 298 m). */
export const hazeFigure = (perM: number): string => {
  const p = 100 * perM;
  return `${p >= 10 ? p.toFixed(0) : p >= 1 ? p.toFixed(1) : p.toFixed(2)} %`;
};
export const seesWords = (perM: number, units: Units): string => {
  const m = rangeOfExtinction(perM);
  return lengthWords(m, units, m < 10 ? 1 : 0);
};

/** 10, 10 mm, 0.4 in, light, heavy: millimetres of water an hour. */
export function readFall(text: string): number | string {
  const t = text.trim().toLowerCase().replace(',', '.');
  const words: Record<string, number> = { drizzle: 0.5, light: 2, moderate: 5, heavy: 10, hose: 50 };
  const found = /^(\d*\.?\d+)\s*(mm|in|inch|inches|")?\s*(?:(?:an|per|\/)\s*h(?:our)?)?$/.exec(t);
  const v = words[t] ?? (found ? Number(found[1]) * (found[2] && found[2] !== 'mm' ? 25.4 : 1) : Number.NaN);
  return v > 0 && v <= MOST_MM
    ? +v.toFixed(3)
    : 'millimetres of water an hour up to 300, or light, heavy, hose';
}
