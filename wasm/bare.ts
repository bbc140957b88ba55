/**
 * Light of a flat lamp at many points, four at a time, and rays to it: what src/transport/quick/bare.ts and places.ts do
 * one by one. AssemblyScript,
 * compiled by `npm run wasm` to src/engine/bareModule.ts; how its memory is laid out stands in src/engine/fastBare.ts.
 */
import { add, mul, sub } from './vector';

/** Laws of intensity, as in src/transport/emitter.ts. */
const ISOTROPIC: i32 = 0;
const COSINE: i32 = 1;
const ALONG: i32 = 3;
/** A thin tube, as a line (src/transport/quick/line.ts, flat.ts). */
const LINE: i32 = 8;

// @ts-expect-error: decorator
@inline
function all(x: f32): v128 {
  return f32x4.splat(x);
}
// @ts-expect-error: decorator
@inline
function dot(ax: v128, ay: v128, az: v128, bx: v128, by: v128, bz: v128): v128 {
  return add(add(mul(ax, bx), mul(ay, by)), mul(az, bz));
}

/** log2 of numbers in (0, 1]: the series of artanh about 1, within 1e-7 of itself. */
// @ts-expect-error: decorator
@inline
function log2(x: v128): v128 {
  // Mantissa between √½ and √2.
  const up = i32x4.sub(x, i32x4.splat(0x3f3504f3));
  const e = i32x4.shr_s(up, 23);
  const m = i32x4.sub(x, i32x4.shl(e, 23));
  const s = f32x4.div(sub(m, all(1)), add(m, all(1)));
  const q = mul(s, s);
  let p = add(mul(q, all(<f32>0.32059889)), all(<f32>0.41219858));
  p = add(mul(q, p), all(<f32>0.57707802));
  p = add(mul(q, p), all(<f32>0.96179669));
  p = add(mul(q, p), all(<f32>2.8853901));
  return add(f32x4.convert_i32x4_s(e), mul(s, p));
}

/** 2 to the power of numbers of 0 and less, within 1e-7 of itself; under 2^-126 nothing. */
// @ts-expect-error: decorator
@inline
function exp2(y: v128): v128 {
  const some = f32x4.gt(y, all(-126));
  const whole = f32x4.nearest(v128.and(y, some));
  const f = sub(v128.and(y, some), whole);
  let p = add(mul(f, all(<f32>1.5252734e-5)), all(<f32>1.5403530e-4));
  p = add(mul(f, p), all(<f32>1.3333558e-3));
  p = add(mul(f, p), all(<f32>9.6181291e-3));
  p = add(mul(f, p), all(<f32>5.5504109e-2));
  p = add(mul(f, p), all(<f32>2.4022651e-1));
  p = add(mul(f, p), all(<f32>6.9314718e-1));
  p = add(mul(f, p), all(1));
  const scale = i32x4.shl(i32x4.add(i32x4.trunc_sat_f32x4_s(whole), i32x4.splat(127)), 23);
  return v128.and(mul(p, scale), some);
}

/** The four numbers that stand at `base` + 4 × each of the four numbers at `list`. */
// @ts-expect-error: decorator
@inline
function four(base: usize, list: usize): v128 {
  let v = v128.load32_zero(base + ((<usize>load<u32>(list)) << 2));
  v = v128.load_lane<f32>(base + ((<usize>load<u32>(list, 4)) << 2), v, 1);
  v = v128.load_lane<f32>(base + ((<usize>load<u32>(list, 8)) << 2), v, 2);
  return v128.load_lane<f32>(base + ((<usize>load<u32>(list, 12)) << 2), v, 3);
}

/** Where the last `three` are: x, y and z of four points. */
let X: v128 = i32x4.splat(0);
let Y: v128 = i32x4.splat(0);
let Z: v128 = i32x4.splat(0);
// @ts-expect-error: decorator
@inline
function three(base: usize, list: usize): void {
  const a = v128.load(base + (<usize>load<u32>(list)) * 12);
  const b = v128.load(base + (<usize>load<u32>(list, 4)) * 12);
  const c = v128.load(base + (<usize>load<u32>(list, 8)) * 12);
  const d = v128.load(base + (<usize>load<u32>(list, 12)) * 12);
  const low = v128.shuffle<f32>(a, b, 0, 4, 1, 5);
  const high = v128.shuffle<f32>(c, d, 0, 4, 1, 5);
  X = v128.shuffle<f32>(low, high, 0, 1, 4, 5);
  Y = v128.shuffle<f32>(low, high, 2, 3, 6, 7);
  Z = v128.shuffle<f32>(v128.shuffle<f32>(a, b, 2, 6, 3, 7), v128.shuffle<f32>(c, d, 2, 6, 3, 7), 0, 1, 4, 5);
}

/** Adds four numbers to what stands at `base` + 4 × each of the four numbers at `list`. */
// @ts-expect-error: decorator
@inline
function addFour(base: usize, list: usize, v: v128): void {
  const sum = add(four(base, list), v);
  v128.store_lane<f32>(base + ((<usize>load<u32>(list)) << 2), sum, 0);
  v128.store_lane<f32>(base + ((<usize>load<u32>(list, 4)) << 2), sum, 1);
  v128.store_lane<f32>(base + ((<usize>load<u32>(list, 8)) << 2), sum, 2);
  v128.store_lane<f32>(base + ((<usize>load<u32>(list, 12)) << 2), sum, 3);
}

/** Value of the gloss (src/transport/brdf.ts) where both directions are above the surface; elsewhere anything. */
// @ts-expect-error: decorator
@inline
function glossOf(
  f0: v128,
  alpha: v128,
  nx: v128,
  ny: v128,
  nz: v128,
  lx: v128,
  ly: v128,
  lz: v128,
  ex: v128,
  ey: v128,
  ez: v128,
  nl: v128,
  ne: v128,
): v128 {
  const ONE = all(1);
  let hx = add(lx, ex);
  let hy = add(ly, ey);
  let hz = add(lz, ez);
  const inv = f32x4.div(ONE, f32x4.sqrt(dot(hx, hy, hz, hx, hy, hz)));
  hx = mul(hx, inv);
  hy = mul(hy, inv);
  hz = mul(hz, inv);
  const nh = dot(nx, ny, nz, hx, hy, hz);
  const a2 = mul(alpha, alpha);
  const cx = sub(mul(ny, hz), mul(nz, hy));
  const cy = sub(mul(nz, hx), mul(nx, hz));
  const cz = sub(mul(nx, hy), mul(ny, hx));
  const s = add(dot(cx, cy, cz, cx, cy, cz), mul(a2, mul(nh, nh)));
  const d = f32x4.div(a2, mul(all(<f32>Math.PI), mul(s, s)));
  const rest = sub(ONE, a2);
  const rootE = f32x4.sqrt(add(a2, mul(rest, mul(ne, ne))));
  const rootL = f32x4.sqrt(add(a2, mul(rest, mul(nl, nl))));
  const m = sub(ONE, dot(ex, ey, ez, hx, hy, hz));
  const m2 = mul(m, m);
  const fresnel = add(f0, mul(sub(ONE, f0), mul(mul(m2, m2), m)));
  return f32x4.div(mul(fresnel, d), mul(all(2), add(mul(nl, rootE), mul(ne, rootL))));
}

/**
 * Numbers of an emitter (32-bit): 0–2 centre, 3–5 x, 6–8 y, 9–11 z, 12 cd, 13 and 14 exponents (tube: radius and half its
 * length; line: and in 9–11 what 32 bits leave of the centre).
 */
// @ts-expect-error: decorator
@inline
function nth(emitter: usize, k: usize): v128 {
  return v128.load32_splat(emitter + (k << 2));
}

/** Intensity, cd, against unit directions s to the emitter; `cos`: their cosines to its axis, above 0. */
// @ts-expect-error: decorator
@inline
function intensity(emitter: usize, law: i32, sx: v128, sy: v128, sz: v128, cos: v128): v128 {
  const cd = nth(emitter, 12);
  if (law == ISOTROPIC) return cd;
  let n = nth(emitter, 13);
  if (law == COSINE) {
    if (load<f32>(emitter, 52) == 1) return mul(cd, cos);
  } else {
    const lx = dot(sx, sy, sz, nth(emitter, 3), nth(emitter, 4), nth(emitter, 5));
    const ly = dot(sx, sy, sz, nth(emitter, 6), nth(emitter, 7), nth(emitter, 8));
    const x2 = mul(lx, lx);
    const y2 = mul(ly, ly);
    n = f32x4.div(add(mul(n, x2), mul(nth(emitter, 14), y2)), f32x4.pmax(add(x2, y2), all(<f32>1e-30)));
  }
  return mul(cd, exp2(mul(n, log2(f32x4.pmin(cos, all(1))))));
}

/** Four points: the way from them to the emitter's centre, their normals, ways to the eye and gloss. */
let CX: v128 = i32x4.splat(0);
let CY: v128 = i32x4.splat(0);
let CZ: v128 = i32x4.splat(0);
let NX: v128 = i32x4.splat(0);
let NY: v128 = i32x4.splat(0);
let NZ: v128 = i32x4.splat(0);
let EX: v128 = i32x4.splat(0);
let EY: v128 = i32x4.splat(0);
let EZ: v128 = i32x4.splat(0);
/** Cosine of the eye; share at normal incidence and alpha; which of them have gloss and show it. */
let NE: v128 = i32x4.splat(0);
let F0: v128 = i32x4.splat(0);
let ALPHA: v128 = i32x4.splat(0);
let SEEN: v128 = i32x4.splat(0);
let shiny: bool = false;

/** Takes the four points numbered at `list`, of `left` that are still to be done: the first again as often as fills four. */
// @ts-expect-error: decorator
@inline
function takeFour(
  list: usize,
  left: i32,
  emitter: usize,
  position: usize,
  normal: usize,
  toEye: usize,
  f0At: usize,
  alphaAt: usize,
): void {
  for (let k: i32 = left; k < 4; k++) store<u32>(list + (<usize>k << 2), load<u32>(list));
  three(position, list);
  CX = sub(nth(emitter, 0), X);
  CY = sub(nth(emitter, 1), Y);
  CZ = sub(nth(emitter, 2), Z);
  three(normal, list);
  NX = X;
  NY = Y;
  NZ = Z;
  F0 = four(f0At, list);
  shiny = v128.any_true(F0);
  if (!shiny) return;
  three(toEye, list);
  EX = X;
  EY = Y;
  EZ = Z;
  NE = dot(NX, NY, NZ, EX, EY, EZ);
  ALPHA = four(alphaAt, list);
  SEEN = v128.and(f32x4.gt(NE, all(0)), f32x4.gt(F0, all(0)));
}

/** Adds the light of `places` (offsets from the centre, 16 bytes each) to `count` points numbered in `list`. */
function addPlaces(
  list: usize,
  count: i32,
  emitter: usize,
  law: i32,
  weight: f32,
  place: usize,
  places: i32,
  position: usize,
  normal: usize,
  toEye: usize,
  f0At: usize,
  alphaAt: usize,
  diffuse: usize,
  shine: usize,
): void {
  const ZERO = all(0);
  const ONE = all(1);
  const zx = nth(emitter, 9);
  const zy = nth(emitter, 10);
  const zz = nth(emitter, 11);
  const W = all(weight / <f32>places);
  for (let i: i32 = 0; i < count; i += 4, list += 16) {
    takeFour(list, count - i, emitter, position, normal, toEye, f0At, alphaAt);
    const cx = CX;
    const cy = CY;
    const cz = CZ;
    const nx = NX;
    const ny = NY;
    const nz = NZ;
    let lux = ZERO;
    let light = ZERO;
    for (let k: i32 = 0; k < places; k++) {
      const o = place + (<usize>k << 4);
      let sx = add(cx, v128.load32_splat(o));
      let sy = add(cy, v128.load32_splat(o + 4));
      let sz = add(cz, v128.load32_splat(o + 8));
      const d2 = dot(sx, sy, sz, sx, sy, sz);
      const inv2 = f32x4.div(ONE, d2);
      const inv = f32x4.sqrt(inv2);
      sx = mul(sx, inv);
      sy = mul(sy, inv);
      sz = mul(sz, inv);
      const from = f32x4.neg(dot(sx, sy, sz, zx, zy, zz));
      const cos = dot(sx, sy, sz, nx, ny, nz);
      const lit = v128.and(v128.and(f32x4.gt(from, ZERO), f32x4.gt(cos, ZERO)), f32x4.gt(d2, ZERO));
      if (!v128.any_true(lit)) continue;
      const cd = intensity(emitter, law, sx, sy, sz, from);
      const one = v128.and(mul(mul(cd, inv2), cos), lit);
      lux = add(lux, one);
      if (shiny) {
        const value = glossOf(F0, ALPHA, nx, ny, nz, sx, sy, sz, EX, EY, EZ, cos, NE);
        light = add(light, v128.and(mul(value, one), v128.and(lit, SEEN)));
      }
    }
    addFour(diffuse, list, mul(W, lux));
    if (shiny) addFour(shine, list, mul(W, light));
  }
}

/** The same for a thick tube (law: a sine to its line): places are a sine's share of the side that faces, and a length. */
function addTube(
  list: usize,
  count: i32,
  emitter: usize,
  weight: f32,
  place: usize,
  places: i32,
  position: usize,
  normal: usize,
  toEye: usize,
  f0At: usize,
  alphaAt: usize,
  diffuse: usize,
  shine: usize,
): void {
  const ZERO = all(0);
  const ONE = all(1);
  const wx = nth(emitter, 3);
  const wy = nth(emitter, 4);
  const wz = nth(emitter, 5);
  const cd = nth(emitter, 12);
  const R = nth(emitter, 13);
  const W = all(weight / <f32>places);
  for (let i: i32 = 0; i < count; i += 4, list += 16) {
    takeFour(list, count - i, emitter, position, normal, toEye, f0At, alphaAt);
    const cx = CX;
    const cy = CY;
    const cz = CZ;
    const nx = NX;
    const ny = NY;
    const nz = NZ;
    // The distance from its line, and the frame about it there.
    const along = dot(cx, cy, cz, wx, wy, wz);
    const ax = sub(mul(along, wx), cx);
    const ay = sub(mul(along, wy), cy);
    const az = sub(mul(along, wz), cz);
    const rho = f32x4.sqrt(dot(ax, ay, az, ax, ay, az));
    const outside = f32x4.gt(rho, R);
    const inv = f32x4.div(ONE, rho);
    const ex = mul(ax, inv);
    const ey = mul(ay, inv);
    const ez = mul(az, inv);
    const gx = sub(mul(wy, ez), mul(wz, ey));
    const gy = sub(mul(wz, ex), mul(wx, ez));
    const gz = sub(mul(wx, ey), mul(wy, ex));
    const share = mul(R, inv);
    const sinMax = f32x4.sqrt(f32x4.pmax(ZERO, sub(ONE, mul(share, share))));
    let lux = ZERO;
    let light = ZERO;
    for (let k: i32 = 0; k < places; k++) {
      const o = place + (<usize>k << 4);
      const sinPhi = mul(v128.load32_splat(o), sinMax);
      const cosPhi = f32x4.sqrt(f32x4.pmax(ZERO, sub(ONE, mul(sinPhi, sinPhi))));
      const z = v128.load32_splat(o + 4);
      const rc = mul(R, cosPhi);
      const rs = mul(R, sinPhi);
      let sx = add(add(cx, mul(z, wx)), add(mul(rc, ex), mul(rs, gx)));
      let sy = add(add(cy, mul(z, wy)), add(mul(rc, ey), mul(rs, gy)));
      let sz = add(add(cz, mul(z, wz)), add(mul(rc, ez), mul(rs, gz)));
      const d2 = dot(sx, sy, sz, sx, sy, sz);
      const inv2 = f32x4.div(ONE, d2);
      const near = f32x4.sqrt(inv2);
      sx = mul(sx, near);
      sy = mul(sy, near);
      sz = mul(sz, near);
      const facing = sub(mul(rho, cosPhi), R);
      const cos = dot(sx, sy, sz, nx, ny, nz);
      const lit = v128.and(v128.and(f32x4.gt(facing, ZERO), f32x4.gt(cos, ZERO)), outside);
      if (!v128.any_true(lit)) continue;
      const one = v128.and(
        f32x4.div(mul(mul(mul(cd, inv2), near), mul(mul(sinMax, facing), cos)), cosPhi),
        lit,
      );
      lux = add(lux, one);
      if (shiny) {
        const value = glossOf(F0, ALPHA, nx, ny, nz, sx, sy, sz, EX, EY, EZ, cos, NE);
        light = add(light, v128.and(mul(value, one), v128.and(lit, SEEN)));
      }
    }
    addFour(diffuse, list, mul(W, lux));
    if (shiny) addFour(shine, list, mul(W, light));
  }
}

/** The arc of a line as four points see it: middle, tangent, tangent of a quarter of it, sine and cosine of half of it. */
let MX: v128 = i32x4.splat(0);
let MY: v128 = i32x4.splat(0);
let MZ: v128 = i32x4.splat(0);
let TX: v128 = i32x4.splat(0);
let TY: v128 = i32x4.splat(0);
let TZ: v128 = i32x4.splat(0);
let QUARTER: v128 = i32x4.splat(0);
let SIN: v128 = i32x4.splat(0);
let COS: v128 = i32x4.splat(0);

/** Lays out the arc of a line of `half` and direction w about c, above the horizon; returns which points see any of it. */
function layArc(cx: v128, cy: v128, cz: v128, wx: v128, wy: v128, wz: v128, half: v128): v128 {
  const ZERO = all(0);
  const ONE = all(1);
  let ax = sub(cx, mul(half, wx));
  let ay = sub(cy, mul(half, wy));
  let az = sub(cz, mul(half, wz));
  let bx = add(cx, mul(half, wx));
  let by = add(cy, mul(half, wy));
  let bz = add(cz, mul(half, wz));
  const na = dot(ax, ay, az, NX, NY, NZ);
  const nb = dot(bx, by, bz, NX, NY, NZ);
  // An end under the horizon is cut off: share of the way to the other at which it is met.
  const lowA = f32x4.lt(na, ZERO);
  const lowB = f32x4.lt(nb, ZERO);
  const ka = v128.and(f32x4.div(na, sub(na, nb)), lowA);
  const kb = v128.and(f32x4.div(nb, sub(nb, na)), lowB);
  const wayX = sub(bx, ax);
  const wayY = sub(by, ay);
  const wayZ = sub(bz, az);
  ax = add(ax, mul(ka, wayX));
  ay = add(ay, mul(ka, wayY));
  az = add(az, mul(ka, wayZ));
  bx = sub(bx, mul(kb, wayX));
  by = sub(by, mul(kb, wayY));
  bz = sub(bz, mul(kb, wayZ));
  const ia = f32x4.div(ONE, f32x4.sqrt(dot(ax, ay, az, ax, ay, az)));
  const ib = f32x4.div(ONE, f32x4.sqrt(dot(bx, by, bz, bx, by, bz)));
  ax = mul(ax, ia);
  ay = mul(ay, ia);
  az = mul(az, ia);
  bx = mul(bx, ib);
  by = mul(by, ib);
  bz = mul(bz, ib);
  const sx = add(ax, bx);
  const sy = add(ay, by);
  const sz = add(az, bz);
  const dx = sub(bx, ax);
  const dy = sub(by, ay);
  const dz = sub(bz, az);
  const s2 = f32x4.sqrt(dot(sx, sy, sz, sx, sy, sz));
  const d2 = f32x4.sqrt(dot(dx, dy, dz, dx, dy, dz));
  const is = f32x4.div(ONE, s2);
  const id = f32x4.div(ONE, d2);
  MX = mul(sx, is);
  MY = mul(sy, is);
  MZ = mul(sz, is);
  TX = mul(dx, id);
  TY = mul(dy, id);
  TZ = mul(dz, id);
  SIN = mul(all(0.5), d2);
  COS = mul(all(0.5), s2);
  QUARTER = f32x4.div(SIN, add(ONE, COS));
  const some = v128.or(f32x4.gt(na, ZERO), f32x4.gt(nb, ZERO));
  return v128.and(some, v128.and(f32x4.gt(s2, ZERO), f32x4.gt(d2, ZERO)));
}

/** Four times the arc tangent of numbers up to tan 22.5°, within 2e-8 of itself. */
// @ts-expect-error: decorator
@inline
function fourAtan(x: v128): v128 {
  const z = mul(x, x);
  let p = add(mul(z, all(<f32>0.07982475)), all(<f32>-0.13850731));
  p = add(mul(z, p), all(<f32>0.19974336));
  p = add(mul(z, p), all(<f32>-0.33332795));
  p = add(mul(z, p), all(<f32>0.99999998));
  return mul(all(4), mul(x, p));
}

/** As in line.ts: within which a lobe takes one line; where its least slope is looked for. */
const BROAD: f64 = 2.5;
const FURTHEST: f32 = 3;
const LOWEST: f32 = 0.02;
const WIDEST: f32 = 16;
/** Keeps numbers within FURTHEST of 0. */
// @ts-expect-error: decorator
@inline
function near0(x: v128): v128 {
  return f32x4.pmax(all(-FURTHEST), f32x4.pmin(all(FURTHEST), x));
}

// @ts-expect-error: decorator
@inline
function breadth(wide: v128, x: v128, end: v128): v128 {
  return f32x4.pmin(all(WIDEST), f32x4.pmax(wide, mul(all(<f32>0.25), sub(f32x4.abs(x), end))));
}

/** The lobe on the arc: where its slope is least, that slope, its change there, and the half vector's part along n. */
let AT: v128 = i32x4.splat(0);
let PX: v128 = i32x4.splat(0);
let PY: v128 = i32x4.splat(0);
let PZ: v128 = i32x4.splat(0);
let DX: v128 = i32x4.splat(0);
let DY: v128 = i32x4.splat(0);
let DZ: v128 = i32x4.splat(0);
let D2: v128 = i32x4.splat(0);
let HN: v128 = i32x4.splat(0);

/** Looks for it: by two steps of Gauss and Newton from where the mirror's ray is. */
function findPeak(): void {
  const ONE = all(1);
  const TINY = all(<f32>1e-6);
  const mn = dot(MX, MY, MZ, NX, NY, NZ);
  const tn = dot(TX, TY, TZ, NX, NY, NZ);
  const twice = add(NE, NE);
  const rx = sub(mul(twice, NX), EX);
  const ry = sub(mul(twice, NY), EY);
  const rz = sub(mul(twice, NZ), EZ);
  const mr = dot(MX, MY, MZ, rx, ry, rz);
  const tr = dot(TX, TY, TZ, rx, ry, rz);
  const root = f32x4.sqrt(add(mul(mr, mr), mul(tr, tr)));
  let x = near0(f32x4.div(tr, f32x4.pmax(TINY, add(root, mr))));
  for (let step: i32 = 0; ; step++) {
    const x2 = add(x, x);
    const xx = mul(x, x);
    const lx = sub(ONE, xx);
    const l1 = add(ONE, xx);
    const hn = add(add(mul(lx, mn), mul(x2, tn)), mul(l1, NE));
    const gn = add(sub(add(tn, tn), mul(x2, mn)), mul(x2, NE));
    const k = f32x4.div(ONE, f32x4.pmax(TINY, hn));
    PX = sub(mul(add(add(mul(lx, MX), mul(x2, TX)), mul(l1, EX)), k), NX);
    PY = sub(mul(add(add(mul(lx, MY), mul(x2, TY)), mul(l1, EY)), k), NY);
    PZ = sub(mul(add(add(mul(lx, MZ), mul(x2, TZ)), mul(l1, EZ)), k), NZ);
    DX = mul(sub(add(sub(add(TX, TX), mul(x2, MX)), mul(x2, EX)), mul(gn, add(NX, PX))), k);
    DY = mul(sub(add(sub(add(TY, TY), mul(x2, MY)), mul(x2, EY)), mul(gn, add(NY, PY))), k);
    DZ = mul(sub(add(sub(add(TZ, TZ), mul(x2, MZ)), mul(x2, EZ)), mul(gn, add(NZ, PZ))), k);
    D2 = f32x4.pmax(all(<f32>1e-12), dot(DX, DY, DZ, DX, DY, DZ));
    AT = x;
    HN = f32x4.div(hn, l1);
    if (step == 2) return;
    const to = near0(sub(x, f32x4.div(dot(PX, PY, PZ, DX, DY, DZ), D2)));
    const toto = mul(to, to);
    const there = add(add(mul(sub(ONE, toto), mn), mul(add(to, to), tn)), mul(add(ONE, toto), NE));
    x = v128.bitselect(to, x, f32x4.gt(there, all(LOWEST)));
  }
}

/** tan of half the angle whose tangent is q / W. */
// @ts-expect-error: decorator
@inline
function halfOf(q: v128, W: v128): v128 {
  return f32x4.div(q, add(W, f32x4.sqrt(add(mul(W, W), mul(q, q)))));
}

/** ∫ gloss × (n·l) (u·l) dφ over the arc whose peak is found, by the rule at `place`: six places, six shares. */
function alongLobe(ux: v128, uy: v128, uz: v128, place: usize): v128 {
  const ZERO = all(0);
  const ONE = all(1);
  const slope2 = add(mul(ALPHA, ALPHA), dot(PX, PY, PZ, PX, PY, PZ));
  const W = breadth(f32x4.sqrt(f32x4.div(slope2, D2)), AT, QUARTER);
  const from = halfOf(sub(f32x4.neg(QUARTER), AT), W);
  const to = halfOf(sub(QUARTER, AT), W);
  const mid = mul(all(0.5), add(from, to));
  const wide = mul(all(0.5), sub(to, from));
  let sum = ZERO;
  for (let k: usize = 0; k < 24; k += 4) {
    const s = add(mid, mul(wide, v128.load32_splat(place + k)));
    const ss = mul(s, s);
    const q = f32x4.div(ONE, sub(ONE, ss));
    const y = add(AT, mul(add(W, W), mul(s, q)));
    const yy = mul(y, y);
    const i = f32x4.div(ONE, add(ONE, yy));
    const c = mul(sub(ONE, yy), i);
    const d = mul(add(y, y), i);
    const lx = add(mul(c, MX), mul(d, TX));
    const ly = add(mul(c, MY), mul(d, TY));
    const lz = add(mul(c, MZ), mul(d, TZ));
    const cos = dot(lx, ly, lz, NX, NY, NZ);
    const value = glossOf(F0, ALPHA, NX, NY, NZ, lx, ly, lz, EX, EY, EZ, cos, NE);
    const one = mul(mul(mul(value, cos), dot(lx, ly, lz, ux, uy, uz)), mul(add(ONE, ss), mul(mul(q, q), i)));
    sum = add(sum, v128.and(mul(v128.load32_splat(place + 24 + k), one), f32x4.gt(cos, ZERO)));
  }
  return mul(mul(sum, add(W, W)), sub(to, from));
}

/** The same for a thin tube, as line.ts has it. `lines`: gloss by lines side by side, not by one. */
function addLine(
  list: usize,
  count: i32,
  emitter: usize,
  weight: f32,
  place: usize,
  lines: bool,
  position: usize,
  normal: usize,
  toEye: usize,
  f0At: usize,
  alphaAt: usize,
  diffuse: usize,
  shine: usize,
): void {
  const ZERO = all(0);
  const ONE = all(1);
  const wx = nth(emitter, 3);
  const wy = nth(emitter, 4);
  const wz = nth(emitter, 5);
  const R = nth(emitter, 13);
  const half = nth(emitter, 14);
  const cd = mul(all(weight * 0.5), f32x4.div(nth(emitter, 12), half));
  for (let i: i32 = 0; i < count; i += 4, list += 16) {
    takeFour(list, count - i, emitter, position, normal, toEye, f0At, alphaAt);
    // What 32-bit floats leave of the centre.
    const cx = add(CX, nth(emitter, 9));
    const cy = add(CY, nth(emitter, 10));
    const cz = add(CZ, nth(emitter, 11));
    const along = dot(cx, cy, cz, wx, wy, wz);
    let ux = sub(cx, mul(along, wx));
    let uy = sub(cy, mul(along, wy));
    let uz = sub(cz, mul(along, wz));
    const rho = f32x4.sqrt(dot(ux, uy, uz, ux, uy, uz));
    const outside = f32x4.gt(rho, R);
    const inv = f32x4.div(ONE, rho);
    ux = mul(ux, inv);
    uy = mul(uy, inv);
    uz = mul(uz, inv);
    const per = mul(cd, inv);
    const has = v128.and(layArc(cx, cy, cz, wx, wy, wz, half), outside);
    const mu = dot(MX, MY, MZ, ux, uy, uz);
    const tu = dot(TX, TY, TZ, ux, uy, uz);
    const mn = dot(MX, MY, MZ, NX, NY, NZ);
    const tn = dot(TX, TY, TZ, NX, NY, NZ);
    // A quarter of half the arc, by its tangent.
    const angle = fourAtan(f32x4.div(QUARTER, add(ONE, f32x4.sqrt(add(ONE, mul(QUARTER, QUARTER))))));
    const both = mul(SIN, COS);
    const lux = add(mul(mul(mu, mn), add(angle, both)), mul(mul(tu, tn), sub(angle, both)));
    addFour(diffuse, list, v128.and(mul(per, f32x4.pmax(ZERO, lux)), has));
    if (!shiny) continue;
    findPeak();
    if (!lines) {
      const one = mul(per, alongLobe(ux, uy, uz, place));
      addFour(shine, list, v128.and(one, v128.and(has, SEEN)));
      continue;
    }
    // Across: the lobe is narrowest where the slope is, square to its change along the tube.
    const gx = sub(mul(wy, uz), mul(wz, uy));
    const gy = sub(mul(wz, ux), mul(wx, uz));
    const gz = sub(mul(wx, uy), mul(wy, ux));
    const xx = mul(AT, AT);
    const i1 = f32x4.div(ONE, add(ONE, xx));
    const c = mul(sub(ONE, xx), i1);
    const d = mul(add(AT, AT), i1);
    const cosPhi = f32x4.pmax(ZERO, add(mul(c, mu), mul(d, tu)));
    const k = f32x4.div(mul(R, cosPhi), mul(rho, f32x4.pmax(all(LOWEST), HN)));
    const gn = dot(gx, gy, gz, NX, NY, NZ);
    let ax = mul(k, sub(gx, mul(gn, add(NX, PX))));
    let ay = mul(k, sub(gy, mul(gn, add(NY, PY))));
    let az = mul(k, sub(gz, mul(gn, add(NZ, PZ))));
    const aAlong = f32x4.div(dot(ax, ay, az, DX, DY, DZ), D2);
    const sAlong = f32x4.div(dot(PX, PY, PZ, DX, DY, DZ), D2);
    ax = sub(ax, mul(aAlong, DX));
    ay = sub(ay, mul(aAlong, DY));
    az = sub(az, mul(aAlong, DZ));
    const a2 = f32x4.pmax(all(<f32>1e-12), dot(ax, ay, az, ax, ay, az));
    const sx = sub(PX, mul(sAlong, DX));
    const sy = sub(PY, mul(sAlong, DY));
    const sz = sub(PZ, mul(sAlong, DZ));
    const q0 = v128.and(near0(f32x4.neg(f32x4.div(dot(sx, sy, sz, ax, ay, az), a2))), has);
    const W = v128.bitselect(breadth(f32x4.div(ALPHA, f32x4.sqrt(a2)), q0, ONE), ONE, has);
    const from = halfOf(sub(all(-1), q0), W);
    const to = halfOf(sub(ONE, q0), W);
    const mid = mul(all(0.5), add(from, to));
    const wide = mul(all(0.5), sub(to, from));
    let light = ZERO;
    for (let n: usize = 0; n < 24; n += 4) {
      const s = add(mid, mul(wide, v128.load32_splat(place + n)));
      const ss = mul(s, s);
      const q = f32x4.div(ONE, sub(ONE, ss));
      const off = mul(R, add(q0, mul(add(W, W), mul(s, q))));
      const sees = layArc(
        add(cx, mul(off, gx)),
        add(cy, mul(off, gy)),
        add(cz, mul(off, gz)),
        wx,
        wy,
        wz,
        half,
      );
      findPeak();
      const share = mul(mul(v128.load32_splat(place + 24 + n), W), mul(mul(add(ONE, ss), mul(q, q)), wide));
      light = add(light, v128.and(mul(share, alongLobe(ux, uy, uz, place)), sees));
    }
    addFour(shine, list, v128.and(mul(per, light), v128.and(outside, SEEN)));
  }
}

/**
 * Adds the unshadowed light of one flat emitter or tube to `n` points: which places of it are asked is as `addBare` in bare.ts
 * has it. `mark` per point: 1 where nothing is to be done (hair); set to 2 where the gloss is too sharp for places and is
 * left to be asked along its lobe. `place`: one, four and sixteen offsets; of a line its rule. `lists`: room for 3 ×
 * (n + 4) numbers; `f0At` and `alphaAt` for one a point. `centre`: of the emitter, of a line its direction too.
 */
export function bare(
  n: i32,
  emitter: usize,
  law: i32,
  reach: f64,
  alone: i32,
  weight: f32,
  place: usize,
  position: usize,
  normal: usize,
  toEye: usize,
  material: usize,
  materials: i32,
  f0: usize,
  alpha: usize,
  mark: usize,
  f0At: usize,
  alphaAt: usize,
  lists: usize,
  diffuse: usize,
  shine: usize,
  centre: usize,
): void {
  const room = (<usize>n + 4) << 2;
  let one: usize = lists;
  let few: usize = lists + room;
  let many: usize = lists + 2 * room;
  const lookX = load<f64>(centre);
  const lookY = load<f64>(centre, 8);
  const lookZ = load<f64>(centre, 16);
  const reach2 = reach * reach;
  for (let p: i32 = 0; p < n; p++) {
    if (load<u8>(mark + <usize>p) != 0) continue;
    const at = position + <usize>p * 12;
    const up = normal + <usize>p * 12;
    const dx = lookX - <f64>load<f32>(at);
    const dy = lookY - <f64>load<f32>(at, 4);
    const dz = lookZ - <f64>load<f32>(at, 8);
    const nx = <f64>load<f32>(up);
    const ny = <f64>load<f32>(up, 4);
    const nz = <f64>load<f32>(up, 8);
    const along = dx * nx + dy * ny + dz * nz;
    // A line's clip at the horizon knows better.
    if (law != LINE && along < -reach) continue;
    const size2 = reach2 / (dx * dx + dy * dy + dz * dz);
    const above = along > reach;
    const small = above ? size2 < 0.01 : size2 < 1e-4;
    let large = size2 > (above ? 0.25 : 0.004);
    const m = <i32>load<u16>(material + (<usize>p << 1));
    let f: f32 = m < materials ? load<f32>(f0 + (<usize>m << 2)) : 0;
    if (law == LINE) {
      const a: f32 = f > 0 ? load<f32>(alpha + (<usize>m << 2)) : 1;
      store<f32>(alphaAt + (<usize>p << 2), a);
      store<f32>(f0At + (<usize>p << 2), f);
      const eye = toEye + <usize>p * 12;
      const ne = nx * <f64>load<f32>(eye) + ny * <f64>load<f32>(eye, 4) + nz * <f64>load<f32>(eye, 8);
      const cw = dx * load<f64>(centre, 24) + dy * load<f64>(centre, 32) + dz * load<f64>(centre, 40);
      const rho = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - cw * cw));
      if (f > 0 && <f64>a * ne * rho <= BROAD * <f64>load<f32>(emitter, 52)) {
        store<u32>(few, p);
        few += 4;
      } else {
        store<u32>(one, p);
        one += 4;
      }
      continue;
    }
    if (f > 0) {
      const a = load<f32>(alpha + (<usize>m << 2));
      store<f32>(alphaAt + (<usize>p << 2), a);
      const a2 = <f64>a * <f64>a;
      if (a2 < 0.1 * size2 && law != ALONG) {
        store<u8>(mark + <usize>p, 2);
        f = 0;
      }
      if (a2 < 0.5 * size2) large = true;
    } else store<f32>(alphaAt + (<usize>p << 2), 1);
    store<f32>(f0At + (<usize>p << 2), f);
    if (small || (alone == 0 && !large)) {
      store<u32>(one, p);
      one += 4;
    } else if (large && alone != 0) {
      store<u32>(many, p);
      many += 4;
    } else {
      store<u32>(few, p);
      few += 4;
    }
  }
  for (let k: i32 = 0; k < 3; k++) {
    const first = lists + <usize>k * room;
    const end = k == 0 ? one : k == 1 ? few : many;
    const count = <i32>((end - first) >> 2);
    const at = place + (k == 0 ? 0 : k == 1 ? 16 : 80);
    const places = k == 0 ? 1 : k == 1 ? 4 : 16;
    if (law == LINE)
      addLine(first, count, emitter, weight, place, k == 1, position, normal, toEye, f0At, alphaAt, diffuse, shine);
    else if (law == ALONG)
      addTube(first, count, emitter, weight, at, places, position, normal, toEye, f0At, alphaAt, diffuse, shine);
    else
      addPlaces(
        first,
        count,
        emitter,
        law,
        weight,
        at,
        places,
        position,
        normal,
        toEye,
        f0At,
        alphaAt,
        diffuse,
        shine,
      );
  }
}

/** Cosine to the true face under which a place counts as behind it. */
const BEHIND: f32 = -0.3;
/** Scratch for a vector of each: direction x, y, z, distance, lux, cosine to the face. */
const SCRATCH: usize = 1024;

/**
 * Rays `first` … `first + rays - 1` of `n` points (three numbers each in `position`, `normal` and `face`) to places of
 * a flat emitter: place 16 × turn + ray. Writes each ray's beginning, end, lux if it gets through, and whose it is; adds
 * those lux to `whole` per point, and of what lies behind the face as well. Returns how many rays there are.
 */
export function rays(
  n: i32,
  first: i32,
  rays: i32,
  emitter: usize,
  law: i32,
  place: usize,
  turn: usize,
  position: usize,
  normal: usize,
  face: usize,
  list: usize,
  from: usize,
  to: usize,
  lux: usize,
  owner: usize,
  whole: usize,
): i32 {
  const ZERO = all(0);
  const NX = nth(emitter, 9);
  const NY = nth(emitter, 10);
  const NZ = nth(emitter, 11);
  let asked: usize = 0;
  for (let p: i32 = 0; p < n; p += 4) {
    for (let k: i32 = 0; k < 4; k++) store<u32>(list + (<usize>k << 2), min(p + k, n - 1));
    three(position, list);
    const px = X;
    const py = Y;
    const pz = Z;
    const cx = sub(nth(emitter, 0), px);
    const cy = sub(nth(emitter, 1), py);
    const cz = sub(nth(emitter, 2), pz);
    three(normal, list);
    const nx = X;
    const ny = Y;
    const nz = Z;
    three(face, list);
    const fx = X;
    const fy = Y;
    const fz = Z;
    const lanes = min(4, n - p);
    for (let k = first; k < first + rays; k++) {
      const base = place + (<usize>k << 4);
      const a = v128.load(base + (<usize>load<u8>(turn + <usize>load<u32>(list)) << 8));
      const b = v128.load(base + (<usize>load<u8>(turn + <usize>load<u32>(list, 4)) << 8));
      const c = v128.load(base + (<usize>load<u8>(turn + <usize>load<u32>(list, 8)) << 8));
      const d = v128.load(base + (<usize>load<u8>(turn + <usize>load<u32>(list, 12)) << 8));
      const low = v128.shuffle<f32>(a, b, 0, 4, 1, 5);
      const high = v128.shuffle<f32>(c, d, 0, 4, 1, 5);
      let sx = add(cx, v128.shuffle<f32>(low, high, 0, 1, 4, 5));
      let sy = add(cy, v128.shuffle<f32>(low, high, 2, 3, 6, 7));
      let sz = add(
        cz,
        v128.shuffle<f32>(v128.shuffle<f32>(a, b, 2, 6, 3, 7), v128.shuffle<f32>(c, d, 2, 6, 3, 7), 0, 1, 4, 5),
      );
      v128.store(SCRATCH, sx);
      v128.store(SCRATCH, sy, 16);
      v128.store(SCRATCH, sz, 32);
      const d2 = dot(sx, sy, sz, sx, sy, sz);
      const inv2 = f32x4.div(all(1), d2);
      const inv = f32x4.sqrt(inv2);
      sx = mul(sx, inv);
      sy = mul(sy, inv);
      sz = mul(sz, inv);
      const out = f32x4.neg(dot(sx, sy, sz, NX, NY, NZ));
      const cos = dot(sx, sy, sz, nx, ny, nz);
      const cd = intensity(emitter, law, sx, sy, sz, out);
      const lit = v128.and(
        v128.and(f32x4.gt(out, ZERO), f32x4.gt(cos, ZERO)),
        v128.and(f32x4.gt(d2, ZERO), f32x4.gt(cd, ZERO)),
      );
      const mask = i32x4.bitmask(lit);
      if (mask == 0) continue;
      const ahead = i32x4.bitmask(f32x4.gt(dot(sx, sy, sz, fx, fy, fz), all(BEHIND)));
      v128.store(SCRATCH, mul(mul(cd, inv2), cos), 48);
      for (let lane: i32 = 0; lane < lanes; lane++) {
        if (((mask >> lane) & 1) == 0) continue;
        const l = <usize>lane << 2;
        const w = whole + ((<usize>p << 2) + l);
        const one = load<f32>(SCRATCH + l, 48);
        store<f32>(w, load<f32>(w) + one);
        if (((ahead >> lane) & 1) == 0) continue;
        const at = position + (<usize>p + <usize>lane) * 12;
        const f = from + asked * 12;
        const t = to + asked * 12;
        for (let x: usize = 0; x < 3; x++) {
          const o = load<f32>(at + (x << 2));
          store<f32>(f + (x << 2), o);
          store<f32>(t + (x << 2), o + load<f32>(SCRATCH + l + (x << 4)));
        }
        store<f32>(lux + (asked << 2), one);
        store<u32>(owner + (asked << 2), p + lane);
        asked++;
      }
    }
  }
  return <i32>asked;
}
