/**
 * What the air of a picture sends toward the eye: light of one layer that haze, rain or snow scatters once, shadowed by
 * the stage, lessened on its way there and on its way to the lens. What is scattered twice is left out: thick fog looks
 * darker here than it is.
 *
 * L = ∫ σ(s) p(θ) E(s) e^(−βs) ds along the ray, θ 0 where the light goes straight on into the lens.
 */
import { phaseOf } from '../light/haze.ts';
import { hash32, R2_A, R2_B, r2x, r2y, unit } from '../maths/sampling.ts';
import type { Air, Roofed } from '../stage/air.ts';
import { clearOf } from './air.ts';
import { choose, powerTo } from './direct.ts';
import { dropPattern } from './drops.ts';
import { type EmitterSet, picked, sampleEmitter } from './emitter.ts';
import type { View } from './scene.ts';
import type { AbortSignalLike, AirLight, Hits, Tracer } from './tracer.ts';

/** Most rays across the frame, pixels to one of them, and stretches along each, for the quick picture. */
const ACROSS = 96;
const PIXELS = 5;
const STRETCHES = 24;
/** Nothing is looked for farther than this, metres. */
const FARTHEST_M = 40;

/** Is a point in one of the rooms that keep dry? */
export const underRoof = (rooms: readonly Roofed[], x: number, y: number, z: number): boolean =>
  rooms.some(({ outline, fromM, toM }) => {
    if (z < fromM || z > toM) return false;
    let odd = false;
    for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
      const [xi, yi] = outline[i]!;
      const [xj, yj] = outline[j]!;
      if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) odd = !odd;
    }
    return odd;
  });

/** One place in the air asked for its light: what haze and falling drops there would send on, unshadowed. */
interface Asked {
  haze: number;
  fall: number;
  cos: number;
}
const asked: Asked = { haze: 0, fall: 0, cos: 0 };

/** Light of a layer scattered by the air, as a function of a stretch of a ray. */
function scattering(view: View, air: Air, set: EmitterSet) {
  const { eye } = view;
  const hazePhase = phaseOf(air.phase);
  const fallPhase = air.falling ? phaseOf(air.falling.kind) : undefined;
  const shares = powerTo(set);
  const [cx, cy, cz, r2] = set.around as unknown as [number, number, number, number];
  const compact = r2 >= 0 && Number.isFinite(r2);
  const position = new Float64Array(3);
  const target = new Float64Array(3);

  /**
   * Asks one point of the stretch `from` … `to` metres along a unit ray, picked evenly in the angle at which the lamp
   * sees it, so that a lamp close to the ray makes no sparks. False: no light comes there. Fills `asked` with what the
   * whole stretch would send (average it), `position` and `target` with the ends of the shadow ray.
   */
  function ask(
    wx: number,
    wy: number,
    wz: number,
    from: number,
    to: number,
    along: number,
    which: number,
    u: number,
    v: number,
  ): boolean {
    let s = from + (to - from) * along;
    let step = to - from;
    if (compact) {
      const mid = (cx - eye[0]) * wx + (cy - eye[1]) * wy + (cz - eye[2]) * wz;
      const off2 =
        (cx - eye[0] - mid * wx) ** 2 + (cy - eye[1] - mid * wy) ** 2 + (cz - eye[2] - mid * wz) ** 2;
      const off = Math.sqrt(Math.max(off2, r2, 4e-4));
      const a = Math.atan((from - mid) / off);
      const b = Math.atan((to - mid) / off);
      const t = off * Math.tan(a + (b - a) * along);
      s = mid + t;
      step = ((off * off + t * t) / off) * (b - a);
    }
    const x = eye[0] + s * wx;
    const y = eye[1] + s * wy;
    const z = eye[2] + s * wz;
    const fallHere = air.falling && !underRoof(air.falling.rooms, x, y, z) ? air.falling.scatteringPerM : 0;
    if (!(air.extinctionPerM > 0) && fallHere === 0) return false;
    let e = 0;
    let odds = 1;
    if (set.count > 1) {
      e = choose(shares, which);
      odds = shares[e]! - (e > 0 ? shares[e - 1]! : 0);
    }
    if (!sampleEmitter(set, e, x, y, z, u, v)) return false;
    const [dx, dy, dz, d] = picked as unknown as [number, number, number, number];
    const cos = dx * wx + dy * wy + dz * wz;
    const light = (picked[4]! / odds) * step * clearOf(air, s);
    asked.cos = cos;
    asked.haze = air.extinctionPerM > 0 ? light * air.extinctionPerM * hazePhase(cos) : 0;
    asked.fall = fallHere > 0 ? light * fallHere * fallPhase!(cos) : 0;
    position[0] = x;
    position[1] = y;
    position[2] = z;
    target[0] = x + d * dx;
    target[1] = y + d * dy;
    target[2] = z + d * dz;
    return true;
  }
  return { ask, position, target };
}

/** Places asked together, with their shadow rays. */
function batch(size: number) {
  const from = new Float32Array(3 * size);
  const to = new Float32Array(3 * size);
  const cell = new Uint32Array(size);
  const haze = new Float32Array(size);
  const fall = new Float32Array(size);
  const ahead = new Uint8Array(size);
  let count = 0;
  return {
    clear(): void {
      count = 0;
    },
    add(which: number, position: Float64Array, target: Float64Array): void {
      from.set(position, 3 * count);
      to.set(target, 3 * count);
      cell[count] = which;
      haze[count] = asked.haze;
      fall[count] = asked.fall;
      ahead[count] = asked.cos > 0 ? 1 : 0;
      count++;
    },
    /** Traces the shadow rays; gives each place what gets through. */
    async traced(
      tracer: Tracer,
      signal: AbortSignalLike | undefined,
      take: (cell: number, haze: number, fall: number, ahead: boolean) => void,
    ): Promise<void> {
      const share = await tracer.passes(
        from.slice(0, 3 * count),
        to.slice(0, 3 * count),
        signal ? { signal } : {},
      );
      for (let i = 0; i < count; i++)
        if (share[i]! > 0) take(cell[i]!, haze[i]! * share[i]!, fall[i]! * share[i]!, ahead[i] === 1);
    },
  };
}

/** Unit direction of a place on the frame, 0–1 from left and top. */
function rayTo(view: View, x: number, y: number, out: Float64Array): void {
  const a = view.tanH * (2 * x - 1);
  const b = view.tanV * (1 - 2 * y);
  let l = 0;
  for (let c = 0; c < 3; c++) {
    out[c] = view.forward[c]! + a * view.right[c]! + b * view.up[c]!;
    l += out[c]! ** 2;
  }
  l = 1 / Math.sqrt(l);
  for (let c = 0; c < 3; c++) out[c]! *= l;
}

/** How far a pixel sees, metres: the farthest of what is in it. */
function depthOf(hits: Hits, pixel: number): number {
  const [from, to] = [hits.pixelStart[pixel]!, hits.pixelStart[pixel + 1]!];
  if (from === to) return FARTHEST_M;
  let far = 0;
  for (let i = from; i < to; i++) far = Math.max(far, hits.depth[i]!);
  return Math.min(FARTHEST_M, far);
}

/**
 * The quick one: a coarse grid of rays, each in stretches; summed along, every pixel looks up its own depth, so that
 * what stands in the haze keeps its edges. Undefined: the air is clear.
 */
export async function airLight(
  tracer: Tracer,
  view: View,
  hits: Hits,
  set: EmitterSet,
  { seed, signal }: { seed: number; signal?: AbortSignalLike },
): Promise<AirLight | undefined> {
  const { air, width, height } = hits;
  if (!air) return undefined;
  const luminance = new Float32Array(width * height);
  if (set.count === 0) return { luminance, behind: 0, front: 0 };

  // How far each ray of the grid goes, and where its stretches end.
  const across = Math.max(2, Math.min(ACROSS, Math.round(width / PIXELS), width));
  const down = Math.max(2, Math.min(height, Math.round((across * height) / width)));
  const reach = new Float32Array(across * down);
  for (let p = 0; p < width * height; p++) {
    const x = Math.floor(((p % width) * across) / width);
    const y = Math.floor((Math.floor(p / width) * down) / height);
    reach[y * across + x] = Math.max(reach[y * across + x]!, depthOf(hits, p));
  }
  const farthest = reach.reduce((a, b) => Math.max(a, b), 0);
  const ends = Float64Array.from({ length: STRETCHES + 1 }, (_, k) => farthest * (k / STRETCHES) ** 1.5);

  // Ask a place in every stretch.
  const { ask, position, target } = scattering(view, air, set);
  const places = batch(across * down * STRETCHES);
  const ray = new Float64Array(3);
  /** Of the last stretch of each ray: its length over what was asked. */
  const whole = new Float32Array(across * down).fill(1);
  for (let y = 0; y < down; y++)
    for (let x = 0; x < across; x++) {
      const r = y * across + x;
      rayTo(view, (x + 0.5) / across, (y + 0.5) / down, ray);
      const shift = (R2_A * x + R2_B * y) % 1;
      const key = hash32(seed, r, 71);
      const [su, sv, sw] = [unit(key), unit(hash32(key, 1)), unit(hash32(key, 2))];
      for (let k = 0; k < STRETCHES && ends[k]! < reach[r]!; k++) {
        const [u, v] = [r2x(k, su), r2y(k, sv)];
        // The stretch in which the ray ends is asked up to there, and stands for the whole.
        const to = Math.min(ends[k + 1]!, reach[r]!);
        if (!ask(ray[0]!, ray[1]!, ray[2]!, ends[k]!, to, shift, r2x(k, sw), u, v)) continue;
        places.add(r * STRETCHES + k, position, target);
        whole[r] = (ends[k + 1]! - ends[k]!) / (to - ends[k]!);
      }
    }
  const haze = new Float32Array(across * down * STRETCHES);
  const fall = new Float32Array(air.falling ? haze.length : 0);
  let behind = 0;
  let front = 0;
  await places.traced(tracer, signal, (cell, h, f, ahead) => {
    if (ahead) behind += h + f;
    else front += h + f;
    const r = (cell / STRETCHES) | 0;
    const scale = ends[(cell % STRETCHES) + 1]! > reach[r]! ? whole[r]! : 1;
    haze[cell] = h * scale;
    if (air.falling) fall[cell] = f * scale;
  });

  // Sum along every ray; each pixel between four rays, at its own depth.
  const sums = [haze, fall].map((f) => (f.length ? summed(f, reach, ends, across, down) : f));
  const drops = air.falling ? dropPattern(air.falling.kind, width, height, seed) : undefined;
  for (let p = 0; p < luminance.length; p++) {
    const px = (((p % width) + 0.5) * across) / width - 0.5;
    const py = ((Math.floor(p / width) + 0.5) * down) / height - 0.5;
    const [from, to] = [hits.pixelStart[p]!, hits.pixelStart[p + 1]!];
    let weight = 0;
    let h = 0;
    let f = 0;
    for (let i = from; i < Math.max(to, from + 1); i++) {
      const w = i < to ? hits.weight[i]! : 1;
      const depth = i < to ? Math.min(FARTHEST_M, hits.depth[i]!) : FARTHEST_M;
      const k = farthest > 0 ? STRETCHES * (depth / farthest) ** (2 / 3) : 0;
      weight += w;
      h += w * between(sums[0]!, px, py, k, ends, depth, across, down);
      if (drops) f += w * between(sums[1]!, px, py, k, ends, depth, across, down);
    }
    if (weight > 0) luminance[p] = (h + f * (drops?.[p] ?? 0)) / weight;
  }
  const rays = across * down;
  return { luminance, behind: behind / rays, front: front / rays };
}

/**
 * Stretches evened out over those neighbouring rays that get there (their places differ) and added up: STRETCHES + 1 per
 * ray, beyond its own end by its neighbours.
 */
function summed(
  stretch: Float32Array,
  reach: Float32Array,
  ends: Float64Array,
  across: number,
  down: number,
): Float32Array {
  const out = new Float32Array(across * down * (STRETCHES + 1));
  for (let y = 0; y < down; y++)
    for (let x = 0; x < across; x++) {
      const o = (y * across + x) * (STRETCHES + 1);
      for (let k = 0; k < STRETCHES; k++) {
        let sum = 0;
        let weight = 0;
        for (let j = Math.max(0, y - 1); j <= Math.min(down - 1, y + 1); j++)
          for (let i = Math.max(0, x - 1); i <= Math.min(across - 1, x + 1); i++) {
            const r = j * across + i;
            if (reach[r]! <= ends[k]!) continue;
            const w = (i === x ? 2 : 1) * (j === y ? 2 : 1);
            sum += w * stretch[r * STRETCHES + k]!;
            weight += w;
          }
        out[o + k + 1] = out[o + k]! + (weight > 0 ? sum / weight : 0);
      }
    }
  return out;
}

/** Light up to `depth` metres, between four rays. `k`: the stretch in which it ends, and how far into it. */
function between(
  sums: Float32Array,
  px: number,
  py: number,
  k: number,
  ends: Float64Array,
  depth: number,
  across: number,
  down: number,
): number {
  const k0 = Math.min(STRETCHES - 1, Math.floor(k));
  const t = Math.min(1, Math.max(0, (depth - ends[k0]!) / (ends[k0 + 1]! - ends[k0]! || 1)));
  const x0 = Math.max(0, Math.min(across - 2, Math.floor(px)));
  const y0 = Math.max(0, Math.min(down - 2, Math.floor(py)));
  const fx = Math.min(1, Math.max(0, px - x0));
  const fy = Math.min(1, Math.max(0, py - y0));
  const at = (x: number, y: number): number => {
    const o = (Math.min(down - 1, y) * across + Math.min(across - 1, x)) * (STRETCHES + 1) + k0;
    return sums[o]! + t * (sums[o + 1]! - sums[o]!);
  };
  return (
    (1 - fy) * ((1 - fx) * at(x0, y0) + fx * at(x0 + 1, y0)) +
    fy * ((1 - fx) * at(x0, y0 + 1) + fx * at(x0 + 1, y0 + 1))
  );
}

/** Unit direction to the first point of a pixel that is seen straight on, and how far it is, metres; −1: none is. */
function straightTo(hits: Hits, { eye }: View, pixel: number, out: Float64Array): number {
  const { position, toEye } = hits.points;
  for (let i = hits.pixelStart[pixel]!; i < hits.pixelStart[pixel + 1]!; i++) {
    for (let c = 0; c < 3; c++) out[c] = position[3 * i + c]! - eye[c]!;
    const l = Math.hypot(out[0]!, out[1]!, out[2]!);
    if (!(l > 0)) continue;
    for (let c = 0; c < 3; c++) out[c]! /= l;
    const turned = out[0]! * toEye[3 * i]! + out[1]! * toEye[3 * i + 1]! + out[2]! * toEye[3 * i + 2]!;
    if (turned < -0.999) return Math.min(FARTHEST_M, l);
  }
  return -1;
}

/**
 * The unbiased one, for a pass of a photograph: one place on the ray of each point of `hits`, and on that of each pixel
 * that sees nothing. Gives the luminance of every pixel from `rows.from` on; the mean over passes converges. `drops`:
 * the seed of where drops are, the same in all passes, or streaks would blur into a veil.
 */
export async function airSample(
  tracer: Tracer,
  view: View,
  hits: Hits,
  rows: { from: number; to: number },
  set: EmitterSet,
  { seed, drops: fallen = seed, signal }: { seed: number; drops?: number; signal?: AbortSignalLike },
): Promise<Float32Array> {
  const { air, width, height } = hits;
  const first = rows.from * width;
  const out = new Float32Array((rows.to - rows.from) * width);
  if (!air || set.count === 0) return out;
  const { ask, position, target } = scattering(view, air, set);
  const drops = air.falling ? dropPattern(air.falling.kind, width, height, fallen) : undefined;
  const places = batch(out.length);
  const ray = new Float64Array(3);
  for (let p = 0; p < out.length; p++) {
    const pixel = first + p;
    const key = hash32(seed, pixel, 72);
    const rnd = (n: number) => unit(hash32(key, n));
    let depth = straightTo(hits, view, pixel, ray);
    if (depth < 0) {
      // Only the sky, or only in a mirror: then what stands behind the glass lets no light to places beyond it.
      rayTo(view, ((pixel % width) + rnd(5)) / width, (Math.floor(pixel / width) + rnd(6)) / height, ray);
      depth = FARTHEST_M;
    }
    if (ask(ray[0]!, ray[1]!, ray[2]!, 0, depth, rnd(1), rnd(2), rnd(3), rnd(4)))
      places.add(p, position, target);
  }
  await places.traced(tracer, signal, (p, h, f) => {
    out[p] = h + f * (drops?.[first + p] ?? 0);
  });
  return out;
}

/** How far a pixel sees straight on at one of its points, picked by `u`, metres; −1: at none. Points are given by cover. */
function depthAt(hits: Hits, air: Air, view: View, pixel: number, u: number): number {
  const [from, to] = [hits.pixelStart[pixel]!, hits.pixelStart[pixel + 1]!];
  if (to - from < 2) return straightTo(hits, view, pixel, scratch);
  // What haze took of a point's weight is no share of the pixel.
  let all = 0;
  for (let i = from; i < to; i++) all += hits.weight[i]! / clearOf(air, hits.depth[i]!);
  let left = u * all;
  for (let i = from; i < to; i++) {
    left -= hits.weight[i]! / clearOf(air, hits.depth[i]!);
    if (left > 0 && i < to - 1) continue;
    const { position } = hits.points;
    const l = Math.hypot(
      position[3 * i]! - view.eye[0],
      position[3 * i + 1]! - view.eye[1],
      position[3 * i + 2]! - view.eye[2],
    );
    // Along a chain through glass it is as far; by way of a mirror it is not.
    return Math.abs(l - hits.depth[i]!) < 0.01 * l + 0.02
      ? Math.min(FARTHEST_M, l)
      : straightTo(hits, view, pixel, scratch);
  }
  return -1;
}
const scratch = new Float64Array(3);

/** The golden section: even places along a ray, however many there will be. */
const GOLDEN = 0.6180339887498949;

/**
 * The unbiased one for a picture that is refined while one looks: `places` more on the ray of every pixel, going on
 * after `begun`. Neighbours ask at other distances in a pattern, so that what noise there is lies fine. Drops are where
 * the quick picture of that seed has them. The mean of these over steps converges.
 */
export async function airMore(
  tracer: Tracer,
  view: View,
  hits: Hits,
  set: EmitterSet,
  step: { seed: number; begun: number; places: number; signal?: AbortSignalLike },
): Promise<AirLight | undefined> {
  const { air, width, height } = hits;
  if (!air) return undefined;
  const { seed, begun } = step;
  const luminance = new Float32Array(width * height);
  const out: AirLight = { luminance, behind: 0, front: 0 };
  if (set.count === 0) return out;
  const { ask, position, target } = scattering(view, air, set);
  const drops = air.falling ? dropPattern(air.falling.kind, width, height, seed) : undefined;
  const places = batch(luminance.length);
  const ray = new Float64Array(3);
  const whole = 1 / (step.places * luminance.length);
  for (let k = begun; k < begun + step.places; k++) {
    places.clear();
    for (let p = 0; p < luminance.length; p++) {
      const [x, y] = [p % width, Math.floor(p / width)];
      const key = hash32(seed, p, 73);
      const rnd = (n: number) => unit(hash32(key, k, n));
      const depth = depthAt(hits, air, view, p, rnd(1));
      rayTo(view, (x + rnd(2)) / width, (y + rnd(3)) / height, ray);
      const along = (R2_A * x + R2_B * y + GOLDEN * k + unit(hash32(seed, 74))) % 1;
      const [u, v] = [r2x(k, unit(key)), r2y(k, unit(hash32(key, 5)))];
      if (ask(ray[0]!, ray[1]!, ray[2]!, 0, depth < 0 ? FARTHEST_M : depth, along, rnd(4), u, v))
        places.add(p, position, target);
    }
    await places.traced(tracer, step.signal, (p, h, f, ahead) => {
      luminance[p]! += (h + f * (drops?.[p] ?? 0)) / step.places;
      if (ahead) out.behind += (h + f) * whole;
      else out.front += (h + f) * whole;
    });
  }
  return out;
}
