/** Roots of one function of one variable. */

/** A root of `f` between `lo` and `hi` (opposite signs there) by halving; `width` is how narrow to get. */
export function bisect(f: (x: number) => number, lo: number, hi: number, width = 1e-12): number {
  let a = lo;
  let b = hi;
  const sign = f(a) > 0;
  for (let i = 0; i < 200 && b - a > width; i++) {
    const m = (a + b) / 2;
    if (f(m) > 0 === sign) a = m;
    else b = m;
  }
  return (a + b) / 2;
}
