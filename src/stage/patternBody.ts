/** A pattern as a body: two thin faces with the same holes and the rims between them, each face keeping its own light. */
import type { Vec3 } from '../maths/vec3.ts';
import { type Draft, newPatch, polygon } from './mesh.ts';
import { clipToBox, meets, signedArea, subtract, type Vec2 } from './outline.ts';
import { oblong } from './patterns/pattern.ts';
import { patternOf } from './patterns/patterns.ts';

export interface PatternSpec {
  kind: string;
  /** Measures that differ from the pattern's usual ones. */
  detail?: Readonly<Record<string, number>>;
}

/** Thickness of card, and of leaves, metres. */
const CARD_M = 0.002;
const LEAF_M = 0.0006;

/** What is cut out or hangs; a kind nobody knows is a whole card. */
export function piecesOf(s: PatternSpec, w: number, h: number): { holes: Vec2[][] } | { bodies: Vec2[][] } {
  const pattern = patternOf(s.kind);
  if (!pattern) return { holes: [] };
  return pattern.cut(w, h, (name) => s.detail?.[name] ?? pattern.usual[name] ?? 0);
}

/** Share of a card's area through which light goes, 0–1. */
export function openShare(s: PatternSpec, w: number, h: number): number {
  const made = piecesOf(s, w, h);
  const area = (list: readonly Vec2[][]) => list.reduce((sum, p) => sum + signedArea(p), 0);
  // Leaves of a branch overlap: at least so much is open.
  return 'holes' in made ? area(made.holes) / (w * h) : Math.max(0, 1 - area(made.bodies) / (w * h));
}

/** Draws it in the plane z = 0 of the draft's frame. */
export function patternBody(d: Draft, s: PatternSpec, w: number, h: number, slot: number): void {
  const made = piecesOf(s, w, h);
  if ('bodies' in made) {
    // Leaves share a patch with what lies about them.
    const across = Math.max(1, Math.ceil(w / d.patchM));
    const up = Math.max(1, Math.ceil(h / d.patchM));
    const front = Array.from({ length: across * up }, () => newPatch(d));
    const back = front.map(() => newPatch(d));
    made.bodies.forEach((p, k) => {
      const cell = (v: number, size: number, n: number) =>
        Math.max(0, Math.min(n - 1, Math.floor((v / size + 0.5) * n)));
      const at = cell(p[0]![1], h, up) * across + cell(p[0]![0], w, across);
      // One behind the other, so that no two lie in one plane.
      const z = ((k % 9) - 4) * 0.002;
      faces(d, p, z + LEAF_M / 2, z - LEAF_M / 2, slot, front[at]!, back[at]!);
      rims(d, p, z + LEAF_M / 2, z - LEAF_M / 2, slot, front[at]!, false);
    });
    return;
  }
  const nx = Math.max(1, Math.ceil(w / d.patchM - 1e-3));
  const ny = Math.max(1, Math.ceil(h / d.patchM - 1e-3));
  const [z0, z1] = [-CARD_M / 2, CARD_M / 2];
  let rim = 0;
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) {
      const [x, y] = [(i / nx - 0.5) * w, (j / ny - 0.5) * h];
      const cell = oblong(x, y, x + w / nx, y + h / ny);
      let pieces: Vec2[][] = [cell];
      for (const hole of made.holes) {
        if (!meets(cell, hole)) continue;
        // Only the part in this cell is cut, so that a piece is not split by what lies elsewhere.
        const here = clipToBox(hole, x, y, x + w / nx, y + h / ny);
        if (here.length) pieces = pieces.flatMap((p) => (meets(p, here) ? subtract(p, here) : [p]));
      }
      const front = newPatch(d);
      const back = newPatch(d);
      rim = front;
      for (const p of pieces) faces(d, p, z1, z0, slot, front, back);
    }
  rims(d, oblong(-w / 2, -h / 2, w / 2, h / 2), z1, z0, slot, rim, false);
  for (const hole of made.holes) rims(d, hole, z1, z0, slot, rim, true);
}

function faces(
  d: Draft,
  p: readonly Vec2[],
  z1: number,
  z0: number,
  slot: number,
  front: number,
  back: number,
): void {
  const at = (z: number) => p.map(([x, y]): Vec3 => [x, y, z]);
  polygon(d, at(z1), slot, front);
  polygon(d, at(z0).reverse(), slot, back);
}

/** The narrow sides along an outline; `inward`: of a hole. */
function rims(
  d: Draft,
  p: readonly Vec2[],
  z1: number,
  z0: number,
  slot: number,
  patch: number,
  inward: boolean,
): void {
  p.forEach(([x, y], k) => {
    const [u, v] = p[(k + 1) % p.length]!;
    const quad: Vec3[] = [
      [x, y, z0],
      [u, v, z0],
      [u, v, z1],
      [x, y, z1],
    ];
    polygon(d, inward ? quad.reverse() : quad, slot, patch);
  });
}
