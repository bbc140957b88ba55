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
  const put = (at: number, a: number, b: number, c: number): void => {
    triangles[3 * at] = a;
    triangles[3 * at + 1] = b;
    triangles[3 * at + 2] = c;
  };
  const slot = new Uint8Array(4 * garment.slot.length);
  for (let i = 0; i < garment.slot.length; i++) {
    const a = t[3 * i]!;
    const b = t[3 * i + 1]!;
    const c = t[3 * i + 2]!;
    const ab = halved(a, b);
    const bc = halved(b, c);
    const ca = halved(c, a);
    put(4 * i, a, ab, ca);
    put(4 * i + 1, ab, b, bc);
    put(4 * i + 2, ca, bc, c);
    put(4 * i + 3, ab, bc, ca);
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
    const x = p[b]! - p[a]!;
    const y = p[b + 1]! - p[a + 1]!;
    const z = p[b + 2]! - p[a + 2]!;
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
    const up = folds[i]!;
    const along = folds[i + 1]!;
    const across = folds[i + 2]!;
    if (up === 0 && along === 0 && across === 0) continue;
    frameAt(f, before, n, v, frame);
    for (let k = 0; k < 3; k++)
      p[i + k]! += share * FOLD_STEP_M * (up * n[i + k]! + along * frame[k]! + across * frame[3 + k]!);
  }
}

const frame = new Float64Array(6);

/** Unit directions along the cloth at a vertex: toward `beside`, and across; three numbers each, into `out`. */
export function frameAt(f: Finer, p: Float32Array, n: Float32Array, v: number, out: Float64Array): void {
  const i = 3 * v;
  const b = 3 * f.beside[v]!;
  const nx = n[i]!;
  const ny = n[i + 1]!;
  const nz = n[i + 2]!;
  const dx = p[b]! - p[i]!;
  const dy = p[b + 1]! - p[i + 1]!;
  const dz = p[b + 2]! - p[i + 2]!;
  const off = dx * nx + dy * ny + dz * nz;
  const tx = dx - off * nx;
  const ty = dy - off * ny;
  const tz = dz - off * nz;
  const l = Math.sqrt(tx * tx + ty * ty + tz * tz) || 1;
  const x = tx / l;
  const y = ty / l;
  const z = tz / l;
  out[0] = x;
  out[1] = y;
  out[2] = z;
  out[3] = ny * z - nz * y;
  out[4] = nz * x - nx * z;
  out[5] = nx * y - ny * x;
}
