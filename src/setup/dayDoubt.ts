/** How much the level of daylight is in doubt, by what it is and whether it was metered. */

/**
 * One sigma, stops. A real sky may give half or twice the mean of its name [IES-RP21]: taken as nine in ten of them.
 * Sun through clear air varies less, a metered day as its meter (judgements).
 */
export const DAY_SIGMA: Readonly<Record<string, number>> = {
  'day-sky': 0.6,
  'day-sun': 0.4,
  'day-moon': 0.5,
  'day-metered': 0.15,
};

/** What the light of a day is of: one cause of doubt for all that the sky sends. */
export const dayKind = (id: string, metered: boolean): string =>
  id === 'day:sun' ? 'day-sun' : id === 'day:moon' ? 'day-moon' : metered ? 'day-metered' : 'day-sky';
