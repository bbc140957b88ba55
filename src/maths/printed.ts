/**
 * The one rule for a difference that stands beside its two figures, on screen, paper and terminal: it is the difference
 * of the figures as printed, so that a list never reads “4.4, 4.9, +0.6”. At most one unit of the last place off the
 * true difference; what is decided (over a tolerance or not) is decided by the true one.
 */

/** A value as its figures say it. */
export const printed = (v: number, digits: number): number => Number(v.toFixed(digits)) || 0;

/** What a reader finds who subtracts the printed `before` from the printed `after`. */
export const printedDifference = (before: number, after: number, digits: number): number =>
  printed(printed(after, digits) - printed(before, digits), digits);
