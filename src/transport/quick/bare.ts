/**
 * Direct light as if nothing stood in its way: no ray, no chance. What shadows take off comes apart (shade.ts); layers of
 * many emitters are streams (stream.ts).
 */

import { atSamples } from '../../colour/spectrum.ts';
import type { Stage } from '../../stage/stage.ts';
import { alphaOf, gloss, glossRay, lobe, sampleGloss } from '../brdf.ts';
import type { EmitterSet } from '../emitter.ts';
import {
  DISC,
  FAR,
  isThinTube,
  meetEmitter,
  picked,
  RECTANGLE,
  SPHERE,
  STRIDE,
  sampleEmitter,
  TUBE,
} from '../emitter.ts';
import { strand } from '../fibre.ts';
import { byEye, throughOf } from '../intersect.ts';
import { fibreAt, onHair } from '../strands.ts';
import type { FlatEmitter, FlatLight } from '../sums.ts';
import type { Direct, SurfacePoints } from '../tracer.ts';
import { flatEmitter, lineEmitter, tubeEmitter } from './flat.ts';
import { lineLight, lineLit } from './line.ts';

/** Radius of the ball about its middle that holds an emitter, metres. */
export const reachOf = (set: EmitterSet, e: number): number => {
  const o = e * STRIDE;
  const a = set.f[o + 12]!;
  return set.kind[e] === RECTANGLE || set.kind[e] === TUBE ? Math.hypot(a, set.f[o + 13]!) : a;
};

/** Gloss of materials as flat arrays; a probe's number reads undefined, that is none. */
export interface GlossTable {
  f0: Float64Array;
  alpha: Float64Array;
  /** Hair: as `Stuff` has them. */
  through: Float64Array;
  neutral: Float64Array;
}
export const glossTable = (materials: Stage['materials']): GlossTable => ({
  f0: Float64Array.from(materials, (m) => (m.kind === 'opaque' ? (m.gloss?.f0 ?? 0) : 0)),
  alpha: Float64Array.from(materials, (m) => (m.gloss ? alphaOf(m.gloss.roughness) : 1)),
  through: Float64Array.from(materials, throughOf),
  neutral: Float64Array.from(materials, (m) => byEye(atSamples(m.reflectance))),
});

/** Emitters of a layer that are all asked; of more, so many are asked in place of the rest. */
export const ASKED = 24;

/** Which emitters stand for the layer, and how many each stands for. */
export interface Stand {
  emitter: Uint32Array;
  weight: Float64Array;
  /** Each is asked at four places at least. */
  closely?: boolean;
}
/** `spread`: so few that they must not fall into one line. */
export function standFor(set: EmitterSet, most = ASKED, spread = false): Stand {
  if (set.count <= most) {
    return {
      emitter: Uint32Array.from({ length: set.count }, (_, e) => e),
      weight: new Float64Array(set.count).fill(1),
    };
  }
  // Even steps through the emitters' light, in their own order: cells of a sheet stay spread over it. Of few each lies
  // elsewhere in its step (a mirrored count), or of cells row by row one column would stand for all.
  const whole = set.power.reduce((a, b) => a + b, 0);
  const emitter: number[] = [];
  const weight: number[] = [];
  let e = 0;
  let run = set.power[0]!;
  for (let i = 0; i < most; i++) {
    const want = ((i + (spread ? mirroredCount(i, most) : 0.5)) / most) * whole;
    while (run < want && e < set.count - 1) run += set.power[++e]!;
    emitter.push(e);
    weight.push(whole / most / set.power[e]!);
  }
  return { emitter: Uint32Array.from(emitter), weight: Float64Array.from(weight) };
}

/** i of `most` with its binary digits mirrored behind the point, in the middle of its step. */
function mirroredCount(i: number, most: number): number {
  let out = 0;
  let step = 1;
  for (let k = i; k > 0; k >>= 1) {
    step /= 2;
    if (k & 1) out += step;
  }
  return Math.min(out + 0.5 / most, 1 - 1e-9);
}

/** Places on an emitter's square: a turned grid of four, and sixteen by Hammersley; each balanced about the middle. */
export const FOUR = Float64Array.of(0.375, 0.125, 0.875, 0.375, 0.625, 0.875, 0.125, 0.625);
const SIXTEEN = Float64Array.from({ length: 32 }, (_, j) => {
  const i = j >> 1;
  if (j % 2 === 0) return (i + 0.5) / 16;
  const mirrored = ((i & 1) << 3) | ((i & 2) << 1) | ((i & 4) >> 1) | ((i & 8) >> 3);
  return (mirrored + 0.5) / 16;
});
/** For sky and far ground: so many that a floor's pool of light comes out even. */
const MANY = Float64Array.from({ length: 128 }, (_, j) => {
  const i = j >> 1;
  if (j % 2 === 0) return (i + 0.5) / 64;
  let mirrored = 0;
  for (let k = 0; k < 6; k++) mirrored |= ((i >> k) & 1) << (5 - k);
  return (mirrored + 0.5) / 64;
});
/** The middle: flat and round shapes by their polar square (u = 0), the others at a half. */
const MIDDLE_ROUND = Float64Array.of(0, 0);
const MIDDLE = Float64Array.of(0.5, 0.5);

/** Points fewer than this are not worth being laid out elsewhere. */
const WORTH = 64;

/**
 * Illuminance and gloss without shadows at points `from` … `to - 1`. One place on an emitter that is small from
 * there (radius under a tenth of the distance: within 1 %), four or sixteen on larger ones. A gloss sharper than the
 * emitter is wide is asked along its lobe as well. Thin tubes are lines (line.ts). `flatLight`: a faster way for flat
 * emitters and tubes.
 */
export function bareAt(
  set: EmitterSet,
  stand: Stand,
  table: GlossTable,
  points: SurfacePoints,
  from: number,
  to: number,
  out: Direct,
  flatLight?: FlatLight,
): void {
  out.diffuse.fill(0, from, to);
  out.gloss.fill(0, from, to);
  const hair = flatLight && hairs(points);
  for (let s = 0; s < stand.emitter.length; s++) {
    const flat = flatLight && to - from >= WORTH ? asFlat(set, stand, s) : undefined;
    if (!flatLight || !flat) {
      for (let p = from; p < to; p++) addBare(set, stand, s, table, points, p, out);
      continue;
    }
    const sharp: number[] = [];
    flatLight(flat, points, table, from, to, { hair, out, sharp });
    for (const p of sharp) {
      const m = points.material[p]!;
      const light = lobeLight(set, stand.emitter[s]!, table.f0[m]!, table.alpha[m]!, points, p);
      out.gloss[p]! += stand.weight[s]! * light;
    }
    if (hair)
      for (let p = from; p < to; p++) if (hair[p] === 1) addBare(set, stand, s, table, points, p, out);
  }
}

/** 1 per point that lies on hair. */
function hairs(points: SurfacePoints): Uint8Array | undefined {
  if (!points.grain) return undefined;
  const out = new Uint8Array(points.count);
  for (let p = 0; p < points.count; p++) if (onHair(points, p)) out[p] = 1;
  return out;
}

/** The `s`-th emitter that stands for a layer, if it is flat or a bare tube. */
function asFlat(set: EmitterSet, stand: Stand, s: number): FlatEmitter | undefined {
  const e = stand.emitter[s]!;
  const middle = set.kind[e] === DISC ? MIDDLE_ROUND : MIDDLE;
  const light = { weight: stand.weight[s]!, alone: stand.emitter.length <= ALONE, reachM: reachOf(set, e) };
  const asked = [...middle, ...FOUR, ...SIXTEEN];
  return lineEmitter(set, e, light) ?? tubeEmitter(set, e, asked, light) ?? flatEmitter(set, e, asked, light);
}

/** Of so few emitters each is asked at more places. */
const ALONE = 4;

/** Adds the light of the `s`-th emitter that stands for a layer to point `p` of `out`. */
function addBare(
  set: EmitterSet,
  stand: Stand,
  s: number,
  table: GlossTable,
  points: SurfacePoints,
  p: number,
  out: Direct,
): void {
  const { position, normal, toEye, material } = points;
  const { f, kind } = set;
  const o = p * 3;
  const px = position[o]!;
  const py = position[o + 1]!;
  const pz = position[o + 2]!;
  const nx = normal[o]!;
  const ny = normal[o + 1]!;
  const nz = normal[o + 2]!;
  const f0 = table.f0[material[p]!] ?? 0;
  const hair = onHair(points, p);
  const e = stand.emitter[s]!;
  if (!hair && isThinTube(set, e)) {
    const alpha = table.alpha[material[p]!] ?? 1;
    lineLight(set, e, px, py, pz, nx, ny, nz, toEye[o]!, toEye[o + 1]!, toEye[o + 2]!, f0, alpha);
    out.diffuse[p]! += stand.weight[s]! * lineLit.lux;
    out.gloss[p]! += stand.weight[s]! * lineLit.shine;
    return;
  }
  const b = e * STRIDE;
  const far = kind[e] === FAR;
  const dx = f[b]! - px;
  const dy = f[b + 1]! - py;
  const dz = f[b + 2]! - pz;
  const reach = far ? 1 : reachOf(set, e);
  const d2 = far ? 1 : dx * dx + dy * dy + dz * dz;
  const along = hair ? reach : far ? 0 : dx * nx + dy * ny + dz * nz;
  if (along < -reach) return;
  // How large it is from here says how many places are asked.
  const size2 = (reach * reach) / d2;
  const round = kind[e] === SPHERE || kind[e] === DISC;
  // Half under the horizon it needs more of them.
  const few = along > reach ? size2 < 0.01 : size2 < 1e-4;
  let large = size2 > (along > reach ? 0.25 : 0.004);
  let lux = 0;
  let light = 0;
  let byLobe = false;
  if (f0 > 0) {
    // A lobe much sharper than the emitter is wide (α against its radius over the distance) is asked along itself.
    const alpha = table.alpha[material[p]!]!;
    byLobe = alpha * alpha < 0.1 * size2 && kind[e] !== TUBE;
    large ||= alpha * alpha < 0.5 * size2;
  }
  const middle = round ? MIDDLE_ROUND : MIDDLE;
  const alone = stand.emitter.length <= ALONE;
  const places = far
    ? MANY
    : stand.closely
      ? FOUR
      : few
        ? middle
        : alone
          ? large
            ? SIXTEEN
            : FOUR
          : large
            ? FOUR
            : middle;
  const n = places.length / 2;
  for (let k = 0; k < n; k++) {
    if (!sampleEmitter(set, e, px, py, pz, places[2 * k]!, places[2 * k + 1]!)) continue;
    const lx = picked[0]!;
    const ly = picked[1]!;
    const lz = picked[2]!;
    if (hair) {
      fibreAt(points, p, lx, ly, lz, table.through[material[p]!]!, table.neutral[material[p]!]!);
      lux += picked[4]! * strand.lux;
      light += picked[4]! * strand.shine;
      continue;
    }
    const cos = lx * nx + ly * ny + lz * nz;
    if (cos <= 0) continue;
    const one = picked[4]! * cos;
    lux += one;
    if (f0 > 0 && !byLobe) {
      const alpha = table.alpha[material[p]!]!;
      gloss(f0, alpha, nx, ny, nz, lx, ly, lz, toEye[o]!, toEye[o + 1]!, toEye[o + 2]!);
      light += lobe.value * one;
    }
  }
  if (byLobe) light = n * lobeLight(set, e, f0, table.alpha[material[p]!]!, points, p);
  const w = stand.weight[s]! / n;
  out.diffuse[p]! += w * lux;
  out.gloss[p]! += w * light;
}

/** Places of a lobe that is asked along itself. */
export const LOBE_RAYS = 16;
export const LOBE = SIXTEEN;

/** Luminance of an emitter in a gloss: even places of the lobe and of the emitter, by the balance heuristic. */
function lobeLight(
  set: EmitterSet,
  e: number,
  f0: number,
  alpha: number,
  points: SurfacePoints,
  p: number,
): number {
  const o = p * 3;
  const { position, normal, toEye } = points;
  const px = position[o]!;
  const py = position[o + 1]!;
  const pz = position[o + 2]!;
  const nx = normal[o]!;
  const ny = normal[o + 1]!;
  const nz = normal[o + 2]!;
  const ex = toEye[o]!;
  const ey = toEye[o + 1]!;
  const ez = toEye[o + 2]!;
  let sum = 0;
  for (let k = 0; k < LOBE_RAYS; k++) {
    if (sampleEmitter(set, e, px, py, pz, LOBE[2 * k]!, LOBE[2 * k + 1]!)) {
      const cos = picked[0]! * nx + picked[1]! * ny + picked[2]! * nz;
      if (cos > 0) {
        const density = picked[5]!;
        const lux = picked[4]! * cos;
        gloss(f0, alpha, nx, ny, nz, picked[0]!, picked[1]!, picked[2]!, ex, ey, ez);
        if (lobe.value > 0) sum += (lobe.value * lux) / (1 + lobe.density / density);
      }
    }
    if (!sampleGloss(alpha, nx, ny, nz, ex, ey, ez, LOBE[2 * k]!, LOBE[2 * k + 1]!)) continue;
    const gx = glossRay[0]!;
    const gy = glossRay[1]!;
    const gz = glossRay[2]!;
    if (!meetEmitter(set, e, px, py, pz, gx, gy, gz)) continue;
    const density = picked[5]!;
    const luminance = picked[6]!;
    gloss(f0, alpha, nx, ny, nz, gx, gy, gz, ex, ey, ez);
    if (lobe.value > 0)
      sum += (lobe.value * (gx * nx + gy * ny + gz * nz) * luminance) / (lobe.density + density);
  }
  return sum / LOBE_RAYS;
}
