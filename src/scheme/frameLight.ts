/**
 * Points of the frame with what each lamp would give there if nothing stood in its way and what of it arrives: from
 * that every shadow in a picture is told, there already or still to come.
 */
import type { Vec3 } from '../maths/vec3.ts';
import { bareAt, glossTable } from '../transport/quick/bare.ts';
import { standOf } from '../transport/quick/quick.ts';
import type { Hits, SurfacePoints } from '../transport/tracer.ts';
import type { Lit, SchemeContext } from './context.ts';
import type { Box } from './trouble.ts';

/** Points of the frame that are looked at, about. */
const LOOKED_AT = 3000;
/** A shadow is at least so much darker than the light beside it, as a share of that light: half a stop. */
export const DARKER = 0.3;
/** Darker surroundings than this under grey hide a shadow, stops (judgement). */
export const HIDDEN_STOPS = -3.5;

/** One place in the frame. */
export interface Looked {
  at: Vec3;
  /** Whole light there as it is, lux, and luminance, cd/m². */
  totalLx: number;
  luminance: number;
  /** Part of the stage, and the mark whose person it is. */
  part: number;
  mark?: string;
  /** Share of the frame from left and top. */
  x: number;
  y: number;
}

export interface FrameLight {
  places: Looked[];
  /** By lamp that burns: lux at each place with nothing in the way, and as it arrives. */
  lamps: { id: string; at: Vec3; sizeM: number; bare: Float64Array; got: Float64Array }[];
  /** Share of the frame that one place stands for, and of its width and height. */
  each: number;
  wide: number;
  high: number;
}

export function frameLight(c: SchemeContext, lit: Lit): FrameLight {
  const { hits } = lit;
  const step = Math.max(1, Math.round(Math.sqrt((hits.width * hits.height) / LOOKED_AT)));
  const people = new Map(c.angle.marks.filter((m) => m.part >= 0).map((m) => [m.part, m.id]));
  const found: { h: number; p: number }[] = [];
  for (let y = Math.floor(step / 2); y < hits.height; y += step)
    for (let x = Math.floor(step / 2); x < hits.width; x += step) {
      const p = y * hits.width + x;
      const h = hits.pixelStart[p]!;
      if (h === hits.pixelStart[p + 1]) continue;
      const part = c.angle.transport.stage.parts[hits.part[h]!];
      if (part && (!part.moving || people.has(hits.part[h]!)) && hits.weight[h]! > 0.5) found.push({ h, p });
    }
  const points = pick(
    hits,
    found.map((f) => f.h),
  );
  const places = found.map(({ h, p }, i): Looked => {
    const mark = people.get(hits.part[h]!);
    const x = p % hits.width;
    return {
      at: [points.position[3 * i]!, points.position[3 * i + 1]!, points.position[3 * i + 2]!],
      totalLx: totalLx(c, lit.direct, h),
      luminance: lit.xyz[3 * p + 1]!,
      part: hits.part[h]!,
      ...(mark === undefined ? {} : { mark }),
      x: x / hits.width,
      y: (p - x) / hits.width / hits.height,
    };
  });
  const gloss = glossTable(c.angle.transport.stage.materials);
  const n = found.length;
  const lamps = c.angle.lamps
    .filter((lamp) => c.angle.rig.lamps[lamp.id]!.on)
    .map((lamp) => {
      const bare = new Float64Array(n);
      const got = new Float64Array(n);
      for (const l of lamp.layers) {
        const gain = c.weights.layers[l]!.white[1];
        const direct = lit.direct[l];
        if (!(gain > 0) || !direct) continue;
        const { set, stand } = standOf(c.angle.transport.layers[l]!);
        const light = { diffuse: new Float32Array(n), gloss: new Float32Array(n) };
        bareAt(set, stand, gloss, points, 0, n, light);
        for (let i = 0; i < n; i++) {
          bare[i]! += gain * light.diffuse[i]!;
          got[i]! += gain * direct[found[i]!.h]!;
        }
      }
      return { id: lamp.id, at: lamp.at, sizeM: lamp.sizeM, bare, got };
    });
  return {
    places,
    lamps,
    each: 1 / ((hits.width / step) * (hits.height / step)),
    wide: 1 / hits.width,
    high: 1 / hits.height,
  };
}

function totalLx(c: SchemeContext, direct: readonly (Float32Array | undefined)[], h: number): number {
  let sum = 0;
  for (const [l, d] of direct.entries()) sum += (d?.[h] ?? 0) * (c.weights.layers[l]?.white[1] ?? 0);
  return sum + 0.02 * c.eRefLx;
}

/** The box on the frame round some of its places. */
export function boxAround(f: FrameLight, places: readonly Looked[]): Box {
  return {
    left: Math.min(1, ...places.map((p) => p.x)),
    top: Math.min(1, ...places.map((p) => p.y)),
    right: Math.max(0, ...places.map((p) => p.x + f.wide)),
    bottom: Math.max(0, ...places.map((p) => p.y + f.high)),
  };
}

/** Some of the hits' points as a list of their own. */
function pick(hits: Hits, which: readonly number[]): SurfacePoints {
  const from = hits.points;
  const three = (a: Float32Array) => {
    const out = new Float32Array(3 * which.length);
    which.forEach((h, i) => {
      out[3 * i] = a[3 * h]!;
      out[3 * i + 1] = a[3 * h + 1]!;
      out[3 * i + 2] = a[3 * h + 2]!;
    });
    return out;
  };
  return {
    count: which.length,
    position: three(from.position),
    faceNormal: three(from.faceNormal),
    normal: three(from.normal),
    toEye: three(from.toEye),
    material: Uint16Array.from(which, (h) => from.material[h]!),
    patch: Uint32Array.from(which, (h) => from.patch[h]!),
  };
}
