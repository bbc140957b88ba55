/**
 * Rays in WebAssembly, four boxes or triangles at a time: wasm/rays.ts behind the two questions of a world's trees.
 * One memory for each thread; it holds the trees asked last, as many as fit.
 */
import { GAP, type Rays, type World } from '../transport/intersect.ts';
import { EMPTY, hit, type Tree } from '../transport/tree.ts';
import { RAYS_MODULE } from './raysModule.ts';

/** Rays asked together, at most; where they begin: below lie the last hit and the stack (wasm/rays.ts). */
const TOGETHER = 1024;
const ASKED = 8192;
/** Where trees begin. */
const BASE = ASKED + TOGETHER * 28;
const HIT = 1024 / 4;
/** Bytes of a node and of a leaf, both whole vectors. */
const NODE = 112;
const LEAF = 176;
const PAGE = 65536;
/** Trees are kept in the memory until they fill so much; two that are larger have it to themselves. */
const MOST_BYTES = 24e6;

type Ask = (
  rootA: number,
  rootB: number,
  ox: number,
  oy: number,
  oz: number,
  dx: number,
  dy: number,
  dz: number,
  far: number,
) => number;
interface Module {
  memory: WebAssembly.Memory;
  first: Ask;
  passes: Ask;
  forget(): void;
  passesAll(
    rootA: number,
    rootB: number,
    n: number,
    gap: number,
    from: number,
    to: number,
    out: number,
  ): void;
}

/** Bytes that a tree takes at most. */
const sizeOf = (tree: Tree): number => {
  const nodes = tree.child.length / 2;
  return nodes * NODE + (nodes + 1) * LEAF;
};

/**
 * Writes a binary tree as one of four children a node, beginning at byte `at`. Returns the reference of its root and
 * the first byte behind it. A node takes its grandchildren in, the largest boxes first, until it has four.
 */
function pack(tree: Tree, f32: Float32Array, i32: Int32Array, at: number): { root: number; end: number } {
  const { box, child, corner, id, pass } = tree;
  let end = at;
  const areaAt = (b: number): number => {
    const x = box[b + 3]! - box[b]!;
    const y = box[b + 4]! - box[b + 1]!;
    const z = box[b + 5]! - box[b + 2]!;
    return x * y + y * z + z * x;
  };
  // Triangles under each node, which lie side by side: a few of them are one leaf, whatever the tree made of them.
  const first = new Uint32Array(child.length / 2);
  const under = new Uint32Array(child.length / 2);
  const count = (ref: number): number => {
    if (ref < 0) return (~ref & 7) + 1;
    under[ref] = count(child[ref * 2]!) + count(child[ref * 2 + 1]!);
    first[ref] = firstOf(child[ref * 2]!);
    return under[ref]!;
  };
  const firstOf = (ref: number): number => (ref < 0 ? ~ref >> 3 : first[ref]!);
  if (tree.root !== EMPTY) count(tree.root);
  const leafed = (ref: number): number =>
    ref >= 0 && under[ref]! <= 4 ? ~((first[ref]! << 3) | (under[ref]! - 1)) : ref;
  /** Children of the node at hand: reference, and where in `box` its bounds stand. */
  const write = (ref: number): number => {
    if (ref < 0) {
      const start = ~ref >> 3;
      const count = (~ref & 7) + 1;
      if (count > 4) throw new Error('A leaf of more than four triangles.');
      const o = end / 4;
      end += LEAF;
      for (let k = 0; k < 4; k++) {
        const i = start + Math.min(k, count - 1);
        for (let c = 0; c < 9; c++) f32[o + c * 4 + k] = k < count || c < 3 ? corner[i * 9 + c]! : 0;
        i32[o + 36 + k] = id[i]!;
        f32[o + 40 + k] = pass[i]!;
      }
      return -o * 4;
    }
    const refs = [leafed(child[ref * 2]!), leafed(child[ref * 2 + 1]!)];
    const bounds = [ref * 12, ref * 12 + 6];
    while (refs.length < 4) {
      let widest = -1;
      let most = -1;
      for (let k = 0; k < refs.length; k++) {
        if (refs[k]! < 0) continue;
        const area = areaAt(bounds[k]!);
        if (area > most) {
          most = area;
          widest = k;
        }
      }
      if (widest < 0) break;
      const inner = refs[widest]!;
      refs[widest] = leafed(child[inner * 2]!);
      bounds[widest] = inner * 12;
      refs.push(leafed(child[inner * 2 + 1]!));
      bounds.push(inner * 12 + 6);
    }
    const o = end / 4;
    end += NODE;
    for (let k = 0; k < 4; k++) {
      const b = bounds[k];
      for (let x = 0; x < 3; x++) {
        f32[o + x * 8 + k] = b === undefined ? Number.POSITIVE_INFINITY : box[b + x]!;
        f32[o + x * 8 + 4 + k] = b === undefined ? Number.NEGATIVE_INFINITY : box[b + 3 + x]!;
      }
      i32[o + 24 + k] = 0;
    }
    for (let k = 0; k < refs.length; k++) i32[o + 24 + k] = write(refs[k]!);
    return o * 4;
  };
  const root = tree.root === EMPTY ? 0 : write(leafed(tree.root));
  return { root, end };
}

/** The rays of this thread; undefined where there is no WebAssembly with vectors. */
export function fastRays(): Rays | undefined {
  let module: Module;
  try {
    const bytes = Uint8Array.from(atob(RAYS_MODULE), (c) => c.charCodeAt(0));
    module = new WebAssembly.Instance(new WebAssembly.Module(bytes)).exports as unknown as Module;
  } catch {
    return undefined;
  }
  const { memory, first, passes, passesAll } = module;
  let f32 = new Float32Array(memory.buffer);
  let i32 = new Int32Array(memory.buffer);
  /** Trees that lie in the memory, by where their roots are; and the two that are being asked. */
  const roots = new Map<Tree, number>();
  let end = BASE;
  let still: Tree | undefined;
  let moving: Tree | undefined;
  let rootA = 0;
  let rootB = 0;

  function room(bytes: number): void {
    const short = bytes - memory.buffer.byteLength;
    if (short > 0) memory.grow(Math.ceil(short / PAGE));
    if (f32.buffer === memory.buffer) return;
    f32 = new Float32Array(memory.buffer);
    i32 = new Int32Array(memory.buffer);
  }
  function rootOf(tree: Tree): number {
    let root = roots.get(tree);
    if (root === undefined) {
      room(end + sizeOf(tree));
      ({ root, end } = pack(tree, f32, i32, end));
      roots.set(tree, root);
    }
    return root;
  }
  function hold(world: World): void {
    module.forget();
    const more = (tree: Tree) => (roots.has(tree) ? 0 : sizeOf(tree));
    if (end + more(world.still) + more(world.moving) > MOST_BYTES) {
      roots.clear();
      end = BASE;
    }
    rootA = rootOf(world.still);
    rootB = rootOf(world.moving);
    still = world.still;
    moving = world.moving;
  }

  return {
    first(world, ox, oy, oz, dx, dy, dz, far) {
      if (world.still !== still || world.moving !== moving) hold(world);
      const t = first(rootA, rootB, ox, oy, oz, dx, dy, dz, far);
      if (t >= 0) {
        hit[0] = f32[HIT]!;
        hit[1] = f32[HIT + 1]!;
        hit[2] = f32[HIT + 2]!;
      }
      return t;
    },
    passes(world, ox, oy, oz, dx, dy, dz, far) {
      if (world.still !== still || world.moving !== moving) hold(world);
      return passes(rootA, rootB, ox, oy, oz, dx, dy, dz, far);
    },
    passesAll(world, from, to, begin, end, out) {
      if (world.still !== still || world.moving !== moving) hold(world);
      const toAt = ASKED + 12 * TOGETHER;
      const outAt = toAt + 12 * TOGETHER;
      for (let i = begin; i < end; i += TOGETHER) {
        const n = Math.min(TOGETHER, end - i);
        f32.set(from.subarray(3 * i, 3 * (i + n)), ASKED >> 2);
        f32.set(to.subarray(3 * i, 3 * (i + n)), toAt >> 2);
        passesAll(rootA, rootB, n, GAP, ASKED, toAt, outAt);
        out.set(f32.subarray(outAt >> 2, (outAt >> 2) + n), i);
      }
    },
  };
}
