/**
 * A pattern that stands in a beam: what is cut out of a card, or what hangs there without one. Told in convex flat
 * pieces, metres about the card's middle, x across and y up. Its shadow is as sharp as the lamp's size and the
 * distances make it: rays meet these pieces themselves.
 */
import type { Vec2 } from '../outline.ts';

export interface Pattern {
  kind: string;
  words: string;
  /** Measures and what they are when nobody tells them: metres (`…M`), degrees, counts, shares. */
  usual: Readonly<Record<string, number>>;
  /**
   * Convex pieces, corners counter-clockwise, clear of each other: `holes` in a card `w` wide and `h` tall, whole inside
   * it; or `bodies` with nothing around them, within the same box.
   */
  cut(w: number, h: number, measure: (name: string) => number): { holes: Vec2[][] } | { bodies: Vec2[][] };
}

/** A card's edge left whole all round, metres: no hole runs out of it. */
export const EDGE_M = 0.004;

/** An upright rectangle. */
export const oblong = (x0: number, y0: number, x1: number, y1: number): Vec2[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/** A pointed oval from `from` on, `long` metres the way of `turn` radians, `wide` of its length across. */
export function leafShape(from: Vec2, turn: number, long: number, wide: number): Vec2[] {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const at = (u: number, v: number): Vec2 => [from[0] + u * c - v * s, from[1] + u * s + v * c];
  const half = (u: number): number => (long * wide * Math.sin(Math.PI * u ** 0.85)) / 2;
  const along = [0.12, 0.28, 0.46, 0.64, 0.82];
  return [
    at(0, 0),
    ...along.map((u) => at(u * long, -half(u))),
    at(long, 0),
    ...[...along].reverse().map((u) => at(u * long, half(u))),
  ];
}
