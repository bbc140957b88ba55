/**
 * Lamps with a cloth or parchment shade whose bulb is a lamp of the rig: a standard lamp and a table lamp. The shade is
 * a sheet that lets a little through: finish `shade` with `passes`. `detail.shadeM` its lower diameter, `shadeHighM`.
 */
import { cylinder, lathe } from '../build.ts';
import { VARNISH } from '../finish.ts';
import type { Piece } from './piece.ts';
import type { Work } from './work.ts';

function shaded({ d, w, h, slot, detail }: Work, foot: number, pole: number): void {
  const s = slot(undefined, VARNISH);
  const shade = slot('shade');
  const high = Math.min(detail('shadeHighM', w * 0.6), h * 0.6);
  const low = Math.min(w, detail('shadeM', w)) / 2;
  const top = low * 0.62;
  lathe(
    d,
    [
      [0, 0],
      [foot, 0],
      [foot, 0.02],
      [foot * 0.4, 0.035],
      [pole, 0.05],
    ],
    s,
    { sides: 40 },
  );
  cylinder(d, [0, 0, 0.03], [0, 0, h - high * 0.75], pole, s);
  // Open above and below; one skin, seen from both sides.
  lathe(
    d,
    [
      [low, h - high],
      [top, h],
    ],
    shade,
    { sides: 56, smooth: true },
  );
}

export const standardLamp: Piece = {
  kind: 'standard-lamp',
  sizeM: [0.42, 0.42, 1.6],
  build: (work) => shaded(work, Math.min(0.15, work.w / 2), 0.014),
};

export const tableLamp: Piece = {
  kind: 'table-lamp',
  sizeM: [0.28, 0.28, 0.45],
  build: (work) => shaded(work, Math.min(0.08, work.w / 2), 0.022),
};
