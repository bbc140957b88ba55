/** One value of the check files: what was expected, from where, and what our code says. */
export interface CheckRow {
  id: string;
  what: string;
  source: string;
  expected: number;
  got: number;
  unit: string;
  tolerance: number;
  holds: boolean;
}

/** A row; it holds when the difference is within the tolerance, never for NaN. A verdict is 1 or 0. */
export const row = (
  id: string,
  what: string,
  source: string,
  expected: number,
  got: number,
  unit: string,
  tolerance: number,
): CheckRow => ({
  id,
  what,
  source,
  expected,
  got,
  unit,
  tolerance,
  holds: Math.abs(got - expected) <= tolerance,
});
