/** Plain bodies: box, cylinder, post. */
import { box, cylinder } from '../build.ts';
import type { Builder } from './work.ts';

/** A box of its size. */
export const plainBox: Builder = ({ d, w, deep, h, slot }) =>
  box(d, [-w / 2, -deep / 2, 0], [w / 2, deep / 2, h], slot());

/** An upright cylinder; its diameter is the mean of width and depth. */
export const plainCylinder: Builder = ({ d, w, deep, h, slot }) =>
  cylinder(d, [0, 0, 0], [0, 0, h], (w + deep) / 4, slot());
