/** How the acceptance suite decides: independent batches, Student's t, and a stated chance of a false alarm. */
import { meanOf, studentTails } from '../maths/student.ts';
import type { Tracer } from './tracer.ts';

/** One number of a tracer against what it should be. */
export interface Comparison {
  what: string;
  /** Where `expected` comes from. */
  source: string;
  /** At least 32 estimates from independent seeds. */
  batches: readonly number[];
  expected: number;
  /**
   * What statistics must not be blamed for, absolute: half a unit in the source's last digit, the port's 32-bit
   * numbers, points lifted off a surface by hundredths of a millimetre.
   */
  slack: number;
}

/** A law of light, as comparisons made with one seed. */
export interface Law {
  name: string;
  run(tracer: Tracer, seed: number): Promise<Comparison[]>;
}

/** Greatest probability that a right tracer fails one run of the suite. */
export const FALSE_ALARM = 1e-6;
/** The suite may not make more comparisons than this (a test counts them). */
export const MOST_COMPARISONS = 100;
/** Batches that every comparison needs, and that the laws take. */
export const LEAST_BATCHES = 32;
export const BATCHES = 36;

export interface Verdict {
  holds: boolean;
  mean: number;
  error: number;
  /** Probability of so large a difference, were the tracer right. */
  surprise: number;
}

/** Does the comparison hold? By Bonferroni each gets an equal share of the suite's false alarm. */
export function judge(c: Comparison): Verdict {
  const { mean, error } = meanOf(c.batches);
  const off = Math.max(0, Math.abs(mean - c.expected) - c.slack);
  const surprise = off === 0 ? 1 : error > 0 ? studentTails(off / error, c.batches.length - 1) : 0;
  const fit = c.batches.length >= LEAST_BATCHES && Number.isFinite(mean);
  return { holds: fit && surprise > FALSE_ALARM / MOST_COMPARISONS, mean, error, surprise };
}

/** Runs `one` with `BATCHES` independent seeds and gathers each of the numbers it gives. */
export async function batchesOf(seed: number, one: (seed: number) => Promise<number[]>): Promise<number[][]> {
  const out: number[][] = [];
  for (let b = 0; b < BATCHES; b++) {
    (await one(seed * 1000 + b)).forEach((x, i) => {
      if (!out[i]) out[i] = [];
      out[i].push(x);
    });
  }
  return out;
}

/** 32-bit numbers and lifted points, as a share of the value. */
export const FINE = 1e-4;
export const compare = (
  what: string,
  source: string,
  batches: readonly number[],
  expected: number,
  slack = 0,
): Comparison => ({ what, source, batches, expected, slack: slack + FINE * Math.abs(expected) });
