/** How long batteries last. */

/** Share of what is printed on a battery that a lamp gets out of it, cold and age allowed for (common practice). */
export const USABLE = 0.85;

/** Hours that `watts` run from batteries of so many watt-hours. */
export const runHours = (wattHours: number, watts: number): number =>
  watts > 0 ? (USABLE * wattHours) / watts : Number.POSITIVE_INFINITY;
