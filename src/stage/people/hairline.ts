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
const HALF_M = 0.014;
const SPREAD_M = 0.006;

const along = new WeakMap<PersonShape, Set<number>>();
/** The scalp's quads along the hairline; worked out once for each person. */
export function hairlineOf(quads: Uint16Array, who: PersonShape): ReadonlySet<number> {
  let found = along.get(who);
  if (!found) {
    const { depth } = scalpOf(quads, who);
    const near = (f: number): boolean =>
      [0, 1, 2, 3].some((k) => (depth.get(quads[4 * f + k]!) ?? UP_TO_M) < UP_TO_M);
    found = new Set([...who.scalp].filter(near));
    along.set(who, found);
  }
  return found;
}

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
  const at = new Float64Array(9);
  const first = out.count;
  for (let j = 0; j <= PIECES; j++)
    for (let i = 0; i <= PIECES; i++) {
      const s = i / PIECES;
      const t = j / PIECES;
      const w0 = (1 - s) * (1 - t);
      const w1 = s * (1 - t);
      const w2 = s * t;
      const w3 = (1 - s) * t;
      for (let c = 0; c < 9; c++) {
        const array = c < 3 ? p : c < 6 ? n : who.body;
        const k = c % 3;
        at[c] =
          w0 * array[3 * v[0]! + k]! +
          w1 * array[3 * v[1]! + k]! +
          w2 * array[3 * v[2]! + k]! +
          w3 * array[3 * v[3]! + k]!;
      }
      const l = Math.sqrt(at[3]! * at[3]! + at[4]! * at[4]! + at[5]! * at[5]!) || 1;
      out.put(at[0]!, at[1]!, at[2]!, at[3]! / l, at[4]! / l, at[5]! / l, at[6]!, at[7]!, at[8]!);
    }
  const d = v.map((i) => depth.get(i)!);
  for (let j = 0; j < PIECES; j++)
    for (let i = 0; i < PIECES; i++) {
      const s = (i + 0.5) / PIECES;
      const t = (j + 0.5) / PIECES;
      const inside = (1 - t) * ((1 - s) * d[0]! + s * d[1]!) + t * ((1 - s) * d[3]! + s * d[2]!);
      const spot = inside + (chance(f * 64 + j * PIECES + i) - 0.5) * 2 * SPREAD_M > HALF_M;
      const a = first + j * (PIECES + 1) + i;
      const b = a + 1;
      const c = b + PIECES + 1;
      const e = a + PIECES + 1;
      const slot = spot ? scalp : skin;
      out.triangle(a, b, c, slot);
      out.triangle(a, c, e, slot);
    }
}
