/** Values between the points of a table. */

/** Linear; outside the list the end values. `xs` ascending. */
export function linearAt(xs: readonly number[], ys: ArrayLike<number>, x: number): number {
  const n = xs.length;
  if (x <= xs[0]!) return ys[0]!;
  if (x >= xs[n - 1]!) return ys[n - 1]!;
  let i = 0;
  while (xs[i + 1]! < x) i++;
  return ys[i]! + ((ys[i + 1]! - ys[i]!) * (x - xs[i]!)) / (xs[i + 1]! - xs[i]!);
}

/**
 * A smooth curve that never overshoots: monotone cubic pieces (weighted harmonic mean [FRITSCH-BUTLAND]
 * of the slopes). Outside the list the end values.
 */
export function monotoneCubic(xs: readonly number[], ys: ArrayLike<number>): (x: number) => number {
  const n = xs.length;
  const h = Array.from({ length: n - 1 }, (_, i) => xs[i + 1]! - xs[i]!);
  const d = h.map((hi, i) => (ys[i + 1]! - ys[i]!) / hi);
  const m = new Array<number>(n).fill(0);
  for (let i = 1; i < n - 1; i++) {
    const a = d[i - 1]!;
    const b = d[i]!;
    if (a * b > 0) {
      const w1 = 2 * h[i]! + h[i - 1]!;
      const w2 = h[i]! + 2 * h[i - 1]!;
      m[i] = (w1 + w2) / (w1 / a + w2 / b);
    }
  }
  m[0] = d[0]!;
  m[n - 1] = d[n - 2]!;
  return (x) => {
    if (x <= xs[0]!) return ys[0]!;
    if (x >= xs[n - 1]!) return ys[n - 1]!;
    let i = 0;
    while (xs[i + 1]! < x) i++;
    const t = (x - xs[i]!) / h[i]!;
    const t2 = t * t;
    const t3 = t2 * t;
    return (
      ys[i]! * (2 * t3 - 3 * t2 + 1) +
      m[i]! * h[i]! * (t3 - 2 * t2 + t) +
      ys[i + 1]! * (3 * t2 - 2 * t3) +
      m[i + 1]! * h[i]! * (t3 - t2)
    );
  };
}
