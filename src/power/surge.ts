/** The surge when cold tungsten is switched on. Electronic inrush is too short for these bands and is not reckoned here. */

/** Hot over cold resistance: the r.m.s. surge over the running current on a stiff supply [INRUSH]; measured lamps show 7–15. */
export const COLD_TIMES = 14;

/** One cold lamp: its watts at its rated volts, and the resistance of its own leads, ohm. */
export interface ColdLamp {
  readonly watts: number;
  readonly ratedV: number;
  readonly leadOhm?: number;
}

/** Resistance of a cold filament, ohm. */
export const coldOhm = (lamp: ColdLamp, times = COLD_TIMES): number => lamp.ratedV ** 2 / lamp.watts / times;

/**
 * R.m.s. surge of lamps switched on together, A: V/(R + Z). Leads that lamps share are counted once for each, which
 * makes the figure too high rather than too low. The first peak is √2 times this.
 */
export function surgeA(lamps: readonly ColdLamp[], sourceV: number, loopOhm = 0, times = COLD_TIMES): number {
  const siemens = lamps.reduce((sum, lamp) => sum + 1 / (coldOhm(lamp, times) + (lamp.leadOhm ?? 0)), 0);
  return siemens === 0 ? 0 : sourceV / (loopOhm + 1 / siemens);
}

/** Peak of a surge, A. */
export const surgePeakA = (rmsA: number): number => Math.SQRT2 * rmsA;
