/** Rows 16 and 17: photometric files [CHECKS-LIGHT §4, §8]. */
import { angleAtShare, intensityCd, isotropicBeam } from '../light/beam.ts';
import { parseEulumdat } from '../light/eulumdat.ts';
import { parseLm63 } from '../light/lm63.ts';
import type { IntensityTable } from '../light/photometry.ts';
import { intensityAtC, tableFluxLm, zonalFluxLm } from '../light/photometry.ts';
import { DEG } from '../maths/vec3.ts';
import { EULUMDAT_SAMPLE, LM63_A, LM63_B, LM63_SCALING } from './photometricFiles.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

/** Rows 16 and 17: photometric files. */
export function fileRows(): CheckRow[] {
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
