/** A leafy branch held in the beam: no card, the leaves themselves throw the shadow. */
import { rngOf } from '../../maths/sampling.ts';
import type { Vec2 } from '../outline.ts';
import { leafShape, type Pattern } from './pattern.ts';

/** A twig from `a` to `b` as a flat strip, `m0` wide and `m1` at its tip. */
function strip(a: Vec2, b: Vec2, m0: number, m1: number): Vec2[] {
  const l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const n: Vec2 = [-(b[1] - a[1]) / l, (b[0] - a[0]) / l];
  const at = (p: Vec2, k: number): Vec2 => [p[0] + n[0] * k, p[1] + n[1] * k];
  return [at(a, -m0 / 2), at(b, -m1 / 2), at(b, m1 / 2), at(a, m0 / 2)];
}

export const branch: Pattern = {
  kind: 'branch',
  words: 'leafy branch',
  /** `leafM`: a leaf's length; `twigs`: side twigs; `seed`: another number, another branch. */
  usual: { leafM: 0.08, twigs: 9, seed: 1 },
  cut(w, h, measure) {
    const rng = rngOf(Math.round(measure('seed')));
    const leafM = Math.max(0.01, Math.min(measure('leafM'), w / 3, h / 3));
    const twigs = Math.max(1, Math.min(40, Math.round(measure('twigs'))));
    const bodies: Vec2[][] = [];
    const inside = (p: readonly Vec2[]) => p.every(([x, y]) => Math.abs(x) <= w / 2 && Math.abs(y) <= h / 2);
    const put = (p: Vec2[]) => inside(p) && bodies.push(p);
    // The branch comes in from the left below and bends upward.
    const along = (t: number): Vec2 => [w * (0.94 * t - 0.47), h * (-0.3 + 0.42 * t ** 1.4)];
    const thick = Math.min(0.02, w / 40);
    for (let k = 0; k < 6; k++)
      put(strip(along(k / 6), along((k + 1) / 6), thick * (1 - k / 8), thick * (1 - (k + 1) / 8)));
    for (let k = 0; k < twigs; k++) {
      const t = 0.12 + (0.86 * (k + rng() * 0.6)) / twigs;
      const from = along(t);
      const up = k % 2 === 0 ? 1 : -1;
      const turn = 0.42 + up * (0.75 + 0.4 * rng());
      const room = up > 0 ? h * 0.48 - from[1] : from[1] + h * 0.48;
      const long = Math.min(w * 0.4, (room / Math.max(0.3, Math.abs(Math.sin(turn)))) * (0.7 + 0.3 * rng()));
      if (long < leafM) continue;
      const to: Vec2 = [from[0] + Math.cos(turn) * long, from[1] + Math.sin(turn) * long];
      put(strip(from, to, thick * 0.4, thick * 0.15));
      const many = Math.max(3, Math.round(long / (leafM * 0.5)));
      for (let i = 1; i <= many; i++) {
        const u = i / many;
        const at: Vec2 = [from[0] + (to[0] - from[0]) * u, from[1] + (to[1] - from[1]) * u];
        const side = i === many ? 0 : i % 2 === 0 ? 1 : -1;
        put(
          leafShape(at, turn + side * (0.6 + 0.4 * rng()), leafM * (0.7 + 0.4 * rng()), 0.4 + 0.15 * rng()),
        );
      }
    }
    return { bodies };
  },
};
