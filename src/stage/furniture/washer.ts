/** A front-loading washing machine or dryer: enamel case, round glass door over a dark drum. Front along local −y. */
import { box, cylinder, lathe } from '../build.ts';
import { BLACK_PAINT, CHROME, ENAMEL, PANE } from '../finish.ts';
import { inFrame, looking, slotOf } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';
import type { Piece } from './piece.ts';

/**
 * `detail.doorM`: diameter of the porthole (0.32 of a house machine, 0.45 of a laundrette's); `doorZ`: height of its
 * middle; `panelM`: height of the panel over it.
 */
export const washer: Piece = {
  kind: 'washing-machine',
  sizeM: [0.6, 0.6, 0.85],
  outM: 0.05,
  build: ({ d, w, deep, h, slot, detail }) => {
    const [x, y] = [w / 2, deep / 2];
    const s = slot(undefined, ENAMEL);
    const ring = slotOf(d, CHROME);
    const dark = slotOf(d, BLACK_PAINT);
    roundBox(d, [-x, -y, 0.05], [x, y, h], Math.min(0.012, w / 20), s, { without: ['z-'], steps: 2 });
    box(d, [-x + 0.02, -y + 0.04, 0], [x - 0.02, y, 0.05], dark, { without: ['z-', 'z+'] });
    // Panel with two knobs and a drawer.
    const tall = Math.min(detail('panelM', 0.12), h / 3);
    box(d, [-x + 0.012, -y - 0.004, h - tall], [x - 0.012, -y, h - 0.012], slot('panel', ENAMEL), {
      without: ['y+'],
    });
    const kz = h - tall / 2 - 0.006;
    for (const kx of [0.18, 0.34])
      cylinder(
        d,
        [x - w * kx, -y - 0.004, kz],
        [x - w * kx, -y - 0.024, kz],
        Math.min(0.022, tall / 3),
        ring,
        { r1: Math.min(0.018, tall / 4), sides: 24 },
      );
    box(d, [-x + 0.03, -y - 0.007, kz - tall / 4], [-x + w * 0.36, -y - 0.004, kz + tall / 4], s, {
      without: ['y+'],
    });
    // Porthole: a chromed ring that stands out, glass in it, the drum dark behind.
    const r = Math.max(0.02, Math.min(detail('doorM', 0.34) / 2, x - 0.04, (h - tall) / 2 - 0.04));
    const z = detail('doorZ', (h - tall + 0.05) / 2);
    inFrame(d, looking([0, -y, Math.min(Math.max(z, r + 0.06), h - tall - r)], [0, -1, 0]), () => {
      lathe(
        d,
        [
          [r, 0],
          [r, 0.022],
          [r * 0.93, 0.034],
          [r * 0.8, 0.03],
          [r * 0.78, 0.004],
        ],
        ring,
        { sides: 36 },
      );
      lathe(
        d,
        [
          [r * 0.78, 0.003],
          [0, 0.001],
        ],
        dark,
        { sides: 36 },
      );
      lathe(
        d,
        [
          [r * 0.8, 0.024],
          [r * 0.4, 0.034],
          [0, 0.037],
        ],
        slotOf(d, PANE),
        { sides: 36, smooth: true },
      );
      box(d, [r * 0.86, -0.035, 0.02], [r * 1.02, 0.035, 0.045], dark);
    });
  },
};
