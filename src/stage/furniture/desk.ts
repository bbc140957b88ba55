/** A writing desk: a top on two pedestals of drawers, knees along local −y; `detail.pedestals` 1: the right one only. */
import { box } from '../build.ts';
import { VARNISH } from '../finish.ts';
import { roundBox } from '../roundBox.ts';
import { pull } from './case.ts';
import type { Piece } from './piece.ts';
import { planks } from './table.ts';

export const desk: Piece = {
  kind: 'desk',
  sizeM: [1.3, 0.65, 0.76],
  outM: 0.04,
  build: ({ d, w, deep, h, slot, detail }) => {
    const [x, y] = [w / 2, deep / 2];
    const s = slot(undefined, VARNISH);
    const top = 0.03;
    planks(d, [-x, -y, h - top], [x, y, h], (tone) => slot('top', VARNISH, tone), 0.16, 0.004);
    const wide = Math.min(0.4, w * 0.3);
    const one = detail('pedestals', 2) < 2;
    for (const side of [-1, 1]) {
      const a = side < 0 ? -x + 0.02 : x - 0.02 - wide;
      if (one && side < 0) {
        box(d, [-x + 0.02, -y + 0.04, 0], [-x + 0.045, y - 0.03, h - top], s, { without: ['z-'] });
        continue;
      }
      roundBox(d, [a, -y + 0.03, 0.04], [a + wide, y - 0.02, h - top], 0.003, s, { without: ['z+'] });
      box(d, [a + 0.01, -y + 0.05, 0], [a + wide - 0.01, y - 0.03, 0.04], s, { without: ['z-', 'z+'] });
      const n = 3;
      const each = (h - top - 0.06) / n;
      for (let k = 0; k < n; k++) {
        const z = 0.05 + k * each;
        roundBox(
          d,
          [a + 0.008, -y + 0.014, z],
          [a + wide - 0.008, -y + 0.03, z + each - 0.006],
          0.004,
          slot('drawers', VARNISH),
          { without: ['y+'] },
        );
        pull(d, a + wide / 2, -y + 0.014, z + each / 2, Math.min(0.1, wide / 2), true);
      }
    }
    // Knee board at the back.
    box(d, [-x + 0.04, y - 0.05, 0.3], [x - 0.04, y - 0.03, h - top], s);
  },
};
