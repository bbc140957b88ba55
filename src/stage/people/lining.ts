/**
 * What shows where a shirt gapes between its buttons: the trunk's front along the middle, drawn in under the cloth, is
 * kept and takes the cloth's own colour, as of a vest or the other half of the front. Without it one would look into
 * an empty shell.
 */
import type { PersonShape } from './decode.ts';

/** So far from the middle a front gapes, metres either way; how far over the hip joints it begins. By eye. */
const HALF_M = 0.06;
const OVER_HIP_M = 0.02;

/** Per vertex of the body: 1 where it lies under the middle of the front of what is worn on the trunk. */
export function liningOf(who: PersonShape, hip: number): Uint8Array {
  const { body, hidden, joints } = who;
  const low = joints[3 * hip + 2]! + OVER_HIP_M;
  const back = joints[3 * hip + 1]!;
  const out = new Uint8Array(hidden.length);
  for (let v = 0; v < hidden.length; v++) {
    if (!hidden[v] || Math.abs(body[3 * v]!) > HALF_M) continue;
    // The face looks towards -y.
    if (body[3 * v + 1]! < back && body[3 * v + 2]! > low) out[v] = 1;
  }
  return out;
}
