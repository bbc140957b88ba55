/** Chromatic adaptation: what a colour under one white becomes under another. */
import { inverse3, product3, times3 } from '../maths/linear.ts';
import type { XYZ } from './xyz.ts';

/** Cone-like spaces: XYZ → sharpened responses, row-major [CHECKS-LIGHT §5.10]. */
export const BRADFORD: readonly number[] = [
  0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296,
];
export const CAT02: readonly number[] = [
  0.7328, 0.4296, -0.1624, -0.7036, 1.6975, 0.0061, 0.003, 0.0136, 0.9834,
];
export const CAT16: readonly number[] = [
  0.401288, 0.650173, -0.051461, -0.250268, 1.204414, 0.045854, -0.002079, 0.048952, 0.953127,
];

/** 3 × 3 that takes colours seen under `from` to what looks the same under `to` (complete adaptation). */
export function adaptation(from: XYZ, to: XYZ, cone: readonly number[] = BRADFORD): number[] {
  const a = times3(cone, from);
  const b = times3(cone, to);
  const gain = [b[0] / a[0], 0, 0, 0, b[1] / a[1], 0, 0, 0, b[2] / a[2]];
  return product3(inverse3(cone), product3(gain, cone));
}
