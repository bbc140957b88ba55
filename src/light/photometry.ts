/**
 * Measured intensity distributions (the net of angles in an LM-63 or EULUMDAT file) in one form: C planes, γ from
 * the photometric zero.
 */
import type { Vec3 } from '../maths/vec3.ts';
import { DEG } from '../maths/vec3.ts';

/**
 * Intensities on a net of angles. The lamp's frame: z the photometric zero (γ = 0: the beam's axis, or straight
 * down), C = 0 toward x, C = 90 toward y.
 */
export interface IntensityTable {
  /**
   * `C`: polar axis along z; rows are C planes, columns γ 0–180. `B`: polar axis along x … rows are horizontal
   * angles H (turn about y), columns vertical angles V. `A`: the same with the axes changed over.
   */
  type: 'A' | 'B' | 'C';
  /** Columns, ascending degrees. */
  verticalDeg: readonly number[];
  /** Rows, ascending degrees. */
  horizontalDeg: readonly number[];
  /** rows × columns, cd: all columns of row 0, then of row 1 … */
  cd: Float64Array;
}

/** Index and share for linear interpolation; undefined outside the list (no light there). */
function bracket(list: readonly number[], x: number): { i: number; t: number } | undefined {
  const n = list.length;
  if (n === 0 || x < list[0]! - 1e-9 || x > list[n - 1]! + 1e-9) return undefined;
  if (n === 1) return { i: 0, t: 0 };
  let lo = 0;
  let hi = n - 1;
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if (list[mid]! <= x) lo = mid;
    else hi = mid;
  }
  const t = (x - list[lo]!) / (list[hi]! - list[lo]!);
  return { i: lo, t: Math.min(1, Math.max(0, t)) };
}

const bilinear = (
  t: IntensityTable,
  h: { i: number; t: number },
  v: { i: number; t: number },
  wrapRow?: number,
): number => {
  const n = t.verticalDeg.length;
  const at = (row: number, col: number): number => t.cd[row * n + Math.min(col, n - 1)] ?? 0;
  const row1 = wrapRow ?? Math.min(h.i + 1, t.horizontalDeg.length - 1);
  const a = at(h.i, v.i) * (1 - v.t) + at(h.i, v.i + 1) * v.t;
  const b = at(row1, v.i) * (1 - v.t) + at(row1, v.i + 1) * v.t;
  return a * (1 - h.t) + b * h.t;
};

/** The stored plane for any C angle, by the symmetry the list of planes declares [LM-63-2002], [CHECKS-LIGHT §4.1]. */
export function foldC(horizontalDeg: readonly number[], cDeg: number): number {
  const c = ((cDeg % 360) + 360) % 360;
  const first = horizontalDeg[0]!;
  const last = horizontalDeg[horizontalDeg.length - 1]!;
  if (horizontalDeg.length === 1) return first;
  if (first === 0 && last === 90) return 90 - Math.abs(Math.abs(c - 180) - 90);
  if (first === 0 && last === 180) return 180 - Math.abs(c - 180);
  if (first === 90 && last === 270) return c < 90 ? 180 - c : c > 270 ? 540 - c : c;
  return c;
}

/** cd at (C, γ) in degrees for a type C net. Zero outside the listed γ. */
export function intensityAtC(table: IntensityTable, cDeg: number, gammaDeg: number): number {
  const v = bracket(table.verticalDeg, gammaDeg);
  if (v === undefined) return 0;
  const c = foldC(table.horizontalDeg, cDeg);
  const h = bracket(table.horizontalDeg, c);
  if (h !== undefined) return bilinear(table, h, v);
  // A list that stops short of 360 (or starts after 0): join its ends round the circle.
  const n = table.horizontalDeg.length;
  const last = table.horizontalDeg[n - 1]!;
  const first = table.horizontalDeg[0]! + 360;
  const t = ((c < last ? c + 360 : c) - last) / (first - last);
  return bilinear(table, { i: n - 1, t }, v, 0);
}

/** cd at horizontal and vertical angles (degrees) for a type A or B net; a list from 0 mirrors. */
export function intensityAtHV(table: IntensityTable, hDeg: number, vDeg: number): number {
  const h = bracket(table.horizontalDeg, table.horizontalDeg[0] === 0 ? Math.abs(hDeg) : hDeg);
  const v = bracket(table.verticalDeg, table.verticalDeg[0] === 0 ? Math.abs(vDeg) : vDeg);
  return h === undefined || v === undefined ? 0 : bilinear(table, h, v);
}

/** cd toward a unit vector in the lamp's frame. */
export function tableIntensityCd(table: IntensityTable, dir: Vec3): number {
  const [x, y, z] = dir;
  const clamp = (c: number): number => Math.min(1, Math.max(-1, c));
  if (table.type === 'C') {
    const gamma = Math.acos(clamp(z)) / DEG;
    return intensityAtC(table, Math.atan2(y, x) / DEG, gamma);
  }
  // B: polar axis horizontal (x): vertical angle round x, horizontal angle toward x. A: the other way about.
  if (table.type === 'B') return intensityAtHV(table, Math.asin(clamp(x)) / DEG, Math.atan2(y, z) / DEG);
  return intensityAtHV(table, Math.atan2(x, z) / DEG, Math.asin(clamp(y)) / DEG);
}

/** Mean over C of the row weights: the share of the circle each stored plane stands for (trapezoids). */
function planeWeights(horizontalDeg: readonly number[]): number[] {
  const n = horizontalDeg.length;
  if (n === 1) return [1];
  const first = horizontalDeg[0]!;
  const last = horizontalDeg[n - 1]!;
  const w = new Array<number>(n).fill(0);
  for (let i = 0; i + 1 < n; i++) {
    const half = (horizontalDeg[i + 1]! - horizontalDeg[i]!) / 2;
    w[i]! += half;
    w[i + 1]! += half;
  }
  const folded = (first === 0 && (last === 90 || last === 180)) || (first === 90 && last === 270);
  if (!folded && last - first < 360) {
    const half = (360 - (last - first)) / 2;
    w[0]! += half;
    w[n - 1]! += half;
  }
  const sum = w.reduce((s, v) => s + v, 0);
  return w.map((v) => v / sum);
}

/** Intensity averaged round the axis for each γ of a type C net, cd. */
export function meanOverC(table: IntensityTable): number[] {
  const w = planeWeights(table.horizontalDeg);
  const n = table.verticalDeg.length;
  return table.verticalDeg.map((_, k) => w.reduce((s, wi, row) => s + wi * table.cd[row * n + k]!, 0));
}

/** Zonal flux, lm: Σ 2π(cos γᵢ − cos γᵢ₊₁)(Iᵢ + Iᵢ₊₁)/2, the trade's sum (exact for a Lambertian) [CHECKS-LIGHT §4.1]. */
export function zonalFluxLm(table: IntensityTable): number {
  const mean = meanOverC(table);
  let flux = 0;
  for (let i = 0; i + 1 < mean.length; i++) {
    const a = table.verticalDeg[i]! * DEG;
    const b = table.verticalDeg[i + 1]! * DEG;
    flux += Math.PI * (Math.cos(a) - Math.cos(b)) * (mean[i]! + mean[i + 1]!);
  }
  return flux;
}

/** Flux, lm, of exactly what `tableIntensityCd` returns: linear in angle between the net's points. */
export function tableFluxLm(table: IntensityTable): number {
  if (table.type !== 'C') return fluxHV(table);
  const mean = meanOverC(table);
  let flux = 0;
  for (let i = 0; i + 1 < mean.length; i++) {
    const a = table.verticalDeg[i]! * DEG;
    const b = table.verticalDeg[i + 1]! * DEG;
    const slope = (mean[i + 1]! - mean[i]!) / (b - a);
    // ∫(I + slope(γ−a)) sinγ dγ = I(cos a − cos b) + slope(sin b − sin a − (b−a)cos b)
    flux +=
      mean[i]! * (Math.cos(a) - Math.cos(b)) + slope * (Math.sin(b) - Math.sin(a) - (b - a) * Math.cos(b));
  }
  return 2 * Math.PI * flux;
}

/** Numeric flux of an A or B net on a 0.5° grid of latitude and longitude (within 1e-4 for smooth beams). */
function fluxHV(table: IntensityTable): number {
  const n = 360;
  let flux = 0;
  for (let i = 0; i < n; i++) {
    const lat = ((i + 0.5) / n - 0.5) * 180;
    const ring = Math.cos(lat * DEG) * (Math.PI / n) ** 2 * 2;
    let sum = 0;
    for (let j = 0; j < n; j++) {
      const lon = ((j + 0.5) / n - 0.5) * 360;
      sum += table.type === 'B' ? intensityAtHV(table, lat, lon) : intensityAtHV(table, lon, lat);
    }
    flux += ring * sum;
  }
  return flux;
}
