/** CIELAB and the CIEDE2000 colour difference. */
import type { XYZ } from './xyz.ts';

export type Lab = readonly [number, number, number];

const f = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27 / 116) * t + 16 / 116);

/** L*, a*, b* of XYZ against a white of the same scale [CIE-15 §8.2.1]. */
export function labOf(xyz: XYZ, white: XYZ): [number, number, number] {
  const fx = f(xyz[0] / white[0]);
  const fy = f(xyz[1] / white[1]);
  const fz = f(xyz[2] / white[2]);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

/** XYZ of L*, a*, b*. */
export function xyzOfLab([L, a, b]: Lab, white: XYZ): [number, number, number] {
  const fy = (L + 16) / 116;
  const inverse = (t: number): number => (t > 6 / 29 ? t ** 3 : (116 * t - 16) / (24389 / 27));
  return [white[0] * inverse(fy + a / 500), white[1] * inverse(fy), white[2] * inverse(fy - b / 200)];
}

const rad = Math.PI / 180;

/** CIEDE2000, all factors 1 [CIE-142], [SHARMA-2005]. */
export function deltaE2000(one: Lab, two: Lab): number {
  const [L1, a1, b1] = one;
  const [L2, a2, b2] = two;
  // Chroma with the correction of a* near the neutral axis.
  const mean7 = ((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2) ** 7;
  const G = 0.5 * (1 - Math.sqrt(mean7 / (mean7 + 25 ** 7)));
  const p1 = (1 + G) * a1;
  const p2 = (1 + G) * a2;
  const C1 = Math.hypot(p1, b1);
  const C2 = Math.hypot(p2, b2);
  const hue = (b: number, a: number): number =>
    a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / rad + 360) % 360;
  const h1 = hue(b1, p1);
  const h2 = hue(b2, p2);
  // Differences of lightness, chroma, hue.
  const dL = L2 - L1;
  const dC = C2 - C1;
  let dh = 0;
  if (C1 * C2 !== 0) {
    dh = h2 - h1;
    if (dh > 180) dh -= 360;
    else if (dh < -180) dh += 360;
  }
  const dH = 2 * Math.sqrt(C1 * C2) * Math.sin((dh / 2) * rad);
  // Means.
  const Lm = (L1 + L2) / 2;
  const Cm = (C1 + C2) / 2;
  let hm = h1 + h2;
  if (C1 * C2 !== 0) {
    if (Math.abs(h1 - h2) <= 180) hm /= 2;
    else hm = hm < 360 ? (hm + 360) / 2 : (hm - 360) / 2;
  }
  // Weights and the rotation in the blue.
  const T =
    1 -
    0.17 * Math.cos((hm - 30) * rad) +
    0.24 * Math.cos(2 * hm * rad) +
    0.32 * Math.cos((3 * hm + 6) * rad) -
    0.2 * Math.cos((4 * hm - 63) * rad);
  const SL = 1 + (0.015 * (Lm - 50) ** 2) / Math.sqrt(20 + (Lm - 50) ** 2);
  const SC = 1 + 0.045 * Cm;
  const SH = 1 + 0.015 * Cm * T;
  const RC = 2 * Math.sqrt(Cm ** 7 / (Cm ** 7 + 25 ** 7));
  const RT = -Math.sin(60 * rad * Math.exp(-(((hm - 275) / 25) ** 2))) * RC;
  const l = dL / SL;
  const c = dC / SC;
  const h = dH / SH;
  return Math.sqrt(l * l + c * c + h * h + RT * c * h);
}
