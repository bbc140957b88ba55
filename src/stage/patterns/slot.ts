/** One slot in a card: a door ajar, a slash of light across eyes. Its middle `offM` above the card's, turned by `turnDeg`. */
import { DEG } from '../../maths/vec3.ts';
import type { Vec2 } from '../outline.ts';
import { EDGE_M, oblong, type Pattern } from './pattern.ts';

export const slot: Pattern = {
  kind: 'slot',
  words: 'slot',
  usual: { wideM: 0.4, tallM: 0.06, offM: 0, turnDeg: 0 },
  cut(w, h, measure) {
    const a = measure('turnDeg') * DEG;
    const [c, s] = [Math.cos(a), Math.sin(a)];
    const off = measure('offM');
    const [wide, tall] = [Math.max(0.001, measure('wideM')) / 2, Math.max(0.001, measure('tallM')) / 2];
    // Held inside the card: drawn smaller rather than run out of it.
    const room = (half: number, need: number) => Math.max(0, (half - EDGE_M) / need);
    const fits = Math.min(
      1,
      room(w / 2, Math.abs(c) * wide + Math.abs(s) * tall),
      room(h / 2 - Math.abs(off), Math.abs(s) * wide + Math.abs(c) * tall),
    );
    if (!(fits > 0)) return { holes: [] };
    const turned = ([x, y]: Vec2): Vec2 => [c * x - s * y, off + s * x + c * y];
    return { holes: [oblong(-wide * fits, -tall * fits, wide * fits, tall * fits).map(turned)] };
  },
};
