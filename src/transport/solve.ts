/**
 * The bounce field of one layer: light leaving every patch after any number of bounces, at 12 wavelengths.
 * B = ρ (E + mean of B over the patch's cosine links): radiosity with Monte-Carlo form factors [GORAL-1984].
 */
import { SAMPLES } from '../colour/spectrum.ts';

export const NO_LINK = 4294967295;

export interface PatchLinks {
  per: number;
  /** count × per patch numbers; `NO_LINK`: sky, or a surface without a patch. */
  to: Uint32Array;
}

/**
 * patches × 12: exitance, lm/m² per unit flat light. `direct`: lux per patch. Iterated until nothing changes by
 * more than `tolerance` of the greatest.
 */
export function solveField(
  direct: Float32Array,
  links: PatchLinks,
  reflectance: Float32Array,
  tolerance = 1e-3,
): Float32Array {
  const n = direct.length;
  const field = new Float32Array(n * SAMPLES);
  let greatest = 0;
  for (let p = 0; p < n; p++)
    for (let i = 0; i < SAMPLES; i++) {
      const v = reflectance[p * SAMPLES + i]! * direct[p]!;
      field[p * SAMPLES + i] = v;
      if (v > greatest) greatest = v;
    }
  if (greatest === 0) return field;
  const mean = new Float64Array(SAMPLES);
  for (let round = 0; round < 400; round++) {
    let change = 0;
    for (let p = 0; p < n; p++) {
      gatherOne(links, p, field, mean);
      const o = p * SAMPLES;
      for (let i = 0; i < SAMPLES; i++) {
        // Gauss and Seidel: what was just worked out is used at once.
        const v = reflectance[o + i]! * (direct[p]! + mean[i]!);
        const d = Math.abs(v - field[o + i]!);
        if (d > change) change = d;
        field[o + i] = v;
      }
    }
    if (change < tolerance * greatest * 0.1) break;
  }
  return field;
}

/** Mean of the field over the links of one point: bounced illuminance there, lux-like, at 12 wavelengths. */
export function gatherOne(links: PatchLinks, point: number, field: Float32Array, out: Float64Array): void {
  out.fill(0);
  const { per, to } = links;
  for (let k = point * per; k < (point + 1) * per; k++) {
    const q = to[k]!;
    if (q === NO_LINK) continue;
    const o = q * SAMPLES;
    for (let i = 0; i < SAMPLES; i++) out[i]! += field[o + i]!;
  }
  for (let i = 0; i < SAMPLES; i++) out[i]! /= per;
}

/** points × 12: bounced illuminance at every point of a set of links. */
export function gatherAll(links: PatchLinks, count: number, field: Float32Array): Float32Array {
  const out = new Float32Array(count * SAMPLES);
  const mean = new Float64Array(SAMPLES);
  for (let p = 0; p < count; p++) {
    gatherOne(links, p, field, mean);
    out.set(mean, p * SAMPLES);
  }
  return out;
}
