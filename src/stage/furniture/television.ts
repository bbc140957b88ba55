/** A flat television on its foot: thin bezel, dark glossy glass that mirrors lamps. Front along local −y. Its light is a lamp. */
import { box, panel } from '../build.ts';
import { BLACK_PAINT } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import type { Piece } from './piece.ts';

/** The screen when it is off; a guess. */
const GLASS = { glossF0: 0.045, roughness: 0.08 } as const;

export const television: Piece = {
  kind: 'television',
  // 48 inches across the corners, 16 : 9; common practice, no source.
  sizeM: [1.08, 0.22, 0.68],
  build: ({ d, w, deep, h, slot }) => {
    const s = slot(undefined, GLASS);
    const plastic = slotOf(d, BLACK_PAINT);
    const [x, y] = [w / 2, deep / 2];
    const foot = Math.min(0.07, h * 0.15);
    const rim = Math.min(0.012, w / 20);
    const thick = Math.min(0.035, deep / 3);
    const [f, b] = [-thick / 2, thick / 2];
    // The case: its front a frame, the glass a little sunk in it.
    box(d, [-x, f, foot], [x, b, h], plastic, { without: ['y-'] });
    const holes = [{ u0: rim, u1: w - rim, v0: rim, v1: h - foot - rim }];
    panel(d, [-x, f, foot], [w, 0, 0], [0, 0, h - foot], plastic, { holes });
    panel(d, [-x + rim, f + 0.003, foot + rim], [w - 2 * rim, 0, 0], [0, 0, h - foot - 2 * rim], s);
    // Workings behind, a neck and a foot.
    box(
      d,
      [-x * 0.6, b, foot + (h - foot) * 0.12],
      [x * 0.6, Math.min(y, b + 0.03), foot + (h - foot) * 0.6],
      plastic,
    );
    box(d, [-Math.min(0.06, x / 3), -0.012, 0.012], [Math.min(0.06, x / 3), 0.012, foot + 0.002], plastic);
    box(d, [-Math.min(0.24, x * 0.7), -y, 0], [Math.min(0.24, x * 0.7), y, 0.012], plastic);
  },
};
