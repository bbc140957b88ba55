/** A round stool on four splayed legs with a ring of rails. */
import { cylinder } from '../build.ts';
import { VARNISH } from '../finish.ts';
import type { Piece } from './piece.ts';

export const stool: Piece = {
  kind: 'stool',
  sizeM: [0.36, 0.36, 0.46],
  build: ({ d, w, deep, h, slot }) => {
    const s = slot(undefined, VARNISH);
    const r = Math.min(w, deep) / 2;
    const t = Math.min(0.035, h / 6);
    cylinder(d, [0, 0, h - t], [0, 0, h], r * 0.92, slot('seat', VARNISH), { sides: 24 });
    const at = (k: number, share: number, z: number) => {
      const a = (k + 0.5) * (Math.PI / 2);
      return [share * r * Math.cos(a) * 1.1, share * r * Math.sin(a) * 1.1, z] as const;
    };
    for (let k = 0; k < 4; k++) {
      // Feet reach the corners of the box it stands in.
      const foot = [
        (k === 0 || k === 3 ? 1 : -1) * (w / 2 - 0.016),
        (k < 2 ? 1 : -1) * (deep / 2 - 0.016),
        0.005,
      ] as const;
      cylinder(d, foot, at(k, 0.6, h - t), 0.016, s);
      const next = (k + 1) % 4;
      const low = (j: number) => {
        const [fx, fy] = [
          (j === 0 || j === 3 ? 1 : -1) * (w / 2 - 0.016),
          (j < 2 ? 1 : -1) * (deep / 2 - 0.016),
        ];
        const u = at(j, 0.6, h - t);
        const q = 0.35;
        return [fx + (u[0] - fx) * q, fy + (u[1] - fy) * q, (h - t) * q] as const;
      };
      cylinder(d, low(k), low(next), 0.01, s);
    }
  },
};
