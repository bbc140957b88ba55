/** An upright piano: case, keyboard with its black keys, fall board, music desk, two pedals. Front along local −y. */

import { neutral } from '../../colour/reflectance.ts';
import { spectrumOf } from '../../colour/spectrum.ts';
import type { Vec3 } from '../../maths/vec3.ts';
import { box, cylinder } from '../build.ts';
import { BLACK_PAINT, VARNISH } from '../finish.ts';
import { newPatch, polygon, slotOf } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';
import type { Material } from '../stage.ts';
import type { Piece } from './piece.ts';

/** Key tops and pedals; judgement. */
const IVORY: Material = {
  name: 'piano keys',
  reflectance: neutral(0.7),
  kind: 'opaque',
  gloss: { f0: 0.04, roughness: 0.25 },
};
const BRASS: Material = {
  name: 'brass',
  reflectance: neutral(0.3),
  kind: 'opaque',
  gloss: {
    f0: 0.85,
    roughness: 0.3,
    // Copper and zinc send back blue least (from memory).
    tint: spectrumOf((nm) => Math.min(1, 0.42 + (0.58 * Math.max(0, nm - 440)) / 160)),
  },
};
/** A white key is so wide, metres: an octave of 165 mm over seven (a common span, from memory). */
const KEY_M = 0.165 / 7;

export const piano: Piece = {
  kind: 'piano',
  sizeM: [1.48, 0.6, 1.2],
  build: ({ d, w, deep, h, slot }) => {
    const s = slot(undefined, VARNISH);
    const keys = slotOf(d, IVORY);
    const black = slotOf(d, BLACK_PAINT);
    const [x, y] = [w / 2, deep / 2];
    const side = Math.min(0.05, w / 12);
    // The case stands behind; the key bed comes forward of it.
    const front = -y + Math.min(0.24, deep * 0.42);
    const bed = Math.min(0.64, h * 0.55);
    const top = Math.min(bed + 0.12, h * 0.68);
    roundBox(d, [-x, front, 0.03], [x, y, h - 0.03], 0.004, s);
    roundBox(d, [-x, front - 0.03, h - 0.03], [x, y, h], 0.01, s, { steps: 2 });
    for (const k of [-1, 1]) {
      const [a, b] = k < 0 ? [-x, -x + side] : [x - side, x];
      // Cheek beside the keys, leg under it, toe on the floor.
      roundBox(d, [a, -y, bed - 0.02], [b, front, top + 0.02], 0.014, s, { steps: 2 });
      roundBox(d, [a, -y + 0.02, 0.06], [b, -y + 0.07, bed - 0.02], 0.006, s);
      roundBox(d, [a, -y, 0], [b, front, 0.06], 0.01, s, { without: ['z-'] });
    }
    box(d, [-x + side, -y + 0.01, bed - 0.02], [x - side, front, bed + 0.02], s);
    // Slip before the keys, board behind them, the fall leaning back.
    box(d, [-x + side, -y + 0.01, bed + 0.02], [x - side, -y + 0.03, bed + 0.05], s);
    const [k0, k1] = [-y + 0.03, Math.min(front - 0.01, -y + 0.18)];
    const half = Math.min(x - side - 0.02, 26 * KEY_M);
    const z = bed + 0.055;
    if (k1 - k0 < 0.04 || half < 0.1) return;
    for (const k of [-1, 1]) {
      const [a, b] = k < 0 ? [-x + side, -half] : [half, x - side];
      box(d, [a, k0, bed + 0.02], [b, front, z + 0.012], s);
    }
    const count = Math.floor((2 * half) / KEY_M);
    for (let p = 0; p < Math.ceil(count / 7); p++) {
      // An octave shares a patch; the gaps between keys are lines of shadow.
      const patch = newPatch(d);
      for (let n = p * 7; n < Math.min(count, p * 7 + 7); n++) {
        const a = -half + n * KEY_M + 0.0006;
        const b = -half + (n + 1) * KEY_M - 0.0006;
        const corners: Vec3[] = [
          [a, k0, z],
          [b, k0, z],
          [b, k1, z],
          [a, k1, z],
        ];
        polygon(d, corners, keys, patch);
        polygon(
          d,
          [
            [a, k0, z - 0.02],
            [b, k0, z - 0.02],
            [b, k0, z],
            [a, k0, z],
          ],
          keys,
          patch,
        );
      }
    }
    // Under them it is dark.
    box(d, [-half, k0 + 0.003, bed + 0.02], [half, k1, z - 0.004], black, { without: ['z-'] });
    for (let n = 0; n < count - 1; n++) {
      if (![0, 1, 3, 4, 5].includes(n % 7)) continue;
      const c = -half + (n + 1) * KEY_M;
      box(d, [c - 0.0055, k0 + 0.05, z], [c + 0.0055, k1, z + 0.011], black, { without: ['z-', 'y+'] });
    }
    box(d, [-half, k1, bed + 0.02], [half, front, z + 0.03], s);
    const fall: Vec3[] = [
      [-half, k1, z + 0.03],
      [half, k1, z + 0.03],
      [half, front - 0.004, top + 0.06],
      [-half, front - 0.004, top + 0.06],
    ];
    for (let k = 0; k < 6; k++) {
      const at = (v: Vec3, u: Vec3, t: number): Vec3 => [v[0] + (u[0] - v[0]) * t, v[1], v[2]];
      polygon(
        d,
        [
          at(fall[0]!, fall[1]!, k / 6),
          at(fall[0]!, fall[1]!, (k + 1) / 6),
          at(fall[3]!, fall[2]!, (k + 1) / 6),
          at(fall[3]!, fall[2]!, k / 6),
        ],
        s,
        newPatch(d),
      );
    }
    // Panels let into the front, a ledge for music, pedals.
    if (h > 0.8 && w > 0.6) {
      box(d, [-x * 0.75, front - 0.012, top + 0.12], [x * 0.75, front, h - 0.12], s);
      box(d, [-x * 0.5, front - 0.06, top + 0.1], [x * 0.5, front, top + 0.115], s);
      box(d, [-x * 0.8, front - 0.012, 0.12], [x * 0.8, front, bed - 0.08], s);
      const brass = slotOf(d, BRASS);
      for (const k of [-0.07, 0.07]) {
        cylinder(d, [k, front, 0.06], [k, front - 0.09, 0.05], 0.008, brass);
        box(d, [k - 0.018, front - 0.14, 0.04], [k + 0.018, front - 0.08, 0.05], brass);
      }
    }
  },
};
