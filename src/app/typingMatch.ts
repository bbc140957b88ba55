/** How near two angles shall be, as it is typed: third stops, mired, hours. */
import { readStops } from './typing.ts';

/** Thirds, halves and quarters as people say them (the letters for them are not in every font); else two digits. */
export const toleranceWords = (stops: number): string => {
  const sign = [
    [1 / 3, '1/3'],
    [1 / 2, '1/2'],
    [2 / 3, '2/3'],
    [1 / 4, '1/4'],
  ].find(([v]) => Math.abs((v as number) - stops) < 0.004)?.[1];
  return (sign as string | undefined) ?? stops.toFixed(2).replace(/0$/, '');
};

/** 1/3, ⅓, 0.5, 20 mired, 1 h: a number between two. */
export const readTolerance =
  (unit: 'stops' | 'mired' | 'hours', least: number, most: number) =>
  (text: string): number | string => {
    const t = text
      .trim()
      .toLowerCase()
      .replace(/\s*(stops?|mireds?|h|hours?)$/, '')
      .replace('⅓', '1/3')
      .replace('⅔', '2/3')
      .replace('½', '1/2')
      .replace('¼', '1/4');
    const v =
      unit === 'stops'
        ? readStops(`+${t}`)
        : /^\d*[.,]?\d+$/.test(t)
          ? Number(t.replace(',', '.'))
          : undefined;
    return v !== undefined && v >= least && v <= most ? +v.toFixed(4) : `${unit} from ${least} to ${most}`;
  };
