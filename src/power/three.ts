/** Neutrals: three phases, split phase, dimmers, harmonics. */

/** Neutral of three linear loads of one power factor on balanced phases, A: √(A²+B²+C²−AB−BC−CA) [NEUTRAL]. */
export const neutralA = (a: number, b: number, c: number): number =>
  Math.sqrt(Math.max(0, a * a + b * b + c * c - a * b - b * c - c * a));

/** Neutral two circuits share, A: opposite legs of 120/240, two legs of a wye, or the same leg (where no breaker sees it). */
export const sharedNeutralA = (a: number, b: number, legs: 'split' | 'wye' | 'same'): number =>
  legs === 'split' ? Math.abs(a - b) : legs === 'wye' ? neutralA(a, b, 0) : a + b;

/** A shared neutral lost between two legs of resistors: volts across each, by what they drew at `legV`. */
export function lostNeutralV(legV: number, aA: number, bA: number): { a: number; b: number } {
  const share = aA + bA > 0 ? bA / (aA + bA) : 0.5;
  return { a: 2 * legV * share, b: 2 * legV * (1 - share) };
}

/** Line current of a balanced three-phase load, A. */
export const lineA = (va: number, lineV: number): number => va / (Math.sqrt(3) * lineV);

/**
 * Three equal resistive loads on phase-cut dimmers: r.m.s. in phase and neutral as shares of the full phase current.
 * `cutRad` 0..π is the angle after each zero at which the dimmer starts to conduct. Sampled; good to 1e-4.
 */
export function dimmedNeutral(cutRad: number, samples = 7200): { phase: number; neutral: number } {
  const wave = (t: number): number => {
    const half = ((t % Math.PI) + Math.PI) % Math.PI;
    return half >= cutRad ? Math.sin(t) : 0;
  };
  let phase = 0;
  let neutral = 0;
  const third = (2 * Math.PI) / 3;
  for (let k = 0; k < samples; k++) {
    const t = (2 * Math.PI * (k + 0.5)) / samples;
    const one = wave(t);
    phase += one * one;
    neutral += (one + wave(t + third) + wave(t - third)) ** 2;
  }
  return { phase: Math.sqrt((2 * phase) / samples), neutral: Math.sqrt((2 * neutral) / samples) };
}

/** Amps the cable of a four-core circuit must be rated for, from the third harmonic's share of the line current [IEC-60364-E]. */
export function harmonicCableA(lineCurrentA: number, thirdShare: number): number {
  if (thirdShare <= 0.15) return lineCurrentA;
  if (thirdShare <= 0.33) return lineCurrentA / 0.86;
  const neutral = 3 * thirdShare * lineCurrentA;
  return thirdShare <= 0.45 ? neutral / 0.86 : neutral;
}
