/**
 * Boxes without a knife's edge: every real edge is eased, and it is the eased edge that catches the light. Patches are
 * those of the plain box; a strip of an edge goes with the face it rounds off.
 */
import { add, cross, length, normalize, sub, type Vec3 } from '../maths/vec3.ts';
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
  /** Its number in the draft, once it has one. */
  number?: number;
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
    const core: Vec3 = [
      Math.min(inHi[0], Math.max(inLo[0], p[0])),
      Math.min(inHi[1], Math.max(inLo[1], p[1])),
      Math.min(inHi[2], Math.max(inLo[2], p[2])),
    ];
    const [x, y, z] = [p[0] - core[0], p[1] - core[1], p[2] - core[2]];
    const k = 1 / Math.sqrt(x * x + y * y + z * z);
    const n: Vec3 = [x * k, y * k, z * k];
    const q: Vec3 = [core[0] + n[0] * r, core[1] + n[1] * r, core[2] + n[2] * r];
    return { p: options.bend ? options.bend(q, n) : q, n };
  };
  /** What lies on one point is one corner, so that bent normals run on over edges. */
  const sums = new Map<number, [number, number, number]>();
  const made: { a: Corner[]; slot: number; patch: number }[] = [];
  const { bend } = options;
  for (const face of boxFaces(d, lo, hi, slot, options)) {
    const { corner, u, v } = face;
    const [lu, lv] = [length(u), length(v)];
    const step = face.options.patchM ?? d.patchM;
    const cells = [marks(lu, [], step), marks(lv, [], step)] as const;
    const [us, vs] = [lu, lv].map((l, k) => {
      const ends = [...cuts, r];
      const inner = cells[k]!.filter((m) => m > r * 1.2 && m < l - r * 1.2);
      return marks(
        l,
        [...ends, ...ends.map((e) => l - e), ...inner],
        Math.min(step, options.cellM ?? step) * 1.01,
      );
    }) as [number[], number[]];
    const wide = cells[0].length - 1;
    const own = new Int32Array(wide * (cells[1].length - 1)).fill(-1);
    const { patchOf } = face.options;
    const patchAt = (i: number, j: number): number => {
      const at = j * wide + i;
      if (own[at]! < 0) own[at] = patchOf ? patchOf(i, j) : newPatch(d);
      return own[at]!;
    };
    const [cu, cv] = [cellsOf(cells[0], us), cellsOf(cells[1], vs)];
    const grid = vs.map((y) =>
      us.map((x) =>
        rounded([
          corner[0] + (u[0] * x) / lu + (v[0] * y) / lv,
          corner[1] + (u[1] * x) / lu + (v[1] * y) / lv,
          corner[2] + (u[2] * x) / lu + (v[2] * y) / lv,
        ]),
      ),
    );
    if (!bend) {
      const at = grid.map((row) => row.map((c) => vertex(d, c.p, c.n)));
      for (let j = 0; j + 1 < vs.length; j++)
        for (let i = 0; i + 1 < us.length; i++) {
          const patch = patchAt(cu[i]!, cv[j]!);
          const [a, c] = [at[j]![i]!, at[j + 1]![i + 1]!];
          triangle(d, a, at[j]![i + 1]!, c, face.slot, patch);
          triangle(d, a, c, at[j + 1]![i]!, face.slot, patch);
        }
      continue;
    }
    for (let j = 0; j + 1 < vs.length; j++)
      for (let i = 0; i + 1 < us.length; i++) {
        const [a, b] = [grid[j]![i]!, grid[j]![i + 1]!];
        const [c, e] = [grid[j + 1]![i + 1]!, grid[j + 1]![i]!];
        for (const t of [
          [a, b, c],
          [a, c, e],
        ]) {
          const n = across(t);
          // Bent so thin that it has no face: left out.
          if (!(length(n) > 1e-10)) continue;
          made.push({ a: t, slot: face.slot, patch: patchAt(cu[i]!, cv[j]!) });
          for (const { p } of t) {
            const known = sums.get(keyOf(p));
            if (known) for (let k = 0; k < 3; k++) known[k]! += n[k]!;
            else sums.set(keyOf(p), [n[0], n[1], n[2]]);
          }
        }
      }
  }
  const numberOf = (c: Corner): number => {
    c.number ??= vertex(d, c.p, normalize(sums.get(keyOf(c.p))!));
    return c.number;
  };
  for (const { a, slot: s, patch } of made)
    triangle(d, numberOf(a[0]!), numberOf(a[1]!), numberOf(a[2]!), s, patch);
}

/** A place to a tenth of a millimetre, within 6.5 m, as one number. */
const keyOf = ([x, y, z]: Vec3): number =>
  Math.round(x * 1e4) +
  65536 +
  (Math.round(y * 1e4) + 65536 + (Math.round(z * 1e4) + 65536) * 131072) * 131072;

/** By stretch between marks: the cell that its middle lies in. */
function cellsOf(cells: readonly number[], at: readonly number[]): number[] {
  let i = 0;
  return at.slice(1).map((to, k) => {
    const middle = (at[k]! + to) / 2;
    while (i + 2 < cells.length && cells[i + 1]! <= middle) i++;
    return i;
  });
}

const across = ([a, b, c]: Corner[]): Vec3 => cross(sub(b!.p, a!.p), sub(c!.p, a!.p));
