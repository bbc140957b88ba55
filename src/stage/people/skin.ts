/** Linear blend skinning, at most four bones a vertex, and shading normals. */
import type { Vec3 } from '../../maths/vec3.ts';
import type { Pose } from './pose.ts';

/** Twelve numbers per bone: rotation rows with the translation as fourth column. */
export function boneMatrices(pose: Pose, rest: Vec3[]): Float64Array {
  const out = new Float64Array(pose.rotation.length * 12);
  pose.rotation.forEach((r, i) => {
    const j = pose.joint[i]!;
    const o = rest[i]!;
    for (let k = 0; k < 3; k++) {
      out[12 * i + 4 * k] = r[3 * k]!;
      out[12 * i + 4 * k + 1] = r[3 * k + 1]!;
      out[12 * i + 4 * k + 2] = r[3 * k + 2]!;
      out[12 * i + 4 * k + 3] = j[k]! - (r[3 * k]! * o[0] + r[3 * k + 1]! * o[1] + r[3 * k + 2]! * o[2]);
    }
  });
  return out;
}

/** Moves `rest` (3 × n) by the bones into `out` from vertex `at` on. `bones`, `amounts`: 4 × n, amounts sum to 255. */
export function skinInto(
  out: Float32Array,
  at: number,
  rest: Float32Array,
  bones: Uint8Array,
  amounts: Uint8Array,
  m: Float64Array,
): void {
  const n = rest.length / 3;
  for (let i = 0; i < n; i++) {
    const x = rest[3 * i]!;
    const y = rest[3 * i + 1]!;
    const z = rest[3 * i + 2]!;
    let px = 0;
    let py = 0;
    let pz = 0;
    for (let k = 4 * i; k < 4 * i + 4; k++) {
      const w = amounts[k]! / 255;
      if (w === 0) break;
      const b = 12 * bones[k]!;
      px += w * (m[b]! * x + m[b + 1]! * y + m[b + 2]! * z + m[b + 3]!);
      py += w * (m[b + 4]! * x + m[b + 5]! * y + m[b + 6]! * z + m[b + 7]!);
      pz += w * (m[b + 8]! * x + m[b + 9]! * y + m[b + 10]! * z + m[b + 11]!);
    }
    out[3 * (at + i)] = px;
    out[3 * (at + i) + 1] = py;
    out[3 * (at + i) + 2] = pz;
  }
}

/** Moves `rest` rigidly with one bone. */
export function carryInto(
  out: Float32Array,
  at: number,
  rest: Float32Array,
  bone: number,
  m: Float64Array,
): void {
  const b = 12 * bone;
  for (let i = 0; i < rest.length / 3; i++) {
    const x = rest[3 * i]!;
    const y = rest[3 * i + 1]!;
    const z = rest[3 * i + 2]!;
    const o = 3 * (at + i);
    out[o] = m[b]! * x + m[b + 1]! * y + m[b + 2]! * z + m[b + 3]!;
    out[o + 1] = m[b + 4]! * x + m[b + 5]! * y + m[b + 6]! * z + m[b + 7]!;
    out[o + 2] = m[b + 8]! * x + m[b + 9]! * y + m[b + 10]! * z + m[b + 11]!;
  }
}

/** What `acrossInto` found. */
export const across = new Float64Array(3);
/** Across a triangle: its normal, twice its area long. `a`, `b`, `c`: where its corners begin in `p`. */
export function acrossInto(p: Float32Array, a: number, b: number, c: number): void {
  const ux = p[b]! - p[a]!;
  const uy = p[b + 1]! - p[a + 1]!;
  const uz = p[b + 2]! - p[a + 2]!;
  const vx = p[c]! - p[a]!;
  const vy = p[c + 1]! - p[a + 1]!;
  const vz = p[c + 2]! - p[a + 2]!;
  across[0] = uy * vz - uz * vy;
  across[1] = uz * vx - ux * vz;
  across[2] = ux * vy - uy * vx;
}

/** Area-weighted vertex normals of triangles `from` … `to` (triangle numbers), written for the vertices they use. */
export function normalsInto(
  out: Float32Array,
  p: Float32Array,
  tri: ArrayLike<number>,
  from: number,
  to: number,
): void {
  for (let t = 3 * from; t < 3 * to; t += 3) {
    const a = 3 * tri[t]!;
    const b = 3 * tri[t + 1]!;
    const c = 3 * tri[t + 2]!;
    acrossInto(p, a, b, c);
    const nx = across[0]!;
    const ny = across[1]!;
    const nz = across[2]!;
    out[a]! += nx;
    out[a + 1]! += ny;
    out[a + 2]! += nz;
    out[b]! += nx;
    out[b + 1]! += ny;
    out[b + 2]! += nz;
    out[c]! += nx;
    out[c + 1]! += ny;
    out[c + 2]! += nz;
  }
}

export function normalise(out: Float32Array): void {
  for (let i = 0; i < out.length; i += 3) {
    const l = Math.sqrt(out[i]! ** 2 + out[i + 1]! ** 2 + out[i + 2]! ** 2);
    if (l > 0) {
      out[i]! /= l;
      out[i + 1]! /= l;
      out[i + 2]! /= l;
    } else out[i + 2] = 1;
  }
}
