/** A wheelchair: two great wheels with rims, two castors, a slung seat and back, foot rests; looks along local +x. */
import { box, cylinder, lathe, pipe } from '../build.ts';
import { BLACK_PAINT, CHROME } from '../finish.ts';
import { inFrame, looking, slotOf } from '../mesh.ts';
import type { Piece } from './piece.ts';

export const wheelchair: Piece = {
  kind: 'wheelchair',
  sizeM: [1.05, 0.62, 0.92],
  build: ({ d, w, deep, h, slot, detail }) => {
    const [x, y] = [w / 2, deep / 2];
    const cloth = slot();
    const steel = slotOf(d, CHROME);
    const tyre = slotOf(d, BLACK_PAINT);
    const seat = Math.min(detail('seatM', 0.5), h * 0.6);
    const R = Math.min(0.3, h * 0.33);
    const axle = -x + R;
    const inner = y - 0.09;
    for (const side of [-1, 1]) {
      const cy = side * (y - 0.03);
      inFrame(d, looking([axle, cy - side * 0.015, R], [0, side, 0]), () => {
        lathe(
          d,
          [
            [R - 0.03, 0],
            [R, 0.004],
            [R, 0.026],
            [R - 0.03, 0.03],
            [R - 0.03, 0],
          ],
          tyre,
          { sides: 28 },
        );
        lathe(
          d,
          [
            [R * 0.84, 0.034],
            [R * 0.87, 0.034],
            [R * 0.87, 0.044],
            [R * 0.84, 0.044],
            [R * 0.84, 0.034],
          ],
          steel,
          { sides: 24 },
        );
        cylinder(d, [0, 0, -0.02], [0, 0, 0.04], 0.03, steel);
        for (let k = 0; k < 8; k++) {
          const a = (k * Math.PI) / 4;
          cylinder(
            d,
            [0, 0, 0.015],
            [(R - 0.03) * Math.cos(a), (R - 0.03) * Math.sin(a), 0.015],
            0.003,
            steel,
            { sides: 4 },
          );
        }
      });
      // Side frame: back post with a handle, arm, front post, foot rest.
      const fx = x - 0.38;
      pipe(
        d,
        [
          [-x + 0.02, side * inner, h - 0.011],
          [axle - 0.16, side * inner, h - 0.02],
          [axle - 0.12, side * inner, 0.22],
          [fx, side * inner, 0.22],
        ],
        0.011,
        steel,
      );
      pipe(
        d,
        [
          [axle - 0.14, side * inner, seat + 0.2],
          [fx - 0.06, side * inner, seat + 0.2],
          [fx, side * inner, seat],
          [x - 0.1, side * inner, 0.12],
        ],
        0.011,
        steel,
      );
      box(
        d,
        [axle - 0.1, side * inner - 0.025, seat + 0.2],
        [fx - 0.1, side * inner + 0.025, seat + 0.235],
        tyre,
      );
      box(d, [x - 0.16, side > 0 ? 0.03 : -inner, 0.1], [x, side > 0 ? inner : -0.03, 0.12], steel);
      inFrame(d, looking([fx + 0.02, side * inner, 0.08], [0, 1, 0]), () =>
        cylinder(d, [0, 0, -0.015], [0, 0, 0.015], 0.08, tyre, { sides: 16 }),
      );
    }
    box(d, [axle - 0.12, -inner, seat - 0.02], [x - 0.36, inner, seat], cloth);
    box(d, [axle - 0.15, -inner, seat + 0.02], [axle - 0.13, inner, Math.min(h - 0.04, seat + 0.42)], cloth);
  },
};
