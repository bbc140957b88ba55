/** Where hair begins: the quads of the scalp along the hairline are cut small, so that its colour fades in spots. */
import type { Collector } from './collector.ts';
import type { PersonShape } from './decode.ts';
import { scalpOf } from './hairOf.ts';
import { SLOTS } from './slots.ts';
import { chance } from './strips.ts';

/** Up to so far inside the hairline, metres; pieces along a quad's side. */
const UP_TO_M = 0.021;
const PIECES = 4;
/** The scalp's colour has set in half way here, and the spots spread so far either way, metres. */
const HALF_M = 0.011;
const SPREAD_M = 0.01;

export const onHairline = (quads: Uint16Array, who: PersonShape, f: number): boolean => {
  const { depth } = scalpOf(quads, who);
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 4; k++) {
    const d = depth.get(quads[4 * f + k]!);
    if (d === undefined) return false;
    least = Math.min(least, d);
  }
  return who.scalp.includes(f) && least < UP_TO_M;
};

/** Puts quad `f` in small pieces, each skin or scalp by how far inside it lies and by chance. */
export function hairline(
  out: Collector,
  quads: Uint16Array,
  who: PersonShape,
  f: number,
  p: Float32Array,
  n: Float32Array,
  skin: number,
): void {
  const { depth } = scalpOf(quads, who);
  const v = [0, 1, 2, 3].map((k) => quads[4 * f + k]!);
  const scalp = SLOTS.indexOf('scalp');
  const at = (array: Float32Array, c: number, s: number, t: number): number =>
    (1 - t) * ((1 - s) * array[3 * v[0]! + c]! + s * array[3 * v[1]! + c]!) +
    t * ((1 - s) * array[3 * v[3]! + c]! + s * array[3 * v[2]! + c]!);
  const number: number[] = [];
  for (let j = 0; j <= PIECES; j++)
    for (let i = 0; i <= PIECES; i++) {
      const [s, t] = [i / PIECES, j / PIECES];
      const [x, y, z] = [0, 1, 2].map((c) => at(p, c, s, t)) as [number, number, number];
      const [nx, ny, nz] = [0, 1, 2].map((c) => at(n, c, s, t)) as [number, number, number];
      const [rx, ry, rz] = [0, 1, 2].map((c) => at(who.body, c, s, t)) as [number, number, number];
      const l = Math.hypot(nx, ny, nz) || 1;
      number.push(out.put(x, y, z, nx / l, ny / l, nz / l, rx, ry, rz));
    }
  const d = v.map((i) => depth.get(i)!);
  for (let j = 0; j < PIECES; j++)
    for (let i = 0; i < PIECES; i++) {
      const [s, t] = [(i + 0.5) / PIECES, (j + 0.5) / PIECES];
      const inside = (1 - t) * ((1 - s) * d[0]! + s * d[1]!) + t * ((1 - s) * d[3]! + s * d[2]!);
      const spot = inside + (chance(f * 64 + j * PIECES + i) - 0.5) * 2 * SPREAD_M > HALF_M;
      const a = number[j * (PIECES + 1) + i]!;
      const b = number[j * (PIECES + 1) + i + 1]!;
      const c = number[(j + 1) * (PIECES + 1) + i + 1]!;
      const e = number[(j + 1) * (PIECES + 1) + i]!;
      const slot = spot ? scalp : skin;
      out.triangle(a, b, c, slot);
      out.triangle(a, c, e, slot);
    }
}
