/** A wash basin on a pedestal, or (`detail.pedestal` 0) hung on the wall; its back along local +y. */
import { cylinder, pipe, sheet } from '../build.ts';
import { CHROME, ENAMEL } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import type { Piece } from './piece.ts';

export const basin: Piece = {
  kind: 'basin',
  patchM: 0.35,
  sizeM: [0.55, 0.45, 0.85],
  outM: 0.05,
  build: ({ d, w, deep, h, slot, detail }) => {
    const s = slot(undefined, ENAMEL);
    const r = Math.min(w, deep) / 2;
    const bowl = Math.min(0.18, h / 3);
    // An oval bowl as one skin with thickness, from its rim down to the waste.
    sheet(
      d,
      (u, v) => {
        const a = -2 * Math.PI * u;
        const out = 0.22 + 0.78 * Math.cos((v * Math.PI) / 2);
        return [
          (w / 2) * out * Math.cos(a),
          (deep / 2) * out * Math.sin(a),
          h - bowl * Math.sin((v * Math.PI) / 2) ** 1.2,
        ];
      },
      28,
      6,
      Math.min(0.014, r / 10),
      s,
    );
    if (detail('pedestal', 1) > 0)
      cylinder(d, [0, deep * 0.08, 0], [0, deep * 0.08, h - bowl * 0.95], Math.min(0.1, r * 0.5), s, {
        r1: Math.min(0.075, r * 0.4),
      });
    const tap = slotOf(d, CHROME);
    const ty = deep / 2 - 0.05;
    pipe(
      d,
      [
        [0, ty, h - 0.005],
        [0, ty, h + 0.03],
        [0, ty - 0.1, h + 0.03],
        [0, ty - 0.1, h + 0.012],
      ],
      0.009,
      tap,
    );
  },
};
