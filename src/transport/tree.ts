/**
 * A tree of boxes over triangles, and the two questions asked of it: what does a ray hit first, and how much
 * of a shadow ray gets through. Binary, binned surface-area heuristic [WALD-2007], flat arrays, no allocation
 * while tracing. Not re-entrant: one thread, one ray at a time.
 */

/** Root of a tree without triangles. */
export const EMPTY = -2147483648;

export interface Tree {
  /** A node number, or `~(start << 3 | count - 1)` for a leaf of 1–8 triangles, or `EMPTY`. */
  root: number;
  /** 12 per node, metres: left child's min x y z, max x y z, then the right child's. */
  box: Float32Array;
  /** 2 per node: left and right child, each a node or a leaf as in `root`. */
  child: Int32Array;
  /** 9 per triangle in leaf order, metres: first corner, and the edges from it to the second and third. */
  corner: Float32Array;
  /** Per triangle in leaf order: its number outside the tree. */
  id: Uint32Array;
  /**
   * Per triangle in leaf order, what a shadow ray meets: 0 stops it; above 0, the share that goes straight
   * through; below 0, a pane of glass with minus that tint (1 = clear).
   */
  pass: Float32Array;
  /** The whole tree's box: min x y z, max x y z. */
  bounds: Float32Array;
}

const BINS = 16;
const MAX_LEAF = 4;
/** Cost of a triangle against that of a node, in the heuristic. */
const TRIANGLE_COST = 0.9;
/** From this depth on nodes are halved by number, so that the stack suffices. */
const DEEP = 48;

const binCount = new Int32Array(BINS);
const binBox = new Float64Array(BINS * 6);
const rightArea = new Float64Array(BINS);
const rightCount = new Int32Array(BINS);

interface Boxes {
  /** 6 per item: min x y z, max x y z. */
  of: Float32Array;
  /** Item numbers, reordered by the build. */
  order: Uint32Array;
}

interface Nodes {
  root: number;
  box: Float32Array;
  child: Int32Array;
}

function boundsOf(
  boxes: Boxes,
  start: number,
  end: number,
  out: Float32Array | Float64Array,
  at: number,
): void {
  let a = Infinity;
  let b = Infinity;
  let c = Infinity;
  let d = -Infinity;
  let e = -Infinity;
  let f = -Infinity;
  const { of, order } = boxes;
  for (let i = start; i < end; i++) {
    const k = order[i]! * 6;
    if (of[k]! < a) a = of[k]!;
    if (of[k + 1]! < b) b = of[k + 1]!;
    if (of[k + 2]! < c) c = of[k + 2]!;
    if (of[k + 3]! > d) d = of[k + 3]!;
    if (of[k + 4]! > e) e = of[k + 4]!;
    if (of[k + 5]! > f) f = of[k + 5]!;
  }
  out[at] = a;
  out[at + 1] = b;
  out[at + 2] = c;
  out[at + 3] = d;
  out[at + 4] = e;
  out[at + 5] = f;
}

const areaOf = (x: number, y: number, z: number): number => x * y + y * z + z * x;

/** Builds nodes over boxes; leaves name runs of `order`, of at most `maxLeaf` items. */
function buildNodes(boxes: Boxes, maxLeaf: number): Nodes {
  const { of, order } = boxes;
  const n = order.length;
  if (n === 0) return { root: EMPTY, box: new Float32Array(0), child: new Int32Array(0) };
  const box = new Float32Array(Math.max(0, n - 1) * 12);
  const child = new Int32Array(Math.max(0, n - 1) * 2);
  let nodes = 0;

  const leaf = (start: number, end: number): number => ~((start << 3) | (end - start - 1));

  function split(start: number, end: number, depth: number): number {
    const count = end - start;
    if (count === 1) return leaf(start, end);

    // Bound the centres (doubled) and the boxes.
    let cx0 = Infinity;
    let cy0 = Infinity;
    let cz0 = Infinity;
    let cx1 = -Infinity;
    let cy1 = -Infinity;
    let cz1 = -Infinity;
    for (let i = start; i < end; i++) {
      const k = order[i]! * 6;
      const x = of[k]! + of[k + 3]!;
      const y = of[k + 1]! + of[k + 4]!;
      const z = of[k + 2]! + of[k + 5]!;
      if (x < cx0) cx0 = x;
      if (x > cx1) cx1 = x;
      if (y < cy0) cy0 = y;
      if (y > cy1) cy1 = y;
      if (z < cz0) cz0 = z;
      if (z > cz1) cz1 = z;
    }

    // Look for the cheapest cut among the bins' borders on the axes that have any length.
    let bestCost = Infinity;
    let bestAxis = -1;
    let bestBin = 0;
    const ex = cx1 - cx0;
    const ey = cy1 - cy0;
    const ez = cz1 - cz0;
    const longest = Math.max(ex, ey, ez);
    if (depth < DEEP && longest > 0) {
      const bins = count < 12 ? 6 : BINS;
      for (let axis = 0; axis < 3; axis++) {
        const extent = axis === 0 ? ex : axis === 1 ? ey : ez;
        if (extent <= longest * 0.02) continue;
        const low = axis === 0 ? cx0 : axis === 1 ? cy0 : cz0;
        const k = (bins * 0.999999) / extent;
        for (let b = 0; b < bins; b++) {
          binCount[b] = 0;
          const o = b * 6;
          binBox[o] = binBox[o + 1] = binBox[o + 2] = Infinity;
          binBox[o + 3] = binBox[o + 4] = binBox[o + 5] = -Infinity;
        }
        for (let i = start; i < end; i++) {
          const t = order[i]! * 6;
          const b = ((of[t + axis]! + of[t + axis + 3]! - low) * k) | 0;
          const o = b * 6;
          binCount[b]!++;
          if (of[t]! < binBox[o]!) binBox[o] = of[t]!;
          if (of[t + 1]! < binBox[o + 1]!) binBox[o + 1] = of[t + 1]!;
          if (of[t + 2]! < binBox[o + 2]!) binBox[o + 2] = of[t + 2]!;
          if (of[t + 3]! > binBox[o + 3]!) binBox[o + 3] = of[t + 3]!;
          if (of[t + 4]! > binBox[o + 4]!) binBox[o + 4] = of[t + 4]!;
          if (of[t + 5]! > binBox[o + 5]!) binBox[o + 5] = of[t + 5]!;
        }
        let a0 = Infinity;
        let a1 = Infinity;
        let a2 = Infinity;
        let a3 = -Infinity;
        let a4 = -Infinity;
        let a5 = -Infinity;
        let sum = 0;
        for (let b = bins - 1; b > 0; b--) {
          const o = b * 6;
          sum += binCount[b]!;
          if (binBox[o]! < a0) a0 = binBox[o]!;
          if (binBox[o + 1]! < a1) a1 = binBox[o + 1]!;
          if (binBox[o + 2]! < a2) a2 = binBox[o + 2]!;
          if (binBox[o + 3]! > a3) a3 = binBox[o + 3]!;
          if (binBox[o + 4]! > a4) a4 = binBox[o + 4]!;
          if (binBox[o + 5]! > a5) a5 = binBox[o + 5]!;
          rightCount[b] = sum;
          rightArea[b] = sum > 0 ? areaOf(a3 - a0, a4 - a1, a5 - a2) : 0;
        }
        a0 = a1 = a2 = Infinity;
        a3 = a4 = a5 = -Infinity;
        sum = 0;
        for (let b = 0; b < bins - 1; b++) {
          const o = b * 6;
          sum += binCount[b]!;
          if (binBox[o]! < a0) a0 = binBox[o]!;
          if (binBox[o + 1]! < a1) a1 = binBox[o + 1]!;
          if (binBox[o + 2]! < a2) a2 = binBox[o + 2]!;
          if (binBox[o + 3]! > a3) a3 = binBox[o + 3]!;
          if (binBox[o + 4]! > a4) a4 = binBox[o + 4]!;
          if (binBox[o + 5]! > a5) a5 = binBox[o + 5]!;
          if (sum === 0 || rightCount[b + 1] === 0) continue;
          const cost = sum * areaOf(a3 - a0, a4 - a1, a5 - a2) + rightCount[b + 1]! * rightArea[b + 1]!;
          if (cost < bestCost) {
            bestCost = cost;
            bestAxis = axis;
            bestBin = b;
          }
        }
      }
    }

    // Stay a leaf if that is cheaper.
    if (count <= maxLeaf) {
      if (bestAxis < 0) return leaf(start, end);
      boundsOf(boxes, start, end, scratch, 0);
      const whole = areaOf(scratch[3]! - scratch[0]!, scratch[4]! - scratch[1]!, scratch[5]! - scratch[2]!);
      if (TRIANGLE_COST * count * whole <= whole + TRIANGLE_COST * bestCost) return leaf(start, end);
    }

    // Part the items; where no cut was found, halve them as they lie.
    let middle = (start + end) >> 1;
    if (bestAxis >= 0) {
      const bins = count < 12 ? 6 : BINS;
      const low = bestAxis === 0 ? cx0 : bestAxis === 1 ? cy0 : cz0;
      const extent = bestAxis === 0 ? ex : bestAxis === 1 ? ey : ez;
      const k = (bins * 0.999999) / extent;
      let i = start;
      let j = end - 1;
      while (i <= j) {
        const t = order[i]! * 6 + bestAxis;
        if ((((of[t]! + of[t + 3]! - low) * k) | 0) <= bestBin) i++;
        else {
          const swap = order[i]!;
          order[i] = order[j]!;
          order[j] = swap;
          j--;
        }
      }
      middle = i;
    }
    const node = nodes++;
    boundsOf(boxes, start, middle, box, node * 12);
    boundsOf(boxes, middle, end, box, node * 12 + 6);
    child[node * 2] = split(start, middle, depth + 1);
    child[node * 2 + 1] = split(middle, end, depth + 1);
    return node;
  }

  const root = split(0, n, 0);
  return { root, box: box.slice(0, nodes * 12), child: child.slice(0, nodes * 2) };
}
const scratch = new Float64Array(6);

/** Builds the tree over triangles `first` … `first + count - 1`; `passOf` as in `Tree.pass`. */
export function buildTree(
  positions: Float32Array,
  indices: Uint32Array,
  first: number,
  count: number,
  passOf: (triangle: number) => number,
): Tree {
  const of = new Float32Array(count * 6);
  const order = new Uint32Array(count);
  for (let t = 0; t < count; t++) {
    order[t] = t;
    const k = (first + t) * 3;
    const a = indices[k]! * 3;
    const b = indices[k + 1]! * 3;
    const c = indices[k + 2]! * 3;
    for (let x = 0; x < 3; x++) {
      const p = positions[a + x]!;
      const q = positions[b + x]!;
      const r = positions[c + x]!;
      of[t * 6 + x] = Math.min(p, q, r);
      of[t * 6 + 3 + x] = Math.max(p, q, r);
    }
  }
  const nodes = buildNodes({ of, order }, MAX_LEAF);
  const corner = new Float32Array(count * 9);
  const id = new Uint32Array(count);
  const pass = new Float32Array(count);
  for (let i = 0; i < count; i++) {
    const t = first + order[i]!;
    id[i] = t;
    pass[i] = passOf(t);
    const a = indices[t * 3]! * 3;
    const b = indices[t * 3 + 1]! * 3;
    const c = indices[t * 3 + 2]! * 3;
    for (let x = 0; x < 3; x++) {
      corner[i * 9 + x] = positions[a + x]!;
      corner[i * 9 + 3 + x] = positions[b + x]! - positions[a + x]!;
      corner[i * 9 + 6 + x] = positions[c + x]! - positions[a + x]!;
    }
  }
  const bounds = new Float32Array(6);
  boundsOf({ of, order }, 0, count, bounds, 0);
  return { ...nodes, corner, id, pass, bounds };
}

/**
 * The same tree over triangles that have moved: `first` is their new first number, `before` the old one. Boxes are
 * fitted anew from the leaves up, the shape of the tree stays; `cost` tells whether that still pays.
 */
export function refitTree(
  tree: Tree,
  positions: Float32Array,
  indices: Uint32Array,
  first: number,
  before: number,
): Tree {
  const count = tree.id.length;
  const corner = new Float32Array(count * 9);
  const id = new Uint32Array(count);
  for (let i = 0; i < count; i++) {
    const t = tree.id[i]! - before + first;
    id[i] = t;
    const a = indices[t * 3]! * 3;
    const b = indices[t * 3 + 1]! * 3;
    const c = indices[t * 3 + 2]! * 3;
    for (let x = 0; x < 3; x++) {
      corner[i * 9 + x] = positions[a + x]!;
      corner[i * 9 + 3 + x] = positions[b + x]! - positions[a + x]!;
      corner[i * 9 + 6 + x] = positions[c + x]! - positions[a + x]!;
    }
  }
  const { child, root, pass } = tree;
  const box = new Float32Array(tree.box.length);
  const bounds = new Float32Array(6);
  /** Bounds of a child into `out` at `at`; its own children are done, for they have higher numbers. */
  const fitBox = (ref: number, out: Float32Array, at: number): void => {
    if (ref >= 0) {
      const b = ref * 12;
      for (let x = 0; x < 3; x++) {
        out[at + x] = Math.min(box[b + x]!, box[b + 6 + x]!);
        out[at + 3 + x] = Math.max(box[b + 3 + x]!, box[b + 9 + x]!);
      }
      return;
    }
    const start = ~ref >> 3;
    const end = start + (~ref & 7) + 1;
    out.fill(Infinity, at, at + 3);
    out.fill(-Infinity, at + 3, at + 6);
    for (let i = start; i < end; i++) {
      const t = id[i]! * 3;
      for (let k = 0; k < 3; k++) {
        const v = indices[t + k]! * 3;
        for (let x = 0; x < 3; x++) {
          const p = positions[v + x]!;
          if (p < out[at + x]!) out[at + x] = p;
          if (p > out[at + 3 + x]!) out[at + 3 + x] = p;
        }
      }
    }
  };
  for (let node = child.length / 2 - 1; node >= 0; node--) {
    fitBox(child[node * 2]!, box, node * 12);
    fitBox(child[node * 2 + 1]!, box, node * 12 + 6);
  }
  if (root !== EMPTY) fitBox(root, bounds, 0);
  return { root, box, child, corner, id, pass, bounds };
}

/** How many boxes a chance ray through the tree's own box meets, about: what a refit lets grow. */
export function treeCost({ box, bounds }: Tree): number {
  let sum = 0;
  for (let i = 0; i < box.length; i += 6) {
    sum += areaOf(box[i + 3]! - box[i]!, box[i + 4]! - box[i + 1]!, box[i + 5]! - box[i + 2]!);
  }
  return sum / areaOf(bounds[3]! - bounds[0]!, bounds[4]! - bounds[1]!, bounds[5]! - bounds[2]!);
}

/** Joins trees under a common top; what they hold is copied, so they may be kept and joined again. */
export function joinTrees(trees: readonly Tree[]): Tree {
  const parts = trees.filter((tree) => tree.root !== EMPTY);
  if (parts.length === 1) return parts[0]!;
  const of = new Float32Array(parts.length * 6);
  parts.forEach((tree, i) => {
    of.set(tree.bounds, i * 6);
  });
  const order = Uint32Array.from(parts, (_, i) => i);
  const top = buildNodes({ of, order }, 1);
  const topNodes = top.child.length / 2;
  const nodeCount = parts.reduce((sum, tree) => sum + tree.child.length / 2, topNodes);
  const count = parts.reduce((sum, tree) => sum + tree.id.length, 0);
  const box = new Float32Array(nodeCount * 12);
  const child = new Int32Array(nodeCount * 2);
  const corner = new Float32Array(count * 9);
  const id = new Uint32Array(count);
  const pass = new Float32Array(count);
  const roots: number[] = [];
  let node = topNodes;
  let at = 0;
  for (const tree of parts) {
    const shift = (ref: number): number => (ref >= 0 ? ref + node : ~(~ref + (at << 3)));
    roots.push(shift(tree.root));
    box.set(tree.box, node * 12);
    for (let i = 0; i < tree.child.length; i++) child[node * 2 + i] = shift(tree.child[i]!);
    corner.set(tree.corner, at * 9);
    id.set(tree.id, at);
    pass.set(tree.pass, at);
    node += tree.child.length / 2;
    at += tree.id.length;
  }
  const named = (ref: number): number => (ref >= 0 ? ref : roots[order[~ref >> 3]!]!);
  box.set(top.box);
  for (let i = 0; i < top.child.length; i++) child[i] = named(top.child[i]!);
  const bounds = new Float32Array(6);
  boundsOf({ of, order }, 0, parts.length, bounds, 0);
  return { root: top.root === EMPTY ? EMPTY : named(top.root), box, child, corner, id, pass, bounds };
}

/** The borders of a triangle are drawn this much wider (barycentric), so that rays do not slip between two. */
const SLACK = 1e-6;
const stack = new Int32Array(256);
const stackT = new Float64Array(256);

/** Where the last `closestHit` met: distance in units of the direction's length, then barycentric u and v. */
export const hit = new Float64Array(3);

/** A reciprocal that stays finite, so that a ray in a box's face never meets 0 × ∞. */
const inverse = (d: number): number => (d > 1e-30 || d < -1e-30 ? 1 / d : d < 0 ? -1e30 : 1e30);

/**
 * Number of the first triangle hit nearer than `tMax`, or -1. Both sides count. Fills `hit`.
 * Point hit = first corner + u × edge 1 + v × edge 2.
 */
export function closestHit(
  tree: Tree,
  ox: number,
  oy: number,
  oz: number,
  dx: number,
  dy: number,
  dz: number,
  tMax: number,
): number {
  let node = tree.root;
  if (node === EMPTY) return -1;
  const { box, child, corner, id } = tree;
  const ix = inverse(dx);
  const iy = inverse(dy);
  const iz = inverse(dz);
  const nx = ix < 0 ? 3 : 0;
  const ny = iy < 0 ? 4 : 1;
  const nz = iz < 0 ? 5 : 2;
  const fx = 3 - nx;
  const fy = 5 - ny;
  const fz = 7 - nz;
  let best = tMax;
  let found = -1;
  let bestU = 0;
  let bestV = 0;
  let sp = 0;
  for (;;) {
    if (node >= 0) {
      // Meet both children's boxes.
      const b = node * 12;
      const n0 = Math.max((box[b + nx]! - ox) * ix, (box[b + ny]! - oy) * iy, (box[b + nz]! - oz) * iz);
      const f0 = Math.min((box[b + fx]! - ox) * ix, (box[b + fy]! - oy) * iy, (box[b + fz]! - oz) * iz);
      const n1 = Math.max(
        (box[b + 6 + nx]! - ox) * ix,
        (box[b + 6 + ny]! - oy) * iy,
        (box[b + 6 + nz]! - oz) * iz,
      );
      const f1 = Math.min(
        (box[b + 6 + fx]! - ox) * ix,
        (box[b + 6 + fy]! - oy) * iy,
        (box[b + 6 + fz]! - oz) * iz,
      );
      const in0 = n0 <= f0 && f0 >= 0 && n0 < best;
      const in1 = n1 <= f1 && f1 >= 0 && n1 < best;
      // Go to the nearer, keep the farther for later.
      if (in0) {
        if (in1) {
          if (n0 <= n1) {
            stackT[sp] = n1;
            stack[sp++] = child[node * 2 + 1]!;
            node = child[node * 2]!;
          } else {
            stackT[sp] = n0;
            stack[sp++] = child[node * 2]!;
            node = child[node * 2 + 1]!;
          }
        } else node = child[node * 2]!;
        continue;
      }
      if (in1) {
        node = child[node * 2 + 1]!;
        continue;
      }
    } else {
      // Meet the leaf's triangles [MOLLER-TRUMBORE].
      const ref = ~node;
      let i = ref >> 3;
      const end = i + (ref & 7) + 1;
      for (; i < end; i++) {
        const k = i * 9;
        const ax = corner[k + 3]!;
        const ay = corner[k + 4]!;
        const az = corner[k + 5]!;
        const bx = corner[k + 6]!;
        const by = corner[k + 7]!;
        const bz = corner[k + 8]!;
        const px = dy * bz - dz * by;
        const py = dz * bx - dx * bz;
        const pz = dx * by - dy * bx;
        const inv = 1 / (ax * px + ay * py + az * pz);
        const sx = ox - corner[k]!;
        const sy = oy - corner[k + 1]!;
        const sz = oz - corner[k + 2]!;
        const u = (sx * px + sy * py + sz * pz) * inv;
        if (!(u >= -SLACK && u <= 1 + SLACK)) continue;
        const qx = sy * az - sz * ay;
        const qy = sz * ax - sx * az;
        const qz = sx * ay - sy * ax;
        const v = (dx * qx + dy * qy + dz * qz) * inv;
        if (!(v >= -SLACK && u + v <= 1 + SLACK)) continue;
        const t = (bx * qx + by * qy + bz * qz) * inv;
        if (t > 0 && t < best) {
          best = t;
          found = i;
          bestU = u;
          bestV = v;
        }
      }
    }
    // Take the next box that is still near enough.
    for (;;) {
      if (sp === 0) {
        if (found < 0) return -1;
        hit[0] = best;
        hit[1] = bestU;
        hit[2] = bestV;
        return id[found]!;
      }
      sp--;
      if (stackT[sp]! < best) break;
    }
    node = stack[sp]!;
  }
}

/**
 * Share of the light that gets along a ray as far as `tMax`: 0 if anything opaque stands in it, else the
 * product of what panes and sheets let straight through. `paneAt(cosine)`: a pane's transmittance.
 */
export function passage(
  tree: Tree,
  ox: number,
  oy: number,
  oz: number,
  dx: number,
  dy: number,
  dz: number,
  tMax: number,
  paneAt: (cosine: number) => number,
): number {
  let node = tree.root;
  if (node === EMPTY) return 1;
  const { box, child, corner, pass } = tree;
  const ix = inverse(dx);
  const iy = inverse(dy);
  const iz = inverse(dz);
  const nx = ix < 0 ? 3 : 0;
  const ny = iy < 0 ? 4 : 1;
  const nz = iz < 0 ? 5 : 2;
  const fx = 3 - nx;
  const fy = 5 - ny;
  const fz = 7 - nz;
  let share = 1;
  let sp = 0;
  for (;;) {
    if (node >= 0) {
      const b = node * 12;
      const n0 = Math.max((box[b + nx]! - ox) * ix, (box[b + ny]! - oy) * iy, (box[b + nz]! - oz) * iz);
      const f0 = Math.min((box[b + fx]! - ox) * ix, (box[b + fy]! - oy) * iy, (box[b + fz]! - oz) * iz);
      const n1 = Math.max(
        (box[b + 6 + nx]! - ox) * ix,
        (box[b + 6 + ny]! - oy) * iy,
        (box[b + 6 + nz]! - oz) * iz,
      );
      const f1 = Math.min(
        (box[b + 6 + fx]! - ox) * ix,
        (box[b + 6 + fy]! - oy) * iy,
        (box[b + 6 + fz]! - oz) * iz,
      );
      const in0 = n0 <= f0 && f0 >= 0 && n0 < tMax;
      const in1 = n1 <= f1 && f1 >= 0 && n1 < tMax;
      if (in0) {
        if (in1) {
          if (n0 <= n1) {
            stack[sp++] = child[node * 2 + 1]!;
            node = child[node * 2]!;
          } else {
            stack[sp++] = child[node * 2]!;
            node = child[node * 2 + 1]!;
          }
        } else node = child[node * 2]!;
        continue;
      }
      if (in1) {
        node = child[node * 2 + 1]!;
        continue;
      }
    } else {
      const ref = ~node;
      let i = ref >> 3;
      const end = i + (ref & 7) + 1;
      for (; i < end; i++) {
        const k = i * 9;
        const ax = corner[k + 3]!;
        const ay = corner[k + 4]!;
        const az = corner[k + 5]!;
        const bx = corner[k + 6]!;
        const by = corner[k + 7]!;
        const bz = corner[k + 8]!;
        const px = dy * bz - dz * by;
        const py = dz * bx - dx * bz;
        const pz = dx * by - dy * bx;
        const det = ax * px + ay * py + az * pz;
        const inv = 1 / det;
        const sx = ox - corner[k]!;
        const sy = oy - corner[k + 1]!;
        const sz = oz - corner[k + 2]!;
        const u = (sx * px + sy * py + sz * pz) * inv;
        if (!(u >= -SLACK && u <= 1 + SLACK)) continue;
        const qx = sy * az - sz * ay;
        const qy = sz * ax - sx * az;
        const qz = sx * ay - sy * ax;
        const v = (dx * qx + dy * qy + dz * qz) * inv;
        if (!(v >= -SLACK && u + v <= 1 + SLACK)) continue;
        const t = (bx * qx + by * qy + bz * qz) * inv;
        if (!(t > 0 && t < tMax)) continue;
        const p = pass[i]!;
        if (p === 0) return 0;
        // A pane or sheet counts once, even where two triangles of it meet.
        if (u < 0 || v < 0 || u + v > 1) continue;
        if (p > 0) share *= p;
        else {
          const normal = Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx);
          const along = Math.sqrt(dx * dx + dy * dy + dz * dz);
          share *= -p * paneAt(Math.abs(det) / (normal * along));
        }
      }
    }
    if (sp === 0) return share;
    node = stack[--sp]!;
  }
}
