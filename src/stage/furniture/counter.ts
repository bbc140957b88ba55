/** A counter of a shop, bar or office: panelled front along local −y, a top that overhangs it, a kick board. */
import { box } from '../build.ts';
import { VARNISH } from '../finish.ts';
import { roundBox } from '../roundBox.ts';
import type { Piece } from './piece.ts';

export const counter: Piece = {
  kind: 'counter',
  sizeM: [1.8, 0.6, 1.05],
  build: ({ d, w, deep, h, slot }) => {
    const [x, y] = [w / 2, deep / 2];
    const s = slot(undefined, VARNISH);
    const top = Math.min(0.04, h / 8);
    const over = Math.min(0.06, deep / 6);
    roundBox(d, [-x, -y, h - top], [x, y, h], Math.min(0.01, top / 3), slot('top', VARNISH), { steps: 2 });
    box(d, [-x + 0.02, -y + over, 0.1], [x - 0.02, y, h - top], s, { without: ['z+'] });
    box(d, [-x + 0.04, -y + over + 0.05, 0], [x - 0.04, y, 0.1], slot('plinth'), { without: ['z-', 'z+'] });
    // Raised panels, one each 60 cm or so.
    const n = Math.max(1, Math.round(w / 0.6));
    const each = (w - 0.04) / n;
    for (let k = 0; k < n; k++) {
      const a = -x + 0.02 + k * each + 0.05;
      roundBox(d, [a, -y + over - 0.012, 0.18], [a + each - 0.1, -y + over, h - top - 0.08], 0.008, s, {
        without: ['y+'],
      });
    }
  },
};
