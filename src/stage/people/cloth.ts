/**
 * Cloth near the lens: each triangle of a garment in four, its surface rounded (the edge's middle of a curved
 * triangle that keeps the corners' normals [PN-TRI]), then moved to where a baked simulation left it: the folds.
 */
import type { Garment } from './decode.ts';

export interface Finer {
  /** 3 × 4m. */
  triangles: Uint32Array;
  /** 4m: as the garment's `slot`. */
  slot: Uint8Array;
  /** 2 × e: the ends of the edge that vertex `first + i` halves. */
  ends: Uint32Array;
  /** Vertices of the garment itself; those after it halve edges. */
  first: number;
  count: number;
  /** Per vertex another one along an edge: which way its frame's second axis points. */
  beside: Uint32Array;
}

const kept = new WeakMap<Garment, Finer>();

/** Each triangle in four; worked out once per garment. */
export function finer(garment: Garment): Finer {
  const had = kept.get(garment);
  if (had) return had;
  const t = garment.triangles;
  const first = garment.bones.length / 4;
  const middle = new Map<number, number>();
  const ends: number[] = [];
  const halved = (a: number, b: number): number => {
    const key = a < b ? a * 65536 + b : b * 65536 + a;
    let v = middle.get(key);
    if (v === undefined) {
      v = first + ends.length / 2;
      middle.set(key, v);
      ends.push(Math.min(a, b), Math.max(a, b));
    }
    return v;
  };
  const triangles = new Uint32Array(4 * t.length);
  const slot = new Uint8Array(4 * garment.slot.length);
  for (let i = 0; i < garment.slot.length; i++) {
    const [a, b, c] = [t[3 * i]!, t[3 * i + 1]!, t[3 * i + 2]!];
    const [ab, bc, ca] = [halved(a, b), halved(b, c), halved(c, a)];
    triangles.set([a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca], 12 * i);
    slot.fill(garment.slot[i]!, 4 * i, 4 * i + 4);
  }
  const count = first + ends.length / 2;
  const beside = new Uint32Array(count);
  for (let i = triangles.length - 3; i >= 0; i -= 3)
    for (let k = 0; k < 3; k++) beside[triangles[i + k]!] = triangles[i + ((k + 1) % 3)]!;
  const made = { triangles, slot, ends: Uint32Array.from(ends), first, count, beside };
  kept.set(garment, made);
  return made;
}

/** Places of the finer vertices, 3 × count, from the garment's places and unit normals (3 × first). */
export function finerPlaces(f: Finer, p: Float32Array, n: Float32Array): Float32Array {
  const out = new Float32Array(3 * f.count);
  out.set(p.subarray(0, 3 * f.first));
  for (let e = 0; e < f.ends.length / 2; e++) {
    const a = 3 * f.ends[2 * e]!;
    const b = 3 * f.ends[2 * e + 1]!;
    const [x, y, z] = [p[b]! - p[a]!, p[b + 1]! - p[a + 1]!, p[b + 2]! - p[a + 2]!];
    // w: how far the other end stands off each end's tangent plane.
    const wa = (x * n[a]! + y * n[a + 1]! + z * n[a + 2]!) / 8;
    const wb = -(x * n[b]! + y * n[b + 1]! + z * n[b + 2]!) / 8;
    const to = 3 * (f.first + e);
    for (let k = 0; k < 3; k++) out[to + k] = (p[a + k]! + p[b + k]!) / 2 - wa * n[a + k]! - wb * n[b + k]!;
  }
  return out;
}

/** What a step of the baked displacements is worth, metres. */
export const FOLD_STEP_M = 0.0006;

/**
 * Moves the finer vertices by baked displacements: `folds` 3 × count, steps along the normal, along the edge to
 * `beside` and across both. `share` 0–1 of them. Into `p`.
 */
export function fold(f: Finer, p: Float32Array, n: Float32Array, folds: Int8Array, share = 1): void {
  const before = p.slice();
  for (let v = 0; v < f.count; v++) {
    const i = 3 * v;
    const d = [folds[i]!, folds[i + 1]!, folds[i + 2]!] as const;
    if (d[0] === 0 && d[1] === 0 && d[2] === 0) continue;
    const frame = frameAt(f, before, n, v);
    for (let k = 0; k < 3; k++)
      p[i + k]! +=
        share * FOLD_STEP_M * (d[0] * n[i + k]! + d[1] * frame.along[k]! + d[2] * frame.across[k]!);
  }
}

/** Unit directions along the cloth at a vertex: toward `beside`, and across. */
export function frameAt(f: Finer, p: Float32Array, n: Float32Array, v: number) {
  const i = 3 * v;
  const b = 3 * f.beside[v]!;
  const d = [p[b]! - p[i]!, p[b + 1]! - p[i + 1]!, p[b + 2]! - p[i + 2]!];
  const off = d[0]! * n[i]! + d[1]! * n[i + 1]! + d[2]! * n[i + 2]!;
  const t = [0, 1, 2].map((k) => d[k]! - off * n[i + k]!);
  const l = Math.hypot(t[0]!, t[1]!, t[2]!) || 1;
  const along = t.map((x) => x / l);
  const across = [
    n[i + 1]! * along[2]! - n[i + 2]! * along[1]!,
    n[i + 2]! * along[0]! - n[i]! * along[2]!,
    n[i]! * along[1]! - n[i + 1]! * along[0]!,
  ];
  return { along, across };
}
