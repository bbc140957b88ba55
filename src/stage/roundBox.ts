/**
 * Boxes without a knife's edge: every real edge is eased, and it is the eased edge that catches the light. Patches are
 * those of the plain box; a strip of an edge goes with the face it rounds off.
 */
import { add, cross, length, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { type BoxOptions, boxFaces, marks } from './build.ts';
import { type Draft, newPatch, triangle, vertex } from './mesh.ts';

export interface RoundOptions extends BoxOptions {
  /** Strips from a face to the middle of its edge: 1 for what is small in the picture, 2 or 3 for upholstery. */
  steps?: number;
  /** Cells no longer than this, metres, where something soft is to bend; absent: as patches ask. */
  cellM?: number;
  /** Moves a point of the surface (its normal beside it); normals are then taken from what comes out. */
  bend?: (p: Vec3, n: Vec3) => Vec3;
}

interface Corner {
  p: Vec3;
  n: Vec3;
}

/** An upright box whose edges are rounded by `roundM` metres, at most half of its smallest side. */
export function roundBox(
  d: Draft,
  lo: Vec3,
  hi: Vec3,
  roundM: number,
  slot: number,
  options: RoundOptions = {},
): void {
  const size = sub(hi, lo);
  const r = Math.min(roundM, 0.499 * Math.min(...size));
  if (!(r > 0)) return;
  const steps = options.steps ?? 1;
  // Distances from an edge at which its quarter round is cut.
  const cuts = Array.from({ length: steps }, (_, k) => r * (1 - Math.tan(((1 - k / steps) * Math.PI) / 4)));
  // Where a face is left out the body stands on something or goes on: no edge is rounded there.
  const inset = (side: '-' | '+'): Vec3 =>
    (['x', 'y', 'z'] as const).map((a) =>
      options.without?.includes(`${a}${side}`) ? 0 : r,
    ) as unknown as Vec3;
  const [inLo, inHi] = [add(lo, inset('-')), sub(hi, inset('+'))];
  const rounded = (p: Vec3): Corner => {
    const core = p.map((v, k) => Math.min(inHi[k]!, Math.max(inLo[k]!, v))) as unknown as Vec3;
    const n = normalize(sub(p, core));
    const q = add(core, scale(n, r));
    return { p: options.bend ? options.bend(q, n) : q, n };
  };
  /** What lies on one point is one corner, so that bent normals run on over edges. */
  const sums = new Map<string, Vec3>();
  const key = (p: Vec3): string => p.map((v) => Math.round(v * 2e4)).join();
  const made: { a: Corner[]; slot: number; patch: number }[] = [];
  for (const face of boxFaces(d, lo, hi, slot, options)) {
    const { corner, u, v } = face;
    const [lu, lv] = [length(u), length(v)];
    const step = face.options.patchM ?? d.patchM;
    const cells = [marks(lu, [], step), marks(lv, [], step)] as const;
    const fine = [lu, lv].map((l, k) => {
      const ends = [...cuts, r];
      const inner = cells[k]!.filter((m) => m > r * 1.2 && m < l - r * 1.2);
      const between = marks(
        l,
        [...ends, ...ends.map((e) => l - e), ...inner],
        Math.min(step, options.cellM ?? step) * 1.01,
      );
      return between;
    });
    const own = new Map<string, number>();
    const patchOf =
      face.options.patchOf ??
      ((i: number, j: number): number => {
        const known = own.get(`${i},${j}`) ?? newPatch(d);
        own.set(`${i},${j}`, known);
        return known;
      });
    const cellAt = (k: 0 | 1, at: number): number => {
      const list = cells[k];
      let i = 0;
      while (i + 2 < list.length && list[i + 1]! <= at) i++;
      return i;
    };
    const [us, vs] = fine as [number[], number[]];
    const grid = vs.map((y) => us.map((x) => rounded(add(corner, add(scale(u, x / lu), scale(v, y / lv))))));
    for (let j = 0; j + 1 < vs.length; j++)
      for (let i = 0; i + 1 < us.length; i++) {
        const patch = patchOf(cellAt(0, (us[i]! + us[i + 1]!) / 2), cellAt(1, (vs[j]! + vs[j + 1]!) / 2));
        const [a, b] = [grid[j]![i]!, grid[j]![i + 1]!];
        const [c, e] = [grid[j + 1]![i + 1]!, grid[j + 1]![i]!];
        for (const t of [
          [a, b, c],
          [a, c, e],
        ])
          if (lie(t as Corner[])) made.push({ a: t as Corner[], slot: face.slot, patch });
      }
  }
  if (options.bend)
    for (const { a } of made) {
      const n = across(a);
      for (const c of a) sums.set(key(c.p), add(sums.get(key(c.p)) ?? [0, 0, 0], n));
    }
  const numbers = new Map<Corner, number>();
  const numberOf = (c: Corner): number => {
    let n = numbers.get(c);
    if (n === undefined) {
      n = vertex(d, c.p, options.bend ? normalize(sums.get(key(c.p))!) : c.n);
      numbers.set(c, n);
    }
    return n;
  };
  for (const { a, slot: s, patch } of made)
    triangle(d, numberOf(a[0]!), numberOf(a[1]!), numberOf(a[2]!), s, patch);
}

const across = ([a, b, c]: Corner[]): Vec3 => cross(sub(b!.p, a!.p), sub(c!.p, a!.p));
/** False: so thin that it has no face. */
const lie = (t: Corner[]): boolean => length(across(t)) > 1e-10;
