/** A round hole in a card: a porthole, a torch's ring, the middle kept and the rest held off. */
import type { Vec2 } from '../outline.ts';
import { EDGE_M, type Pattern } from './pattern.ts';

/** Sides enough that no corner shows in a shadow: 0.1 % of the radius between the chord and the circle. */
const SIDES = 72;

export const round: Pattern = {
  kind: 'round',
  words: 'round hole',
  usual: { diameterM: 0.25 },
  cut(w, h, measure) {
    const r = Math.min(measure('diameterM') / 2, w / 2 - EDGE_M, h / 2 - EDGE_M);
    if (!(r > 0.001)) return { holes: [] };
    return {
      holes: [
        Array.from({ length: SIDES }, (_, k): Vec2 => {
          const a = (2 * Math.PI * k) / SIDES;
          return [r * Math.cos(a), r * Math.sin(a)];
        }),
      ],
    };
  },
};
