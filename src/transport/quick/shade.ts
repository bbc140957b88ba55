/**
 * Shadows of one layer in a picture: what share of its bare light gets through. Asked by one shadow ray at each point
 * of a picture thinned to half its size, the places on the emitter interleaved over tiles of 4 × 4; where neighbours
 * disagree by more rays and a kernel as wide as the penumbra; at full size where a shadow's edge is sharper than that.
 */
import { hash32, r2x, r2y, unit } from '../../maths/sampling.ts';
import type { EmitterSet } from '../emitter.ts';
import { picked, STRIDE, sampleEmitter } from '../emitter.ts';
import type { AbortSignalLike, Hits, SurfacePoints, Tracer } from '../tracer.ts';
import type { Thin } from './thin.ts';
import { likeness, pick, TAP_UNIT, TAPS } from './thin.ts';

export interface ShadeOptions {
  seed: number;
  signal?: AbortSignalLike;
}

/** Rays more at a point whose neighbours disagree; more still where the kernel will be narrow. */
const MORE = 2;
const MORE_STILL = 5;
/** Rays at a point of the full picture that is asked by itself. */
const EDGE = 8;
/** Taps that differ by more than this mark a sharp edge. */
const SHARP = 0.2;

/** Order of the sixteen places of a tile, so that near ones differ most (an ordered-dither matrix). */
const TILE = [0, 8, 2, 10, 12, 4, 14, 6, 3, 11, 1, 9, 15, 7, 13, 5];

/** Lit and whole light that a number of rays found at points, summed. */
interface Found {
  lit: Float32Array;
  all: Float32Array;
}

/**
 * Asks `rays` places on the layer's emitters from each of the points numbered in `which`, adding to `found`. `turn`
 * per point: its place in the tile, 0–15; ray k of a point takes number (first + k) × 16 + turn of the sequence.
 */
async function ask(
  tracer: Tracer,
  set: EmitterSet,
  points: SurfacePoints,
  which: Uint32Array,
  turn: Uint8Array,
  first: number,
  rays: number,
  found: Found,
  options: ShadeOptions,
): Promise<void> {
  const from = new Float32Array(which.length * rays * 3);
  const to = new Float32Array(which.length * rays * 3);
  const lux = new Float32Array(which.length * rays);
  const owner = new Uint32Array(which.length * rays);
  const su = unit(hash32(options.seed, 71));
  const sv = unit(hash32(options.seed, 72));
  const se = unit(hash32(options.seed, 73));
  const upTo = new Float64Array(set.count);
  const { position, normal, faceNormal } = points;
  let asked = 0;
  for (let w = 0; w < which.length; w++) {
    const p = which[w]!;
    const o = p * 3;
    const px = position[o]!;
    const py = position[o + 1]!;
    const pz = position[o + 2]!;
    let whole = 1;
    if (set.count > 1) {
      // Emitters by what they can do here: their light over the square of the distance.
      whole = 0;
      for (let e = 0; e < set.count; e++) {
        const b = e * STRIDE;
        const d2 = (set.f[b]! - px) ** 2 + (set.f[b + 1]! - py) ** 2 + (set.f[b + 2]! - pz) ** 2;
        whole += set.power[e]! / (d2 + set.f[b + 14]!);
        upTo[e] = whole;
      }
      if (!(whole > 0)) continue;
    }
    for (let k = 0; k < rays; k++) {
      const i = (first + k) * 16 + turn[p]!;
      let e = 0;
      let odds = 1;
      if (set.count > 1) {
        const x = (se + i * 0.6180339887498949) % 1;
        const want = x * whole;
        let lo = 0;
        let hi = set.count - 1;
        while (lo < hi) {
          const mid = (lo + hi) >> 1;
          if (upTo[mid]! > want) hi = mid;
          else lo = mid + 1;
        }
        e = lo;
        odds = (upTo[e]! - (e > 0 ? upTo[e - 1]! : 0)) / whole;
      }
      if (!sampleEmitter(set, e, px, py, pz, r2x(i, su), r2y(i, sv))) continue;
      const dx = picked[0]!;
      const dy = picked[1]!;
      const dz = picked[2]!;
      const cos = dx * normal[o]! + dy * normal[o + 1]! + dz * normal[o + 2]!;
      if (cos <= 0) continue;
      const one = (picked[4]! * cos) / odds;
      found.all[p]! += one;
      // Behind the true face there is nothing to ask.
      if (dx * faceNormal[o]! + dy * faceNormal[o + 1]! + dz * faceNormal[o + 2]! <= -0.3) continue;
      const d = picked[3]!;
      const a = asked * 3;
      from[a] = px;
      from[a + 1] = py;
      from[a + 2] = pz;
      to[a] = px + dx * d;
      to[a + 1] = py + dy * d;
      to[a + 2] = pz + dz * d;
      lux[asked] = one;
      owner[asked] = p;
      asked++;
    }
  }
  if (asked === 0) return;
  const shares = await tracer.passes(
    from.subarray(0, asked * 3),
    to.subarray(0, asked * 3),
    options.signal ? { signal: options.signal } : {},
  );
  for (let r = 0; r < asked; r++) found.lit[owner[r]!]! += lux[r]! * shares[r]!;
}

const shareOf = (found: Found, i: number): number =>
  found.all[i]! > 0 ? Math.min(1, found.lit[i]! / found.all[i]!) : 1;

/** Does a share say neither all nor nothing? */
const between = (v: number): boolean => v > 0.01 && v < 0.99;

/**
 * Share of the bare light that gets through, per point of the full picture. `bare`: lux per point; where there is
 * none, nothing is asked.
 */
export async function shade(
  tracer: Tracer,
  set: EmitterSet,
  hits: Hits,
  fine: Thin,
  bare: Float32Array,
  options: ShadeOptions,
): Promise<Float32Array> {
  const n = fine.points.count;
  const w = hits.width;
  const out = new Float32Array(hits.points.count).fill(1);
  if (set.count === 0) return out;

  // Leave out what the lamp cannot light: a ten-thousandth of its greatest.
  let greatest = 0;
  for (let i = 0; i < bare.length; i++) if (bare[i]! > greatest) greatest = bare[i]!;
  const least = greatest * 1e-4;

  // One ray each, interleaved.
  const turn = new Uint8Array(n);
  const lit: number[] = [];
  for (let c = 0; c < n; c++) {
    const q = fine.pixel[c]!;
    const x = ((q % w) / fine.block) | 0;
    const y = (q / w / fine.block) | 0;
    turn[c] = TILE[(x & 3) | ((y & 3) << 2)]!;
    if (bare[fine.chosen[c]!]! > least) lit.push(c);
  }
  const found: Found = { lit: new Float32Array(n), all: new Float32Array(n) };
  await ask(tracer, set, fine.points, Uint32Array.from(lit), turn, 0, 1, found, options);
  const share = new Float32Array(n);
  for (let c = 0; c < n; c++) share[c] = shareOf(found, c);

  // More rays where neighbours disagree.
  const mixed = Uint32Array.from(lit.filter((c) => disagree(fine, found, share, c, 2)));
  await ask(tracer, set, fine.points, mixed, turn, 1, MORE, found, options);
  for (const c of mixed) share[c] = shareOf(found, c);

  // There, a kernel as wide as the penumbra; where that is narrow, more rays first.
  const radius = Uint8Array.from(mixed, (c) => softness(fine, share, c));
  const narrow = mixed.filter((_, i) => radius[i]! < 3);
  await ask(tracer, set, fine.points, narrow, turn, 1 + MORE, MORE_STILL, found, options);
  for (const c of narrow) share[c] = shareOf(found, c);
  const smooth = share.slice();
  mixed.forEach((c, i) => {
    if (radius[i]! > 0) smooth[c] = filtered(fine, found, share, c, radius[i]!);
  });

  // Up to full size; where the taps disagree sharply, and where none fits, by rays of its own.
  const { points } = hits;
  const edge: number[] = [];
  for (let i = 0; i < points.count; i++) {
    if (!(bare[i]! > least)) continue;
    const o = i * TAPS;
    let sum = 0;
    let low = 2;
    let high = -1;
    for (let t = 0; t < TAPS; t++) {
      const k = fine.tapWeight[o + t]!;
      if (k === 0) continue;
      const v = smooth[fine.tap[o + t]!]!;
      sum += k * v;
      if (v < low) low = v;
      if (v > high) high = v;
    }
    out[i] = sum / TAP_UNIT;
    if (high - low > SHARP) edge.push(i);
  }
  for (const i of fine.orphans) if (bare[i]! > least) edge.push(i);
  if (edge.length > 0) {
    const which = Uint32Array.from(edge);
    const own = pick(points, which);
    const all = Uint32Array.from(which, (_, k) => k);
    const turns = Uint8Array.from(which, (_, k) => (k * 7) & 15);
    const at: Found = { lit: new Float32Array(which.length), all: new Float32Array(which.length) };
    await ask(tracer, set, own, all, turns, 0, EDGE, at, options);
    for (let k = 0; k < which.length; k++) out[which[k]!] = shareOf(at, k);
  }
  return out;
}

/** Is there another share than its own among the like neighbours within `radius` blocks? */
function disagree(fine: Thin, found: Found, share: Float32Array, c: number, radius: number): boolean {
  const own = share[c]!;
  if (between(own)) return true;
  const { width, height, start, points, footprintM } = fine;
  const q = fine.pixel[c]!;
  const bx = Math.floor((q % fine.fullWidth) / fine.block);
  const by = Math.floor(q / fine.fullWidth / fine.block);
  for (let y = Math.max(0, by - radius); y <= Math.min(height - 1, by + radius); y++) {
    for (let x = Math.max(0, bx - radius); x <= Math.min(width - 1, bx + radius); x++) {
      for (let d = start[y * width + x]!; d < start[y * width + x + 1]!; d++) {
        if (!(found.all[d]! > 0) || Math.abs(share[d]! - own) < 0.05) continue;
        if (likeness(points, c, points, d, footprintM[c]!) > 0.1) return true;
      }
    }
  }
  return false;
}

/** Radius of the kernel, blocks, 0–3: by how many of the neighbours stand in the penumbra. */
function softness(fine: Thin, share: Float32Array, c: number): number {
  const { width, height, start, points, footprintM } = fine;
  const q = fine.pixel[c]!;
  const bx = Math.floor((q % fine.fullWidth) / fine.block);
  const by = Math.floor(q / fine.fullWidth / fine.block);
  let half = 0;
  let all = 0;
  let near = between(share[c]!);
  for (let y = Math.max(0, by - 3); y <= Math.min(height - 1, by + 3); y++) {
    for (let x = Math.max(0, bx - 3); x <= Math.min(width - 1, bx + 3); x++) {
      for (let d = start[y * width + x]!; d < start[y * width + x + 1]!; d++) {
        if (likeness(points, c, points, d, footprintM[c]!) < 0.1) continue;
        all++;
        if (!between(share[d]!)) continue;
        half++;
        if (Math.abs(x - bx) <= 1 && Math.abs(y - by) <= 1) near = true;
      }
    }
  }
  if (!near) return 0;
  // With three rays a point in the penumbra says "between" about every other time.
  const part = half / all;
  return part < 0.1 ? 0 : part < 0.22 ? 1 : part < 0.36 ? 2 : 3;
}

function filtered(fine: Thin, found: Found, share: Float32Array, c: number, radius: number): number {
  const { width, height, start, points, footprintM } = fine;
  const q = fine.pixel[c]!;
  const bx = Math.floor((q % fine.fullWidth) / fine.block);
  const by = Math.floor(q / fine.fullWidth / fine.block);
  let sum = 0;
  let weight = 0;
  for (let y = Math.max(0, by - radius); y <= Math.min(height - 1, by + radius); y++) {
    for (let x = Math.max(0, bx - radius); x <= Math.min(width - 1, bx + radius); x++) {
      for (let d = start[y * width + x]!; d < start[y * width + x + 1]!; d++) {
        if (!(found.all[d]! > 0)) continue;
        const k = likeness(points, c, points, d, footprintM[c]!);
        sum += k * share[d]!;
        weight += k;
      }
    }
  }
  return weight > 0 ? sum / weight : share[c]!;
}
