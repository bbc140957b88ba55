/** A slatted wooden crate, open at the top. */
import { box } from '../build.ts';
import { roundBox } from '../roundBox.ts';
import type { Piece } from './piece.ts';

const TONES = [1.05, 0.9, 1.1, 0.96, 0.99];

export const crate: Piece = {
  kind: 'crate',
  sizeM: [0.5, 0.36, 0.3],
  build: ({ d, w, deep, h, slot }) => {
    const s = slot();
    const ease = Math.min(0.0025, w / 40, deep / 40);
    const [x, y] = [w / 2, deep / 2];
    const t = Math.min(0.012, w / 10, deep / 10);
    const rows = Math.max(2, Math.round(h / 0.1));
    const each = h / rows;
    const gap = Math.min(0.012, each / 5);
    for (let k = 0; k < rows; k++) {
      const z0 = k * each + (k ? gap : 0);
      const z1 = (k + 1) * each;
      for (const side of [-1, 1]) {
        // No two boards of a crate are from one tree.
        const [one, two] = [0, 1].map((e) =>
          slot(undefined, undefined, TONES[(2 * k + e + (side > 0 ? 3 : 0)) % 5]),
        );
        roundBox(d, [-x, side > 0 ? y - t : -y, z0], [x, side > 0 ? y : -y + t, z1], ease, one!);
        roundBox(d, [side > 0 ? x - t : -x, -y + t, z0], [side > 0 ? x : -x + t, y - t, z1], ease, two!);
      }
    }
    box(d, [-x + t, -y + t, 0.005], [x - t, y - t, 0.005 + t], s);
    // Corner posts inside.
    for (const sx of [-1, 1])
      for (const sy of [-1, 1]) {
        const cx = sx * (x - t - 0.012);
        const cy = sy * (y - t - 0.012);
        if (w > 0.15 && deep > 0.15)
          box(d, [cx - 0.012, cy - 0.012, 0.02], [cx + 0.012, cy + 0.012, h - 0.01], s);
      }
  },
};
