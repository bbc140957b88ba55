/** A lavatory: bowl with its seat down, cistern against the wall. Front along local −y. */
import { box, cylinder } from '../build.ts';
import { CHROME, ENAMEL } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import { loft } from './loft.ts';
import type { Piece } from './piece.ts';

export const lavatory: Piece = {
  kind: 'lavatory',
  // A close-coupled suite; common practice, no source.
  sizeM: [0.38, 0.68, 0.78],
  build: ({ d, w, deep, h, slot }) => {
    const s = slot(undefined, ENAMEL);
    const lid = slot('seat', ENAMEL);
    const [hx, hy] = [w / 2, deep / 2];
    const tank = Math.min(0.2, deep * 0.3);
    const seat = Math.min(0.42, h * 0.54);
    // The bowl runs from the front to under the cistern.
    const half = (deep - tank * 0.5) / 2;
    const y = -hy + half;
    const bowl = (share: number, back: number, z: number) => ({
      hx: hx * share,
      hy: half * back,
      r: hx * share * 0.95,
      z,
      y: y + half * (1 - back) * 0.6,
    });
    loft(
      d,
      [
        bowl(0.62, 0.72, 0),
        bowl(0.56, 0.66, seat * 0.22),
        bowl(0.62, 0.74, seat * 0.5),
        bowl(0.9, 0.95, seat * 0.82),
        bowl(0.95, 1, seat - 0.03),
        bowl(0.95, 1, seat - 0.02),
        bowl(0.6, 0.7, seat - 0.02),
      ],
      s,
    );
    // Seat and lid, a soft-edged slab.
    const slab = (share: number, z: number) => ({
      hx: hx * share,
      hy: half * 0.88 * share,
      r: hx * share * 0.96,
      z,
      y: y - half * 0.12,
    });
    loft(
      d,
      [
        slab(0.9, seat - 0.02),
        slab(0.98, seat - 0.012),
        slab(0.98, seat + 0.008),
        slab(0.9, seat + 0.018),
        slab(0.45, seat + 0.02),
        slab(0.02, seat + 0.02),
      ],
      lid,
    );
    // Cistern and its lid.
    const back = hy;
    box(d, [-hx, back - tank, seat - 0.02], [hx, back, h - 0.03], s);
    box(d, [-hx, back - tank - 0.008, h - 0.03], [hx, back, h], s);
    cylinder(
      d,
      [hx * 0.5, back - tank, h - 0.09],
      [hx * 0.5, back - tank - 0.03, h - 0.09],
      0.012,
      slotOf(d, CHROME),
    );
  },
};
