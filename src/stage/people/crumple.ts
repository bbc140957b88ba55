/**
 * Cloth that bending has turned inside out: where a sleeve meets the body a lowered arm pushes triangles through each
 * other, which are seen as black cracks. Such places, and a little round them, are drawn smooth like the cloth beside them.
 */
import { across, acrossInto, normalsInto } from './skin.ts';

/** A triangle is turned where its normal and a corner's are farther apart than this cosine (75°). */
const TURNED = 0.26;
/** Rings of vertices round a turned triangle that give way too, and by how much each. */
const RINGS = [1, 1, 0.8, 0.5, 0.2];
const ROUNDS = 30;

export interface Net {
  /** Neighbours of vertex v: beside[start[v]] … beside[start[v + 1] - 1]. */
  start: Uint32Array;
  beside: Uint32Array;
}

const nets = new WeakMap<object, Net>();

/** Which vertices are joined by an edge; worked out once for a list of triangles. */
export function netOf(triangles: Uint32Array | Uint16Array, count: number): Net {
  const had = nets.get(triangles);
  if (had) return had;
  const sets: Set<number>[] = Array.from({ length: count }, () => new Set());
  for (let t = 0; t < triangles.length; t += 3)
    for (let k = 0; k < 3; k++) {
      const a = triangles[t + k]!;
      const b = triangles[t + ((k + 1) % 3)]!;
      sets[a]!.add(b);
      sets[b]!.add(a);
    }
  const start = new Uint32Array(count + 1);
  sets.forEach((s, v) => {
    start[v + 1] = start[v]! + s.size;
  });
  const beside = new Uint32Array(start[count]!);
  sets.forEach((s, v) => {
    beside.set([...s], start[v]!);
  });
  const net = { start, beside };
  nets.set(triangles, net);
  return net;
}

/** 1 at the corners of triangles that are turned against the surface about them. */
export function turnedAt(p: Float32Array, triangles: ArrayLike<number>): Uint8Array {
  const n = new Float32Array(p.length);
  normalsInto(n, p, triangles, 0, triangles.length / 3);
  const out = new Uint8Array(p.length / 3);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t]!;
    const b = 3 * triangles[t + 1]!;
    const c = 3 * triangles[t + 2]!;
    acrossInto(p, a, b, c);
    const x = across[0]!;
    const y = across[1]!;
    const z = across[2]!;
    const l = Math.sqrt(x * x + y * y + z * z);
    if (l === 0) continue;
    for (const i of [a, b, c]) {
      const m = Math.sqrt(n[i]! ** 2 + n[i + 1]! ** 2 + n[i + 2]! ** 2);
      if (x * n[i]! + y * n[i + 1]! + z * n[i + 2]! < TURNED * l * m) {
        out[a / 3] = out[b / 3] = out[c / 3] = 1;
        break;
      }
    }
  }
  return out;
}

/** Smooths `p` where it is turned and `spared` (turned at rest already: hems, collars) is not. */
export function uncrumple(p: Float32Array, triangles: Uint32Array | Uint16Array, spared: Uint8Array): void {
  const count = p.length / 3;
  const { start, beside } = netOf(triangles, count);
  const give = new Float32Array(count);
  let ring: number[] = [];
  const turned = turnedAt(p, triangles);
  for (let v = 0; v < count; v++) if (turned[v] && !spared[v]) ring.push(v);
  if (ring.length === 0) return;
  const all: number[] = [];
  for (const much of RINGS) {
    const next: number[] = [];
    for (const v of ring) {
      if (give[v]! > 0) continue;
      give[v] = much;
      all.push(v);
      for (let k = start[v]!; k < start[v + 1]!; k++) {
        const w = beside[k]!;
        if (give[w] === 0 && !spared[w]) next.push(w);
      }
    }
    ring = next;
  }
  const moved = new Float32Array(3 * all.length);
  for (let round = 0; round < ROUNDS; round++) {
    for (let e = 0; e < all.length; e++) {
      const v = all[e]!;
      const from = start[v]!;
      const to = start[v + 1]!;
      let x = 0;
      let y = 0;
      let z = 0;
      for (let k = from; k < to; k++) {
        const b = 3 * beside[k]!;
        x += p[b]!;
        y += p[b + 1]!;
        z += p[b + 2]!;
      }
      const share = (0.5 * give[v]!) / (to - from);
      const keep = 1 - 0.5 * give[v]!;
      moved[3 * e] = keep * p[3 * v]! + share * x;
      moved[3 * e + 1] = keep * p[3 * v + 1]! + share * y;
      moved[3 * e + 2] = keep * p[3 * v + 2]! + share * z;
    }
    for (let e = 0; e < all.length; e++) for (let c = 0; c < 3; c++) p[3 * all[e]! + c] = moved[3 * e + c]!;
  }
}

/** Next to one another cloth is moved alike: what moves by so much other than the mean about it is astray, metres. */
const ASTRAY_M = 0.008;
const EVEN_ROUNDS = 12;

/**
 * Baked displacements (`drawn` → `p`) stand in each vertex's own frame. At a hem that is turned over, neighbours' frames look
 * every way, and in a posture other than the baked one some would carry their vertex off: a spike. There (`turned`),
 * and wherever one differs from all about it, a vertex goes as its neighbours do.
 */
export function evenOut(
  drawn: Float32Array,
  p: Float32Array,
  triangles: Uint32Array | Uint16Array,
  turned: Uint8Array,
): void {
  const count = p.length / 3;
  const { start, beside } = netOf(triangles, count);
  const by = new Float32Array(p.length);
  for (let i = 0; i < p.length; i++) by[i] = p[i]! - drawn[i]!;
  const mean = new Float64Array(3);
  const about = (v: number): void => {
    mean.fill(0);
    const from = start[v]!;
    const to = start[v + 1]!;
    for (let k = from; k < to; k++) for (let c = 0; c < 3; c++) mean[c]! += by[3 * beside[k]! + c]!;
    for (let c = 0; c < 3; c++) mean[c]! /= Math.max(1, to - from);
  };
  const astray: number[] = [];
  for (let v = 0; v < count; v++) {
    if (turned[v]) {
      astray.push(v);
      continue;
    }
    about(v);
    const i = 3 * v;
    const x = by[i]! - mean[0]!;
    const y = by[i + 1]! - mean[1]!;
    const z = by[i + 2]! - mean[2]!;
    if (x * x + y * y + z * z > ASTRAY_M * ASTRAY_M) astray.push(v);
  }
  for (const v of astray) for (let c = 0; c < 3; c++) by[3 * v + c] = 0;
  for (let round = 0; round < EVEN_ROUNDS; round++)
    for (const v of round % 2 ? astray : astray.toReversed()) {
      about(v);
      for (let c = 0; c < 3; c++) by[3 * v + c] = mean[c]!;
    }
  for (const v of astray) for (let c = 0; c < 3; c++) p[3 * v + c] = drawn[3 * v + c]! + by[3 * v + c]!;
}
