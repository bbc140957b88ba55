/**
 * Luminous surfaces of true size as flat arrays: how to pick a point of one for a receiver, and what a ray
 * that crosses one sees.
 *
 * The law for all shapes: toward the unit direction ω every point of the surface has the luminance
 * L(ω) = I(ω) / A(ω), I the beam (cd), A the projected area of the whole shape (disc, rectangle: area × cosine,
 * front only; sphere: πR²; tube: length × diameter × sine of the angle to it, ends dark). Far away that is the
 * beam exactly; the flux over the surface is the beam's (its front half, for flat shapes); a Lambertian beam makes
 * a uniform disc or panel, sin a uniform tube, isotropic a uniform sphere. Sky and far ground are not points but
 * directions: luminance L(−ω), picked by far.ts. Emitters are light, not matter:
 * they stop no ray; a lamp's body is geometry of the stage.
 */
import type { Beam } from '../light/beam.ts';
import { intensityCd } from '../light/beam.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { cross, dot, length, normalize, scale, sub } from '../maths/vec3.ts';
import { FAR_M, type Far, farDensity, farOf, farPick, pickFar } from './far.ts';
import type { Emitter } from './scene.ts';

export const DISC = 0;
export const RECTANGLE = 1;
export const TUBE = 2;
export const SPHERE = 3;
/** Sky and far ground (far.ts). */
export const FAR = 4;

/** Laws of intensity; wasm/bare.ts knows the first four by number. */
export const ISOTROPIC = 0;
export const COSINE = 1;
export const OVAL = 2;
export const ALONG = 3;
const OTHER = 4;

/** Numbers per emitter in `EmitterSet.f`. */
export const STRIDE = 18;
/*
 * 0–2 centre; 3–5 x; 6–8 y; 9–11 z (the beam's frame); 12, 13 half sizes: disc and sphere R, –; rectangle along x
 * and y; tube R and half its length (along x); 14 area facing: πR², 4ab, 2R·length, πR²; 15 cd; 16, 17 exponents.
 */

/** The emitters of one layer. */
export interface EmitterSet {
  count: number;
  f: Float64Array;
  kind: Uint8Array;
  law: Uint8Array;
  beams: Beam[];
  gain: Float64Array;
  /** Mean intensity over all directions, cd: how much each matters. */
  power: Float64Array;
  /** Of far ones, how they are picked. */
  far: (Far | undefined)[];
  /** A sphere about all of them: middle x y z, and the radius squared (-1: there are none). */
  around: Float64Array;
}

const MEAN_DIRECTIONS = 128;
/** Directions spread evenly over the sphere (a Fibonacci lattice). */
const evenDirections: readonly Vec3[] = Array.from({ length: MEAN_DIRECTIONS }, (_, i) => {
  const z = 1 - (2 * i + 1) / MEAN_DIRECTIONS;
  const r = Math.sqrt(1 - z * z);
  const a = i * 2.399963229728653;
  return [r * Math.cos(a), r * Math.sin(a), z];
});

/** The frame (x, y, z) that a shape's beam is spoken of in. Tube: x along it, z as far down as may be. */
function frameOf(shape: Emitter['shape']): { centre: Vec3; x: Vec3; y: Vec3; z: Vec3 } {
  if (shape.kind === 'far') return { centre: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };
  if (shape.kind !== 'tube') {
    const z = normalize(shape.axis);
    const y = normalize(sub(shape.up, scale(z, dot(shape.up, z))));
    return { centre: shape.centre, x: cross(y, z), y, z };
  }
  const x = normalize(sub(shape.to, shape.from));
  const down: Vec3 = Math.abs(x[2]) < 0.999 ? [0, 0, -1] : [0, -1, 0];
  const z = normalize(sub(down, scale(x, dot(down, x))));
  return {
    centre: scale([0, 1, 2].map((i) => shape.from[i]! + shape.to[i]!) as unknown as Vec3, 0.5),
    x,
    y: cross(z, x),
    z,
  };
}

/** Lays a layer's emitters out flat. */
export function emitterSet(emitters: readonly Emitter[]): EmitterSet {
  const count = emitters.length;
  const set: EmitterSet = {
    count,
    f: new Float64Array(count * STRIDE),
    kind: new Uint8Array(count),
    law: new Uint8Array(count),
    beams: emitters.map((e) => e.beam),
    gain: Float64Array.from(emitters, (e) => e.gain ?? 1),
    power: new Float64Array(count),
    far: emitters.map((e) => (e.shape.kind === 'far' ? farOf(e.shape) : undefined)),
    around: new Float64Array(4),
  };
  emitters.forEach((emitter, e) => {
    const { shape, beam } = emitter;
    const gain = emitter.gain ?? 1;
    const { centre, x, y, z } = frameOf(shape);
    const o = e * STRIDE;
    set.f.set([...centre, ...x, ...y, ...z], o);
    switch (shape.kind) {
      case 'disc':
      case 'sphere':
        set.kind[e] = shape.kind === 'disc' ? DISC : SPHERE;
        set.f[o + 12] = shape.radiusM;
        set.f[o + 14] = Math.PI * shape.radiusM ** 2;
        break;
      case 'rectangle':
        set.kind[e] = RECTANGLE;
        set.f[o + 12] = shape.widthM / 2;
        set.f[o + 13] = shape.heightM / 2;
        set.f[o + 14] = shape.widthM * shape.heightM;
        break;
      case 'tube': {
        const along = length(sub(shape.to, shape.from));
        set.kind[e] = TUBE;
        set.f[o + 12] = shape.radiusM;
        set.f[o + 13] = along / 2;
        set.f[o + 14] = 2 * shape.radiusM * along;
        break;
      }
      case 'far':
        set.kind[e] = FAR;
        set.f[o + 14] = 1;
        break;
    }
    switch (beam.kind) {
      case 'isotropic':
        set.law[e] = ISOTROPIC;
        set.f[o + 15] = beam.cd * gain;
        break;
      case 'tube':
        set.law[e] = ALONG;
        set.f[o + 15] = beam.peakCd * gain;
        break;
      case 'cosine':
        set.law[e] = beam.exponentV === undefined ? COSINE : OVAL;
        set.f[o + 15] = beam.peakCd * gain;
        set.f[o + 16] = beam.exponent;
        set.f[o + 17] = beam.exponentV ?? beam.exponent;
        break;
      case 'table':
      case 'sky':
        set.law[e] = OTHER;
    }
    const flat = set.kind[e] === DISC || set.kind[e] === RECTANGLE;
    for (const d of evenDirections) {
      if (!flat || d[2] > 0) set.power[e]! += (gain * intensityCd(beam, d)) / MEAN_DIRECTIONS;
    }
  });
  surround(set);
  return set;
}

/** Intensity, cd, of emitter `e` toward the unit direction (x, y, z) of the stage. */
function intensity(set: EmitterSet, e: number, x: number, y: number, z: number): number {
  const f = set.f;
  const o = e * STRIDE;
  const law = set.law[e]!;
  if (law === ISOTROPIC) return f[o + 15]!;
  if (law === ALONG) {
    const along = x * f[o + 3]! + y * f[o + 4]! + z * f[o + 5]!;
    return f[o + 15]! * Math.sqrt(Math.max(0, 1 - along * along));
  }
  const lz = x * f[o + 9]! + y * f[o + 10]! + z * f[o + 11]!;
  if (law === COSINE) {
    if (lz <= 0) return 0;
    const n = f[o + 16]!;
    return n === 1 ? f[o + 15]! * lz : f[o + 15]! * lz ** n;
  }
  const lx = x * f[o + 3]! + y * f[o + 4]! + z * f[o + 5]!;
  const ly = x * f[o + 6]! + y * f[o + 7]! + z * f[o + 8]!;
  if (law === OVAL) {
    if (lz <= 0) return 0;
    const across = lx * lx + ly * ly;
    if (across <= 0) return f[o + 15]!;
    return f[o + 15]! * lz ** ((f[o + 16]! * lx * lx + f[o + 17]! * ly * ly) / across);
  }
  return set.gain[e]! * intensityCd(set.beams[e]!, [lx, ly, lz]);
}

/**
 * The point last picked by `sampleEmitter` or met by `meetEmitter`: 0–2 unit direction from the receiver to it;
 * 3 distance, metres; 4 lux on a surface square to the direction, divided by the density of the pick (average it);
 * 5 density of the pick per steradian at the receiver (infinite for a point); 6 luminance, cd/m².
 */
export const picked = new Float64Array(7);

/** So many times longer than thick, both halved, a tube counts as thin. */
const THIN = 6;
/** A thin tube is near within so many times half its length from its middle. */
const NEAR_TUBE = 2;
const arc: [first: number, fills: number] = [0, 0];

/**
 * The angles that a thin tube fills about the foot of a receiver at the distance `rho` from its line and `along` from its
 * middle: the first and how much; 0 if it is thick or far, and is picked evenly along its length.
 */
function tubeArc(R: number, half: number, rho: number, along: number): typeof arc {
  arc[1] = 0;
  if (half > THIN * R && rho * rho + along * along < (NEAR_TUBE * half) ** 2) {
    arc[0] = Math.atan((-half - along) / rho);
    arc[1] = Math.atan((half - along) / rho) - arc[0];
  }
  return arc;
}

/** Is emitter `e` a bare tube, long against its breadth? */
export const isThinTube = (set: EmitterSet, e: number): boolean =>
  set.kind[e] === TUBE && set.law[e] === ALONG && set.f[e * STRIDE + 13]! > THIN * set.f[e * STRIDE + 12]!;

/**
 * Picks a point of emitter `e` for a receiver at (px, py, pz) from two numbers in [0, 1). False if no light comes
 * from it. Flat shapes: evenly over the area; sphere: evenly over its cone; tube: evenly along it (near a thin one: evenly
 * in angle) and across the side that faces the receiver.
 */
export function sampleEmitter(
  set: EmitterSet,
  e: number,
  px: number,
  py: number,
  pz: number,
  u: number,
  v: number,
): boolean {
  const f = set.f;
  const o = e * STRIDE;
  const kind = set.kind[e]!;
  let sx: number;
  let sy: number;
  let sz: number;
  if (kind === DISC || kind === RECTANGLE) {
    let a: number;
    let b: number;
    if (kind === DISC) {
      const r = f[o + 12]! * Math.sqrt(u);
      const phi = 2 * Math.PI * v;
      a = r * Math.cos(phi);
      b = r * Math.sin(phi);
    } else {
      a = (2 * u - 1) * f[o + 12]!;
      b = (2 * v - 1) * f[o + 13]!;
    }
    sx = f[o]! + a * f[o + 3]! + b * f[o + 6]! - px;
    sy = f[o + 1]! + a * f[o + 4]! + b * f[o + 7]! - py;
    sz = f[o + 2]! + a * f[o + 5]! + b * f[o + 8]! - pz;
    const d2 = sx * sx + sy * sy + sz * sz;
    if (!(d2 > 0)) return false;
    const d = Math.sqrt(d2);
    sx /= d;
    sy /= d;
    sz /= d;
    const cos = -(sx * f[o + 9]! + sy * f[o + 10]! + sz * f[o + 11]!);
    if (cos <= 0) return false;
    const i = intensity(set, e, -sx, -sy, -sz);
    if (!(i > 0)) return false;
    const seen = f[o + 14]! * cos;
    picked[3] = d;
    picked[4] = i / d2;
    picked[5] = d2 / seen;
    picked[6] = i / seen;
  } else if (kind === SPHERE) {
    const cx = f[o]! - px;
    const cy = f[o + 1]! - py;
    const cz = f[o + 2]! - pz;
    const d2 = cx * cx + cy * cy + cz * cz;
    const r2 = f[o + 12]! * f[o + 12]!;
    if (d2 <= r2 || d2 === 0) return false;
    const d = Math.sqrt(d2);
    const zx = cx / d;
    const zy = cy / d;
    const zz = cz / d;
    const sin2Max = r2 / d2;
    const cosMax = Math.sqrt(1 - sin2Max);
    const drop = (u * sin2Max) / (1 + cosMax);
    const cos = 1 - drop;
    const sin2 = drop * (2 - drop);
    const sin = Math.sqrt(sin2);
    const phi = 2 * Math.PI * v;
    const ca = sin * Math.cos(phi);
    const cb = sin * Math.sin(phi);
    const s = zz >= 0 ? 1 : -1;
    const a = -1 / (s + zz);
    const b = zx * zy * a;
    sx = ca * (1 + s * zx * zx * a) + cb * b + cos * zx;
    sy = ca * s * b + cb * (s + zy * zy * a) + cos * zy;
    sz = -ca * s * zx - cb * zy + cos * zz;
    const i = intensity(set, e, -sx, -sy, -sz);
    if (!(i > 0)) return false;
    picked[3] = d * cos - Math.sqrt(Math.max(0, r2 - d2 * sin2));
    picked[4] = (2 * i) / (d2 * (1 + cosMax));
    picked[5] = (1 + cosMax) / (2 * Math.PI * sin2Max);
    picked[6] = i / f[o + 14]!;
  } else if (kind === FAR) {
    if (!pickFar(set.far[e]!, px, py, pz, u, v)) return false;
    sx = farPick[0]!;
    sy = farPick[1]!;
    sz = farPick[2]!;
    const luminance = intensity(set, e, -sx, -sy, -sz);
    if (!(luminance > 0)) return false;
    picked[3] = FAR_M;
    picked[4] = luminance / farPick[3]!;
    picked[5] = farPick[3]!;
    picked[6] = luminance;
  } else {
    // Tube: the receiver's distance from its line, and the side of it that faces the receiver.
    const R = f[o + 12]!;
    const half = f[o + 13]!;
    const wx = f[o + 3]!;
    const wy = f[o + 4]!;
    const wz = f[o + 5]!;
    const rx = px - f[o]!;
    const ry = py - f[o + 1]!;
    const rz = pz - f[o + 2]!;
    const along = rx * wx + ry * wy + rz * wz;
    const ax = rx - along * wx;
    const ay = ry - along * wy;
    const az = rz - along * wz;
    const rho = Math.sqrt(ax * ax + ay * ay + az * az);
    if (rho <= R) return false;
    const ex = ax / rho;
    const ey = ay / rho;
    const ez = az / rho;
    const gx = wy * ez - wz * ey;
    const gy = wz * ex - wx * ez;
    const gz = wx * ey - wy * ex;
    const sinMax = Math.sqrt(1 - (R / rho) ** 2);
    const sinPhi = (2 * u - 1) * sinMax;
    const cosPhi = Math.sqrt(1 - sinPhi * sinPhi);
    // Even along it, or near a thin one even in the angle that it fills there.
    const [first, fills] = tubeArc(R, half, rho, along);
    const z = fills > 0 ? along + rho * Math.tan(first + v * fills) : (2 * v - 1) * half;
    const even = fills > 0 ? ((rho * rho + (z - along) ** 2) * fills) / (rho * 2 * half) : 1;
    sx = f[o]! + z * wx + R * (cosPhi * ex + sinPhi * gx) - px;
    sy = f[o + 1]! + z * wy + R * (cosPhi * ey + sinPhi * gy) - py;
    sz = f[o + 2]! + z * wz + R * (cosPhi * ez + sinPhi * gz) - pz;
    const d2 = sx * sx + sy * sy + sz * sz;
    const d = Math.sqrt(d2);
    if (!(d > 0)) return false;
    sx /= d;
    sy /= d;
    sz /= d;
    const facing = rho * cosPhi - R;
    if (facing <= 0) return false;
    const i = intensity(set, e, -sx, -sy, -sz);
    if (!(i > 0)) return false;
    const off = sx * wx + sy * wy + sz * wz;
    const sinTheta = Math.sqrt(Math.max(1e-12, 1 - off * off));
    picked[3] = d;
    picked[4] = ((i / d2) * sinMax * facing * even) / (d * sinTheta * cosPhi);
    picked[5] = (d2 * d * cosPhi) / (facing * 4 * half * R * sinMax * even);
    picked[6] = i / (f[o + 14]! * sinTheta);
  }
  picked[0] = sx;
  picked[1] = sy;
  picked[2] = sz;
  return true;
}

/**
 * Does a ray (unit direction) cross emitter `e` on its luminous side? Fills `picked` (but not 4) as if
 * `sampleEmitter` had picked that point: the density is the same function.
 */
export function meetEmitter(
  set: EmitterSet,
  e: number,
  px: number,
  py: number,
  pz: number,
  dx: number,
  dy: number,
  dz: number,
): boolean {
  const f = set.f;
  const o = e * STRIDE;
  const kind = set.kind[e]!;
  if (kind === FAR) {
    const density = farDensity(set.far[e]!, px, py, pz, dx, dy, dz);
    const luminance = density < 0 ? 0 : intensity(set, e, -dx, -dy, -dz);
    if (!(luminance > 0)) return false;
    picked[0] = dx;
    picked[1] = dy;
    picked[2] = dz;
    picked[3] = FAR_M;
    picked[4] = 0;
    picked[5] = density;
    picked[6] = luminance;
    return true;
  }
  const cx = f[o]! - px;
  const cy = f[o + 1]! - py;
  const cz = f[o + 2]! - pz;
  let t: number;
  let density: number;
  let seen: number;
  if (kind === DISC || kind === RECTANGLE) {
    const zx = f[o + 9]!;
    const zy = f[o + 10]!;
    const zz = f[o + 11]!;
    const cos = -(dx * zx + dy * zy + dz * zz);
    if (cos <= 0) return false;
    t = -(cx * zx + cy * zy + cz * zz) / cos;
    if (!(t > 0)) return false;
    const hx = t * dx - cx;
    const hy = t * dy - cy;
    const hz = t * dz - cz;
    if (kind === DISC) {
      if (hx * hx + hy * hy + hz * hz > f[o + 12]! * f[o + 12]!) return false;
    } else {
      if (Math.abs(hx * f[o + 3]! + hy * f[o + 4]! + hz * f[o + 5]!) > f[o + 12]!) return false;
      if (Math.abs(hx * f[o + 6]! + hy * f[o + 7]! + hz * f[o + 8]!) > f[o + 13]!) return false;
    }
    seen = f[o + 14]! * cos;
    density = (t * t) / seen;
  } else if (kind === SPHERE) {
    const r2 = f[o + 12]! * f[o + 12]!;
    const d2 = cx * cx + cy * cy + cz * cz;
    const b = cx * dx + cy * dy + cz * dz;
    if (d2 <= r2 || b <= 0) return false;
    const qx = cx - b * dx;
    const qy = cy - b * dy;
    const qz = cz - b * dz;
    const under = r2 - (qx * qx + qy * qy + qz * qz);
    if (under < 0) return false;
    t = b - Math.sqrt(under);
    seen = f[o + 14]!;
    density = (1 + Math.sqrt(1 - r2 / d2)) / (2 * Math.PI * (r2 / d2));
  } else {
    const R = f[o + 12]!;
    const half = f[o + 13]!;
    const wx = f[o + 3]!;
    const wy = f[o + 4]!;
    const wz = f[o + 5]!;
    const dw = dx * wx + dy * wy + dz * wz;
    const cw = cx * wx + cy * wy + cz * wz;
    const ax = dx - dw * wx;
    const ay = dy - dw * wy;
    const az = dz - dw * wz;
    const bx = cx - cw * wx;
    const by = cy - cw * wy;
    const bz = cz - cw * wz;
    const aa = ax * ax + ay * ay + az * az;
    const rho2 = bx * bx + by * by + bz * bz;
    if (aa < 1e-12 || rho2 <= R * R) return false;
    const ab = ax * bx + ay * by + az * bz;
    const under = ab * ab - aa * (rho2 - R * R);
    if (under < 0 || ab <= 0) return false;
    t = (ab - Math.sqrt(under)) / aa;
    if (!(t > 0) || Math.abs(t * dw - cw) > half) return false;
    const rho = Math.sqrt(rho2);
    // Cosine about the tube between the point met and the receiver.
    const cosPhi = -((t * ax - bx) * bx + (t * ay - by) * by + (t * az - bz) * bz) / (R * rho);
    const facing = rho * cosPhi - R;
    if (facing <= 0) return false;
    const sinMax = Math.sqrt(1 - (R * R) / rho2);
    seen = f[o + 14]! * Math.sqrt(aa);
    const [, fills] = tubeArc(R, half, rho, -cw);
    const even = fills > 0 ? ((rho2 + (t * dw) ** 2) * fills) / (rho * 2 * half) : 1;
    density = (t * t * t * cosPhi) / (facing * 4 * half * R * sinMax * even);
  }
  if (!(seen > 0)) return false;
  const i = intensity(set, e, -dx, -dy, -dz);
  if (!(i > 0)) return false;
  picked[0] = dx;
  picked[1] = dy;
  picked[2] = dz;
  picked[3] = t;
  picked[4] = 0;
  picked[5] = density;
  picked[6] = i / seen;
  return true;
}

/** Could a ray (unit direction) meet any of the emitters? By a sphere about them all. */
export function mayMeet(
  set: EmitterSet,
  px: number,
  py: number,
  pz: number,
  dx: number,
  dy: number,
  dz: number,
): boolean {
  const { around } = set;
  const cx = around[0]! - px;
  const cy = around[1]! - py;
  const cz = around[2]! - pz;
  const r2 = around[3]!;
  const along = cx * dx + cy * dy + cz * dz;
  const d2 = cx * cx + cy * cy + cz * cz;
  return d2 <= r2 || (along > 0 && d2 - along * along <= r2);
}

/** Fills `around` from the shapes. */
function surround(set: EmitterSet): void {
  const { f, count, around } = set;
  for (let x = 0; x < 3; x++) {
    let low = Infinity;
    let high = -Infinity;
    for (let e = 0; e < count; e++) {
      low = Math.min(low, f[e * STRIDE + x]!);
      high = Math.max(high, f[e * STRIDE + x]!);
    }
    around[x] = (low + high) / 2;
  }
  let radius = -1;
  for (let e = 0; e < count; e++) {
    const o = e * STRIDE;
    const own = Math.hypot(f[o + 12]!, f[o + 13]!);
    const off = Math.hypot(f[o]! - around[0]!, f[o + 1]! - around[1]!, f[o + 2]! - around[2]!);
    radius = Math.max(radius, (own + off) * 1.000001 + 1e-9);
  }
  // Without emitters nothing is met; what is far is everywhere.
  around[3] = set.far.some((f) => f) ? Number.POSITIVE_INFINITY : radius < 0 ? -1 : radius * radius;
}
