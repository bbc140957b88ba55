/** How a ring shares its load between its two ends. */

/** Amps taken at a fraction of the way round from end A, 0..1. */
export interface RingTap {
  readonly fraction: number;
  readonly currentA: number;
}

/** Amps in the two legs, from end A and from end B: Σ I(1−f) and Σ I·f. Magnitudes added: an upper bound. */
export const ringLegs = (taps: readonly RingTap[]): { a: number; b: number } => ({
  a: taps.reduce((sum, t) => sum + t.currentA * (1 - t.fraction), 0),
  b: taps.reduce((sum, t) => sum + t.currentA * t.fraction, 0),
});

/** Range of the current-weighted mean fraction within which neither leg passes its limit; undefined when none does. */
export function fractionRange(totalA: number, legA: number): { from: number; to: number } | undefined {
  if (totalA <= legA) return { from: 0, to: 1 };
  return totalA > 2 * legA ? undefined : { from: 1 - legA / totalA, to: legA / totalA };
}
