/** Rows 8 and 9: a window under an even sky, open and glazed; panes of glass [CHECKS-LIGHT §1.4, §8]. */
import { polygonFactor } from '../light/analytic.ts';
import { CLEAR_PANE, glassTransmittance, surfaceReflectance } from '../light/glass.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { add, DEG, distance, dot, normalize, scale, sub } from '../maths/vec3.ts';
import { rel } from './lightTolerance.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

const CIE171 = 'CIE 171:2006 as transcribed, exact values re-derived [CIE-171]';
const UP: Vec3 = [0, 0, 1];

/** Factor of a pane-filled opening: the contour formula weighted by the pane's transmittance, on a fine grid. */
function glazedFactor(corner: Vec3, u: Vec3, v: Vec3, normal: Vec3, at: Vec3, n: Vec3, grid = 400): number {
  const area = Math.hypot(...u) * Math.hypot(...v);
  let sum = 0;
  for (let i = 0; i < grid; i++) {
    for (let j = 0; j < grid; j++) {
      const p = add(add(corner, scale(u, (i + 0.5) / grid)), scale(v, (j + 0.5) / grid));
      const d = distance(p, at);
      const dir = normalize(sub(p, at));
      const cosO = Math.abs(dot(dir, normal));
      const cosR = dot(dir, n);
      if (cosR > 0) sum += (glassTransmittance(cosO, CLEAR_PANE) * cosO * cosR) / (d * d);
    }
  }
  return (sum * area) / (grid * grid) / Math.PI;
}

/** Rows 8 and 9: a window under a uniform sky, open and glazed; floor points counted from the far wall. */
export function windowRows(): CheckRow[] {
  const opening: Vec3[] = [
    [1, 0, 1],
    [3, 0, 1],
    [3, 0, 2],
    [1, 0, 2],
  ];
  const out: CheckRow[] = [];
  const floor: [string, number, number, number | undefined][] = [
    ['G', 3.75, 1.2656, 1.1127],
    ['K', 1.75, 5.1845, 4.4876],
    ['M', 0.75, 7.9929, 6.1721],
  ];
  for (const [p, y, open, glazed] of floor) {
    const at: Vec3 = [2, y, 0];
    out.push(
      row(
        `light-8-${p}`,
        `CIE 5.11 floor ${p}, 2 × 1 m window, uniform sky`,
        CIE171,
        open,
        100 * polygonFactor(opening, at, UP),
        '%',
        rel(open, 1e-3, 1e-4),
      ),
    );
    if (glazed !== undefined)
      out.push(
        row(
          `light-9-${p}`,
          `CIE 5.12 floor ${p}, the same with 6 mm glass`,
          CIE171,
          glazed,
          100 * glazedFactor([1, 0, 1], [2, 0, 0], [0, 0, 1], [0, 1, 0], at, UP, 200),
          '%',
          rel(glazed, 1e-3, 1e-4),
        ),
      );
  }
  const glass: [number, number][] = [
    [0, 0.8815],
    [15, 0.8808],
    [30, 0.877],
    [45, 0.8615],
    [50, 0.8495],
    [60, 0.8015],
    [70, 0.6854],
    [75, 0.5788],
    [80, 0.4247],
    [85, 0.2198],
  ];
  for (const [deg, t] of glass)
    out.push(
      row(
        `light-1.4-${deg}`,
        `6 mm glass at ${deg}°`,
        'slab n 1.52, internal 0.96 [CHECKS-LIGHT §1.4]',
        t,
        glassTransmittance(Math.cos(deg * DEG)),
        '',
        5.1e-5,
      ),
    );
  for (const [deg, r, t] of [
    [0, 0.04258, 0.918318],
    [30, 0.044144, 0.915957],
    [45, 0.053045, 0.902528],
    [60, 0.092483, 0.843471],
    [70, 0.174712, 0.724713],
    [80, 0.39095, 0.456043],
  ] as const) {
    out.push(
      row(
        `light-2.9-R${deg}`,
        `one surface at ${deg}°`,
        'Fresnel [CHECKS-LIGHT §2.9]',
        r,
        surfaceReflectance(Math.cos(deg * DEG)),
        '',
        1e-6,
      ),
    );
    out.push(
      row(
        `light-2.9-T${deg}`,
        `clear slab at ${deg}°, all inner reflections`,
        'Fresnel [CHECKS-LIGHT §2.9]',
        t,
        glassTransmittance(Math.cos(deg * DEG), { n: 1.52, internal: 1 }),
        '',
        1e-6,
      ),
    );
  }
  return out;
}
