/** Light of sky and far ground through an opening, by the geometry alone: what a meter in an empty dark room reads. */
import type { Vec3 } from '../maths/vec3.ts';
import { add, cross, dot, length, normalize, scale, sub } from '../maths/vec3.ts';
import { CLEAR_PANE, glassTransmittance } from './glass.ts';

/** A parallelogram in a wall or roof: a corner and two sides, metres. */
export interface Gap {
  corner: Vec3;
  u: Vec3;
  v: Vec3;
}

/**
 * Illuminance at a point (normal `normal`) through an opening: ∫ L cos dΩ over what is seen in it. `luminance` toward a
 * unit direction, cd/m²; `glazed`: a clear pane stands in it; `reaches`: share that gets through along a direction, of
 * what stands in the way (panes included, then not `glazed`); `grid` cells along each side, midpoints (error falls with
 * its square; 60 gives 0.1 % at a metre from a window of one).
 */
export function throughGap(
  gap: Gap,
  at: Vec3,
  normal: Vec3,
  luminance: (dir: Vec3) => number,
  options: { glazed?: boolean; grid?: number; reaches?: (dir: Vec3) => number } = {},
): number {
  const grid = options.grid ?? 60;
  const n = normalize(cross(gap.u, gap.v));
  const cell = length(cross(gap.u, gap.v)) / grid ** 2;
  let sum = 0;
  for (let i = 0; i < grid; i++)
    for (let j = 0; j < grid; j++) {
      const p = add(gap.corner, add(scale(gap.u, (i + 0.5) / grid), scale(gap.v, (j + 0.5) / grid)));
      const d = sub(p, at);
      const r = length(d);
      if (!(r > 0)) continue;
      const dir = scale(d, 1 / r);
      const falls = dot(dir, normal);
      if (falls <= 0) continue;
      const leaves = Math.abs(dot(dir, n));
      const pass =
        (options.glazed ? glassTransmittance(leaves, CLEAR_PANE) : 1) * (options.reaches?.(dir) ?? 1);
      sum += (luminance(dir) * falls * leaves * pass) / (r * r);
    }
  return sum * cell;
}

/**
 * Mean light of all the bounces in a room with windows, lux [HOPKINSON-1954]: what enters, Φ lm, spread by the mean
 * reflectance ρ of all surfaces, ΦρM / (A (1 − ρ)); the split flux method with the first bounce off the mean as well.
 */
export const bouncedLx = (entersLm: number, areaM2: number, reflectance: number): number =>
  (entersLm * reflectance) / (areaM2 * (1 - reflectance));
