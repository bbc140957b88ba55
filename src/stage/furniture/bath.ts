/** A built-in bath: panelled sides, a rolled rim, a hollow one can see into, taps at its left end. Front along −y. */
import { cylinder, panel, pipe } from '../build.ts';
import { CHROME, ENAMEL } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import { loft } from './loft.ts';
import type { Piece } from './piece.ts';

export const bath: Piece = {
  kind: 'bath',
  // A common house bath; common practice, no source.
  sizeM: [1.7, 0.7, 0.56],
  outM: 0.2,
  build: ({ d, w, deep, h, slot, detail }) => {
    const s = slot(undefined, ENAMEL);
    const [hx, hy] = [w / 2, deep / 2];
    const rim = Math.min(0.07, hx / 3, hy / 3);
    const bottom = Math.max(0.02, h - Math.min(detail('deepM', 0.4), h * 0.8));
    const fall = h - bottom;
    loft(
      d,
      [
        { hx, hy, r: 0.05, z: 0 },
        { hx, hy, r: 0.05, z: h - 0.012 },
        { hx: hx - 0.006, hy: hy - 0.006, r: 0.05, z: h },
        { hx: hx - rim, hy: hy - rim, r: 0.08, z: h },
        { hx: hx - rim * 1.3, hy: hy - rim * 1.2, r: 0.12, z: h - fall * 0.25 },
        { hx: (hx - rim) * 0.88, hy: (hy - rim) * 0.84, r: 0.13, z: bottom + fall * 0.3 },
        { hx: (hx - rim) * 0.84, hy: (hy - rim) * 0.78, r: 0.13, z: bottom + fall * 0.08 },
        { hx: (hx - rim) * 0.78, hy: (hy - rim) * 0.68, r: 0.1, z: bottom },
      ],
      s,
    );
    const [bx, by] = [(hx - rim) * 0.79, (hy - rim) * 0.69];
    panel(d, [-bx, -by, bottom], [2 * bx, 0, 0], [0, 2 * by, 0], s);
    if (w < 0.6 || deep < 0.4) return;
    const chrome = slotOf(d, CHROME);
    for (const y of [-0.09, 0.09]) {
      const x = -hx + rim * 0.5;
      cylinder(d, [x, y, h], [x, y, h + 0.07], 0.017, chrome);
      cylinder(d, [x, y, h + 0.07], [x, y, h + 0.1], 0.03, chrome, { r1: 0.022 });
      pipe(
        d,
        [
          [x, y, h + 0.055],
          [x + 0.1, y, h + 0.06],
          [x + 0.11, y, h + 0.02],
        ],
        0.011,
        chrome,
      );
    }
  },
};
