/**
 * Doubt, in stops. Every reading is a sum of lamps' parts; each part hangs on named causes (the kind of
 * lamp, this very head, the reflectance of the place, positions, the meter's constant). A cause moves a
 * reading by its sensitivity, ∂log2 E / ∂cause; common causes cancel in a ratio by subtraction. Combined
 * as root-sum-square in log2 [JCGM-100 §5.1].
 */

/** A cause of doubt: its size as a standard deviation in stops, and how it is named on a card. */
export interface Cause {
  words: string;
  sigmaStops: number;
}
export type Causes = ReadonlyMap<string, Cause>;

/** Change of log2 of a reading per stop of each cause. */
export type Sensitivity = ReadonlyMap<string, number>;

/** Half-width of a 90 % interval of a normal law, in standard deviations [NIST-HB 1.3.6.7.1]. */
export const Z90 = 1.6448536269514722;

/** One lamp's part of a reading: its amount (any unit) and the causes that scale it (stops per stop). */
export interface PartOfReading {
  amount: number;
  scaledBy: Sensitivity;
}

/** Sensitivities of log2 of the sum of parts. */
export function sensitivity(parts: readonly PartOfReading[]): Map<string, number> {
  const sum = parts.reduce((s, p) => s + p.amount, 0);
  const out = new Map<string, number>();
  if (!(sum > 0)) return out;
  for (const p of parts)
    for (const [cause, k] of p.scaledBy) out.set(cause, (out.get(cause) ?? 0) + (k * p.amount) / sum);
  return out;
}

/** Sensitivities of log2(a / b). */
export function difference(a: Sensitivity, b: Sensitivity): Map<string, number> {
  const out = new Map(a);
  for (const [cause, k] of b) out.set(cause, (out.get(cause) ?? 0) - k);
  return out;
}

export interface Doubt {
  /** Half-width of the 90 % interval, stops. */
  bandStops: number;
  /** The two largest causes, in words with their share in stops. */
  doubts: string[];
}

export function doubt(s: Sensitivity, causes: Causes): Doubt {
  const shares: { words: string; stops: number }[] = [];
  let variance = 0;
  for (const [id, k] of s) {
    const cause = causes.get(id);
    if (!cause) continue;
    const stops = Math.abs(k) * cause.sigmaStops;
    variance += stops * stops;
    if (stops > 0.01) shares.push({ words: cause.words, stops });
  }
  shares.sort((a, b) => b.stops - a.stops);
  return {
    bandStops: Z90 * Math.sqrt(variance),
    doubts: shares.slice(0, 2).map((d) => `${d.words} ±${(Z90 * d.stops).toFixed(2)}`),
  };
}

/**
 * The causes after one reading: `residualStops` = measured − predicted (stops), `sensitivityStops` of the
 * predicted reading, `noiseStops` of the measurement (one sigma). Returns corrections (stops, to be added
 * to each cause) and the shrunk causes; the update of a normal law by one linear observation
 * [JCGM-100 H; Kalman 1960], off-diagonal terms left out (each cause keeps its own variance only).
 */
export function learn(
  s: Sensitivity,
  causes: Causes,
  residualStops: number,
  noiseStops: number,
): { shift: Map<string, number>; causes: Map<string, Cause> } {
  let variance = noiseStops * noiseStops;
  for (const [id, k] of s) variance += (k * (causes.get(id)?.sigmaStops ?? 0)) ** 2;
  const shift = new Map<string, number>();
  const after = new Map(causes);
  for (const [id, k] of s) {
    const cause = causes.get(id);
    if (!cause) continue;
    const gain = (k * cause.sigmaStops ** 2) / variance;
    shift.set(id, gain * residualStops);
    after.set(id, { ...cause, sigmaStops: cause.sigmaStops * Math.sqrt(Math.max(0, 1 - gain * k)) });
  }
  return { shift, causes: after };
}
