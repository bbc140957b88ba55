/**
 * Doubt, in stops. Every reading is a sum of lamps' parts; each part hangs on named causes (the kind of
 * lamp, this very head, the reflectance of the place, positions, the meter's constant). A cause moves a
 * reading by its sensitivity, ∂log2 E / ∂cause; common causes cancel in a ratio by subtraction. Combined
 * as root-sum-square in log2 [JCGM-100 §5.1].
 */

import { type Belief, shares } from '../maths/belief.ts';
import { Z90 } from '../setup/causes.ts';

/** A cause of doubt: its size as a standard deviation in stops, and how it is named on a card. */
export interface Cause {
  words: string;
  sigmaStops: number;
}
export type Causes = ReadonlyMap<string, Cause>;

/** Change of log2 of a reading per stop of each cause. */
export type Sensitivity = ReadonlyMap<string, number>;

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

/**
 * `joint`: what the readings made of causes, which no longer stand apart (a kind and a head read together are known
 * better in sum than each). A cause's share is what it adds to the variance, so that shares sum to the whole.
 */
export function doubt(s: Sensitivity, causes: Causes, joint: Belief = NOTHING_READ): Doubt {
  const known = new Map([...s].filter(([id]) => causes.has(id)));
  const variances = shares(joint, known, (id) => causes.get(id)!.sigmaStops);
  const named: { words: string; stops: number }[] = [];
  let variance = 0;
  for (const [id, v] of variances) {
    variance += v;
    if (v > 0.01 ** 2) named.push({ words: causes.get(id)!.words, stops: Math.sqrt(v) });
  }
  named.sort((a, b) => b.stops - a.stops);
  return {
    bandStops: Z90 * Math.sqrt(Math.max(0, variance)),
    doubts: named.slice(0, 2).map((d) => `${d.words} ±${(Z90 * d.stops).toFixed(2)}`),
  };
}

const NOTHING_READ: Belief = { names: [], mean: new Float64Array(), covariance: new Float64Array() };
