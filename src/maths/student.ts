/** Student's t: how surprising a mean is, given its own spread. */

/** log Γ(x), x > 0: Lanczos' series, g = 7, nine terms [LANCZOS-1964], within 1e-14. */
function logGamma(x: number): number {
  const c = [
    0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
    12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  let sum = c[0]!;
  for (let i = 1; i < 9; i++) sum += c[i]! / (x - 1 + i);
  const t = x + 6.5;
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(sum);
}

/** Regularised incomplete beta function by its continued fraction (Lentz's method). */
function incompleteBeta(a: number, b: number, x: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(b, a, 1 - x);
  const front = Math.exp(
    a * Math.log(x) + b * Math.log(1 - x) + logGamma(a + b) - logGamma(a) - logGamma(b) - Math.log(a),
  );
  const tiny = 1e-300;
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || tiny);
  let f = d;
  for (let m = 1; m < 400; m++) {
    let k = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + k * d || tiny);
    c = 1 + k / c || tiny;
    f *= c * d;
    k = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + k * d || tiny);
    c = 1 + k / c || tiny;
    const step = c * d;
    f *= step;
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return front * f;
}

/** Probability that |t| is at least this with `freedom` degrees of freedom: both tails. */
export const studentTails = (t: number, freedom: number): number =>
  Number.isNaN(t) ? Number.NaN : incompleteBeta(freedom / 2, 0.5, freedom / (freedom + t * t));

/** Mean of the values, and the standard error of that mean. */
export function meanOf(values: readonly number[]): { mean: number; error: number } {
  const n = values.length;
  const mean = values.reduce((a, b) => a + b, 0) / n;
  const squares = values.reduce((a, b) => a + (b - mean) ** 2, 0);
  return { mean, error: Math.sqrt(squares / (n - 1) / n) };
}
