/** A body while it is being made: growing lists, a frame to build in, materials and patches as they come. */
import { add, cross, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import type { Body, Material, Part } from './stage.ts';

/** A place to build in: `origin` in metres of the stage, right-handed unit axes. */
export interface Frame {
  origin: Vec3;
  x: Vec3;
  y: Vec3;
  z: Vec3;
}

/** The stage itself as a frame. */
export const WORLD: Frame = { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };

/** A frame that stands upright at `at`, turned by `turn` radians about the vertical, counter-clockwise from above. */
export function upright(at: Vec3, turn = 0): Frame {
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  return { origin: at, x: [c, s, 0], y: [-s, c, 0], z: [0, 0, 1] };
}

/** A frame whose z looks along `axis` and whose y is as near to `up` as may be. */
export function looking(at: Vec3, axis: Vec3, up: Vec3 = [0, 0, 1]): Frame {
  const z = normalize(axis);
  let y = sub(up, scale(z, dot(up, z)));
  if (Math.hypot(...y) < 1e-6) y = Math.abs(z[1]) < 0.9 ? sub([0, 1, 0], scale(z, z[1])) : [1, 0, 0];
  y = normalize(sub(y, scale(z, dot(y, z))));
  return { origin: at, x: cross(y, z), y, z };
}

/** A direction of the frame as a direction of the stage. */
export const turned = (f: Frame, v: Vec3): Vec3 =>
  add(add(scale(f.x, v[0]), scale(f.y, v[1])), scale(f.z, v[2]));
/** A point of the frame (metres) as a point of the stage. */
export const placed = (f: Frame, p: Vec3): Vec3 => add(f.origin, turned(f, p));
/** Frame `inner`, given in the terms of `outer`, as a frame of the stage. */
export const within = (outer: Frame, inner: Frame): Frame => ({
  origin: placed(outer, inner.origin),
  x: turned(outer, inner.x),
  y: turned(outer, inner.y),
  z: turned(outer, inner.z),
});

/** Side of a patch that bounced light is kept for, metres. */
export const PATCH_M = 0.25;

/** A body being made; layout as in `Body`. */
export interface Draft {
  /** 3 × n metres of the stage. */
  positions: number[];
  normals: number[];
  indices: number[];
  material: number[];
  patch: number[];
  /** Patches handed out so far. */
  patches: number;
  materials: Material[];
  /** What is built goes through this frame. */
  frame: Frame;
  /** Largest side of a patch, metres. */
  patchM: number;
}

/** An empty draft. */
export const draft = (frame: Frame = WORLD, patchM = PATCH_M): Draft => ({
  positions: [],
  normals: [],
  indices: [],
  material: [],
  patch: [],
  patches: 0,
  materials: [],
  frame,
  patchM,
});

/** Runs `work` with the frame moved to `inner` (in terms of the present one). */
export function inFrame(d: Draft, inner: Frame, work: () => void): void {
  const before = d.frame;
  d.frame = within(before, inner);
  work();
  d.frame = before;
}

/** Number of a material in the draft; the same object gets the same number. */
export function slotOf(d: Draft, m: Material): number {
  const known = d.materials.indexOf(m);
  return known >= 0 ? known : d.materials.push(m) - 1;
}

/** A new patch number. */
export const newPatch = (d: Draft): number => d.patches++;

/** Adds a corner at `p` with unit normal `n`, both in the present frame; its number. */
export function vertex(d: Draft, p: Vec3, n: Vec3): number {
  const { origin: o, x, y, z } = d.frame;
  const [a, b, c] = p;
  d.positions.push(
    o[0] + a * x[0] + b * y[0] + c * z[0],
    o[1] + a * x[1] + b * y[1] + c * z[1],
    o[2] + a * x[2] + b * y[2] + c * z[2],
  );
  const [e, f, g] = n;
  d.normals.push(
    e * x[0] + f * y[0] + g * z[0],
    e * x[1] + f * y[1] + g * z[1],
    e * x[2] + f * y[2] + g * z[2],
  );
  return d.positions.length / 3 - 1;
}

/** Adds a triangle of known corners, counter-clockwise seen from its front. */
export function triangle(d: Draft, a: number, b: number, c: number, slot: number, patch: number): void {
  d.indices.push(a, b, c);
  d.material.push(slot);
  d.patch.push(patch);
}

/** Adds a flat convex polygon (corners in order, counter-clockwise from the front) to one patch. */
export function polygon(d: Draft, corners: readonly Vec3[], slot: number, patch: number): void {
  // Newell's normal: right for any flat polygon, corners in line included.
  let [x, y, z] = [0, 0, 0];
  for (let i = 0; i < corners.length; i++) {
    const p = corners[i]!;
    const q = corners[i + 1 < corners.length ? i + 1 : 0]!;
    x += p[1] * q[2] - p[2] * q[1];
    y += p[2] * q[0] - p[0] * q[2];
    z += p[0] * q[1] - p[1] * q[0];
  }
  const n = normalize([x, y, z]);
  const first = d.positions.length / 3;
  for (const p of corners) vertex(d, p, n);
  for (let i = 2; i < corners.length; i++) triangle(d, first, first + i - 1, first + i, slot, patch);
}

/** The draft as a body; patches that got no triangle are dropped. */
export function bodyOf(d: Draft, part: Part): Body {
  const number = new Int32Array(d.patches).fill(-1);
  let used = 0;
  const patch = new Uint32Array(d.patch.length);
  d.patch.forEach((p, t) => {
    if (number[p]! < 0) number[p] = used++;
    patch[t] = number[p]!;
  });
  return {
    part,
    positions: Float32Array.from(d.positions),
    normals: Float32Array.from(d.normals),
    indices: Uint32Array.from(d.indices),
    material: Uint16Array.from(d.material),
    materials: d.materials,
    patch,
  };
}
