/** Generators and power stations: what they hold, what they drink, what floats. */

/** Which rule a set's power falls by with height. The first is the default; the others only from the set's own manual. */
export type AltitudeRule = 'per-1000-ft' | 'per-500-m' | 'per-300-m';

/**
 * Share of the rating left at this height and air temperature, 0..1 [GEN-DERATE]: −3.5 % per 1000 ft from the sea (default),
 * −3 % per 500 m above 1000 m, or −3.5 % per 300 m above 1500 m; and −3 % per 5 °C above 40 °C. Makers differ by a quarter.
 */
export function deratedShare(altitudeM: number, airC: number, rule: AltitudeRule = 'per-1000-ft'): number {
  const lost = {
    'per-1000-ft': 0.035 * (Math.max(0, altitudeM) / 304.8),
    'per-500-m': 0.03 * (Math.max(0, altitudeM - 1000) / 500),
    'per-300-m': 0.035 * (Math.max(0, altitudeM - 1500) / 300),
  }[rule];
  return Math.max(0, 1 - lost) * Math.max(0, 1 - 0.03 * (Math.max(0, airC - 40) / 5));
}

const LITRES_PER_US_GALLON = 3.785411784;

/** A set's petrol, litres an hour at shares of its watts. */
export interface FuelRow {
  readonly ratedW: number;
  readonly inverter: boolean;
  /** Share of the rated watts, litres an hour; rising. */
  readonly points: readonly (readonly [number, number])[];
}

const gallons = (tank: number, hours: readonly (readonly [number, number])[]): FuelRow['points'] =>
  hours.map(([share, h]) => [share, (tank * LITRES_PER_US_GALLON) / h] as const);

/** Petrol sets, from tanks and running times in sellers' tables [GEN-FUEL]: 30 % either way. The last inverter from memory. */
export const FUEL: readonly FuelRow[] = [
  {
    ratedW: 3500,
    inverter: false,
    points: gallons(3.5, [
      [0.25, 13],
      [0.5, 9],
      [1, 5],
    ]),
  },
  {
    ratedW: 5500,
    inverter: false,
    points: gallons(6, [
      [0.25, 16],
      [0.5, 10],
      [1, 6],
    ]),
  },
  {
    ratedW: 7500,
    inverter: false,
    points: gallons(6.6, [
      [0.25, 14],
      [0.5, 9],
      [1, 5.5],
    ]),
  },
  {
    ratedW: 4500,
    inverter: true,
    points: gallons(2.35, [
      [0.25, 12],
      [0.5, 7.5],
      [0.75, 5],
      [1, 4],
    ]),
  },
  {
    ratedW: 1800,
    inverter: true,
    points: [
      [0.25, 3.6 / 8.1],
      [1, 3.6 / 3.2],
    ],
  },
];

/** Litres an hour at a share of the rating, straight between the table's points; below the first, the first (idling burns too). */
export function fuelLPerHour(row: FuelRow, share: number): number | undefined {
  const [first] = row.points;
  if (!first || share > 1 || !(share >= 0)) return undefined;
  if (share <= first[0]) return first[1];
  for (let k = 0; k + 1 < row.points.length; k++) {
    const [s0, l0] = row.points[k]!;
    const [s1, l1] = row.points[k + 1]!;
    if (share <= s1) return l0 + ((l1 - l0) * (share - s0)) / (s1 - s0);
  }
  return undefined;
}

/** What the sheet asks to bring: a fifth more than the estimate. Common practice, no source. */
export const fuelToBringL = (estimateL: number): number => 1.2 * estimateL;

/** Mean share over the hours with load only, beside its peak [ISO-8528]. Idle hours never count. */
export function meanShare(blocks: readonly { readonly hours: number; readonly share: number }[]): {
  mean: number | undefined;
  peak: number;
} {
  const loaded = blocks.filter((b) => b.share > 0);
  const hours = loaded.reduce((sum, b) => sum + b.hours, 0);
  return {
    mean: hours > 0 ? loaded.reduce((sum, b) => sum + b.hours * b.share, 0) / hours : undefined,
    peak: Math.max(0, ...blocks.map((b) => b.share)),
  };
}

/** Nameplate size for a load with room to spare, kVA: watts over power factor, and a quarter more [GEN-SIZE]. */
export const sizedKva = (kw: number, powerFactor: number, spare = 0.25): number =>
  (kw / powerFactor) * (1 + spare);

/** A set that floats: how many metal heads it may feed [ON-SITE]. Undefined bond = floating. */
export function judgeFloating(
  bondedNeutral: boolean | undefined,
  classIItems: number,
): { level: 'within' | 'warn' | 'over' | 'not-checked'; words: string } {
  if (bondedNeutral)
    return { level: 'not-checked', words: 'bonded as told: the bond itself is for a competent person' };
  const why = bondedNeutral === undefined ? 'bond not told, so taken as floating' : 'floating set';
  if (classIItems > 1) return { level: 'over', words: `${why}: ${classIItems} metal items, at most one` };
  if (classIItems === 1) return { level: 'warn', words: `${why}: one metal item and no more` };
  return { level: 'within', words: `${why}: no metal item on it` };
}

/** Amps to count at a start: running amps times the start factor; undefined when the factor is not stated. */
export const startA = (runningA: number, startTimes: number | undefined): number | undefined =>
  startTimes === undefined ? undefined : runningA * startTimes;
