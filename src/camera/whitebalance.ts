/** White balance: which light the camera takes for white, within what it can reach. */
import { adaptation, BRADFORD } from '../colour/cat.ts';
import { cctOf } from '../colour/cct.ts';
import { daylightXy } from '../colour/daylight.ts';
import { planckXy } from '../colour/planck.ts';
import { D65_WHITE, XYZ_TO_RGB } from '../colour/rgb.ts';
import type { Chromaticity, XYZ } from '../colour/xyz.ts';
import { uvOfXy, xyOfUv, xyzOfXy } from '../colour/xyz.ts';
import { product3, times3 } from '../maths/linear.ts';
import type { Response } from './response.ts';

export interface WhiteBalance {
  /** The light that comes out white, Y = 1. */
  white: XYZ;
  cctK: number;
  duv: number;
  /** What was asked or read, before the camera's limits. */
  askedK: number;
  askedDuv: number;
  /** True where the camera could not go as far as asked: the surface read stays tinted. */
  clamped: boolean;
  /** XYZ → linear BT.709 RGB, row-major; the white gives equal channels, its Y kept as the level. */
  matrix: readonly number[];
}

/** Black body below 4000 K, CIE daylight from 5000 K, a straight mix between, as cameras' presets run. */
export function presetXy(cctK: number): Chromaticity {
  if (cctK <= 4000) return planckXy(cctK);
  const day = daylightXy(cctK);
  if (cctK >= 5000) return day;
  const t = (cctK - 4000) / 1000;
  const p = planckXy(cctK);
  return { x: p.x + (day.x - p.x) * t, y: p.y + (day.y - p.y) * t };
}

/** The chromaticity at a temperature and distance from the black-body locus (Duv, green positive). */
export function offsetXy(cctK: number, duv: number): Chromaticity {
  const at = uvOfXy(planckXy(cctK));
  const next = uvOfXy(planckXy(cctK * 1.001));
  // Unit vector along the locus toward cooler light; its left-hand normal points to green.
  const du = next.u - at.u;
  const dv = next.v - at.v;
  const l = Math.hypot(du, dv);
  const n = { u: dv / l, v: -du / l };
  const sign = n.v > 0 ? 1 : -1;
  return xyOfUv(at.u + sign * n.u * duv, at.v + sign * n.v * duv);
}

const make = (xy: Chromaticity, asked: { cctK: number; duv: number }, clamped: boolean): WhiteBalance => {
  const white = xyzOfXy(xy);
  const { cctK, duv } = cctOf(white);
  return {
    white,
    cctK,
    duv,
    askedK: asked.cctK,
    askedDuv: asked.duv,
    clamped,
    matrix: product3(XYZ_TO_RGB, adaptation(white, D65_WHITE, BRADFORD)),
  };
};

const within = (v: number, lo: number, hi: number): number => Math.min(hi, Math.max(lo, v));

/** Balanced to a number of kelvin on the presets' line. */
export function balanceKelvin(cctK: number, response: Response): WhiteBalance {
  const k = within(cctK, response.kelvinRange[0], response.kelvinRange[1]);
  return make(presetXy(k), { cctK, duv: 0 }, k !== cctK);
}

/**
 * Balanced by reading a surface: the XYZ it sends to the camera under whatever lights it, gel and all. Beyond the
 * class's limits the nearest reachable white is taken and `clamped` says so. Undefined for a black reading.
 */
export function balanceSurface(xyz: XYZ, response: Response): WhiteBalance | undefined {
  if (!(xyz[1] > 0)) return undefined;
  const asked = cctOf(xyz);
  const cctK = within(asked.cctK, response.kelvinRange[0], response.kelvinRange[1]);
  const duv = within(asked.duv, -response.duvRange, response.duvRange);
  const clamped = cctK !== asked.cctK || duv !== asked.duv;
  const sum = xyz[0] + xyz[1] + xyz[2];
  const xy = clamped ? offsetXy(cctK, duv) : { x: xyz[0] / sum, y: xyz[1] / sum };
  return make(xy, asked, clamped);
}

/** Linear camera RGB (BT.709 primaries) of XYZ; the balanced white with Y gives R = G = B = Y. */
export const applyBalance = (wb: WhiteBalance, xyz: XYZ): [number, number, number] => times3(wb.matrix, xyz);

/** Gains of the three sharpened (Bradford) channels against D65, the middle one 1. */
export function channelGains(wb: WhiteBalance): [number, number, number] {
  const d = times3(BRADFORD, D65_WHITE);
  const w = times3(BRADFORD, wb.white);
  const g = d[1] / w[1];
  return [d[0] / w[0] / g, 1, d[2] / w[2] / g];
}
