/**
 * Rays against triangles, four at a time. AssemblyScript, compiled by `npm run wasm` to src/engine/raysModule.ts; what
 * it is asked and how its memory is laid out stands in src/engine/fastRays.ts. One thread, one ray at a time.
 *
 * A tree's nodes have four children, a node being six vectors of their bounds (min x, max x, min y …) and their four
 * references; a leaf holds up to four triangles as twelve vectors of corner and edges less their three shared, their
 * numbers, and what becomes of shadow rays. References: above 0 the address of a node, below 0 minus that of a leaf,
 * 0 nothing.
 */
import { add, mul, sub } from './vector';

/** Where the last `first` met: distance, then barycentric u and v (32-bit floats). */
const HIT: usize = 1024;
/** Scratch for one vector of distances. */
const FAR: usize = 1040;
/** Children still to be met: reference and distance, 8 bytes each, 512 at most. */
const STACK: usize = 2048;

const CHILD: usize = 96;
const ID: usize = 144;
const PASS: usize = 160;

/** The borders of a triangle are drawn this much wider (barycentric), so that rays do not slip between two. */
const SLACK: f32 = 4e-6;
/** Boxes are left this much later, for what 32-bit floats round off. */
const LATER: f32 = 1.0000005;

// @ts-expect-error: decorator
@inline
function inverse(d: f32): f32 {
  return abs<f32>(d) > 1e-30 ? 1 / d : d < 0 ? -1e30 : 1e30;
}

/** Number of the first triangle met nearer than `far` in either tree, or -1; fills HIT. Both sides count. */
export function first(
  rootA: i32,
  rootB: i32,
  ox: f32,
  oy: f32,
  oz: f32,
  dx: f32,
  dy: f32,
  dz: f32,
  far: f32,
): i32 {
  const ix = inverse(dx);
  const iy = inverse(dy);
  const iz = inverse(dz);
  const nearX: usize = ix < 0 ? 16 : 0;
  const nearY: usize = iy < 0 ? 48 : 32;
  const nearZ: usize = iz < 0 ? 80 : 64;
  const farX: usize = 16 - nearX;
  const farY: usize = 80 - nearY;
  const farZ: usize = 144 - nearZ;
  const OX = f32x4.splat(ox);
  const OY = f32x4.splat(oy);
  const OZ = f32x4.splat(oz);
  const DX = f32x4.splat(dx);
  const DY = f32x4.splat(dy);
  const DZ = f32x4.splat(dz);
  const IX = f32x4.splat(ix);
  const IY = f32x4.splat(iy);
  const IZ = f32x4.splat(iz);
  const ZERO = f32x4.splat(0);
  const LOW = f32x4.splat(-SLACK);
  const HIGH = f32x4.splat(1 + SLACK);
  const GO_ON = f32x4.splat(LATER);
  let best = far;
  let found: i32 = -1;
  let bestU: f32 = 0;
  let bestV: f32 = 0;
  let sp: usize = STACK;
  if (rootB != 0) {
    store<i32>(sp, rootB);
    store<f32>(sp, 0, 4);
    sp += 8;
  }
  let ref = rootA;
  while (true) {
    if (ref > 0) {
      const node = <usize>ref;
      const t0 = f32x4.pmax(
        f32x4.pmax(mul(sub(v128.load(node + nearX), OX), IX), mul(sub(v128.load(node + nearY), OY), IY)),
        mul(sub(v128.load(node + nearZ), OZ), IZ),
      );
      const t1 = mul(
        GO_ON,
        f32x4.pmin(
          f32x4.pmin(mul(sub(v128.load(node + farX), OX), IX), mul(sub(v128.load(node + farY), OY), IY)),
          mul(sub(v128.load(node + farZ), OZ), IZ),
        ),
      );
      let mask = i32x4.bitmask(
        v128.and(v128.and(f32x4.le(t0, t1), f32x4.ge(t1, ZERO)), f32x4.lt(t0, f32x4.splat(best))),
      );
      if (mask != 0) {
        if ((mask & (mask - 1)) == 0) {
          ref = load<i32>(node + (<usize>ctz(mask) << 2), CHILD);
          continue;
        }
        // The nearest is met next, the others later, near ones before far ones.
        v128.store(FAR, t0);
        const base = sp;
        do {
          const lane = <usize>ctz(mask) << 2;
          mask &= mask - 1;
          const t = load<f32>(FAR + lane);
          const c = load<i32>(node + lane, CHILD);
          let at = sp;
          while (at > base && load<f32>(at - 4) < t) {
            store<u64>(at, load<u64>(at - 8));
            at -= 8;
          }
          store<i32>(at, c);
          store<f32>(at, t, 4);
          sp += 8;
        } while (mask != 0);
        sp -= 8;
        ref = load<i32>(sp);
        continue;
      }
    } else if (ref < 0) {
      const leaf = <usize>-ref;
      const ax = v128.load(leaf, 48);
      const ay = v128.load(leaf, 64);
      const az = v128.load(leaf, 80);
      const bx = v128.load(leaf, 96);
      const by = v128.load(leaf, 112);
      const bz = v128.load(leaf, 128);
      const px = sub(mul(DY, bz), mul(DZ, by));
      const py = sub(mul(DZ, bx), mul(DX, bz));
      const pz = sub(mul(DX, by), mul(DY, bx));
      const inv = f32x4.div(f32x4.splat(1), add(add(mul(ax, px), mul(ay, py)), mul(az, pz)));
      const sx = sub(OX, v128.load(leaf));
      const sy = sub(OY, v128.load(leaf, 16));
      const sz = sub(OZ, v128.load(leaf, 32));
      const u = mul(add(add(mul(sx, px), mul(sy, py)), mul(sz, pz)), inv);
      const qx = sub(mul(sy, az), mul(sz, ay));
      const qy = sub(mul(sz, ax), mul(sx, az));
      const qz = sub(mul(sx, ay), mul(sy, ax));
      const v = mul(add(add(mul(DX, qx), mul(DY, qy)), mul(DZ, qz)), inv);
      const t = mul(add(add(mul(bx, qx), mul(by, qy)), mul(bz, qz)), inv);
      let mask = i32x4.bitmask(
        v128.and(
          v128.and(f32x4.ge(u, LOW), f32x4.ge(v, LOW)),
          v128.and(
            f32x4.le(add(u, v), HIGH),
            v128.and(f32x4.gt(t, ZERO), f32x4.lt(t, f32x4.splat(best))),
          ),
        ),
      );
      if (mask != 0) {
        v128.store(FAR, t);
        let lane: usize = 0;
        let any = false;
        do {
          const l = <usize>ctz(mask) << 2;
          mask &= mask - 1;
          const d = load<f32>(FAR + l);
          if (d < best) {
            best = d;
            lane = l;
            any = true;
          }
        } while (mask != 0);
        if (any) {
          found = load<i32>(leaf + lane, ID);
          v128.store(FAR, u);
          bestU = load<f32>(FAR + lane);
          v128.store(FAR, v);
          bestV = load<f32>(FAR + lane);
        }
      }
    }
    // Take the next that is still near enough.
    while (true) {
      if (sp == STACK) {
        if (found >= 0) {
          store<f32>(HIT, best);
          store<f32>(HIT, bestU, 4);
          store<f32>(HIT, bestV, 8);
        }
        return found;
      }
      sp -= 8;
      if (load<f32>(sp, 4) < best) break;
    }
    ref = load<i32>(sp);
  }
}

/** The leaf that stopped the last ray of `passes` that was stopped; 0: none yet. */
let blocker: i32 = 0;

/**
 * Share of light that gets as far as `far` through both trees: 0 if anything opaque stands in the way, else the product
 * of what sheets let straight through; -1 if a pane of glass is met, which the caller must look at itself.
 */
export function passes(
  rootA: i32,
  rootB: i32,
  ox: f32,
  oy: f32,
  oz: f32,
  dx: f32,
  dy: f32,
  dz: f32,
  far: f32,
): f32 {
  const ix = inverse(dx);
  const iy = inverse(dy);
  const iz = inverse(dz);
  const nearX: usize = ix < 0 ? 16 : 0;
  const nearY: usize = iy < 0 ? 48 : 32;
  const nearZ: usize = iz < 0 ? 80 : 64;
  const farX: usize = 16 - nearX;
  const farY: usize = 80 - nearY;
  const farZ: usize = 144 - nearZ;
  const OX = f32x4.splat(ox);
  const OY = f32x4.splat(oy);
  const OZ = f32x4.splat(oz);
  const DX = f32x4.splat(dx);
  const DY = f32x4.splat(dy);
  const DZ = f32x4.splat(dz);
  const IX = f32x4.splat(ix);
  const IY = f32x4.splat(iy);
  const IZ = f32x4.splat(iz);
  const ZERO = f32x4.splat(0);
  const ONE = f32x4.splat(1);
  const LOW = f32x4.splat(-SLACK);
  const HIGH = f32x4.splat(1 + SLACK);
  const GO_ON = f32x4.splat(LATER);
  const END = f32x4.splat(far);
  let share: f32 = 1;
  let glass = false;
  let sp: usize = STACK;
  if (rootA != 0) {
    store<i32>(sp, rootA);
    sp += 8;
  }
  let ref = rootB;
  // What stopped the ray before is asked first: the next one lies near it.
  let again = blocker;
  if (again != 0) {
    store<i32>(sp, ref);
    sp += 8;
    ref = again;
  }
  while (true) {
    if (ref > 0) {
      const node = <usize>ref;
      const t0 = f32x4.pmax(
        f32x4.pmax(mul(sub(v128.load(node + nearX), OX), IX), mul(sub(v128.load(node + nearY), OY), IY)),
        mul(sub(v128.load(node + nearZ), OZ), IZ),
      );
      const t1 = mul(
        GO_ON,
        f32x4.pmin(
          f32x4.pmin(mul(sub(v128.load(node + farX), OX), IX), mul(sub(v128.load(node + farY), OY), IY)),
          mul(sub(v128.load(node + farZ), OZ), IZ),
        ),
      );
      let mask = i32x4.bitmask(v128.and(v128.and(f32x4.le(t0, t1), f32x4.ge(t1, ZERO)), f32x4.lt(t0, END)));
      if (mask != 0) {
        ref = load<i32>(node + (<usize>ctz(mask) << 2), CHILD);
        mask &= mask - 1;
        while (mask != 0) {
          store<i32>(sp, load<i32>(node + (<usize>ctz(mask) << 2), CHILD));
          sp += 8;
          mask &= mask - 1;
        }
        continue;
      }
    } else if (ref < 0) {
      const leaf = <usize>-ref;
      const ax = v128.load(leaf, 48);
      const ay = v128.load(leaf, 64);
      const az = v128.load(leaf, 80);
      const bx = v128.load(leaf, 96);
      const by = v128.load(leaf, 112);
      const bz = v128.load(leaf, 128);
      const px = sub(mul(DY, bz), mul(DZ, by));
      const py = sub(mul(DZ, bx), mul(DX, bz));
      const pz = sub(mul(DX, by), mul(DY, bx));
      const inv = f32x4.div(ONE, add(add(mul(ax, px), mul(ay, py)), mul(az, pz)));
      const sx = sub(OX, v128.load(leaf));
      const sy = sub(OY, v128.load(leaf, 16));
      const sz = sub(OZ, v128.load(leaf, 32));
      const u = mul(add(add(mul(sx, px), mul(sy, py)), mul(sz, pz)), inv);
      const qx = sub(mul(sy, az), mul(sz, ay));
      const qy = sub(mul(sz, ax), mul(sx, az));
      const qz = sub(mul(sx, ay), mul(sy, ax));
      const v = mul(add(add(mul(DX, qx), mul(DY, qy)), mul(DZ, qz)), inv);
      const t = mul(add(add(mul(bx, qx), mul(by, qy)), mul(bz, qz)), inv);
      const met = v128.and(
        v128.and(f32x4.ge(u, LOW), f32x4.ge(v, LOW)),
        v128.and(f32x4.le(add(u, v), HIGH), v128.and(f32x4.gt(t, ZERO), f32x4.lt(t, END))),
      );
      let mask = i32x4.bitmask(met);
      if (mask != 0) {
        const pass = v128.load(leaf, PASS);
        if (i32x4.bitmask(v128.and(met, f32x4.eq(pass, ZERO))) != 0) {
          blocker = ref;
          return 0;
        }
        // What is asked first comes again in its turn, if nothing in it stops the ray.
        if (again != 0) {
          again = 0;
          sp -= 8;
          ref = load<i32>(sp);
          continue;
        }
        // A sheet counts once, even where two triangles of it meet.
        mask = i32x4.bitmask(
          v128.and(met, v128.and(v128.and(f32x4.ge(u, ZERO), f32x4.ge(v, ZERO)), f32x4.le(add(u, v), ONE))),
        );
        while (mask != 0) {
          const p = load<f32>(leaf + (<usize>ctz(mask) << 2), PASS);
          mask &= mask - 1;
          if (p < 0) glass = true;
          else share *= p;
        }
      }
    }
    again = 0;
    if (sp == STACK) return glass ? -1 : share;
    sp -= 8;
    ref = load<i32>(sp);
  }
}

/** Forgets what stopped the last ray: the trees are others. */
export function forget(): void {
  blocker = 0;
}

/**
 * `passes` for `n` rays, each from three numbers at `from` to three at `to` (32-bit floats) less `gap` at the end; a share
 * each at `out`. Of no length: 1.
 */
export function passesAll(
  rootA: i32,
  rootB: i32,
  n: i32,
  gap: f64,
  from: usize,
  to: usize,
  out: usize,
): void {
  for (let i: i32 = 0; i < n; i++) {
    const a = from + <usize>i * 12;
    const b = to + <usize>i * 12;
    const x = load<f32>(a);
    const y = load<f32>(a, 4);
    const z = load<f32>(a, 8);
    const dx = <f64>load<f32>(b) - <f64>x;
    const dy = <f64>load<f32>(b, 4) - <f64>y;
    const dz = <f64>load<f32>(b, 8) - <f64>z;
    const d = sqrt<f64>(dx * dx + dy * dy + dz * dz);
    const share: f32 =
      d > 0
        ? passes(rootA, rootB, x, y, z, <f32>(dx / d), <f32>(dy / d), <f32>(dz / d), <f32>(d - gap))
        : 1;
    store<f32>(out + (<usize>i << 2), share);
  }
}
