/** What is believed of named quantities: a joint normal law, and how observations change it. */
import { solveLinear } from './linear.ts';

export interface Belief {
  names: readonly string[];
  /** One per name. */
  mean: Float64Array;
  /** n × n, row-major. */
  covariance: Float64Array;
}

/** Change of an observed or wanted value per unit of each named quantity. */
export type Slope = ReadonlyMap<string, number>;

/** An observation: `model` says what would be observed if the quantities were so, and its slopes there. */
export interface Observation {
  value: number;
  /** One sigma of the observation’s own noise. */
  noise: number;
  model: (of: (name: string) => number) => { value: number; slope: Slope };
}

/** Quantities about nought that know nothing of each other. */
export function independent(sigmas: ReadonlyMap<string, number>): Belief {
  const names = [...sigmas.keys()];
  const n = names.length;
  const covariance = new Float64Array(n * n);
  names.forEach((name, i) => {
    covariance[i * n + i] = sigmas.get(name)! ** 2;
  });
  return { names, mean: new Float64Array(n), covariance };
}

/** Half a millionth of a stop (or of whatever unit) is near enough. */
const NEAR = 5e-7;

/**
 * The belief after all observations at once, so that their order cannot matter: the greatest posterior density by
 * Gauss and Newton, its covariance from the slopes there [BELL-CATHEY]. For linear models the closed form of Bayesian
 * linear regression, A⁻¹ = (Σ₀⁻¹ + H′R⁻¹H)⁻¹ [RASMUSSEN-2006 §2.1]. Quantities of no sigma stay as they are.
 */
export function observed(prior: Belief, observations: readonly Observation[]): Belief {
  const n = prior.names.length;
  if (n === 0 || observations.length === 0) return prior;
  const at = new Map(prior.names.map((name, i) => [name, i]));
  const P0 = prior.covariance;
  let x = prior.mean.slice();
  let covariance = P0;
  const m = observations.length;
  for (let step = 0; step < 50; step++) {
    // Slopes and what is left over, at x.
    const H = new Float64Array(m * n);
    const left = new Float64Array(m);
    const of = (name: string) => x[at.get(name) ?? -1] ?? 0;
    observations.forEach((o, r) => {
      const { value, slope } = o.model(of);
      left[r] = o.value - value;
      for (const [name, k] of slope) {
        const i = at.get(name);
        if (i !== undefined) {
          H[r * n + i] = k;
          left[r]! += k * (x[i]! - prior.mean[i]!);
        }
      }
    });
    // Gain by way of the observations’ own covariance S = H P₀ H′ + R, which is m × m and never singular.
    const PH = new Float64Array(n * m);
    for (let i = 0; i < n; i++)
      for (let r = 0; r < m; r++) {
        let s = 0;
        for (let j = 0; j < n; j++) s += P0[i * n + j]! * H[r * n + j]!;
        PH[i * m + r] = s;
      }
    const S = new Float64Array(m * m);
    for (let r = 0; r < m; r++)
      for (let q = 0; q < m; q++) {
        let s = r === q ? observations[r]!.noise ** 2 : 0;
        for (let i = 0; i < n; i++) s += H[r * n + i]! * PH[i * m + q]!;
        S[r * m + q] = s;
      }
    const by = new Float64Array(m * (n + 1));
    for (let r = 0; r < m; r++) {
      by[r * (n + 1)] = left[r]!;
      for (let i = 0; i < n; i++) by[r * (n + 1) + 1 + i] = PH[i * m + r]!;
    }
    const solved = solveLinear(S, by, m);
    const next = prior.mean.slice();
    covariance = P0.slice();
    for (let i = 0; i < n; i++)
      for (let r = 0; r < m; r++) {
        next[i]! += PH[i * m + r]! * solved[r * (n + 1)]!;
        for (let j = 0; j < n; j++) covariance[i * n + j]! -= PH[i * m + r]! * solved[r * (n + 1) + 1 + j]!;
      }
    const moved = next.reduce((most, v, i) => Math.max(most, Math.abs(v - x[i]!)), 0);
    x = next;
    if (moved < NEAR) break;
  }
  return { names: prior.names, mean: x, covariance };
}

/** Mean of one quantity; one that is not spoken of is at nought. */
export function meanOf(b: Belief, name: string): number {
  const i = b.names.indexOf(name);
  return i < 0 ? 0 : b.mean[i]!;
}

/** One sigma of one quantity; undefined: it is not spoken of. */
export function sigmaOf(b: Belief, name: string): number | undefined {
  const i = b.names.indexOf(name);
  return i < 0 ? undefined : Math.sqrt(Math.max(0, b.covariance[i * b.names.length + i]!));
}

/**
 * What each quantity adds to the variance of a value with these slopes: kᵢ (Σk)ᵢ, which sum to k′Σk [JCGM-100 §5.2].
 * Quantities the belief does not speak of stand alone with `sigmaElse`.
 */
export function shares(
  b: Belief,
  slope: Slope,
  sigmaElse: (name: string) => number = () => 0,
): Map<string, number> {
  const n = b.names.length;
  const at = new Map(b.names.map((name, i) => [name, i]));
  const k = new Float64Array(n);
  for (const [name, v] of slope) {
    const i = at.get(name);
    if (i !== undefined) k[i] = v;
  }
  const out = new Map<string, number>();
  for (const [name, v] of slope) {
    const i = at.get(name);
    if (i === undefined) {
      out.set(name, (v * sigmaElse(name)) ** 2);
      continue;
    }
    let s = 0;
    for (let j = 0; j < n; j++) s += b.covariance[i * n + j]! * k[j]!;
    out.set(name, v * s);
  }
  return out;
}

/** Variance of a value with these slopes. */
export const varianceOf = (b: Belief, slope: Slope, sigmaElse?: (name: string) => number): number =>
  Math.max(
    0,
    [...shares(b, slope, sigmaElse).values()].reduce((s, v) => s + v, 0),
  );

/** Covariance of two values, as far as the belief speaks of what they hang on; alone-standing quantities too. */
export function covarianceOf(
  b: Belief,
  one: Slope,
  other: Slope,
  sigmaElse: (name: string) => number = () => 0,
): number {
  const n = b.names.length;
  const at = new Map(b.names.map((name, i) => [name, i]));
  let s = 0;
  for (const [a, ka] of one) {
    const i = at.get(a);
    if (i === undefined) {
      s += ka * (other.get(a) ?? 0) * sigmaElse(a) ** 2;
      continue;
    }
    for (const [c, kc] of other) {
      const j = at.get(c);
      if (j !== undefined) s += ka * kc * b.covariance[i * n + j]!;
    }
  }
  return s;
}
