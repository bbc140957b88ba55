/**
 * Sheen: how the gloss of flat patches sends a layer's own light on. That light comes from one side, so it leaves in a
 * lobe and not evenly: a lamp along a varnished wall lights what stands at the wall's far end, not what faces it.
 * Everything later has bounced and is taken to leave evenly, as `glossShare` says.
 */
import { SAMPLES } from '../../colour/spectrum.ts';
import { gloss, lobe } from '../brdf.ts';
import type { EmitterSet } from '../emitter.ts';
import { STRIDE } from '../emitter.ts';
import type { Stand } from './bare.ts';
import { reachOf } from './bare.ts';
import type { Patches } from './patches.ts';

export interface Sheen {
  /** Per patch and one beyond: lux of the layer's own light; 0 where no lobe leaves it. */
  lux: Float32Array;
  /** 3 per patch: unit direction to the middle of the layer's light. */
  toLight: Float32Array;
  /** Per patch: half the widest angle of light about that, radians, and of the patch seen from the light's middle. */
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
  const { f } = set;
  const lux = new Float32Array(n + 1);
  const toLight = new Float32Array(n * 3);
  const spread = new Float32Array(n);
  let some = false;
  for (let p = 0; p < n; p++) {
    if (!(patches.lobeF0[p]! > 0) || !(direct[p]! > 0)) continue;
    const o = p * 3;
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
    if (!(d > 0) || !(whole > 0)) continue;
    // Emitters apart from one another shorten their mean: the cosine of how far apart they are.
    const together = Math.min(1, d / far);
    lux[p] = direct[p]!;
    toLight[o] = x / d;
    toLight[o + 1] = y / d;
    toLight[o + 2] = z / d;
    const patchSpread = Math.sqrt(patches.areaM2[p]!) / 2 / (far / whole);
    spread[p] = Math.hypot(widest, Math.acos(together), patchSpread);
    some = true;
  }
  return some ? { lux, toLight, spread } : undefined;
}

/**
 * Adds to `out` (12 each) what points `from` … `to - 1` get of the sheen of the patches their links see. The lobe is
 * widened by the angles that patch and light fill, so that few links do for a sharp one. `position` 3 each, metres;
 * `links` closed.
 */
export function addSheen(
  { lux, toLight, spread }: Sheen,
  patches: Patches,
  position: Float32Array,
  links: Uint32Array,
  per: number,
  from: number,
  to: number,
  out: Float32Array,
): void {
  const { centroid, normal, lobeF0, lobeAlpha, areaM2 } = patches;
  const scale = Math.PI / per;
  for (let i = from; i < to; i++) {
    const x = position[i * 3]!;
    const y = position[i * 3 + 1]!;
    const z = position[i * 3 + 2]!;
    let sum = 0;
    for (let l = i * per; l < (i + 1) * per; l++) {
      const p = links[l]!;
      const e = lux[p]!;
      if (e === 0) continue;
      const o = p * 3;
      const dx = x - centroid[o]!;
      const dy = y - centroid[o + 1]!;
      const dz = z - centroid[o + 2]!;
      const d2 = dx * dx + dy * dy + dz * dz;
      const k = 1 / Math.sqrt(d2 + 1e-9);
      // The half vector turns by half of what either end does.
      const turn2 = (spread[p]! ** 2 + Math.min(1, areaM2[p]! / 4 / (d2 + 1e-9))) / 4;
      const alpha = Math.min(1, Math.sqrt(lobeAlpha[p]! ** 2 + turn2));
      gloss(
        lobeF0[p]!,
        alpha,
        normal[o]!,
        normal[o + 1]!,
        normal[o + 2]!,
        toLight[o]!,
        toLight[o + 1]!,
        toLight[o + 2]!,
        dx * k,
        dy * k,
        dz * k,
      );
      sum += e * lobe.value;
    }
    if (sum === 0) continue;
    for (let s = 0; s < SAMPLES; s++) out[i * SAMPLES + s]! += scale * sum;
  }
}
