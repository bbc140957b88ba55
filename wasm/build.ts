/**
 * Trees over triangles: what src/transport/tree.ts builds, by the same heuristic, four numbers at a time.
 * AssemblyScript, compiled by `npm run wasm` to src/engine/buildModule.ts; how its memory is laid out stands in
 * src/engine/fastBuild.ts. One thread.
 */

/** Bins of each axis: 16 of 32 bytes, lowest and highest corner; how many triangles each holds. */
const BIN: usize = 1024;
const BIN_AXIS: usize = 512;
const COUNT: usize = 2560;
const COUNT_AXIS: usize = 64;
/** Area and number of all to the right of a bin's left border. */
const RIGHT_AREA: usize = 2816;
const RIGHT_COUNT: usize = 2880;

const BINS: i32 = 16;
const MAX_LEAF: i32 = 4;
const TRIANGLE_COST: f32 = 0.9;
/** From this depth on nodes are halved by number. */
const DEEP: i32 = 48;

/** Where things begin: 32 bytes a box (corners, each with a nought), 4 an item's number, 48 and 8 a node. */
let boxes: usize = 0;
let order: usize = 0;
let nodeBox: usize = 0;
let nodeChild: usize = 0;
let nodes: i32 = 0;

// @ts-expect-error: decorator
@inline
function boxAt(i: i32): usize {
  return boxes + ((<usize>load<u32>(order + (<usize>i << 2))) << 5);
}
// @ts-expect-error: decorator
@inline
function half(low: v128, high: v128): f32 {
  const d = f32x4.sub(high, low);
  const x = f32x4.extract_lane(d, 0);
  const y = f32x4.extract_lane(d, 1);
  const z = f32x4.extract_lane(d, 2);
  return x * y + y * z + z * x;
}
// @ts-expect-error: decorator
@inline
function leaf(start: i32, end: i32): i32 {
  return ~((start << 3) | (end - start - 1));
}
// @ts-expect-error: decorator
@inline
function storeThree(at: usize, v: v128): void {
  store<f32>(at, f32x4.extract_lane(v, 0));
  store<f32>(at, f32x4.extract_lane(v, 1), 4);
  store<f32>(at, f32x4.extract_lane(v, 2), 8);
}
/** The box of items `start` … `end - 1`, six numbers. */
function storeBounds(start: i32, end: i32, at: usize): void {
  let low = f32x4.splat(Infinity);
  let high = f32x4.splat(-Infinity);
  for (let i = start; i < end; i++) {
    const b = boxAt(i);
    low = f32x4.pmin(low, v128.load(b));
    high = f32x4.pmax(high, v128.load(b, 16));
  }
  storeThree(at, low);
  storeThree(at + 12, high);
}

function split(start: i32, end: i32, depth: i32): i32 {
  const count = end - start;
  if (count == 1) return leaf(start, end);

  // Bound the centres (doubled).
  let low = f32x4.splat(Infinity);
  let high = f32x4.splat(-Infinity);
  for (let i = start; i < end; i++) {
    const b = boxAt(i);
    const c = f32x4.add(v128.load(b), v128.load(b, 16));
    low = f32x4.pmin(low, c);
    high = f32x4.pmax(high, c);
  }

  // Look for the cheapest cut among the bins' borders on the axes that have any length.
  const extent = f32x4.sub(high, low);
  const longest = max<f32>(
    max<f32>(f32x4.extract_lane(extent, 0), f32x4.extract_lane(extent, 1)),
    f32x4.extract_lane(extent, 2),
  );
  const bins: i32 = count < 12 ? 6 : BINS;
  const scale = v128.and(
    f32x4.div(f32x4.splat(<f32>bins * 0.999999), extent),
    f32x4.gt(extent, f32x4.splat(longest * 0.02)),
  );
  const last = i32x4.splat(bins - 1);
  let bestCost: f32 = Infinity;
  let bestAxis: i32 = -1;
  let bestBin: i32 = 0;
  if (depth < DEEP && longest > 0) {
    const useX = f32x4.extract_lane(scale, 0) > 0;
    const useY = f32x4.extract_lane(scale, 1) > 0;
    const useZ = f32x4.extract_lane(scale, 2) > 0;
    for (let axis: usize = 0; axis < 3; axis++) {
      for (let b: usize = 0; b < <usize>bins; b++) {
        const p = BIN + axis * BIN_AXIS + (b << 5);
        v128.store(p, f32x4.splat(Infinity));
        v128.store(p, f32x4.splat(-Infinity), 16);
        store<i32>(COUNT + axis * COUNT_AXIS + (b << 2), 0);
      }
    }
    for (let i = start; i < end; i++) {
      const at = boxAt(i);
      const a = v128.load(at);
      const z = v128.load(at, 16);
      const b = i32x4.min_s(
        i32x4.trunc_sat_f32x4_s(f32x4.mul(f32x4.sub(f32x4.add(a, z), low), scale)),
        last,
      );
      if (useX) put(0, i32x4.extract_lane(b, 0), a, z);
      if (useY) put(1, i32x4.extract_lane(b, 1), a, z);
      if (useZ) put(2, i32x4.extract_lane(b, 2), a, z);
    }
    for (let axis: usize = 0; axis < 3; axis++) {
      if (!(axis == 0 ? useX : axis == 1 ? useY : useZ)) continue;
      const bin = BIN + axis * BIN_AXIS;
      const counts = COUNT + axis * COUNT_AXIS;
      let a = f32x4.splat(Infinity);
      let z = f32x4.splat(-Infinity);
      let sum: i32 = 0;
      for (let b: i32 = bins - 1; b > 0; b--) {
        const p = bin + (<usize>b << 5);
        sum += load<i32>(counts + (<usize>b << 2));
        a = f32x4.pmin(a, v128.load(p));
        z = f32x4.pmax(z, v128.load(p, 16));
        store<i32>(RIGHT_COUNT + (<usize>b << 2), sum);
        store<f32>(RIGHT_AREA + (<usize>b << 2), sum > 0 ? half(a, z) : 0);
      }
      a = f32x4.splat(Infinity);
      z = f32x4.splat(-Infinity);
      sum = 0;
      for (let b: i32 = 0; b < bins - 1; b++) {
        const p = bin + (<usize>b << 5);
        sum += load<i32>(counts + (<usize>b << 2));
        a = f32x4.pmin(a, v128.load(p));
        z = f32x4.pmax(z, v128.load(p, 16));
        const right = load<i32>(RIGHT_COUNT + (<usize>b << 2), 4);
        if (sum == 0 || right == 0) continue;
        const cost = <f32>sum * half(a, z) + <f32>right * load<f32>(RIGHT_AREA + (<usize>b << 2), 4);
        if (cost < bestCost) {
          bestCost = cost;
          bestAxis = <i32>axis;
          bestBin = b;
        }
      }
    }
  }

  // Stay a leaf if that is cheaper.
  if (count <= MAX_LEAF) {
    if (bestAxis < 0) return leaf(start, end);
    let a = f32x4.splat(Infinity);
    let z = f32x4.splat(-Infinity);
    for (let i = start; i < end; i++) {
      const b = boxAt(i);
      a = f32x4.pmin(a, v128.load(b));
      z = f32x4.pmax(z, v128.load(b, 16));
    }
    const whole = half(a, z);
    if (TRIANGLE_COST * <f32>count * whole <= whole + TRIANGLE_COST * bestCost) return leaf(start, end);
  }

  // Part the items; where no cut was found, halve them as they lie.
  let middle = (start + end) >> 1;
  if (bestAxis >= 0) {
    let i = start;
    let j = end - 1;
    const lane = bestAxis << 2;
    const from: f32 =
      bestAxis == 0
        ? f32x4.extract_lane(low, 0)
        : bestAxis == 1
          ? f32x4.extract_lane(low, 1)
          : f32x4.extract_lane(low, 2);
    const k: f32 =
      bestAxis == 0
        ? f32x4.extract_lane(scale, 0)
        : bestAxis == 1
          ? f32x4.extract_lane(scale, 1)
          : f32x4.extract_lane(scale, 2);
    while (i <= j) {
      const b = boxAt(i) + <usize>lane;
      if (min<i32>(<i32>((load<f32>(b) + load<f32>(b, 16) - from) * k), bins - 1) <= bestBin) i++;
      else {
        const one = order + (<usize>i << 2);
        const other = order + (<usize>j << 2);
        const swap = load<u32>(one);
        store<u32>(one, load<u32>(other));
        store<u32>(other, swap);
        j--;
      }
    }
    middle = i;
  }
  const node = nodes++;
  const at = nodeBox + <usize>node * 48;
  storeBounds(start, middle, at);
  storeBounds(middle, end, at + 24);
  const refs = nodeChild + (<usize>node << 3);
  store<i32>(refs, split(start, middle, depth + 1));
  store<i32>(refs, split(middle, end, depth + 1), 4);
  return node;
}

// @ts-expect-error: decorator
@inline
function put(axis: usize, bin: i32, a: v128, z: v128): void {
  const p = BIN + axis * BIN_AXIS + (<usize>bin << 5);
  v128.store(p, f32x4.pmin(v128.load(p), a));
  v128.store(p, f32x4.pmax(v128.load(p, 16), z), 16);
  const c = COUNT + axis * COUNT_AXIS + (<usize>bin << 2);
  store<i32>(c, load<i32>(c) + 1);
}

/** Nodes that the last `build` made. */
export function made(): i32 {
  return nodes;
}

/**
 * Builds the tree over `n` triangles (1 or more), ten numbers each at `shape`: three corners and what becomes of a
 * shadow ray. Returns the root; the whole box is written at `bounds`, corners and edges at `corner`, numbers counted
 * from `first` at `id`, what becomes of shadow rays at `pass`, all in the order of leaves.
 */
export function build(
  n: i32,
  first: i32,
  shape: usize,
  boxesAt: usize,
  orderAt: usize,
  nodeBoxAt: usize,
  childAt: usize,
  corner: usize,
  id: usize,
  pass: usize,
  bounds: usize,
): i32 {
  boxes = boxesAt;
  order = orderAt;
  nodeBox = nodeBoxAt;
  nodeChild = childAt;
  nodes = 0;
  for (let t: i32 = 0; t < n; t++) {
    const p = shape + <usize>t * 40;
    const a = v128.load(p);
    const b = v128.load(p, 12);
    const c = v128.load(p, 24);
    const box = boxes + (<usize>t << 5);
    v128.store(box, f32x4.replace_lane(f32x4.pmin(f32x4.pmin(a, b), c), 3, 0));
    v128.store(box, f32x4.replace_lane(f32x4.pmax(f32x4.pmax(a, b), c), 3, 0), 16);
    store<u32>(order + (<usize>t << 2), t);
  }
  const root = split(0, n, 0);
  for (let i: i32 = 0; i < n; i++) {
    const t = load<u32>(order + (<usize>i << 2));
    const p = shape + <usize>t * 40;
    const to = corner + <usize>i * 36;
    for (let x: usize = 0; x < 12; x += 4) {
      const v = load<f32>(p + x);
      store<f32>(to + x, v);
      store<f32>(to + x, load<f32>(p + x, 12) - v, 12);
      store<f32>(to + x, load<f32>(p + x, 24) - v, 24);
    }
    store<u32>(id + (<usize>i << 2), first + t);
    store<f32>(pass + (<usize>i << 2), load<f32>(p, 36));
  }
  storeBounds(0, n, bounds);
  return root;
}
