/**
 * A thin tube as lines of light: its illuminance in closed form, its gloss by few places chosen along the lobe.
 *
 * Seen from a point at the distance ρ from its line a tube fills an arc of a great circle, and lights it by
 * I₀ / (2 a ρ) ∫ cos φ (n·l) dφ (I₀ its greatest intensity, a half its length, φ from the foot of the point). For a long tube
 * as thick as may be that is exact as long as none of it is under the horizon: its field is a line's [HOWELL-C].
 *
 * Gloss: GGX is 1 / (1 + p²/α²)² in the slope p of the half vector [WALTER-2007; HEITZ-2014]. Along the arc, in
 * x = tan (ψ/2) about its middle, that slope is a quotient of two quadratics, nearly straight about its least. With
 * x = x₀ + W tan θ the lobe's peak and tails become smooth in θ, and by t = tan (θ/2) all is arithmetic: the integral is
 * taken by Gauss's rule in t [AS-1964], at places that follow the lobe from pixel to pixel. Within 1 % of dense sums,
 * mostly .1 %. A lobe sharp against the tube's breadth is taken on lines side by side, chosen in the same way across.
 */
import { gloss, lobe } from '../brdf.ts';
import type { EmitterSet } from '../emitter.ts';
import { STRIDE } from '../emitter.ts';

/** Gauss's rule of six places on −1 … 1 [AS-1964 T.25.4]. */
export const PLACE = Float64Array.of(
  -0.9324695142031521,
  -0.6612093864662645,
  -0.23861918608319693,
  0.23861918608319693,
  0.6612093864662645,
  0.9324695142031521,
);
export const SHARE = Float64Array.of(
  0.17132449237917027,
  0.3607615730481387,
  0.46791393457269104,
  0.46791393457269104,
  0.3607615730481387,
  0.17132449237917027,
);
const PLACES = 6;

/** One line does while a lobe (α × cosine of the eye) is so many times wider than the tube seems (radius over ρ). */
export const BROAD = 2.5;
/** Places where the least slope is looked for: how far outside the arc, and how near the horizon of the half vector. */
const FURTHEST = 3;
const LOWEST = 0.02;
/** Widest lobe that is told from an even one, in the same measure; beside an end it counts as wide as it is off over this. */
const WIDEST = 16;
const OFF = 4;
/** The breadth W by which places are chosen on −end … end for a lobe of breadth `wide` about x. */
const breadth = (wide: number, x: number, end: number): number =>
  Math.min(WIDEST, Math.max(wide, (Math.abs(x) - end) / OFF));

/** Last found by `lineLight`: lux, and luminance in the gloss. */
export const lineLit = { lux: 0, shine: 0 };

/** The arc of the last `layArc`: middle m, tangent t, half its tangent of half an angle X; foot direction u. */
const m = new Float64Array(3);
const t = new Float64Array(3);
const u = new Float64Array(3);
let X = 0;
/** Half angle of the arc's sine and cosine. */
let sinHalf = 0;
let cosHalf = 0;

/**
 * Lays out the arc of a line through (cx, cy, cz) − half … + half of (wx, wy, wz), seen from the origin, as far as it is
 * above the horizon of n; false if none of it is. `rho`: its distance.
 */
function layArc(
  cx: number,
  cy: number,
  cz: number,
  wx: number,
  wy: number,
  wz: number,
  half: number,
  nx: number,
  ny: number,
  nz: number,
): boolean {
  let ax = cx - half * wx;
  let ay = cy - half * wy;
  let az = cz - half * wz;
  let bx = cx + half * wx;
  let by = cy + half * wy;
  let bz = cz + half * wz;
  const na = ax * nx + ay * ny + az * nz;
  const nb = bx * nx + by * ny + bz * nz;
  if (na <= 0 && nb <= 0) return false;
  // An end under the horizon is cut off.
  if (na < 0) {
    const k = na / (na - nb);
    ax += k * (bx - ax);
    ay += k * (by - ay);
    az += k * (bz - az);
  } else if (nb < 0) {
    const k = nb / (nb - na);
    bx += k * (ax - bx);
    by += k * (ay - by);
    bz += k * (az - bz);
  }
  const ka = 1 / Math.sqrt(ax * ax + ay * ay + az * az);
  const kb = 1 / Math.sqrt(bx * bx + by * by + bz * bz);
  ax *= ka;
  ay *= ka;
  az *= ka;
  bx *= kb;
  by *= kb;
  bz *= kb;
  sinHalf = Math.sqrt((bx - ax) ** 2 + (by - ay) ** 2 + (bz - az) ** 2) / 2;
  cosHalf = Math.sqrt((bx + ax) ** 2 + (by + ay) ** 2 + (bz + az) ** 2) / 2;
  if (!(sinHalf > 0 && cosHalf > 0)) return false;
  m[0] = (ax + bx) / (2 * cosHalf);
  m[1] = (ay + by) / (2 * cosHalf);
  m[2] = (az + bz) / (2 * cosHalf);
  t[0] = (bx - ax) / (2 * sinHalf);
  t[1] = (by - ay) / (2 * sinHalf);
  t[2] = (bz - az) / (2 * sinHalf);
  X = sinHalf / (1 + cosHalf);
  return true;
}

/** The lobe on the arc: `x` of its least slope, slope there and its change. */
const peak = { x: 0, px: 0, py: 0, pz: 0, dx: 0, dy: 0, dz: 0, n: 0 };

/** Looks for the least slope of the half vector along the arc, by two steps of Gauss and Newton from the mirror's. */
function findPeak(nx: number, ny: number, nz: number, ex: number, ey: number, ez: number, en: number): void {
  const mn = m[0]! * nx + m[1]! * ny + m[2]! * nz;
  const tn = t[0]! * nx + t[1]! * ny + t[2]! * nz;
  const rx = 2 * en * nx - ex;
  const ry = 2 * en * ny - ey;
  const rz = 2 * en * nz - ez;
  const mr = m[0]! * rx + m[1]! * ry + m[2]! * rz;
  const tr = t[0]! * rx + t[1]! * ry + t[2]! * rz;
  let x = tr / Math.max(1e-6, Math.sqrt(mr * mr + tr * tr) + mr);
  x = Math.max(-FURTHEST, Math.min(FURTHEST, x));
  for (let step = 0; ; step++) {
    const lx = 1 - x * x;
    const l1 = 1 + x * x;
    // Half vector, not of unit length, and its change with x; both with the part along n taken out.
    const hn = lx * mn + 2 * x * tn + l1 * en;
    const gn = -2 * x * mn + 2 * tn + 2 * x * en;
    const k = 1 / Math.max(1e-6, hn);
    peak.px = (lx * m[0]! + 2 * x * t[0]! + l1 * ex) * k - nx;
    peak.py = (lx * m[1]! + 2 * x * t[1]! + l1 * ey) * k - ny;
    peak.pz = (lx * m[2]! + 2 * x * t[2]! + l1 * ez) * k - nz;
    peak.dx = (-2 * x * m[0]! + 2 * t[0]! + 2 * x * ex - gn * (nx + peak.px)) * k;
    peak.dy = (-2 * x * m[1]! + 2 * t[1]! + 2 * x * ey - gn * (ny + peak.py)) * k;
    peak.dz = (-2 * x * m[2]! + 2 * t[2]! + 2 * x * ez - gn * (nz + peak.pz)) * k;
    peak.x = x;
    peak.n = hn / l1;
    if (step === 2) return;
    const { px, py, pz, dx, dy, dz } = peak;
    const next = x - (px * dx + py * dy + pz * dz) / Math.max(1e-12, dx * dx + dy * dy + dz * dz);
    const to = Math.max(-FURTHEST, Math.min(FURTHEST, next));
    if ((1 - to * to) * mn + 2 * to * tn + (1 + to * to) * en > LOWEST) x = to;
  }
}

/** ∫ gloss × (n·l) cos φ dφ over the arc, whose peak is found; `f0` and `alpha` of the gloss. */
function alongLobe(
  f0: number,
  alpha: number,
  nx: number,
  ny: number,
  nz: number,
  ex: number,
  ey: number,
  ez: number,
): number {
  const { x, px, py, pz, dx, dy, dz } = peak;
  const slope2 = alpha * alpha + px * px + py * py + pz * pz;
  const W = breadth(Math.sqrt(slope2 / Math.max(1e-12, dx * dx + dy * dy + dz * dz)), x, X);
  const low = -X - x;
  const high = X - x;
  const from = low / (W + Math.sqrt(W * W + low * low));
  const to = high / (W + Math.sqrt(W * W + high * high));
  let sum = 0;
  for (let k = 0; k < PLACES; k++) {
    const s = (from + to) / 2 + ((to - from) / 2) * PLACE[k]!;
    const q = 1 / (1 - s * s);
    const y = x + 2 * W * s * q;
    const i = 1 / (1 + y * y);
    const c = (1 - y * y) * i;
    const d = 2 * y * i;
    const lx = c * m[0]! + d * t[0]!;
    const ly = c * m[1]! + d * t[1]!;
    const lz = c * m[2]! + d * t[2]!;
    gloss(f0, alpha, nx, ny, nz, lx, ly, lz, ex, ey, ez);
    sum +=
      SHARE[k]! *
      lobe.value *
      (lx * nx + ly * ny + lz * nz) *
      (lx * u[0]! + ly * u[1]! + lz * u[2]!) *
      (1 + s * s) *
      q *
      q *
      i;
  }
  // dφ = 2 i dx, dx = 2 W (1 + s²) q² ds, ds = (to − from) / 2.
  return sum * 2 * W * (to - from);
}

/**
 * Light of thin tube `e` at a point, as if nothing stood in its way: fills `lineLit`. Without gloss `f0` is 0. Points
 * inside it, or before its ends, get none: those are dark.
 */
export function lineLight(
  set: EmitterSet,
  e: number,
  px: number,
  py: number,
  pz: number,
  nx: number,
  ny: number,
  nz: number,
  ex: number,
  ey: number,
  ez: number,
  f0: number,
  alpha: number,
): void {
  const o = e * STRIDE;
  const { f } = set;
  const wx = f[o + 3]!;
  const wy = f[o + 4]!;
  const wz = f[o + 5]!;
  const R = f[o + 12]!;
  const half = f[o + 13]!;
  const cx = f[o]! - px;
  const cy = f[o + 1]! - py;
  const cz = f[o + 2]! - pz;
  const along = cx * wx + cy * wy + cz * wz;
  u[0] = cx - along * wx;
  u[1] = cy - along * wy;
  u[2] = cz - along * wz;
  const rho = Math.sqrt(u[0]! * u[0]! + u[1]! * u[1]! + u[2]! * u[2]!);
  lineLit.lux = 0;
  lineLit.shine = 0;
  if (!(rho > R)) return;
  u[0]! /= rho;
  u[1]! /= rho;
  u[2]! /= rho;
  const has = layArc(cx, cy, cz, wx, wy, wz, half, nx, ny, nz);
  const per = f[o + 15]! / (2 * half * rho);
  if (has) {
    const mu = m[0]! * u[0]! + m[1]! * u[1]! + m[2]! * u[2]!;
    const tu = t[0]! * u[0]! + t[1]! * u[1]! + t[2]! * u[2]!;
    const mn = m[0]! * nx + m[1]! * ny + m[2]! * nz;
    const tn = t[0]! * nx + t[1]! * ny + t[2]! * nz;
    const angle = 2 * Math.atan(X);
    const both = sinHalf * cosHalf;
    lineLit.lux = per * Math.max(0, mu * mn * (angle + both) + tu * tn * (angle - both));
  }
  const en = ex * nx + ey * ny + ez * nz;
  if (!(f0 > 0) || en <= 0) return;
  if (isBroad(alpha, en, R, rho)) {
    if (!has) return;
    findPeak(nx, ny, nz, ex, ey, ez, en);
    lineLit.shine = per * alongLobe(f0, alpha, nx, ny, nz, ex, ey, ez);
    return;
  }
  // Lines side by side: across them the lobe is narrowest where the slope is, square to its change along them.
  const gx = wy * u[2]! - wz * u[1]!;
  const gy = wz * u[0]! - wx * u[2]!;
  const gz = wx * u[1]! - wy * u[0]!;
  let q0 = 0;
  let W = 1;
  if (has) {
    findPeak(nx, ny, nz, ex, ey, ez, en);
    const { x, px: sx, py: sy, pz: sz, dx, dy, dz } = peak;
    const i = 1 / (1 + x * x);
    const c = (1 - x * x) * i;
    const d = 2 * x * i;
    const cosPhi =
      (c * m[0]! + d * t[0]!) * u[0]! + (c * m[1]! + d * t[1]!) * u[1]! + (c * m[2]! + d * t[2]!) * u[2]!;
    const k = (R * Math.max(0, cosPhi)) / (rho * Math.max(LOWEST, peak.n));
    const gn = gx * nx + gy * ny + gz * nz;
    let ax = k * (gx - gn * (nx + sx));
    let ay = k * (gy - gn * (ny + sy));
    let az = k * (gz - gn * (nz + sz));
    const inv = 1 / Math.max(1e-12, dx * dx + dy * dy + dz * dz);
    const aAlong = (ax * dx + ay * dy + az * dz) * inv;
    const sAlong = (sx * dx + sy * dy + sz * dz) * inv;
    ax -= aAlong * dx;
    ay -= aAlong * dy;
    az -= aAlong * dz;
    const a2 = Math.max(1e-12, ax * ax + ay * ay + az * az);
    q0 = -((sx - sAlong * dx) * ax + (sy - sAlong * dy) * ay + (sz - sAlong * dz) * az) / a2;
    q0 = Math.max(-FURTHEST, Math.min(FURTHEST, q0));
    W = breadth(alpha / Math.sqrt(a2), q0, 1);
  }
  const low = -1 - q0;
  const high = 1 - q0;
  const from = low / (W + Math.sqrt(W * W + low * low));
  const to = high / (W + Math.sqrt(W * W + high * high));
  for (let k = 0; k < PLACES; k++) {
    const s = (from + to) / 2 + ((to - from) / 2) * PLACE[k]!;
    const q = 1 / (1 - s * s);
    const off = R * (q0 + 2 * W * s * q);
    if (!layArc(cx + off * gx, cy + off * gy, cz + off * gz, wx, wy, wz, half, nx, ny, nz)) continue;
    findPeak(nx, ny, nz, ex, ey, ez, en);
    // Half of dq, whose whole is 2.
    lineLit.shine +=
      SHARE[k]! * W * (1 + s * s) * q * q * ((to - from) / 2) * alongLobe(f0, alpha, nx, ny, nz, ex, ey, ez);
  }
  lineLit.shine *= per;
}

/** Is a lobe so much wider than the tube that one line does? */
export const isBroad = (alpha: number, en: number, R: number, rho: number): boolean =>
  alpha * en * rho > BROAD * R;
