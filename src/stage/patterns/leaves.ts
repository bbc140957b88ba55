/** Dapple cut in a card: leaf-shaped holes of mixed sizes, turned every way, none touching another. */
import { rngOf } from '../../maths/sampling.ts';
import { meets, type Vec2 } from '../outline.ts';
import { EDGE_M, leafShape, type Pattern } from './pattern.ts';

/** Throws for a leaf's place before the next smaller is tried. */
const THROWS = 90;
const STEPS = 7;

export const leaves: Pattern = {
  kind: 'leaves',
  words: 'leaves',
  /** `leafM`: the longest; `apartM`: card left between two; `seed`: another number, another card. */
  usual: { leafM: 0.12, apartM: 0.008, seed: 1 },
  cut(w, h, measure) {
    const longest = Math.max(0.01, Math.min(measure('leafM'), w / 2, h / 2));
    const apart = Math.max(0.001, measure('apartM'));
    const rng = rngOf(Math.round(measure('seed')));
    const holes: Vec2[][] = [];
    /** Each a little larger all round: what no other may touch. */
    const kept: { grown: Vec2[]; middle: Vec2; reach: number }[] = [];
    for (let step = 0; step < STEPS; step++) {
      const long = longest * 0.8 ** step;
      for (let k = 0; k < THROWS; k++) {
        const turn = rng() * 2 * Math.PI;
        const middle: Vec2 = [(rng() - 0.5) * w, (rng() - 0.5) * h];
        const from: Vec2 = [middle[0] - (Math.cos(turn) * long) / 2, middle[1] - (Math.sin(turn) * long) / 2];
        const leaf = leafShape(from, turn, long, 0.42 + 0.16 * rng());
        const edge = EDGE_M + apart / 2;
        if (leaf.some(([x, y]) => Math.abs(x) > w / 2 - edge || Math.abs(y) > h / 2 - edge)) continue;
        const k1 = 1 + apart / (0.45 * long);
        const grown = leaf.map(
          ([x, y]): Vec2 => [middle[0] + (x - middle[0]) * k1, middle[1] + (y - middle[1]) * k1],
        );
        const reach = (long * k1) / 2;
        const free = kept.every(
          (o) =>
            Math.hypot(o.middle[0] - middle[0], o.middle[1] - middle[1]) > o.reach + reach ||
            !meets(o.grown, grown),
        );
        if (!free) continue;
        holes.push(leaf);
        kept.push({ grown, middle, reach });
      }
    }
    return { holes };
  },
};
