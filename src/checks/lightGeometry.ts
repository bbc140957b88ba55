/** Rows 1, 2, 4, 10–14 of the check list: closed forms and the test cases of CIE 171 [CHECKS-LIGHT §8]. */
import {
  cornerParallel,
  cornerPerpendicular,
  discLux,
  discSideLux,
  halfSphereFactor,
  pointLux,
  polygonFactor,
  polygonLux,
  sphereLux,
  tubeEndLux,
  tubeLux,
} from '../light/analytic.ts';
import { cosineBeam, intensityCd, tubeBeam } from '../light/beam.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { DEG } from '../maths/vec3.ts';
import { rel } from './lightTolerance.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

const CIE171 = 'CIE 171:2006 as transcribed, exact values re-derived [CIE-171]';
const CLOSED = 'closed form, proved by brute-force integration [CHECKS-LIGHT §2]';
const UP: Vec3 = [0, 0, 1];
const DOWN: Vec3 = [0, 0, -1];

/** A rectangle in a horizontal plane. */
const flat = (x0: number, x1: number, y0: number, y1: number, z: number): Vec3[] => [
  [x0, y0, z],
  [x1, y0, z],
  [x1, y1, z],
  [x0, y1, z],
];

/** Rows 1, 2, 4: CIE 5.2, 5.3, 5.6. */
export function cieRows(): CheckRow[] {
  const out: CheckRow[] = [];
  const points: [string, number, number, number][] = [
    ['A', 0, 0, 111.1111],
    ['B', 0.5, 0, 105.1863],
    ['C', 1, 0, 90],
    ['D', 1.5, 0, 71.1111],
    ['E', 0.5, 0.5, 99.723],
    ['F', 1, 0.5, 85.6633],
    ['G', 1.5, 0.5, 68.0529],
    ['H', 1, 1, 74.3802],
    ['I', 1.5, 1, 59.975],
    ['J', 1.5, 1.5, 49.3827],
  ];
  const beam = cosineBeam(1000, 120);
  for (const [p, x, y, e] of points) {
    const d = Math.hypot(x, y, 3);
    // The lamp looks down: its frame's z is the room's −z.
    const E = pointLux(intensityCd(beam, [x / d, y / d, 3 / d]), d, 3 / d);
    out.push(
      row(
        `light-1-${p}`,
        `CIE 5.2 point ${p}, Lambertian point 1000 cd at 3 m`,
        CIE171,
        e,
        E,
        'lx',
        rel(e, 1e-6, 1e-4),
      ),
    );
  }
  const panel = flat(1.5, 2.5, 1.5, 2.5, 3);
  const wall: [string, number, number][] = [
    ['A', 2.75, 32.676898],
    ['B', 2.25, 75.193925],
    ['C', 1.75, 81.323172],
    ['D', 1.25, 69.060627],
    ['E', 0.75, 53.403531],
    ['F', 0.25, 40.001852],
  ];
  for (const [p, z, e] of wall)
    out.push(
      row(
        `light-2-${p}`,
        `CIE 5.3 wall point ${p}, 1 × 1 m panel`,
        CIE171,
        e,
        polygonLux(1000, panel, [2, 0, z], [0, 1, 0]),
        'lx',
        rel(e, 1e-6, 1e-6),
      ),
    );
  const floor: [string, number, number][] = [
    ['G', 0.25, 61.424099],
    ['H', 0.75, 79.255157],
    ['I', 1.25, 95.667276],
    ['J', 1.75, 105.778242],
  ];
  for (const [p, y, e] of floor)
    out.push(
      row(
        `light-2-${p}`,
        `CIE 5.3 floor point ${p}`,
        CIE171,
        e,
        polygonLux(1000, panel, [2, y, 0], UP),
        'lx',
        rel(e, 1e-6, 1e-6),
      ),
    );
  const ground = flat(0, 4, 0, 4, 0);
  const reflected: [string, number, number][] = [
    ['B', 0.75, 35.9005],
    ['C', 1.25, 27.9916],
    ['D', 1.75, 21.6385],
    ['E', 2.25, 16.7163],
    ['F', 2.75, 12.9674],
  ];
  for (const [p, z, e] of reflected)
    out.push(
      row(
        `light-4-${p}`,
        `CIE 5.6 wall point ${p}`,
        CIE171,
        e,
        100 * polygonFactor(ground, [2, 0, z], [0, 1, 0]),
        '%',
        1e-4,
      ),
    );
  const ceiling: [string, number, number][] = [
    ['G', 0.25, 26.7952],
    ['H', 0.75, 30.9387],
    ['I', 1.25, 33.9757],
    ['J', 1.75, 35.5666],
  ];
  for (const [p, y, e] of ceiling)
    out.push(
      row(
        `light-4-${p}`,
        `CIE 5.6 ceiling point ${p}`,
        CIE171,
        e,
        100 * polygonFactor(ground, [2, y, 3], DOWN),
        '%',
        1e-4,
      ),
    );
  return out;
}

/** Rows 10 to 14: disc, rectangle, cut panel, tube, five-times rule. */
export function closedRows(): CheckRow[] {
  const out: CheckRow[] = [];
  const disc: [number, number, number][] = [
    [0.5, 0, 1570.796327],
    [1, 0, 628.318531],
    [2, 0, 184.799568],
    [5, 0, 31.104878],
    [1, 0.25, 580.263748],
    [1, 1, 206.963188],
    [2, 1, 123.094865],
    [2, 3, 18.975964],
  ];
  for (const [d, x, e] of disc)
    out.push(
      row(
        `light-10-${d}-${x}`,
        `disc R 0.5 m, L 1000, depth ${d}, offset ${x}`,
        CLOSED,
        e,
        discLux(1000, 0.5, d, x),
        'lx',
        rel(e, 1e-6, 1e-6),
      ),
    );
  out.push(
    row(
      'light-10-p',
      'disc, receiver at right angles, (1, 1)',
      CLOSED,
      182.703423,
      discSideLux(1000, 0.5, 1, 1),
      'lx',
      1e-6 * 183,
    ),
  );
  const f = 'Howell B-3, B-4 [HOWELL]';
  for (const [a, b, c, par, per] of [
    [1, 1, 1, 0.13853161, 0.0557342],
    [1, 1, 2, 0.05986412, 0.01392769],
    [2, 1, 1, 0.16737501, 0.0686973],
    [1, 2, 3, 0.05226781, 0.01538066],
  ] as const) {
    out.push(
      row(
        `light-11-par-${a}${b}${c}`,
        `rectangle ${a} × ${b} at ${c}, parallel`,
        f,
        par,
        cornerParallel(a, b, c),
        '',
        1e-7,
      ),
    );
    out.push(
      row(
        `light-11-per-${a}${b}${c}`,
        `rectangle ${a} × ${b} at ${c}, at right angles`,
        f,
        per,
        cornerPerpendicular(a, b, c),
        '',
        1e-7,
      ),
    );
    out.push(
      row(
        `light-11-con-${a}${b}${c}`,
        `the same by the contour sum`,
        f,
        par,
        polygonFactor(flat(0, a, 0, b, c), [0, 0, 0], UP),
        '',
        1e-7,
      ),
    );
  }
  const panel = flat(-0.5, 0.5, -0.5, 0.5, 2);
  out.push(
    row(
      'light-12',
      'panel cut by the receiver’s horizon',
      CLOSED,
      14.141865,
      polygonLux(1000, panel, [0, 0, 0], [1, 0, 0]),
      'lx',
      1e-6 * 14.2,
    ),
    row(
      'light-12-tilt',
      '1 × 1 m panel at 2 m, point 1 m off, tilted 30°',
      CLOSED,
      171.194186,
      polygonLux(1000, panel, [1, 0, 0], [-Math.sin(30 * DEG), 0, Math.cos(30 * DEG)]),
      'lx',
      1e-6 * 172,
    ),
    row(
      'light-12-off',
      '1 × 1 m panel at 2 m, offset (1.5, 0.75)',
      CLOSED,
      87.077324,
      polygonLux(1000, panel, [1.5, 0.75, 0], UP),
      'lx',
      1e-6 * 88,
    ),
  );
  for (const [d, e] of [
    [0.3, 1421.015023],
    [0.6, 605.968767],
    [1.2, 203.572516],
    [2.4, 56.603143],
    [6, 9.366203],
  ] as const)
    out.push(
      row(
        `light-13-${d}`,
        `tube 3350 lm, 1.2 m, at ${d} m`,
        CLOSED,
        e,
        tubeLux(3350, 1.2, d),
        'lx',
        rel(e, 1e-6, 1e-6),
      ),
    );
  out.push(
    row(
      'light-13-end',
      'tube, foot at one end, 1 m',
      CLOSED,
      193.453188,
      tubeEndLux(3350, 1.2, 1),
      'lx',
      1e-6 * 194,
    ),
    row(
      'light-13-cd',
      'its intensity across the axis',
      CLOSED,
      339.42597,
      intensityCd(tubeBeam(3350), [0, 0, 1]),
      'cd',
      1e-5,
    ),
  );
  for (const [k, e] of [
    [1, 25],
    [2, 6.25],
    [3, 2.7778],
    [5, 1],
    [10, 0.25],
  ] as const) {
    const d = k;
    const point = (1000 * Math.PI * 0.25) / (d * d);
    out.push(
      row(
        `light-14-${k}`,
        `inverse square at ${k} diameters of a disc`,
        'ANSI/IES definition of the inverse-square law [IES-ISL]',
        e,
        100 * (point / discLux(1000, 0.5, d) - 1),
        '%',
        rel(e, 1e-6, 1e-4),
      ),
    );
  }
  out.push(
    row(
      'light-2.5-s',
      'sphere R 0.25, L 1000, at 1 m',
      CLOSED,
      196.349541,
      sphereLux(1000, 0.25, 1),
      'lx',
      1e-6 * 197,
    ),
    row(
      'light-2.5-t',
      'the same tilted 45°',
      CLOSED,
      138.840092,
      sphereLux(1000, 0.25, 1, Math.cos(45 * DEG)),
      'lx',
      1e-6 * 139,
    ),
    row('light-2.5-h', 'sphere half hidden, H 2', CLOSED, 0.02883444, halfSphereFactor(2), '', 1e-8),
  );
  return out;
}
