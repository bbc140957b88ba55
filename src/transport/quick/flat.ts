/** Flat emitters whose beam has a formula, and bare tubes, laid out for many points at once (sums.ts). */
import type { EmitterSet } from '../emitter.ts';
import { ALONG, COSINE, DISC, ISOTROPIC, isThinTube, OVAL, RECTANGLE, STRIDE, TUBE } from '../emitter.ts';
import type { FlatEmitter } from '../sums.ts';
import { PLACE, SHARE } from './line.ts';

/** Emitter `e` of a layer with places by pairs of numbers in [0, 1), as `sampleEmitter` takes them; undefined: not flat. */
export function flatEmitter(
  set: EmitterSet,
  e: number,
  asked: ArrayLike<number>,
  light: Pick<FlatEmitter, 'weight' | 'alone' | 'reachM'>,
): FlatEmitter | undefined {
  const kind = set.kind[e]!;
  const law = set.law[e]!;
  if (kind !== DISC && kind !== RECTANGLE) return undefined;
  if (law !== ISOTROPIC && law !== COSINE && law !== OVAL) return undefined;
  const f = set.f.subarray(e * STRIDE, (e + 1) * STRIDE);
  const places = new Float64Array(2 * asked.length);
  for (let i = 0; i < asked.length; i += 2) {
    const [u, v] = [asked[i]!, asked[i + 1]!];
    const r = f[12]! * Math.sqrt(u);
    const a = kind === DISC ? r * Math.cos(2 * Math.PI * v) : (2 * u - 1) * f[12]!;
    const b = kind === DISC ? r * Math.sin(2 * Math.PI * v) : (2 * v - 1) * f[13]!;
    for (let x = 0; x < 3; x++) places[2 * i + x] = a * f[3 + x]! + b * f[6 + x]!;
  }
  return { f, law, places, ...light };
}

/** A law of its own for wasm/bare.ts: a thin tube taken as a line. */
export const LINE = 8;

/** The same of a thin bare tube: its places are the rule by which line.ts takes it. */
export function lineEmitter(
  set: EmitterSet,
  e: number,
  light: Pick<FlatEmitter, 'weight' | 'alone' | 'reachM'>,
): FlatEmitter | undefined {
  if (!isThinTube(set, e)) return undefined;
  const f = set.f.subarray(e * STRIDE, (e + 1) * STRIDE);
  return { f, law: LINE, places: Float64Array.from([...PLACE, ...SHARE]), ...light };
}

/** The same of a bare thick tube: a place is its share of the sine of the side that faces a point, and its length along. */
export function tubeEmitter(
  set: EmitterSet,
  e: number,
  asked: ArrayLike<number>,
  light: Pick<FlatEmitter, 'weight' | 'alone' | 'reachM'>,
): FlatEmitter | undefined {
  if (set.kind[e] !== TUBE || set.law[e] !== ALONG) return undefined;
  const f = set.f.subarray(e * STRIDE, (e + 1) * STRIDE);
  const places = new Float64Array(2 * asked.length);
  for (let i = 0; i < asked.length; i += 2) {
    places[2 * i] = 2 * asked[i]! - 1;
    places[2 * i + 1] = (2 * asked[i + 1]! - 1) * f[13]!;
  }
  return { f, law: ALONG, places, ...light };
}
