/**
 * Light against published values and closed forms, one row a value; ids follow the list of acceptance checks
 * [CHECKS-LIGHT §8]. Rows that need a traced scene stand with the transport.
 */

import { cctOf, mired } from '../colour/cct.ts';
import { planck } from '../colour/planck.ts';
import { product } from '../colour/spectrum.ts';
import { xyzOf } from '../colour/xyz.ts';
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
import {
  angleAtShare,
  cosineBeam,
  exponentOfBeam,
  fluxLm,
  intensityCd,
  isotropicBeam,
  tubeBeam,
} from '../light/beam.ts';
import { parseEulumdat } from '../light/eulumdat.ts';
import { gelById, luminousTransmittance } from '../light/gels.ts';
import { GEL_PARAMETERS } from '../light/gelTable.ts';
import { CLEAR_PANE, glassTransmittance, surfaceReflectance } from '../light/glass.ts';
import { parseLm63 } from '../light/lm63.ts';
import type { IntensityTable } from '../light/photometry.ts';
import { intensityAtC, tableFluxLm, zonalFluxLm } from '../light/photometry.ts';
import { atVolts } from '../light/tungsten.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { add, DEG, distance, dot, normalize, scale, sub } from '../maths/vec3.ts';
import { EULUMDAT_SAMPLE, LM63_A, LM63_B, LM63_SCALING } from './photometricFiles.ts';
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

/** Relative tolerance as the file has it, made absolute; half a unit of the last digit always allowed. */
const rel = (expected: number, share: number, digit: number): number =>
  Math.max(expected * share, 0.5000001 * digit);

/** Rows 1, 2, 4: CIE 5.2, 5.3, 5.6. */
function cieRows(): CheckRow[] {
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

/** Factor of a pane-filled opening: the contour formula weighted by the pane's transmittance, on a fine grid. */
export function glazedFactor(
  corner: Vec3,
  u: Vec3,
  v: Vec3,
  normal: Vec3,
  at: Vec3,
  n: Vec3,
  grid = 400,
): number {
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
function windowRows(): CheckRow[] {
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

/** Rows 10 to 14: disc, rectangle, cut panel, tube, five-times rule. */
function closedRows(): CheckRow[] {
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

/** Row 15 and the mired shifts and transmittances of the gels. */
function lampRows(): CheckRow[] {
  const rerate = 'lamp rerating exponents [FINK-BEATY], [FIELD-GUIDE]';
  const t = atVolts({ volts: 230, cctK: 3200 }, 207);
  const out = [
    row('light-15-flux', 'tungsten at 0.90 V, flux', rerate, 0.699, t.fluxFactor, '', 0.005),
    row('light-15-cct', 'tungsten at 0.90 V, 3200 K becomes', rerate, 3061, t.cctK, 'K', 5),
    row('light-15-power', 'tungsten at 0.90 V, power', rerate, 0.849, t.powerFactor, '', 0.01),
  ];
  for (const g of GEL_PARAMETERS) {
    const gel = gelById(g.id)!;
    const light = planck(g.onK);
    const shift = mired(cctOf(xyzOf(product(gel.transmittance, light))).cctK) - mired(g.onK);
    out.push(
      row(
        `light-5.9-${g.id}-shift`,
        `${gel.words} on ${g.onK} K, shift`,
        'trade article, first family [TRADE-MIRED]',
        g.publishedMired,
        shift,
        'mired',
        2,
      ),
    );
    if (g.publishedT !== undefined)
      out.push(
        row(
          `light-5.9-${g.id}-T`,
          `${gel.words}, luminous transmittance`,
          'from memory, ±5 points [CHECKS-LIGHT §5.9]',
          100 * g.publishedT,
          100 * luminousTransmittance(gel.transmittance, light),
          '%',
          5,
        ),
      );
  }
  const per1000: [number, number][] = [
    [10, 41824.52],
    [20, 10476.06],
    [40, 2639.063],
    [60, 1187.949],
    [120, 318.31],
  ];
  for (const [deg, cd] of per1000)
    out.push(
      row(
        `light-3.4-cone-${deg}`,
        `1000 lm in an even cone of ${deg}°`,
        'arithmetic [CHECKS-LIGHT §3.4]',
        cd,
        1000 / (2 * Math.PI * (1 - Math.cos((deg * DEG) / 2))),
        'cd',
        rel(cd, 1e-6, 0.01),
      ),
    );
  for (const [deg, n, field] of [
    [20, 45.2776, 36.2365],
    [40, 11.14341, 71.1571],
    [60, 4.81884, 103.3491],
  ] as const) {
    out.push(
      row(
        `light-3.4-n-${deg}`,
        `cosⁿ exponent of a ${deg}° beam`,
        'arithmetic [CHECKS-LIGHT §3.4]',
        n,
        exponentOfBeam(deg * DEG),
        '',
        1e-5,
      ),
    );
    out.push(
      row(
        `light-3.4-f-${deg}`,
        `its field angle`,
        'arithmetic [CHECKS-LIGHT §3.4]',
        field,
        angleAtShare(cosineBeam(1, deg), 0.1) / DEG,
        '°',
        1e-4,
      ),
    );
  }
  out.push(
    row(
      'light-3.4-lm',
      'flux of a 120° cosine beam, 1000 cd',
      'arithmetic',
      1000 * Math.PI,
      fluxLm(cosineBeam(1000, 120)),
      'lm',
      1e-6,
    ),
  );
  return out;
}

/** Rows 16 and 17: photometric files. */
function fileRows(): CheckRow[] {
  const src = 'self-made file, computed outside this code [CHECKS-LIGHT §4.1]';
  const table = (text: string): IntensityTable => {
    const p = parseLm63(text);
    if (!p.ok) throw new Error(p.error);
    return p.file.table;
  };
  const a = table(LM63_A);
  const b = table(LM63_B);
  const beam = { kind: 'table', table: a } as const;
  const out = [
    row('light-16-A-zonal', 'file A, zonal flux', src, 3141.593, zonalFluxLm(a), 'lm', 0.0316),
    row('light-16-A-exact', 'file A, flux of the interpolant', src, 3123.525, tableFluxLm(a), 'lm', 0.0313),
    row('light-16-A-beam', 'file A, beam angle', src, 120, angleAtShare(beam, 0.5) / DEG, '°', 1.2e-3),
    row(
      'light-16-A-field',
      'file A, field angle, linear in angle',
      src,
      168.409,
      angleAtShare(beam, 0.1) / DEG,
      '°',
      1.7e-3,
    ),
    row('light-16-A-10', 'file A at 10°', src, 977.284, intensityAtC(a, 0, 10), 'cd', 1e-2),
    row('light-16-A-52', 'file A at 52.5°', src, 603.5535, intensityAtC(a, 77, 52.5), 'cd', 6e-3),
    row('light-16-B-200', 'file B at C 200, γ 45', src, 483.3333, intensityAtC(b, 200, 45), 'cd', 5e-3),
    row('light-16-B-100', 'file B at C 100, γ 45', src, 283.3333, intensityAtC(b, 100, 45), 'cd', 3e-3),
    row('light-16-B-zonal', 'file B, zonal flux', src, 1907.511, zonalFluxLm(b), 'lm', 0.019),
    row('light-16-B-exact', 'file B, flux of the interpolant', src, 1804.724, tableFluxLm(b), 'lm', 0.018),
  ];
  const wrapped = table(
    LM63_A.split('TILT=NONE\n')[0]!.concat(
      'TILT=NONE\n',
      LM63_A.split('TILT=NONE\n')[1]!
        .trim()
        .split(/\s+/)
        .map((v, i) => (i % 3 === 0 ? `${v},\t` : `${v}\r`))
        .join(''),
    ),
  );
  out.push(
    row(
      'light-16-C',
      'file C, file A wrapped: zonal flux',
      src,
      3141.593,
      zonalFluxLm(wrapped),
      'lm',
      0.0316,
    ),
  );
  out.push(
    row(
      'light-17-1991',
      'LM-63 scaling, 1991',
      'LM-63 rule as read [RADIANCE]',
      128.25,
      table(`IESNA91\n${LM63_SCALING}`).cd[0]!,
      'cd',
      1e-9,
    ),
  );
  out.push(
    row(
      'light-17-2002',
      'LM-63 scaling, 2002',
      'LM-63 rule as read [RADIANCE]',
      135,
      table(`IESNA:LM-63-2002\n${LM63_SCALING}`).cd[0]!,
      'cd',
      1e-9,
    ),
  );
  const ldt = parseEulumdat(EULUMDAT_SAMPLE);
  out.push(
    row(
      'light-17-ldt',
      'EULUMDAT 250 cd/klm with 3350 lm',
      'EULUMDAT item list [EULUMDAT]',
      837.5,
      ldt.ok ? ldt.file.table.cd[0]! : Number.NaN,
      'cd',
      1e-9,
    ),
  );
  // File D: a narrow spot sampled too coarsely.
  const narrow = (step: number): IntensityTable => {
    const verticalDeg = Array.from({ length: 90 / step + 1 }, (_, i) => i * step);
    return {
      type: 'C',
      verticalDeg,
      horizontalDeg: [0],
      cd: Float64Array.from(verticalDeg, (g) => 1e5 * Math.max(0, Math.cos(g * DEG)) ** 45.2776),
    };
  };
  for (const [step, lm] of [
    [5, 14349.96],
    [2.5, 13771.78],
    [1, 13608.36],
  ] as const)
    out.push(
      row(
        `light-16-D-${step}`,
        `file D, narrow spot by ${step}°`,
        src,
        lm,
        zonalFluxLm(narrow(step)),
        'lm',
        lm * 1e-5,
      ),
    );
  const iso: IntensityTable = {
    type: 'C',
    verticalDeg: Array.from({ length: 19 }, (_, i) => 10 * i),
    horizontalDeg: [0],
    cd: new Float64Array(19).fill(795.775),
  };
  out.push(row('light-16-E', 'file E, isotropic', src, 10000, zonalFluxLm(iso), 'lm', 0.1));
  out.push(
    row(
      'light-3.4-iso',
      '1000 lm in all directions',
      'arithmetic',
      79.5775,
      intensityCd(isotropicBeam(1000), [1, 0, 0]),
      'cd',
      1e-4,
    ),
  );
  return out;
}

/** The check rows of light. */
export const rows = (): CheckRow[] => [
  ...cieRows(),
  ...windowRows(),
  ...closedRows(),
  ...lampRows(),
  ...fileRows(),
];
