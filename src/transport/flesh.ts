/**
 * Light spread under skin, in the picture: the irradiance of skin seen close is averaged with that of the skin round it
 * by bell curves of fixed widths (`light/underSkin.ts`), over true distances in the stage. Knows no colour: wavelengths
 * weigh the spreads afterwards, lamps stay apart. A curve is laid on by rows, then by columns, each from the one before.
 */
import { atSamples, SAMPLES } from '../colour/spectrum.ts';
import { SPREADS_M, spreadShares } from '../light/underSkin.ts';
import type { Material } from '../stage/stage.ts';
import type { SurfacePoints } from './tracer.ts';

/** Curves that spread: all but the first. */
export const SPREADS = SPREADS_M.length - 1;
/** Skin whose pixels are wider than this is left as it is: its head is under some 190 pixels high (judgement). */
const COARSEST_M = 1.2e-3;
/** A curve is followed to three sigma; weights stand in a table over half its squared distance in sigmas. */
const ENDS = 4.5;
const FINE = 64;
const bell = Float32Array.from({ length: ENDS * FINE + 2 }, (_, i) => Math.exp(-i / FINE));
/** Of a surface seen on edge a pixel covers at most this many times its breadth. */
const MOST_SLANT = 6;

/** The skin of a picture that is near enough. */
export interface Flesh {
  width: number;
  height: number;
  /** Points of the picture, ascending; per point its pixel, and the entry that stands for the pixel. */
  point: Uint32Array;
  pixel: Uint32Array;
  stands: Uint32Array;
  /** width × height: the entry that stands there, −1: none. */
  at: Int32Array;
  /** Per entry: place (3), breadth of a pixel there, root of the surface that a pixel covers, in breadths. */
  place: Float32Array;
  pitchM: Float32Array;
  cover: Float32Array;
}

/** `pitchM`: breadth of a pixel at a point, metres. Undefined: no skin is near enough. */
export function fleshOf(
  materials: readonly Material[],
  points: SurfacePoints,
  pixelStart: Uint32Array,
  weight: Float32Array,
  width: number,
  height: number,
  pitchM: (point: number) => number,
): Flesh | undefined {
  const soft = materials.map((m) => m.under !== undefined);
  const point: number[] = [];
  const pixel: number[] = [];
  const stands: number[] = [];
  const pitch: number[] = [];
  const at = new Int32Array(width * height).fill(-1);
  for (let p = 0; p < width * height; p++) {
    let best = -1;
    const from = point.length;
    for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++) {
      if (!soft[points.material[i]!]) continue;
      const breadth = pitchM(i);
      if (!(breadth <= COARSEST_M)) continue;
      if (best < 0 || weight[i]! > weight[point[best]!]!) best = point.length;
      point.push(i);
      pixel.push(p);
      pitch.push(breadth);
    }
    at[p] = best;
    for (let e = from; e < point.length; e++) stands.push(best);
  }
  if (point.length === 0) return undefined;
  const place = new Float32Array(3 * point.length);
  const cover = new Float32Array(point.length);
  point.forEach((i, e) => {
    let slant = 0;
    for (let c = 0; c < 3; c++) {
      place[3 * e + c] = points.position[3 * i + c]!;
      slant += points.normal[3 * i + c]! * points.toEye[3 * i + c]!;
    }
    cover[e] = Math.sqrt(Math.min(MOST_SLANT, 1 / Math.max(slant, 1e-3)));
  });
  return {
    width,
    height,
    point: Uint32Array.from(point),
    pixel: Uint32Array.from(pixel),
    stands: Uint32Array.from(stands),
    at,
    place,
    pitchM: Float32Array.from(pitch),
    cover,
  };
}

/** One curve along rows (`across`) or columns. `before`: sigma of what `from` was spread by already. */
function along(
  flesh: Flesh,
  across: boolean,
  sigmaM: number,
  before: number,
  from: Float32Array,
  to: Float32Array,
): void {
  const { width, height, pixel, stands, at, place, pitchM, cover } = flesh;
  const scale = FINE / (2 * sigmaM * sigmaM);
  const last = ENDS * FINE;
  const jump = across ? 1 : width;
  for (let e = 0; e < pixel.length; e++) {
    if (stands[e] !== e) continue;
    const breadth = pitchM[e]!;
    // What is smooth already is asked in strides.
    const stride = Math.max(1, Math.floor(before / breadth));
    const reach = Math.floor((3 * sigmaM) / (breadth * stride));
    if (reach === 0) {
      to[e] = from[e]!;
      continue;
    }
    const p = pixel[e]!;
    const x = across ? p % width : Math.floor(p / width);
    const end = across ? width : height;
    const x0 = place[3 * e]!;
    const y0 = place[3 * e + 1]!;
    const z0 = place[3 * e + 2]!;
    let sum = 0;
    let all = 0;
    for (let k = -reach; k <= reach; k++) {
      const xx = x + k * stride;
      if (xx < 0 || xx >= end) continue;
      const q = at[p + k * stride * jump]!;
      if (q < 0) continue;
      const dx = place[3 * q]! - x0;
      const dy = place[3 * q + 1]! - y0;
      const dz = place[3 * q + 2]! - z0;
      const t = (dx * dx + dy * dy + dz * dz) * scale;
      if (t > last) continue;
      const w = bell[t | 0]! * cover[q]!;
      sum += w * from[q]!;
      all += w;
    }
    to[e] = sum / all;
  }
}

/** Irradiance spread by each of the curves, per entry; `lux` per point of the picture. */
export function spreadUnder(flesh: Flesh, lux: Float32Array): Float32Array[] {
  const n = flesh.point.length;
  const own = Float32Array.from(flesh.point, (i) => lux[i]!);
  const half = new Float32Array(n);
  const out: Float32Array[] = [];
  let before = 0;
  let from = own;
  for (let j = 1; j <= SPREADS; j++) {
    const sigma = SPREADS_M[j]!;
    const step = Math.sqrt(sigma * sigma - before * before);
    const to = new Float32Array(n);
    along(flesh, true, step, before, from, half);
    along(flesh, false, step, before, half, to);
    out.push(to);
    from = to;
    before = sigma;
  }
  // What stands beside it in its pixel changes as the pixel's own does.
  for (const to of out)
    for (let e = 0; e < n; e++) {
      const s = flesh.stands[e]!;
      if (s !== e) to[e] = own[e]! + to[s]! - own[s]!;
    }
  return out;
}

/**
 * Per material 3 × SPREADS numbers: XYZ that a lux more in a spread's light makes, `perLux` being XYZ per lux at the
 * sample wavelengths (3 × 12). Zero where nothing spreads. Not spread: 1 − their sum.
 */
export function spreadColours(
  materials: readonly Material[],
  perLux: ArrayLike<number>,
  shares = sharesOf(materials),
): Float64Array {
  const out = new Float64Array(materials.length * 3 * SPREADS);
  materials.forEach((m, i) => {
    const share = shares[i];
    if (!share) return;
    const rho = atSamples(m.reflectance);
    for (let j = 0; j < SPREADS; j++)
      for (let c = 0; c < 3; c++) {
        let v = 0;
        for (let k = 0; k < SAMPLES; k++)
          v += (perLux[c * SAMPLES + k]! * rho[k]! * share[k * SPREADS + j]!) / Math.PI;
        out[(i * SPREADS + j) * 3 + c] = v;
      }
  });
  return out;
}

const kept = new WeakMap<Material, Float64Array>();
/** Per material that spreads light SPREADS shares at each sample wavelength. */
export const sharesOf = (materials: readonly Material[]): (Float64Array | undefined)[] =>
  materials.map((m) => {
    if (!m.under) return undefined;
    let out = kept.get(m);
    if (!out) {
      out = new Float64Array(SAMPLES * SPREADS);
      const lengths = atSamples(m.under.lengthM);
      for (let k = 0; k < SAMPLES; k++) out.set(spreadShares(lengths[k]!).subarray(1), k * SPREADS);
      kept.set(m, out);
    }
    return out;
  });

/** Adds to XYZ at entries `from` … `to - 1` what spreading changes; `put(entry, X, Y, Z)`. */
export function addSpread(
  flesh: Flesh,
  material: Uint16Array,
  lux: Float32Array,
  spread: readonly Float32Array[],
  colours: Float64Array,
  put: (entry: number, x: number, y: number, z: number) => void,
): void {
  for (let e = 0; e < flesh.point.length; e++) {
    const i = flesh.point[e]!;
    const own = lux[i]!;
    let o = material[i]! * SPREADS * 3;
    let x = 0;
    let y = 0;
    let z = 0;
    for (let j = 0; j < SPREADS; j++, o += 3) {
      const more = spread[j]![e]! - own;
      x += more * colours[o]!;
      y += more * colours[o + 1]!;
      z += more * colours[o + 2]!;
    }
    if (x !== 0 || y !== 0 || z !== 0) put(e, x, y, z);
  }
}
