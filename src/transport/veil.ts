/** Veiling glare: light of a layer on the lens, and what it does to a picture. */
import { glassShare, HALO_SHARE, veilCdM2 } from '../light/veil.ts';
import { hash32, r2x, r2y, unit } from '../maths/sampling.ts';
import { type EmitterSet, picked, sampleEmitter } from './emitter.ts';
import type { View } from './scene.ts';
import type { AbortSignalLike, Tracer } from './tracer.ts';

/** Points asked on a layer's emitters, all together, and at least on each. */
const RAYS = 48;
const LEAST = 1;

/** What a frame's corner is off the axis, radians. */
export const halfDiagonal = (view: View): number => Math.atan(Math.hypot(view.tanH, view.tanV));

/** Lux that pass the front glass: by the cosine, past the hood, past what stands in the way. */
export async function glassLux(
  tracer: Tracer,
  view: View,
  set: EmitterSet,
  { seed, signal, rays = RAYS }: { seed: number; signal?: AbortSignalLike; rays?: number },
): Promise<number> {
  const half = halfDiagonal(view);
  const [x, y, z] = view.eye;
  const f = view.forward;
  const each = Math.max(LEAST, Math.floor(rays / Math.max(1, set.count)));
  const from: number[] = [];
  const to: number[] = [];
  const lux: number[] = [];
  for (let e = 0; e < set.count; e++) {
    const su = unit(hash32(seed, e, 91));
    const sv = unit(hash32(seed, e, 92));
    for (let k = 0; k < each; k++) {
      if (!sampleEmitter(set, e, x, y, z, r2x(k, su), r2y(k, sv))) continue;
      const cos = picked[0]! * f[0] + picked[1]! * f[1] + picked[2]! * f[2];
      const through = cos > 0 ? cos * glassShare(Math.acos(Math.min(1, cos)), half) : 0;
      if (!(through * picked[4]! > 0)) continue;
      const d = Math.min(picked[3]!, FARTHEST_M);
      from.push(x, y, z);
      to.push(x + d * picked[0]!, y + d * picked[1]!, z + d * picked[2]!);
      lux.push((picked[4]! * through) / each);
    }
  }
  if (lux.length === 0) return 0;
  const passes = await tracer.passes(
    Float32Array.from(from),
    Float32Array.from(to),
    signal ? { signal } : {},
  );
  return lux.reduce((sum, v, i) => sum + v * passes[i]!, 0);
}

/** The sky is looked for no farther than this, metres. */
const FARTHEST_M = 1000;

/** A picture without anything this many times brighter than its mean has no halo that could be seen. */
const GLARING = 20;
/** Octaves of breadth over which a halo's light is shared evenly: it falls with the square of the distance. */
const OCTAVES = 6;

/**
 * The picture (3 × width × height, cd/m²) with what the lens adds: the veil of every layer's light on the glass, and
 * round what is bright a halo. `strays`: per layer `glassLx` and its white. Linear in every layer.
 */
export function throughLens(
  xyz: Float32Array,
  width: number,
  height: number,
  strays: readonly { glassLx: number; white: ArrayLike<number> }[],
): Float32Array {
  const out = haloed(xyz, width, height);
  const veil = [0, 0, 0];
  for (const { glassLx, white } of strays) {
    const l = veilCdM2(glassLx);
    for (let c = 0; c < 3; c++) veil[c]! += l * white[c]!;
  }
  if (veil[1]! > 0) for (let i = 0; i < out.length; i++) out[i]! += veil[i % 3]!;
  return out;
}

function haloed(xyz: Float32Array, width: number, height: number): Float32Array {
  const out = xyz.slice();
  let most = 0;
  let sum = 0;
  for (let i = 1; i < xyz.length; i += 3) {
    sum += xyz[i]!;
    if (xyz[i]! > most) most = xyz[i]!;
  }
  if (!(most * (xyz.length / 3) > GLARING * sum)) return out;
  // Halves of halves; each is a broader picture of the light. From 1/360 of the height up.
  const levels: Level[] = [{ w: width, h: height, v: xyz }];
  while (levels.at(-1)!.h > 3 && levels.at(-1)!.w > 3) levels.push(halved(levels.at(-1)!));
  const narrowest = Math.max(1, Math.round(Math.log2(height / 180)));
  const used = levels.slice(narrowest, narrowest + OCTAVES);
  if (used.length === 0) return out;
  // Up again, from the broadest: one sum, enlarged step by step.
  let whole = used.at(-1)!;
  for (let k = levels.indexOf(whole) - 1; k >= 0; k--) {
    const next = enlarged(whole, levels[k]!.w, levels[k]!.h);
    if (used.includes(levels[k]!)) for (let i = 0; i < next.v.length; i++) next.v[i]! += levels[k]!.v[i]!;
    whole = next;
  }
  const share = HALO_SHARE / used.length;
  for (let i = 0; i < out.length; i++) out[i] = (1 - HALO_SHARE) * xyz[i]! + share * whole.v[i]!;
  return out;
}

interface Level {
  w: number;
  h: number;
  v: Float32Array;
}

/** Half as many pixels each way, over four by four of weights 1 3 3 1. */
function halved({ w, h, v }: Level): Level {
  const W = Math.ceil(w / 2);
  const H = Math.ceil(h / 2);
  const rows = new Float32Array(3 * W * h);
  const K = [1 / 8, 3 / 8, 3 / 8, 1 / 8];
  for (let y = 0; y < h; y++)
    for (let x = 0; x < W; x++)
      for (let k = 0; k < 4; k++) {
        const q = 3 * (y * w + Math.min(w - 1, Math.max(0, 2 * x - 1 + k)));
        for (let c = 0; c < 3; c++) rows[3 * (y * W + x) + c]! += K[k]! * v[q + c]!;
      }
  const out = new Float32Array(3 * W * H);
  for (let y = 0; y < H; y++)
    for (let k = 0; k < 4; k++) {
      const q = 3 * W * Math.min(h - 1, Math.max(0, 2 * y - 1 + k));
      const o = 3 * W * y;
      for (let i = 0; i < 3 * W; i++) out[o + i]! += K[k]! * rows[q + i]!;
    }
  return { w: W, h: H, v: out };
}

/** Twice as many, in straight lines between. */
function enlarged({ w, h, v }: Level, W: number, H: number): Level {
  const out = new Float32Array(3 * W * H);
  for (let y = 0; y < H; y++) {
    const fy = Math.min(h - 1, Math.max(0, (y - 0.5) / 2));
    const y0 = Math.min(h - 1, Math.floor(fy));
    const y1 = Math.min(h - 1, y0 + 1);
    const b = fy - y0;
    for (let x = 0; x < W; x++) {
      const fx = Math.min(w - 1, Math.max(0, (x - 0.5) / 2));
      const x0 = Math.min(w - 1, Math.floor(fx));
      const x1 = Math.min(w - 1, x0 + 1);
      const a = fx - x0;
      const o = 3 * (y * W + x);
      for (let c = 0; c < 3; c++)
        out[o + c] =
          (1 - b) * ((1 - a) * v[3 * (y0 * w + x0) + c]! + a * v[3 * (y0 * w + x1) + c]!) +
          b * ((1 - a) * v[3 * (y1 * w + x0) + c]! + a * v[3 * (y1 * w + x1) + c]!);
    }
  }
  return { w: W, h: H, v: out };
}
