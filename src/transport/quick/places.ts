/**
 * Shadow rays from points of a picture to places on a layer's emitters. Points take turns in tiles of 4 × 4: the
 * sixteen turns of a tile fill the emitter evenly together, and so do the rays of each point by themselves.
 */
import { hash32, unit } from '../../maths/sampling.ts';
import type { EmitterSet } from '../emitter.ts';
import { picked, STRIDE, sampleEmitter } from '../emitter.ts';
import { onHair, start, startAt } from '../strands.ts';
import type { FlatEmitter, FlatRays } from '../sums.ts';
import type { AbortSignalLike, SurfacePoints, Tracer } from '../tracer.ts';
import { flatEmitter } from './flat.ts';

/** Order of the sixteen turns of a tile, so that near ones differ most (an ordered-dither matrix). */
const TILE = [0, 8, 2, 10, 12, 4, 14, 6, 3, 11, 1, 9, 15, 7, 13, 5];
export const turnAt = (x: number, y: number): number => TILE[(x & 3) | ((y & 3) << 2)]!;

/** Places of a turn; rays beyond them take those of the next. */
const MOST_RAYS = 16;
/** Steps each way of the square that places lie in the middles of. */
const STEPS = 65536;

/**
 * Places of a turn's rays, 16 × turn + ray, in steps: the first sixteen points of a (0, 2)-sequence in base 2
 * [SOBOL-1967], shifted digit by digit (exclusive or) to where the turn begins. So the rays of a turn are spread like
 * the sequence, and the first rays of the sixteen turns lie one in every cell of a 16 × 1, 8 × 2, 4 × 4, 2 × 8 and
 * 1 × 16 grid.
 */
const PLACE_U = new Uint16Array(16 * MOST_RAYS);
const PLACE_V = new Uint16Array(16 * MOST_RAYS);
for (let turn = 0; turn < 16; turn++) {
  const bit = (n: number): number => (turn >> n) & 1;
  const beginU = turn;
  const beginV = ((bit(2) ^ bit(0)) << 3) | ((bit(3) ^ bit(1)) << 2) | (bit(2) << 1) | bit(3);
  for (let ray = 0; ray < MOST_RAYS; ray++) {
    let u = 0;
    let v = 0;
    for (let i = ray, p = 8, q = 8; i > 0; i >>= 1, p >>= 1, q ^= q >> 1) {
      if ((i & 1) === 0) continue;
      u ^= p;
      v ^= q;
    }
    PLACE_U[turn * 16 + ray] = (u ^ beginU) * (STEPS / 16);
    PLACE_V[turn * 16 + ray] = (v ^ beginV) * (STEPS / 16);
  }
}
const GOLDEN = 0.6180339887498949;

/** Light that a number of rays found at points, summed: what came through, and what might have. */
export interface Found {
  lit: Float32Array;
  all: Float32Array;
}
export const foundAt = (count: number): Found => ({
  lit: new Float32Array(count),
  all: new Float32Array(count),
});
/** Share that got through; where nothing was asked, all. */
export const shareOf = (found: Found, i: number): number =>
  found.all[i]! > 0 ? Math.min(1, found.lit[i]! / found.all[i]!) : 1;

/** Cosine to the true face under which a place counts as behind it: nothing is asked, nothing comes through. */
const BEHIND = -0.3;

/**
 * Asks from each of the points numbered in `which` for its rays `first` … `first + rays - 1`, adding to
 * `found`. `turn` per point, 0–15.
 */
export async function ask(
  tracer: Tracer,
  set: EmitterSet,
  points: SurfacePoints,
  which: Uint32Array,
  turn: Uint8Array,
  first: number,
  rays: number,
  found: Found,
  options: { seed: number; signal?: AbortSignalLike },
): Promise<void> {
  if (set.count === 1 && tracer.sums?.flatRays && which.length >= WORTH && first + rays <= MOST_RAYS) {
    const flat = flatEmitter(set, 0, placesOf(options.seed), { weight: 1, alone: true, reachM: 0 });
    if (flat) {
      const hair = await askFlat(
        tracer,
        tracer.sums.flatRays,
        flat,
        points,
        which,
        turn,
        first,
        rays,
        found,
        options,
      );
      if (hair.length > 0) await askEach(tracer, set, points, hair, turn, first, rays, found, options);
      return;
    }
  }
  await askEach(tracer, set, points, which, turn, first, rays, found, options);
}

/** Points fewer than this are not worth being laid out elsewhere. */
const WORTH = 32;

/** The places of all turns and rays, two numbers each, shifted by a seed. */
function placesOf(seed: number): Float64Array {
  const su = hash32(seed, 71) & (STEPS - 1);
  const sv = hash32(seed, 72) & (STEPS - 1);
  const out = new Float64Array(2 * PLACE_U.length);
  for (let i = 0; i < PLACE_U.length; i++) {
    out[2 * i] = ((PLACE_U[i]! ^ su) + 0.5) / STEPS;
    out[2 * i + 1] = ((PLACE_V[i]! ^ sv) + 0.5) / STEPS;
  }
  return out;
}

/** The same to one flat emitter, all at once; returns the points on hair, which are left. */
async function askFlat(
  tracer: Tracer,
  flatRays: FlatRays,
  flat: FlatEmitter,
  points: SurfacePoints,
  which: Uint32Array,
  turn: Uint8Array,
  first: number,
  rays: number,
  found: Found,
  options: { signal?: AbortSignalLike },
): Promise<Uint32Array> {
  const hair = points.grain ? which.filter((p) => onHair(points, p)) : which.subarray(0, 0);
  const bare = hair.length > 0 ? which.filter((p) => !onHair(points, p)) : which;
  const n = bare.length;
  const some = {
    position: new Float32Array(3 * n),
    normal: new Float32Array(3 * n),
    faceNormal: new Float32Array(3 * n),
    turn: new Uint8Array(n),
  };
  for (let i = 0, o = 0; i < n; i++, o += 3) {
    const p = bare[i]!;
    some.turn[i] = turn[p]!;
    for (let x = 0; x < 3; x++) {
      some.position[o + x] = points.position[3 * p + x]!;
      some.normal[o + x] = points.normal[3 * p + x]!;
      some.faceNormal[o + x] = points.faceNormal[3 * p + x]!;
    }
  }
  const { from, to, lux, owner, whole } = flatRays(flat, some, first, rays);
  for (let i = 0; i < n; i++) found.all[bare[i]!]! += whole[i]!;
  if (lux.length === 0) return hair;
  const shares = await tracer.passes(from, to, options.signal ? { signal: options.signal } : {});
  for (let r = 0; r < lux.length; r++) found.lit[bare[owner[r]!]!]! += lux[r]! * shares[r]!;
  return hair;
}

/** The same one by one, whatever the emitters. */
async function askEach(
  tracer: Tracer,
  set: EmitterSet,
  points: SurfacePoints,
  which: Uint32Array,
  turn: Uint8Array,
  first: number,
  rays: number,
  found: Found,
  options: { seed: number; signal?: AbortSignalLike },
): Promise<void> {
  const from = new Float32Array(which.length * rays * 3);
  const to = new Float32Array(which.length * rays * 3);
  const lux = new Float32Array(which.length * rays);
  const owner = new Uint32Array(which.length * rays);
  // One digital shift for all: which places, but not how they lie to each other.
  const su = hash32(options.seed, 71) & (STEPS - 1);
  const sv = hash32(options.seed, 72) & (STEPS - 1);
  const se = unit(hash32(options.seed, 73));
  const upTo = new Float64Array(set.count);
  const { position, normal, faceNormal } = points;
  let asked = 0;
  for (let w = 0; w < which.length; w++) {
    const p = which[w]!;
    const o = p * 3;
    const hair = onHair(points, p);
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
    for (let k = first; k < first + rays; k++) {
      let e = 0;
      let odds = 1;
      if (set.count > 1) {
        const want = ((se + turn[p]! / 16 + k * GOLDEN) % 1) * whole;
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
      // More rays than a turn has places: those of the turns after it.
      const place = ((turn[p]! + (k >> 4)) & 15) * MOST_RAYS + (k & 15);
      const u = ((PLACE_U[place]! ^ su) + 0.5) / STEPS;
      const v = ((PLACE_V[place]! ^ sv) + 0.5) / STEPS;
      if (!sampleEmitter(set, e, px, py, pz, u, v)) continue;
      const dx = picked[0]!;
      const dy = picked[1]!;
      const dz = picked[2]!;
      // A hair is lit from all round.
      const cos = hair ? 1 : dx * normal[o]! + dy * normal[o + 1]! + dz * normal[o + 2]!;
      if (cos <= 0) continue;
      const one = (picked[4]! * cos) / odds;
      found.all[p]! += one;
      const a = asked * 3;
      if (hair) {
        startAt(points, p, dx, dy, dz);
        from.set(start, a);
      } else {
        if (dx * faceNormal[o]! + dy * faceNormal[o + 1]! + dz * faceNormal[o + 2]! <= BEHIND) continue;
        from[a] = px;
        from[a + 1] = py;
        from[a + 2] = pz;
      }
      const d = picked[3]!;
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
