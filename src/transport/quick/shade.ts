/**
 * Shadows of one layer in a picture: what share of its bare light gets through. Asked by one shadow ray at each point
 * of a picture thinned to half its size; where neighbours disagree by more rays and a kernel as wide as they bear out;
 * at full size where a shadow's edge is sharper than that.
 */
import type { EmitterSet } from '../emitter.ts';
import { isThinTube } from '../emitter.ts';
import { onHair } from '../strands.ts';
import type { AbortSignalLike, Hits, Tracer } from '../tracer.ts';
import { disagree, reach, reachAt, wholeGrid } from './kernel.ts';
import { ask, foundAt, shareOf, turnAt } from './places.ts';
import type { Thin } from './thin.ts';
import { TAP_UNIT, TAPS } from './thin.ts';

export interface ShadeOptions {
  seed: number;
  signal?: AbortSignalLike;
  /** While a hand moves the lamp: half the rays at shadows' edges, wider kernels. */
  rough?: boolean;
}

/** Blocks within which a neighbour that disagrees is looked for. */
const ROUND = 2;
/** Rays at a point whose neighbours disagree; where the kernel will be narrow. */
const MIXED = 8;
const NARROW = 16;
/** So many times more for the sky: half of all directions is wider than any lamp. */
const SKY_TIMES = 4;
/** Rays at every point to begin with: through a window not each points at the sky, along a tube not each gets by. */
const FIRST = 4;
/** Of rays to the sky and to a tube each counts by what comes from there: places spread evenly do not even out their chance. */
const UNEVENED = 1;
/** Widest kernel, blocks either way. */
const WIDEST = 3;
/** Rays at a point of the full picture that is asked by itself. */
const EDGE = 8;
/** Of a tube so many times more: what stands beside it cuts it along all its length. */
const TUBE_TIMES = 2;
/** Taps that differ by more than this mark a sharp edge. */
const SHARP = 0.2;
/** A share further than this from a half is plain: nearly all or nearly nothing. */
const PLAIN = 0.4;
/** A lamp's light under this share of its greatest is not asked for. */
const FAINTEST = 1e-4;

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
  if (set.count === 0) return new Float32Array(hits.points.count).fill(1);
  let greatest = 0;
  for (let i = 0; i < bare.length; i++) if (bare[i]! > greatest) greatest = bare[i]!;
  const least = greatest * FAINTEST;
  const half = await shadeThin(tracer, set, fine, bare, least, options);
  return shadeFull(tracer, set, hits, fine, half, bare, least, options);
}

const UNASKED = -1;
/** A tap knows a point's shadows if its own bare light is this share of the point's, at least. */
const LIT_LIKE = 0.25;

const isTube = (set: EmitterSet): boolean => set.count === 1 && isThinTube(set, 0);
const isSky = (set: EmitterSet): boolean => set.far.some((f) => f !== undefined);

/** Shares at the points of the thin picture. */
interface Half {
  /** `UNASKED` where no light falls to be shaded. */
  share: Float32Array;
  /** 1 where neighbours disagree: there is a shadow about. */
  mixed: Uint8Array;
}

async function shadeThin(
  tracer: Tracer,
  set: EmitterSet,
  fine: Thin,
  bare: Float32Array,
  least: number,
  options: ShadeOptions,
): Promise<Half> {
  const n = fine.points.count;
  const { points, block, fullWidth } = fine;
  const turn = new Uint8Array(n);
  const lit: number[] = [];
  for (let c = 0; c < n; c++) {
    const q = fine.pixel[c]!;
    turn[c] = turnAt(((q % fullWidth) / block) | 0, (q / fullWidth / block) | 0);
    if (bare[fine.chosen[c]!]! > least) lit.push(c);
  }
  const found = foundAt(n);
  const share = new Float32Array(n).fill(1);
  const rays = new Uint8Array(n);
  const upTo = async (which: Uint32Array, count: number): Promise<void> => {
    const first = which.length > 0 ? rays[which[0]!]! : 0;
    await ask(tracer, set, points, which, turn, first, count - first, found, options);
    for (const c of which) {
      share[c] = shareOf(found, c);
      rays[c] = found.all[c]! > 0 ? count : 0;
    }
  };

  await upTo(Uint32Array.from(lit), isSky(set) || (isTube(set) && !options.rough) ? FIRST : 1);
  const mixed = Uint32Array.from(lit.filter((c) => rays[c]! > 0 && disagree(fine, rays, share, c, ROUND)));
  const times = isSky(set) ? SKY_TIMES : 1;
  await upTo(mixed, options.rough ? (times * MIXED) / 2 : times * MIXED);
  if (!options.rough)
    await upTo(
      mixed.filter((c) => reachAt(fine, rays, share, c, WIDEST) < 1),
      Math.max(NARROW, times * MIXED),
    );
  const smooth = new Float32Array(n).fill(UNASKED);
  for (const c of lit) smooth[c] = share[c]!;
  const disagreed = new Uint8Array(n);
  for (const c of mixed) {
    disagreed[c] = 1;
    reachAt(fine, rays, share, c, WIDEST, isSky(set) || isTube(set) ? UNEVENED : undefined);
    smooth[c] = reach.mean;
  }
  return { share: smooth, mixed: disagreed };
}

/** Up to full size; where the taps disagree sharply, and where none fits, by rays of its own. */
async function shadeFull(
  tracer: Tracer,
  set: EmitterSet,
  hits: Hits,
  fine: Thin,
  { share: half, mixed }: Half,
  bare: Float32Array,
  least: number,
  options: ShadeOptions,
): Promise<Float32Array> {
  const { points, width } = hits;
  const n = points.count;
  const out = new Float32Array(n).fill(1);
  const edges: number[] = [];
  /** Points that seem wholly lit or wholly dark, with a shadow about. */
  const plain: number[] = [];
  for (let i = 0; i < n; i++) {
    if (!(bare[i]! > least)) continue;
    const o = i * TAPS;
    let sum = 0;
    let weight = 0;
    let low = 2;
    let high = -1;
    for (let t = o; t < o + TAPS; t++) {
      const k = fine.tapWeight[t]!;
      const c = fine.tap[t]!;
      const v = half[c]!;
      if (k === 0 || v === UNASKED || bare[fine.chosen[c]!]! < LIT_LIKE * bare[i]!) continue;
      sum += k * v;
      weight += k;
      if (v < low) low = v;
      if (v > high) high = v;
    }
    // What stands for a point may face away from the lamp, more or less, and know little of its shadows.
    if (weight < TAP_UNIT / 2 || high - low > SHARP) edges.push(i);
    else {
      out[i] = sum / weight;
      // A strand may lie in the dark among strands in the light with no sign of it round about.
      if (
        (mixed[fine.tap[o]!] === 1 && Math.abs(out[i]! - 0.5) > PLAIN) ||
        (!options.rough && onHair(points, i))
      )
        plain.push(i);
    }
  }
  for (const i of fine.orphans) if (bare[i]! > least) edges.push(i);
  const grid = wholeGrid(hits, fine);
  const turn = new Uint8Array(n);
  if (!isSky(set)) {
    // A strand's shadow is narrower than the thin picture's points lie apart: one ray each finds it.
    const tried = foundAt(n);
    for (const i of plain) turn[i] = turnAt(grid.pixel[i]! % width, (grid.pixel[i]! / width) | 0);
    await ask(tracer, set, points, Uint32Array.from(plain), turn, 0, 1, tried, options);
    for (const i of plain)
      if (tried.all[i]! > 0 && Math.abs(shareOf(tried, i) - out[i]!) > (onHair(points, i) ? SHARP : 0.5))
        edges.push(i);
  }
  if (edges.length === 0) return out;

  const which = Uint32Array.from(edges);
  for (const i of which) turn[i] = turnAt(grid.pixel[i]! % width, (grid.pixel[i]! / width) | 0);
  const found = foundAt(n);
  const asked = options.rough ? EDGE / 2 : (isTube(set) ? TUBE_TIMES : 1) * EDGE;
  await ask(tracer, set, points, which, turn, 0, (isSky(set) ? SKY_TIMES : 1) * asked, found, options);
  const rays = new Uint8Array(n);
  const own = new Float32Array(n);
  for (const i of which) {
    own[i] = shareOf(found, i);
    rays[i] = found.all[i]! > 0 ? asked : 0;
  }
  for (const i of which) {
    reachAt(grid, rays, own, i, 1);
    out[i] = reach.mean;
  }
  return out;
}
