/** The causes that readings hang on: their names, what is believed of them before anything is measured, how they act. */
import type { Slope } from '../maths/belief.ts';

/** Half-width of a 90 % interval of a normal law, in standard deviations [NIST-HB 1.3.6.7.1]. */
export const Z90 = 1.6448536269514722;

/**
 * One sigma before anything is measured, stops. A head against its kind: dull reflector, bent
 * socket; a quarter of a stop where its bulb is known to be old (judgements). Place:
 * 5 cm and 2° at usual distances, about a twentieth of a stop. Surfaces: paint is guessed to within a quarter of its
 * reflectance. Constant: K runs from 10.6 to 13.4, evenly, so half of 0.34 stop over √3 [ISO-2720] [JCGM-100 §4.3.7].
 * Meter: plain lux meters hold about 7 % (judgement). A kind’s own stands with the kind.
 */
export const SIGMA_STOPS = {
  head: 0.12,
  oldhead: 0.25,
  place: 0.06,
  surfaces: 0.35,
  constant: 0.1,
  meter: 0.1,
} as const;

/** Of light that bounced once or more the surfaces’ reflectance is a factor, about 1.3 times over. */
export const BOUNCE_SLOPE = 1.3;

/** Names of the causes one lamp’s light hangs on where it stands now. */
export interface LampCauses {
  kind: string;
  head: string;
  place: string;
}

export const kindCause = (kind: string): string => `kind:${kind}`;
/** `old`: its bulb is old, and nobody knows how much light is gone. */
export const headCause = (head: string, old = false): string => `${old ? 'oldhead' : 'head'}:${head}`;
export const surfacesCause = (place: string): string => `surfaces:${place}`;
export const CONSTANT = 'constant';
export const METER = 'meter';

/** A lamp carried elsewhere is another cause: what was read of its old place says nothing of the new. */
export const placeCause = (
  scene: string,
  lamp: string,
  at: readonly number[],
  aim: readonly number[],
): string => `place:${scene}/${lamp}@${[...at, ...aim].map((v) => v.toFixed(2)).join(',')}`;

/** How a lamp’s direct or bounced light goes with its causes. */
export function slopeOf(lamp: LampCauses, surfaces: string, bounced: boolean): Map<string, number> {
  const s = new Map([
    [lamp.kind, 1],
    [lamp.head, 1],
    [lamp.place, 1],
  ]);
  if (bounced) s.set(surfaces, BOUNCE_SLOPE);
  return s;
}

/** One part of a reading: an amount and how it goes with the causes. */
export interface Part {
  amount: number;
  slope: Slope;
}

/** log2 of a sum of parts with each part’s causes where `of` says, and its slopes there: the parts’ shares. */
export function logSum(
  parts: readonly Part[],
  of: (cause: string) => number,
): { value: number; slope: Map<string, number> } {
  const slope = new Map<string, number>();
  let sum = 0;
  for (const p of parts) {
    let e = 0;
    for (const [cause, k] of p.slope) e += k * of(cause);
    const amount = p.amount * 2 ** e;
    sum += amount;
    for (const [cause, k] of p.slope) slope.set(cause, (slope.get(cause) ?? 0) + k * amount);
  }
  for (const [cause, k] of slope) slope.set(cause, sum > 0 ? k / sum : 0);
  return { value: Math.log2(sum), slope };
}
