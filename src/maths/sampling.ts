/** Repeatable chance: hashes, counter-based streams, low-discrepancy points, and maps from the square. */

/** Mixes 32 bits well (an integer hash by C. Wellons, "lowbias32", public domain; from memory). */
export function mix32(x: number): number {
  let z = x | 0;
  z = Math.imul(z ^ (z >>> 16), 0x7feb352d);
  z = Math.imul(z ^ (z >>> 15), 0x846ca68b);
  return z ^ (z >>> 16);
}

/** One 32-bit number from up to three: order matters. */
export const hash32 = (a: number, b = 0, c = 0): number =>
  mix32(mix32(mix32(a ^ 0x9e3779b9) + (b | 0)) + Math.imul(c | 0, 0x85ebca6b) + 0x27d4eb2f);

/** A whole 32-bit word as a number in [0, 1). */
export const unit = (word: number): number => (word >>> 0) * 2.3283064365386963e-10;

/**
 * A stream of chance that does not allocate: counter and two keys in three words. Streams of different keys
 * are independent for every purpose here; the same keys give the same numbers.
 */
export type Stream = Int32Array;
export const stream = (key1: number, key2 = 0): Stream => Int32Array.of(0, key1, key2);
export function restart(s: Stream, key1: number, key2: number): void {
  s[0] = 0;
  s[1] = key1;
  s[2] = key2;
}
/** Next number in [0, 1). */
export function next(s: Stream): number {
  const c = (s[0]! + 0x9e3779b9) | 0;
  s[0] = c;
  return (mix32(mix32(c ^ s[1]!) + s[2]!) >>> 0) * 2.3283064365386963e-10;
}

/** Chance as a plain function of a seed. */
export function rngOf(seed: number): () => number {
  const s = stream(hash32(seed), hash32(seed, 1));
  return () => next(s);
}

/**
 * The R2 sequence: point `i` of an additive recurrence on the plastic number, shifted by (u, v) modulo 1.
 * [ROBERTS-2018]. With a random shift each point alone is uniform, so estimates stay unbiased.
 */
export const R2_A = 0.7548776662466927;
export const R2_B = 0.5698402909980532;
export const r2x = (i: number, shift: number): number => {
  const x = shift + R2_A * i;
  return x - Math.floor(x);
};
export const r2y = (i: number, shift: number): number => {
  const y = shift + R2_B * i;
  return y - Math.floor(y);
};

/** Standard normal from two uniforms (Box–Muller). */
export const gauss = (rng: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - rng())) * Math.cos(2 * Math.PI * rng());
