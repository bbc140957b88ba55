/** The camera's white balance in an angle: from kelvin, or by reading a white card under the lamps, gels and all. */

import { RESPONSES } from '../camera/response.ts';
import { balanceKelvin, balanceSurface, type WhiteBalance } from '../camera/whitebalance.ts';
import { cctOf } from '../colour/cct.ts';
import type { AngleGeometry, AngleWeights } from '../setup/angle.ts';
import { findProbe, xyzAt } from './lightAt.ts';
import type { Measured } from './measure.ts';

export interface Balanced {
  balance: WhiteBalance;
  /** What could not be done as asked, in words. */
  notes: string[];
}

/** `measured` is needed only where a card is read; without it (or without light there) 3200 K is used and said. */
export function balanceOf(
  angle: AngleGeometry,
  weights: AngleWeights,
  measured: Measured | undefined,
): Balanced {
  const camera = angle.rig.camera;
  const response = RESPONSES[camera.class];
  const wb = camera.whiteBalance;
  if (wb.kind === 'kelvin') return said(balanceKelvin(wb.kelvin, response));
  const i = measured ? findProbe(measured.plan.names, (n) => 'card' in n) : -1;
  const xyz =
    measured && i >= 0
      ? xyzAt(angle, measured, weights, i, wb.lamps ? new Set(wb.lamps) : undefined)
      : undefined;
  const read = xyz && xyz[1] > 1e-6 ? balanceSurface(xyz, response) : undefined;
  if (read) return said(read);
  return {
    balance: balanceKelvin(3200, response),
    notes: ['No light falls on the card the camera should be balanced on: 3200 K is used.'],
  };
}

const said = (balance: WhiteBalance): Balanced => ({
  balance,
  notes: balance.clamped
    ? ['This class of camera does not balance that far: it goes as near as it can, and a cast stays.']
    : [],
});

/** How a light comes out on a camera balanced so: warm (+) or cold (−) in mired, green (+) or magenta (−) in Duv. */
export interface Cast {
  cctK: number;
  mired: number;
  duv: number;
}

/** Undefined without light. Temperatures far off the locus are words rather than numbers: read Duv beside them. */
export function castOf(
  xyz: readonly [number, number, number],
  balance: Pick<WhiteBalance, 'cctK' | 'duv'>,
): Cast | undefined {
  if (!(xyz[1] > 0)) return undefined;
  const { cctK, duv } = cctOf(xyz);
  return { cctK, mired: 1e6 / cctK - 1e6 / balance.cctK, duv: duv - balance.duv };
}
