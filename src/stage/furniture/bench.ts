/** A slatted bench, and one with an upholstered seat; one sits looking along local +x. */
import { box } from '../build.ts';
import { GREY_STEEL, VARNISH } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import { roundBox } from '../roundBox.ts';
import type { Piece } from './piece.ts';
import { cushion } from './soft.ts';

/** `detail.seatM`: height of the seat; what rises over it is a back. */
export const bench: Piece = {
  kind: 'bench',
  sizeM: [0.4, 1.6, 0.45],
  build: ({ d, w, deep, h, slot, detail }) => {
    const [x, y] = [w / 2, deep / 2];
    const s = slot(undefined, VARNISH);
    const legs = slotOf(d, GREY_STEEL);
    const seat = Math.min(h, detail('seatM', 0.45));
    const slats = Math.max(2, Math.round(w / 0.1));
    const each = w / slats;
    for (let k = 0; k < slats; k++)
      roundBox(
        d,
        [-x + k * each + (k ? 0.008 : 0), -y, seat - 0.035],
        [-x + (k + 1) * each - (k < slats - 1 ? 0.008 : 0), y, seat],
        0.005,
        slot(undefined, VARNISH, [1.05, 0.95, 1][k % 3]),
      );
    const frames = Math.max(2, Math.round(deep / 1.2) + 1);
    for (let k = 0; k < frames; k++) {
      const cy = -y + 0.12 + ((deep - 0.24) * k) / (frames - 1);
      for (const sx of [-1, 1])
        box(
          d,
          [sx * (x - 0.06) - 0.02, cy - 0.02, 0],
          [sx * (x - 0.06) + 0.02, cy + 0.02, seat - 0.035],
          legs,
          { without: ['z-'] },
        );
      box(d, [-x + 0.04, cy - 0.02, seat - 0.07], [x - 0.04, cy + 0.02, seat - 0.035], legs);
      if (h > seat + 0.15) box(d, [-x + 0.01, cy - 0.02, seat], [-x + 0.04, cy + 0.02, h], legs);
    }
    if (h > seat + 0.15)
      for (const z of [seat + 0.12, h - 0.1])
        roundBox(d, [-x, -y, z], [-x + 0.03, y, Math.min(h, z + 0.09)], 0.005, s);
  },
};

/** A seat built against a wall: box below, cushion on it, a back cushion where it rises over the seat. */
export const benchSeat: Piece = {
  kind: 'bench-seat',
  sizeM: [0.6, 1.6, 0.8],
  build: ({ d, w, deep, h, slot, detail }) => {
    const [x, y] = [w / 2, deep / 2];
    const seat = Math.min(h, detail('seatM', 0.44));
    const soft = Math.min(0.12, seat / 3);
    const c = slot('cushions');
    const welt = slot('cushions', undefined, 0.8);
    roundBox(d, [-x, -y, 0], [x - 0.03, y, seat - soft], 0.004, slot(), { without: ['z-'] });
    const n = Math.max(1, Math.round(deep / 0.8));
    const each = deep / n;
    for (let k = 0; k < n; k++) {
      const [a, b] = [-y + k * each + (k ? 0.006 : 0), -y + (k + 1) * each - (k < n - 1 ? 0.006 : 0)];
      cushion(d, [-x, a, seat - soft], [x, b, seat + 0.006], c, {
        up: 2,
        fullM: Math.min(0.018, soft / 5),
        roundM: Math.min(0.035, soft / 3),
        seed: k,
        piping: welt,
      });
      if (h > seat + 0.15)
        cushion(d, [-x, a, seat - 0.01], [-x + Math.min(0.14, w / 4), b, h], c, {
          up: 0,
          fullM: 0.018,
          roundM: 0.035,
          seed: k + 3,
          piping: welt,
        });
    }
  },
};
