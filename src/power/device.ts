/** When a protective device may, and when it must, have opened: bands between published anchors, never a prediction. */
import type { BreakerKind } from './network.ts';

/** A breaker or fuse. `bs1362` is the cartridge in a UK plug; `bs1361` an old board's cartridge. */
export interface Protection {
  readonly kind: BreakerKind | 'bs1362' | 'bs1361' | 'bs88' | 'source';
  readonly ratingA: number | undefined;
}

/** Times for one current. Undefined = no time given by what we have read: say so, never guess. */
export interface TripBand {
  /** May open as early as this, s. */
  readonly earliestS: number | undefined;
  /** Must have opened by this, s, if healthy. */
  readonly latestS: number | undefined;
  /** The latest holds for a device already warm; from cold it may hold longer. */
  readonly warm: boolean;
  /** Below the first anchor: may carry this for ever. */
  readonly mayCarry: boolean;
  /** One sentence for the sheet. */
  readonly words: string;
}

type Line = readonly (readonly [number, number])[];
interface Curve {
  readonly unit: 'times' | 'amps';
  readonly earliest: Line;
  readonly latest: Line;
  /** Steps after the last anchor of `latest`: from this x on, this time. Between the two the last time holds. */
  readonly atOnce: readonly [number, number] | undefined;
  readonly warmBelow: number;
}

/** Log–log polyline from current to seconds; undefined outside it. */
export function onLine(line: Line, x: number): number | undefined {
  const grace = 1e-9;
  for (let k = 0; k + 1 < line.length; k++) {
    const [x0, t0] = line[k]!;
    const [x1, t1] = line[k + 1]!;
    if (x >= x0 * (1 - grace) && x <= x1 * (1 + grace))
      return t0 * (x / x0) ** (Math.log(t1 / t0) / Math.log(x1 / x0));
  }
  return undefined;
}

/** The anchors of a device; undefined where none were read. MCB [IEC-60898], plug fuse [BS-1362], rewireable [BS-3036], [UL-489]. */
function curveOf(device: Protection): Curve | undefined {
  const rating = device.ratingA;
  if (rating === undefined) return undefined;
  switch (device.kind) {
    case 'mcb-b':
    case 'mcb-c':
    case 'mcb-d': {
      const big = rating > 32;
      const hour = rating > 63 ? 7200 : 3600;
      const [low, high, delayS] = {
        'mcb-b': [3, 5, big ? 90 : 45] as const,
        'mcb-c': [5, 10, big ? 30 : 15] as const,
        'mcb-d': [10, 20, big ? 8 : 4] as const,
      }[device.kind];
      return {
        unit: 'times',
        earliest: [
          [1.13, hour],
          [2.55, 1],
          [low, 0.1],
        ],
        latest: [
          [1.45, hour],
          [2.55, big ? 120 : 60],
          [low, delayS],
        ],
        atOnce: [high, 0.1],
        warmBelow: 2.55,
      };
    }
    case 'bs1362':
      if (rating === 13)
        return {
          unit: 'amps',
          earliest: [
            [20.8, 1800],
            [30, 1],
            [50, 0.1],
            [100, 0.01],
          ],
          latest: [
            [24.7, 1800],
            [30, 400],
            [50, 20],
            [100, 0.2],
          ],
          atOnce: [100, 0.2],
          warmBelow: 0,
        };
      if (rating === 3)
        return {
          unit: 'amps',
          earliest: [
            [4.8, 1800],
            [9, 0.02],
          ],
          latest: [
            [5.7, 1800],
            [9, 80],
            [20, 0.1],
            [30, 0.03],
          ],
          atOnce: [30, 0.03],
          warmBelow: 0,
        };
      // Other ratings: only the two anchors 1.6 and 1.9 In are known.
      return { unit: 'times', earliest: [[1.6, 1800]], latest: [], atOnce: undefined, warmBelow: 0 };
    case 'bs3036': {
      const anchors: Readonly<Record<number, readonly [number, number]>> = {
        5: [13.0, 24.0],
        15: [43.0, 89.9],
        20: [60.0, 130.1],
        30: [87.0, 210.1],
      };
      const pair = anchors[rating];
      if (!pair) return undefined;
      return {
        unit: 'amps',
        earliest: [],
        latest: [
          [pair[0], 5],
          [pair[1], 0.4],
        ],
        atOnce: undefined,
        warmBelow: 0,
      };
    }
    case 'nema-breaker':
      return {
        unit: 'times',
        earliest: [[1, Number.POSITIVE_INFINITY]],
        latest: [
          [1.35, rating > 50 ? 7200 : 3600],
          [2, rating <= 30 ? 120 : rating <= 50 ? 240 : 360],
        ],
        atOnce: undefined,
        warmBelow: 2,
      };
    default:
      return undefined;
  }
}

/** Lower bound of the instantaneous range, A: a surge above it may open the device. Undefined where no standard fixes one. */
export function instantaneousFromA(device: Protection): number | undefined {
  const times = { 'mcb-b': 3, 'mcb-c': 5, 'mcb-d': 10 }[device.kind as string];
  return times === undefined || device.ratingA === undefined ? undefined : times * device.ratingA;
}

/** Current that opens it at once for certain, A, if healthy. */
export function instantaneousByA(device: Protection): number | undefined {
  const times = { 'mcb-b': 5, 'mcb-c': 10, 'mcb-d': 20 }[device.kind as string];
  return times === undefined || device.ratingA === undefined ? undefined : times * device.ratingA;
}

/** The band for this current. Temperature 30 °C; a hot board sits nearer the earliest. */
export function tripBand(device: Protection, currentA: number): TripBand {
  const curve = curveOf(device);
  if (!curve || device.ratingA === undefined) {
    return {
      earliestS: undefined,
      latestS: undefined,
      warm: false,
      mayCarry: false,
      words: 'no time given for this device',
    };
  }
  const x = curve.unit === 'times' ? currentA / device.ratingA : currentA;
  const firstEarliest = curve.earliest[0]?.[0];
  const mayCarry = firstEarliest !== undefined && x < firstEarliest * (1 - 1e-9);

  // Earliest: none below the first anchor, the line between, at once above the last.
  let earliestS = onLine(curve.earliest, x);
  const lastEarliest = curve.earliest.at(-1)?.[0];
  if (curve.earliest.length > 1 && earliestS === undefined && lastEarliest !== undefined && x > lastEarliest)
    earliestS = 0;

  // Latest: none below the first anchor, the line, the hold, then at once.
  let latestS = onLine(curve.latest, x);
  const last = curve.latest.at(-1);
  if (curve.atOnce && x >= curve.atOnce[0] * (1 - 1e-9)) latestS = curve.atOnce[1];
  else if (latestS === undefined && last && x > last[0]) latestS = last[1];

  const warm = latestS !== undefined && x < curve.warmBelow * (1 - 1e-9);
  return {
    earliestS,
    latestS,
    warm,
    mayCarry,
    words: bandWords(currentA <= device.ratingA * (1 + 1e-9), earliestS, latestS, warm, mayCarry),
  };
}

function bandWords(
  withinRating: boolean,
  earliestS: number | undefined,
  latestS: number | undefined,
  warm: boolean,
  mayCarry: boolean,
): string {
  if (withinRating) return 'carries this within its rating';
  if (mayCarry) return 'may carry this for ever: cable, plug and socket take the heat';
  const early = earliestS === undefined ? undefined : `could open after ${timeWords(earliestS, 'down')}`;
  if (latestS === undefined)
    return early ? `${early}, or may hold for ever` : 'no time given for this current';
  const late =
    latestS <= 0.2
      ? 'should open at once'
      : `should have opened within ${timeWords(latestS, 'up')}${warm ? ' if already warm, later from cold' : ''}`;
  return `${early && latestS > 0.2 ? `${early}, ` : ''}${late}, if the device is healthy`;
}

/** A time in words, rounded to the cautious side. */
export function timeWords(seconds: number, round: 'up' | 'down'): string {
  const to = (value: number): number => (round === 'up' ? Math.ceil(value - 1e-9) : Math.floor(value + 1e-9));
  if (seconds <= 0) return 'no time at all';
  if (seconds < 1) return `${to(seconds * 100) / 100} s`;
  if (seconds < 120) return `${to(seconds)} s`;
  return `${to(seconds / 60)} min`;
}
