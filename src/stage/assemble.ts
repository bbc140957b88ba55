/**
 * Bodies put together as one stage: what stands still first, then what moves; patches are numbered over the whole.
 * Every body keeps materials of its own, so that a change of colour renumbers nothing. The still half can be kept, so that moving an actor or a lamp rebuilds little.
 */
import { type Air, airKey } from './air.ts';
import type { Hash } from './key.ts';
import { addArray, addText, keyOf, newHash } from './key.ts';
import type { Body, FacePoints, Material, Part, Stage } from './stage.ts';

interface Half {
  positions: Float32Array;
  normals: Float32Array;
  indices: Uint32Array;
  material: Uint16Array;
  part: Uint16Array;
  patch: Uint32Array;
  rest: Int16Array;
  patchCount: number;
  materials: Material[];
  parts: Part[];
}

/** Everything that stands still, put together and named by its content. */
export interface StillHalf extends Half {
  key: string;
  /** The same without what surfaces look like: where rays go. */
  shapeKey: string;
}

const materialKeys = new WeakMap<Material, string>();
/** Content of a material in words; materials are taken as never changed. */
function materialKey(m: Material): string {
  let key = materialKeys.get(m);
  if (key === undefined) {
    const h = newHash();
    addArray(h, m.reflectance);
    if (m.tint) addArray(h, m.tint);
    if (m.gloss?.tint) addArray(h, m.gloss.tint);
    if (m.under) addArray(h, m.under.lengthM);
    key = `${m.name}|${pathKey(m)}|${m.figure ? JSON.stringify(m.figure) : ''}|${keyOf(h)}`;
    materialKeys.set(m, key);
  }
  return key;
}

/** Of a material only what decides where rays go: of a mirror and a pane how much they send on, too. */
function pathKey(m: Material): string {
  const gloss = m.gloss ? `${m.gloss.f0}/${m.gloss.roughness}` : '';
  const passes = m.kind === 'mirror' || m.tint ? `${m.reflectance.join()}/${m.tint?.join() ?? ''}` : '';
  const relief = m.relief ? JSON.stringify(m.relief) : '';
  return `${m.kind}|${gloss}|${m.straight ?? ''}|${passes}|${relief}`;
}

/** Patches of a body: one more than the largest number used. */
function patchesOf(b: Body): number {
  let n = 0;
  for (let t = 0; t < b.patch.length; t++) if (b.patch[t]! >= n) n = b.patch[t]! + 1;
  return n;
}

/** Puts `bodies` behind `before` (which may be empty), in arrays of their own. */
function join(before: Half | undefined, bodies: readonly Body[]): Half {
  let v = before ? before.positions.length : 0;
  let t = before ? before.indices.length / 3 : 0;
  const v0 = v;
  const t0 = t;
  for (const b of bodies) {
    v += b.positions.length;
    t += b.indices.length / 3;
  }
  const out: Half = {
    positions: new Float32Array(v),
    normals: new Float32Array(v),
    indices: new Uint32Array(t * 3),
    material: new Uint16Array(t),
    part: new Uint16Array(t),
    patch: new Uint32Array(t),
    rest: new Int16Array(before?.rest.length || bodies.some((b) => b.rest) ? v : 0),
    patchCount: before?.patchCount ?? 0,
    materials: before ? [...before.materials] : [],
    parts: before ? [...before.parts] : [],
  };
  if (before) {
    out.positions.set(before.positions);
    out.normals.set(before.normals);
    out.indices.set(before.indices);
    out.material.set(before.material);
    out.part.set(before.part);
    out.patch.set(before.patch);
    out.rest.set(before.rest);
  }
  let at = v0;
  let first = t0;
  for (const b of bodies) {
    const m = b.indices.length / 3;
    out.positions.set(b.positions, at);
    out.normals.set(b.normals, at);
    if (b.rest) out.rest.set(b.rest, at);
    const vertex0 = at / 3;
    for (let i = 0; i < b.indices.length; i++) out.indices[first * 3 + i] = b.indices[i]! + vertex0;
    const slot = out.materials.length;
    out.materials.push(...b.materials);
    for (let i = 0; i < m; i++) {
      out.material[first + i] = slot + b.material[i]!;
      out.patch[first + i] = b.patch[i]! + out.patchCount;
    }
    out.part.fill(out.parts.push(b.part) - 1, first, first + m);
    out.patchCount += patchesOf(b);
    at += b.positions.length;
    first += m;
  }
  if (out.parts.length > 65535 || out.materials.length > 65535)
    throw new Error('A stage holds at most 65,535 parts and as many materials.');
  return out;
}

/** Adds what `h` holds from vertex and triangle `v`, `t` on. */
function hashHalf(
  hash: Hash,
  shape: Hash,
  h: Half,
  v: number,
  t: number,
  part0: number,
  material0: number,
): void {
  const before = newHash();
  addArray(before, h.positions.subarray(v));
  addArray(before, h.normals.subarray(v));
  addArray(before, h.indices.subarray(t * 3));
  addArray(before, h.patch.subarray(t));
  // 16-bit arrays may start off a word: pack them.
  const packed = new Uint32Array(h.material.length - t);
  for (let i = 0; i < packed.length; i++) packed[i] = (h.part[t + i]! << 16) | h.material[t + i]!;
  addArray(before, packed);
  for (const p of h.parts.slice(part0)) addText(before, `${p.id}|${p.words}|${p.kind}|${p.moving}`);
  for (const key of [hash, shape]) addText(key, keyOf(before));
  for (const m of h.materials.slice(material0)) {
    addText(hash, materialKey(m));
    addText(shape, pathKey(m));
  }
}

/** The half that stands still (bodies that move are left out). */
export function stillHalf(bodies: readonly Body[]): StillHalf {
  const half = join(
    undefined,
    bodies.filter((b) => !b.part.moving),
  );
  const hash = newHash();
  const shape = newHash();
  hashHalf(hash, shape, half, 0, 0, 0, 0);
  return { ...half, key: keyOf(hash), shapeKey: keyOf(shape) };
}

/** The whole stage: a still half, and bodies that move behind it. */
export function withMoving(
  still: StillHalf,
  moving: readonly Body[],
  faces: Readonly<Record<string, FacePoints>> = {},
  air?: Air,
): Stage {
  const all = join(
    still,
    moving.filter((b) => b.part.moving),
  );
  const hash = newHash();
  const shape = newHash();
  addText(hash, still.key);
  addText(shape, still.shapeKey);
  hashHalf(
    hash,
    shape,
    all,
    still.positions.length,
    still.material.length,
    still.parts.length,
    still.materials.length,
  );
  for (const [id, face] of Object.entries(faces)) addText(hash, id + JSON.stringify(face));
  if (air) for (const key of [hash, shape]) addText(key, airKey(air));
  return {
    ...all,
    stillTriangles: still.material.length,
    stillPatches: still.patchCount,
    faces: { ...faces },
    ...(air ? { air } : {}),
    key: keyOf(hash),
    shapeKey: keyOf(shape),
    stillKey: still.key,
  };
}

/** The whole stage at once. */
export const assemble = (bodies: readonly Body[], faces: Readonly<Record<string, FacePoints>> = {}): Stage =>
  withMoving(stillHalf(bodies), bodies, faces);
