/**
 * Sums of light over links, neighbours and emitters, four numbers at a time: what src/transport/sums.ts does one by
 * one. AssemblyScript, compiled by `npm run wasm` to src/engine/sumsModule.ts; how its memory is laid out stands in
 * src/engine/fastSums.ts. Light is twelve 32-bit floats an item, three vectors.
 */
import { add, mul, sub } from './vector';

/** Bytes of an item's twelve numbers. */
const ITEM: usize = 48;

/** Where an item stands whose number stands at `at`. */
// @ts-expect-error: decorator
@inline
function itemAt(value: usize, at: usize): usize {
  return value + <usize>load<u32>(at) * ITEM;
}

/** out[i] = mean of `value` over the `per` links of item i, `n` items. */
export function gather(links: usize, per: i32, n: i32, value: usize, out: usize): void {
  const scale = f32x4.splat(<f32>1 / <f32>per);
  let at = links;
  for (let i: i32 = 0; i < n; i++) {
    const end = at + (<usize>per << 2);
    let a = f32x4.splat(0);
    let b = f32x4.splat(0);
    let c = f32x4.splat(0);
    let d = f32x4.splat(0);
    let e = f32x4.splat(0);
    let f = f32x4.splat(0);
    // Two sums side by side: one addition need not wait for the other.
    for (; at + 4 < end; at += 8) {
      const p = itemAt(value, at);
      const q = itemAt(value, at + 4);
      a = add(a, v128.load(p));
      b = add(b, v128.load(p, 16));
      c = add(c, v128.load(p, 32));
      d = add(d, v128.load(q));
      e = add(e, v128.load(q, 16));
      f = add(f, v128.load(q, 32));
    }
    if (at < end) {
      const p = itemAt(value, at);
      a = add(a, v128.load(p));
      b = add(b, v128.load(p, 16));
      c = add(c, v128.load(p, 32));
      at += 4;
    }
    const o = out + <usize>i * ITEM;
    v128.store(o, mul(scale, add(a, d)));
    v128.store(o, mul(scale, add(b, e)), 16);
    v128.store(o, mul(scale, add(c, f)), 32);
  }
}

// @ts-expect-error: decorator
@inline
function addFlux(flux: usize, area: v128, v: v128): void {
  const high = i8x16.shuffle(v, v, 8, 9, 10, 11, 12, 13, 14, 15, 8, 9, 10, 11, 12, 13, 14, 15);
  v128.store(flux, f64x2.add(v128.load(flux), f64x2.mul(area, f64x2.promote_low_f32x4(v))));
  v128.store(flux, f64x2.add(v128.load(flux, 16), f64x2.mul(area, f64x2.promote_low_f32x4(high))), 16);
}

/**
 * What leaves `n` patches of what falls on them: next ×= rho, whole += next, flux += area × next (`area` and `flux`
 * 64-bit).
 */
export function leave(n: i32, rho: usize, area: usize, next: usize, whole: usize, flux: usize): void {
  for (let i: i32 = 0; i < n; i++) {
    const o = <usize>i * ITEM;
    const A = f64x2.splat(load<f64>(area + (<usize>i << 3)));
    for (let k: usize = 0; k < ITEM; k += 16) {
      const v = mul(v128.load(next + o + k), v128.load(rho + o + k));
      v128.store(next + o + k, v);
      v128.store(whole + o + k, add(v128.load(whole + o + k), v));
      addFlux(flux + k + k, A, v);
    }
  }
}

/** out[c] = Σ weight × values over the entries start[c] … start[c + 1] - 1, `n` items. */
export function smooth(n: i32, start: usize, number: usize, weight: usize, values: usize, out: usize): void {
  let e = load<u32>(start);
  for (let c: i32 = 0; c < n; c++) {
    const end = load<u32>(start + (<usize>c << 2), 4);
    let x = f32x4.splat(0);
    let y = f32x4.splat(0);
    let z = f32x4.splat(0);
    for (; e < end; e++) {
      const k = v128.load32_splat(weight + (<usize>e << 2));
      const p = itemAt(values, number + (<usize>e << 2));
      x = add(x, mul(k, v128.load(p)));
      y = add(y, mul(k, v128.load(p, 16)));
      z = add(z, mul(k, v128.load(p, 32)));
    }
    const o = out + <usize>c * ITEM;
    v128.store(o, x);
    v128.store(o, y, 16);
    v128.store(o, z, 32);
  }
}

// @ts-expect-error: decorator
@inline
function sumOf(v: v128): f32 {
  return (
    f32x4.extract_lane(v, 0) + f32x4.extract_lane(v, 1) + (f32x4.extract_lane(v, 2) + f32x4.extract_lane(v, 3))
  );
}

/**
 * Mends `n` points' bounced light where links are near (nooks.ts): near patches start[i] … start[i + 1] - 1 of `patch`
 * count for their mean in part only (1 - own × links), else as lit like the point. `lux` and `bounced` per point;
 * what is mended over what is sure is written to `times`. `mean`: 1 / (1 - share of the mean).
 */
export function mend(
  n: i32,
  start: usize,
  patch: usize,
  exitance: usize,
  rho: usize,
  own: f32,
  mean: f32,
  lux: usize,
  bounced: usize,
  times: usize,
): void {
  const OWN = f32x4.splat(own);
  const MEAN = f32x4.splat(mean);
  const ONE = f32x4.splat(1);
  const ZERO = f32x4.splat(0);
  let e = load<u32>(start);
  for (let i: i32 = 0; i < n; i++) {
    const end = load<u32>(start + (<usize>i << 2), 4);
    let a = ZERO;
    let b = ZERO;
    let c = ZERO;
    let x = ZERO;
    let y = ZERO;
    let z = ZERO;
    for (; e < end; e++) {
      const at = patch + (<usize>e << 2);
      const p = itemAt(exitance, at);
      const q = itemAt(rho, at);
      a = add(a, v128.load(p));
      b = add(b, v128.load(p, 16));
      c = add(c, v128.load(p, 32));
      x = add(x, v128.load(q));
      y = add(y, v128.load(q, 16));
      z = add(z, v128.load(q, 32));
    }
    const L = v128.load32_splat(lux + (<usize>i << 2));
    const o = bounced + <usize>i * ITEM;
    let all = ZERO;
    let sure = ZERO;
    for (let k: usize = 0; k < ITEM; k += 16) {
      const seen = mul(OWN, k == 0 ? a : k == 16 ? b : c);
      const r = mul(OWN, k == 0 ? x : k == 16 ? y : z);
      const raw = v128.load(o + k);
      const mended = f32x4.div(add(f32x4.pmax(ZERO, sub(raw, seen)), mul(r, L)), sub(ONE, r));
      v128.store(o + k, mended);
      all = add(all, mended);
      sure = add(sure, f32x4.pmax(ZERO, sub(raw, mul(seen, MEAN))));
    }
    const whole = sumOf(all);
    store<f32>(times + (<usize>i << 2), whole > 0 ? whole / (sumOf(sure) + <f32>1e-9 * whole) : 0);
  }
}
