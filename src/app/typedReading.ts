/** “I measured …”: what is typed with any unit, as a reading; or a sentence of what was expected. */
import type { ReadBy } from '../camera/meter.ts';

export interface TypedReading {
  how: ReadBy;
  value: number;
  zebraPercent?: number;
}

const THIRDS: Record<string, number> = {
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '½': 1 / 2,
  '1/3': 1 / 3,
  '2/3': 2 / 3,
  '1/2': 1 / 2,
};
const THIRD = String.raw`(?:\s*([+-])?\s*(⅓|⅔|½|1/3|2/3|1/2))?`;
const STOP = new RegExp(String.raw`^(?:t|f/?)?\s*(\d+(?:\.\d+)?)${THIRD}$`);
const ZEBRA = new RegExp(
  String.raw`^(?:zebra|z)\s*(?:(\d{1,3})\s*%?\s*(?:at\s*)?(?=[tf]))?\s*(?:at\s*)?[tf]?/?\s*(\d+(?:\.\d+)?)${THIRD}$`,
);
const LIGHT = /^(\d+(?:\.\d+)?)\s*(lx|lux|fc|ftc|footcandles?|foot-candles?)?$/;
const CHANGE = /^([+-])\s*(?:(\d+(?:\.\d+)?)?\s*(⅓|⅔|½|1\/3|2\/3|1\/2)?)$/;

export const MEASURED = 'a reading such as 250lx, 23fc, T4, T2.8 1/3, zebra T4, or +1/3 against the plan';

/** A marked number (2.8, 5.6 …) stands for the exact stop behind it; so do thirds from it. */
const exact = (typed: number, sign: string | undefined, third: string | undefined): number => {
  const marks = [0.7, 1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32];
  const k = marks.findIndex((m) => Math.abs(m - typed) < 1e-9);
  const base = k < 0 ? typed : 2 ** ((k - 1) / 2);
  return base * 2 ** (((sign === '-' ? -1 : 1) * (third ? THIRDS[third]! : 0)) / 2);
};

/**
 * `bare`: the unit of a number without one. `expectedT`: the stop at which a grey card should look grey, for readings
 * typed as a change.
 */
export function readMeasured(
  text: string,
  bare: 'lux' | 'footcandle',
  expectedT: number,
): TypedReading | string {
  const t = text.trim().toLowerCase().replaceAll('−', '-').replaceAll('⁄', '/').replaceAll(',', '.');
  const held = (r: TypedReading): TypedReading | string =>
    r.how === 'lux' || r.how === 'footcandle'
      ? r.value > 0 && r.value <= 1e6
        ? r
        : 'a light level above nothing'
      : r.value >= 0.5 && r.value <= 64
        ? r
        : 'a stop from T0.5 to T64';
  const zebra = ZEBRA.exec(t);
  if (zebra) {
    const percent = zebra[1] === undefined ? undefined : Number(zebra[1]);
    if (percent !== undefined && !(percent >= 20 && percent <= 100)) return 'a zebra from 20 to 100 %';
    return held({
      how: 'zebra',
      value: exact(Number(zebra[2]), zebra[3], zebra[4]),
      ...(percent === undefined ? {} : { zebraPercent: percent }),
    });
  }
  const change = CHANGE.exec(t);
  if (change && (change[2] || change[3])) {
    const stops = Number(change[2] ?? 0) + (change[3] ? THIRDS[change[3]]! : 0);
    return held({ how: 'stop', value: expectedT * 2 ** ((change[1] === '-' ? -stops : stops) / 2) });
  }
  const light = LIGHT.exec(t);
  if (light)
    return held({
      how: light[2] === undefined ? bare : light[2].startsWith('l') ? 'lux' : 'footcandle',
      value: Number(light[1]),
    });
  const stop = STOP.exec(t);
  if (stop) return held({ how: 'stop', value: exact(Number(stop[1]), stop[2], stop[3]) });
  return MEASURED;
}
