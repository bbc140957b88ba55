/**
 * Sheen: how the gloss of flat patches sends a layer's own light on. That light comes from one side, so it leaves in a
 * lobe and not evenly: a lamp along a varnished wall lights what stands at the wall's far end, not what faces it.
 * Everything later has bounced and is taken to leave evenly, as `glossShare` says.
 */
import { SAMPLES } from '../../colour/spectrum.ts';
import { gloss, lobe } from '../brdf.ts';
import type { EmitterSet } from '../emitter.ts';
import { picked, STRIDE, sampleEmitter } from '../emitter.ts';
import type { Stand } from './bare.ts';
import { reachOf } from './bare.ts';
import type { Patches } from './patches.ts';

export interface Sheen {
  /** Lobes that leave a patch: one; of sky and far ground, which are wide, one for each part of them. */
  lobes: number;
  /** Per lobe of each patch and one beyond: lux of the layer's own light; 0 where none leaves it. */
  lux: Float32Array;
  /** 3 per lobe: unit direction to the middle of its light. */
  toLight: Float32Array;
  /** Per lobe: half the widest angle of light about that, radians, and of the patch seen from the light's middle. */
  spread: Float32Array;
}

/** A layer's own light on the patches, lux each, as their gloss sends it on; undefined where no patch has any. */
export function sheenOf(
  patches: Patches,
  set: EmitterSet,
  stand: Stand,
  direct: Float32Array,
): Sheen | undefined {
  const n = patches.count;
  const far = set.far.some((it) => it !== undefined);
  const lobes = far ? PARTS ** 2 : 1;
  const sheen = {
    lobes,
    lux: new Float32Array((n + 1) * lobes),
    toLight: new Float32Array(n * lobes * 3),
    spread: new Float32Array(n * lobes),
  };
  let some = false;
  for (let p = 0; p < n; p++) {
    if (!(patches.lobeF0[p]! > 0) || !(direct[p]! > 0)) continue;
    const has = far
      ? lobesOfFar(sheen, patches, set, stand, direct[p]!, p)
      : lobeOf(sheen, patches, set, stand, direct[p]!, p);
    some ||= has;
  }
  return some ? sheen : undefined;
}

/** Does the direct light of a patch leave in lobes? */
export function leavesInLobes({ lobes, lux }: Sheen, p: number): boolean {
  for (let at = p * lobes; at < (p + 1) * lobes; at++) if (lux[at]! > 0) return true;
  return false;
}

/** The one lobe of lamps near by, written to `sheen`. */
function lobeOf(
  { lux, toLight, spread }: Sheen,
  patches: Patches,
  set: EmitterSet,
  stand: Stand,
  direct: number,
  p: number,
): boolean {
  const o = p * 3;
  const { f } = set;
  // The middle of what shines here, by its light over the square of the distance.
  let [x, y, z, whole, far, widest] = [0, 0, 0, 0, 0, 0];
  for (let s = 0; s < stand.emitter.length; s++) {
    const e = stand.emitter[s]!;
    const b = e * STRIDE;
    const dx = f[b]! - patches.centroid[o]!;
    const dy = f[b + 1]! - patches.centroid[o + 1]!;
    const dz = f[b + 2]! - patches.centroid[o + 2]!;
    const d2 = dx * dx + dy * dy + dz * dz + 1e-6;
    const w = (stand.weight[s]! * set.power[e]!) / d2;
    x += w * dx;
    y += w * dy;
    z += w * dz;
    whole += w;
    far += w * Math.sqrt(d2);
    widest = Math.max(widest, reachOf(set, e) / Math.sqrt(d2));
  }
  const d = Math.hypot(x, y, z);
  if (!(d > 0) || !(whole > 0)) return false;
  // Emitters apart from one another shorten their mean: the cosine of how far apart they are.
  const together = Math.min(1, d / far);
  lux[p] = direct;
  toLight[o] = x / d;
  toLight[o + 1] = y / d;
  toLight[o + 2] = z / d;
  const patchSpread = Math.sqrt(patches.areaM2[p]!) / 2 / (far / whole);
  spread[p] = Math.hypot(widest, Math.acos(together), patchSpread);
  return true;
}

/** Parts each way of sky or far ground that a patch sees, and places each way at which one is asked for its mean. */
const PARTS = 2;
const PLACES = 2;

/**
 * The lobes of sky and far ground, which have no place of their own: each part's by the mean of its directions, as if
 * nothing stood in the way; a mean's length says over how wide a cone they are spread.
 */
function lobesOfFar(
  { lobes, lux, toLight, spread }: Sheen,
  { centroid, normal }: Patches,
  set: EmitterSet,
  stand: Stand,
  direct: number,
  p: number,
): boolean {
  const o = p * 3;
  let whole = 0;
  for (let l = 0; l < lobes; l++) {
    let [x, y, z, part] = [0, 0, 0, 0];
    for (let s = 0; s < stand.emitter.length; s++)
      for (let k = 0; k < PLACES ** 2; k++) {
        const u = ((l % PARTS) + ((k % PLACES) + 0.5) / PLACES) / PARTS;
        const v = (Math.floor(l / PARTS) + (Math.floor(k / PLACES) + 0.5) / PLACES) / PARTS;
        if (!sampleEmitter(set, stand.emitter[s]!, centroid[o]!, centroid[o + 1]!, centroid[o + 2]!, u, v))
          continue;
        const cos = picked[0]! * normal[o]! + picked[1]! * normal[o + 1]! + picked[2]! * normal[o + 2]!;
        if (cos <= 0) continue;
        const w = stand.weight[s]! * cos * picked[4]!;
        x += w * picked[0]!;
        y += w * picked[1]!;
        z += w * picked[2]!;
        part += w;
      }
    const long = Math.hypot(x, y, z);
    if (!(long > 0)) continue;
    const at = p * lobes + l;
    lux[at] = part;
    whole += part;
    toLight[at * 3] = x / long;
    toLight[at * 3 + 1] = y / long;
    toLight[at * 3 + 2] = z / long;
    // A cone of even light has a mean of (1 + cos) / 2.
    spread[at] = Math.acos(Math.max(-1, Math.min(1, (2 * long) / part - 1)));
  }
  if (whole > 0) for (let l = 0; l < lobes; l++) lux[p * lobes + l]! *= direct / whole;
  return whole > 0;
}

/**
 * Adds to `out` (12 each) what points `from` … `to - 1` get of the sheen of the patches their links see. The lobe is
 * widened by the angles that patch and light fill, so that few links do for a sharp one. `position` 3 each, metres;
 * `links` closed.
 */
export function addSheen(
  { lobes, lux, toLight, spread }: Sheen,
  patches: Patches,
  position: Float32Array,
  links: Uint32Array,
  per: number,
  from: number,
  to: number,
  out: Float32Array,
): void {
  const { centroid, normal, lobeF0, lobeAlpha, lobeTint, areaM2 } = patches;
  const tinted = lobeTint && new Float64Array(SAMPLES);
  const scale = Math.PI / per;
  for (let i = from; i < to; i++) {
    const x = position[i * 3]!;
    const y = position[i * 3 + 1]!;
    const z = position[i * 3 + 2]!;
    let sum = 0;
    tinted?.fill(0);
    for (let l = i * per; l < (i + 1) * per; l++) {
      const p = links[l]!;
      const o = p * 3;
      for (let at = p * lobes; at < (p + 1) * lobes; at++) {
        const e = lux[at]!;
        if (e === 0) continue;
        const dx = x - centroid[o]!;
        const dy = y - centroid[o + 1]!;
        const dz = z - centroid[o + 2]!;
        const d2 = dx * dx + dy * dy + dz * dz;
        const k = 1 / Math.sqrt(d2 + 1e-9);
        // The half vector turns by half of what either end does.
        const turn2 = (spread[at]! ** 2 + Math.min(1, areaM2[p]! / 4 / (d2 + 1e-9))) / 4;
        const alpha = Math.min(1, Math.sqrt(lobeAlpha[p]! ** 2 + turn2));
        gloss(
          lobeF0[p]!,
          alpha,
          normal[o]!,
          normal[o + 1]!,
          normal[o + 2]!,
          toLight[at * 3]!,
          toLight[at * 3 + 1]!,
          toLight[at * 3 + 2]!,
          dx * k,
          dy * k,
          dz * k,
        );
        sum += e * lobe.value;
        if (tinted)
          for (let s = 0; s < SAMPLES; s++) tinted[s]! += e * lobe.value * lobeTint[p * SAMPLES + s]!;
      }
    }
    if (sum === 0) continue;
    for (let s = 0; s < SAMPLES; s++) out[i * SAMPLES + s]! += scale * (tinted ? tinted[s]! : sum);
  }
}
