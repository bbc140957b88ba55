/**
 * Oil lights whose flame is a lamp of the rig: a hurricane lantern (font, cage, glass chimney, bail) and a table lamp
 * with an oil font and a tall chimney. `detail.flameM`: height of the flame's middle; the glass is left out there is none
 * (`detail.glass` 0).
 */
import { cylinder, lathe, pipe } from '../build.ts';
import { BLACK_PAINT, PANE } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import { curved } from '../profile.ts';
import type { Piece } from './piece.ts';

export const hurricane: Piece = {
  kind: 'hurricane-lantern',
  sizeM: [0.17, 0.15, 0.32],
  outM: 0.02,
  build: ({ d, w, deep, h, slot, detail }) => {
    const s = slot();
    const r = Math.min(w, deep) / 2;
    const font = h * 0.18;
    const cage = h * 0.7;
    lathe(
      d,
      [
        [0, 0],
        [r * 0.95, 0],
        [r, font * 0.4],
        [r * 0.8, font],
        [r * 0.25, font * 1.15],
        [0.0, font * 1.15],
      ],
      s,
      { sides: 40 },
    );
    // Burner, crown and its cap.
    cylinder(d, [0, 0, font * 1.1], [0, 0, font * 1.45], r * 0.3, slotOf(d, BLACK_PAINT));
    lathe(
      d,
      [
        [r * 0.55, cage],
        [r * 0.6, cage * 1.02],
        [r * 0.4, cage * 1.12],
        [r * 0.3, cage * 1.2],
        [0, cage * 1.22],
      ],
      s,
      { sides: 40 },
    );
    if (detail('glass', 1) > 0)
      lathe(
        d,
        curved([
          [r * 0.4, font * 1.3],
          [r * 0.62, font * 2.1],
          [r * 0.6, cage * 0.8],
          [r * 0.42, cage],
        ]),
        slotOf(d, PANE),
        { sides: 72, smooth: true },
      );
    // Side tubes and the bail.
    for (const side of [-1, 1])
      pipe(
        d,
        [
          [side * r * 0.7, 0, font * 0.7],
          [side * w * 0.46, 0, font * 1.6],
          [side * w * 0.46, 0, cage * 0.9],
          [side * r * 0.45, 0, cage * 1.08],
        ],
        0.006,
        s,
        6,
      );
    pipe(
      d,
      [
        [-w * 0.46, 0, cage * 0.86],
        [-w * 0.4, 0, h * 0.94],
        [0, 0, h - 0.003],
        [w * 0.4, 0, h * 0.94],
        [w * 0.46, 0, cage * 0.86],
      ],
      0.0025,
      s,
      5,
    );
  },
};

export const oilLamp: Piece = {
  kind: 'oil-lamp',
  sizeM: [0.14, 0.14, 0.42],
  outM: 0.02,
  build: ({ d, w, h, slot, detail }) => {
    const s = slot();
    const r = w / 2;
    const foot = h * 0.3;
    lathe(
      d,
      [
        [0, 0],
        [r * 0.97, 0],
        ...curved(
          [
            [r, h * 0.008],
            [r, h * 0.024],
            [r * 0.86, h * 0.036],
            [r * 0.3, h * 0.08],
            [r * 0.25, foot * 0.6],
            [r * 0.52, foot * 0.72],
            [r * 0.82, foot * 0.88],
            [r * 0.85, foot * 1.12],
            [r * 0.62, foot * 1.29],
            [r * 0.36, foot * 1.35],
          ],
          5,
        ),
        [0, foot * 1.352],
      ],
      s,
      { sides: 48, smooth: true },
    );
    cylinder(d, [0, 0, foot * 1.35], [0, 0, foot * 1.5], r * 0.32, slotOf(d, BLACK_PAINT));
    if (detail('glass', 1) > 0)
      lathe(
        d,
        curved([
          [r * 0.42, foot * 1.45],
          [r * 0.62, foot * 1.85],
          [r * 0.36, foot * 2.5],
          [r * 0.34, h],
        ]),
        slotOf(d, PANE),
        { sides: 72, smooth: true },
      );
  },
};
