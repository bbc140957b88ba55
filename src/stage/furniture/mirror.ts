/** A mirror or a picture in a frame, upright along local x, its face along local −y. */

import { neutral } from '../../colour/reflectance.ts';
import { box, panel } from '../build.ts';
import { VARNISH } from '../finish.ts';
import { slotOf } from '../mesh.ts';
import type { Piece } from './piece.ts';
import type { Work } from './work.ts';

/** Silvered glass sends back some nine tenths (common practice, no source). */
const SILVER = { name: 'mirror', reflectance: neutral(0.88), kind: 'mirror' as const };

function framed({ d, w, deep, h, slot, detail }: Work, face: number): void {
  const s = slot(undefined, VARNISH);
  const f = Math.min(detail('frameM', 0.05), w / 3, h / 3);
  const [x, y] = [w / 2, deep / 2];
  box(d, [-x, -y, 0], [x, y, f], s);
  box(d, [-x, -y, h - f], [x, y, h], s);
  box(d, [-x, -y, f], [-x + f, y, h - f], s);
  box(d, [x - f, -y, f], [x, y, h - f], s);
  panel(d, [-x + f, 0, f], [w - 2 * f, 0, 0], [0, 0, h - 2 * f], face);
  panel(d, [x - f, y - 0.002, f], [2 * f - w, 0, 0], [0, 0, h - 2 * f], s);
}

export const mirror: Piece = {
  kind: 'mirror',
  sizeM: [0.6, 0.03, 0.8],
  build: (work) => framed(work, slotOf(work.d, SILVER)),
};

export const picture: Piece = {
  kind: 'picture',
  sizeM: [0.5, 0.02, 0.4],
  build: (work) => framed(work, work.slot('picture')),
};
