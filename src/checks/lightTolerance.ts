/** Tolerance as the check list gives it. */

/** A relative tolerance made absolute; half a unit of the last printed digit is always allowed. */
export const rel = (expected: number, share: number, digit: number): number =>
  Math.max(Math.abs(expected) * share, 0.5000001 * digit);
