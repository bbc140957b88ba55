/**
 * A fireplace before a chimney breast: mantel shelf, surround, a dark opening one sees into with a grate in it, a hearth.
 * Front along local −y. `detail`: `openWM`, `openHM` the opening; fire itself is a lamp.
 */
import { bar, box, panel } from '../build.ts';
import { BLACK_PAINT, VARNISH } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';
import type { Piece } from './piece.ts';

export const fireplace: Piece = {
  kind: 'fireplace',
  sizeM: [1.3, 0.4, 1.15],
  build: ({ d, w, deep, h, slot, detail }) => {
    const [x, y] = [w / 2, deep / 2];
    const s = slot(undefined, VARNISH);
    const hearth = slot('hearth');
    const soot = slotOf(d, BLACK_PAINT);
    const slab = Math.min(0.05, h * 0.1);
    const shelf = Math.min(0.05, h * 0.1);
    const front = -y + Math.min(0.2, deep * 0.45);
    const half = Math.min(detail('openWM', 0.52), w * 0.7) / 2;
    const top = Math.min(slab + detail('openHM', 0.62), h - shelf - 0.02);
    // Hearth before it, shelf over it.
    roundBox(d, [-x, -y, 0], [x, y, slab], 0.006, hearth, { without: ['z-'] });
    const out = front - Math.min(0.12, deep * 0.2);
    roundBox(d, [-x, out, h - shelf], [x, y, h], Math.min(0.012, shelf / 3), s, { steps: 2 });
    roundBox(d, [-x + 0.03, front - 0.02, h - shelf - 0.04], [x - 0.03, y, h - shelf], 0.01, s, { steps: 2 });
    // Jambs and lintel round the opening.
    for (const k of [-1, 1]) {
      const [a, b] = k < 0 ? [-x + 0.05, -half] : [half, x - 0.05];
      if (b - a > 0.01)
        roundBox(d, [a, front, slab], [b, y, h - shelf - 0.04], 0.004, s, { without: ['z-'] });
      if (b - a > 0.12)
        roundBox(d, [a + 0.03, front - 0.015, slab], [b - 0.03, front, h - shelf - 0.06], 0.008, s, {
          without: ['z-', 'y+'],
        });
    }
    if (h - shelf - 0.04 - top > 0.005) box(d, [-half, front, top], [half, y, h - shelf - 0.04], s);
    // The hole: sides drawn in toward the back, sooty.
    const back = y - 0.02;
    const neck = half * 0.72;
    panel(d, [-half, front, slab], [half - neck, back - front, 0], [0, 0, top - slab], soot);
    panel(d, [neck, back, slab], [half - neck, front - back, 0], [0, 0, top - slab], soot);
    panel(d, [-neck, back, slab], [2 * neck, 0, 0], [0, 0, top - slab], soot);
    panel(d, [-half, back, top - 0.002], [2 * half, 0, 0], [0, front - back, 0], soot);
    // A basket grate.
    const deepIn = back - front;
    if (half < 0.12 || deepIn < 0.12 || top - slab < 0.3) return;
    const [g, f] = [half * 0.62, front + 0.03];
    for (let k = 0; k <= 6; k++) {
      const gx = -g + (2 * g * k) / 6;
      bar(d, [gx, f, slab + 0.06], [gx, f, slab + 0.22], 0.01, 0.01, soot, [1, 0, 0]);
      bar(d, [gx, f, slab + 0.07], [gx, back - 0.03, slab + 0.07], 0.01, 0.01, soot, [1, 0, 0]);
    }
    for (const z of [0.07, 0.22]) bar(d, [-g, f, slab + z], [g, f, slab + z], 0.012, 0.012, soot);
    for (const k of [-1, 1]) bar(d, [k * g, f, slab], [k * g, f, slab + 0.27], 0.018, 0.018, soot, [1, 0, 0]);
  },
};
