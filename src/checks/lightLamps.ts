/** Row 15, beams and gels [CHECKS-LIGHT §3.4, §5.9, §8]. */
import { cctOf, mired } from '../colour/cct.ts';
import { planck } from '../colour/planck.ts';
import { product } from '../colour/spectrum.ts';
import { xyzOf } from '../colour/xyz.ts';
import { angleAtShare, cosineBeam, exponentOfBeam, fluxLm } from '../light/beam.ts';
import { gelById, luminousTransmittance } from '../light/gels.ts';
import { GEL_PARAMETERS } from '../light/gelTable.ts';
import { atVolts } from '../light/tungsten.ts';
import { DEG } from '../maths/vec3.ts';
import { rel } from './lightTolerance.ts';
import type { CheckRow } from './row.ts';
import { row } from './row.ts';

/** Row 15 and the mired shifts and transmittances of the gels. */
export function lampRows(): CheckRow[] {
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
