/** Ragged places: nooks in which crowding changes from point to point, as among strands of hair. */
import { hash32, r2x, r2y, unit } from '../../maths/sampling.ts';
import { aboutNormal, cosineRay } from '../links.ts';
import type { AbortSignalLike, Hits, Tracer } from '../tracer.ts';
import { reachM } from './nooks.ts';
import type { Thin } from './thin.ts';
import { likeness, putTaps, TAPS } from './thin.ts';

/** Added points about a point of the full picture that differ by more than this in crowding: it is ragged. */
const RAGGED = 0.25;
/** Short rays by which a ragged point finds its own crowding. */
const FEELERS = 12;
/** How soon points that differ in crowding stop standing for each other. */
const UNLIKE = 4;

/**
 * Where crowding changes from point to point (strands of hair), what lies beside a point says nothing of it: such
 * points feel how crowded they are, and take the added points that are as crowded. Changes the taps of `thin`.
 */
export async function feelOut(
  tracer: Tracer,
  hits: Hits,
  fine: Thin,
  thin: Thin,
  added: Uint32Array,
  crowd: Float32Array,
  options: { seed: number; signal?: AbortSignalLike },
): Promise<void> {
  const first = thin.points.count - added.length;
  const place = new Int32Array(fine.points.count).fill(-1);
  added.forEach((c, i) => {
    place[c] = i;
  });
  const { points } = hits;
  const ragged: number[] = [];
  for (let i = 0; i < points.count; i++) {
    const o = i * TAPS;
    if (thin.tap[o]! < first) continue;
    let low = 1;
    let high = 0;
    for (let t = o; t < o + TAPS; t++) {
      if (thin.tapWeight[t] === 0) continue;
      const k = crowd[thin.tap[t]! - first]!;
      low = Math.min(low, k);
      high = Math.max(high, k);
    }
    if (high - low > RAGGED) ragged.push(i);
  }
  if (ragged.length === 0) return;

  const from = new Float32Array(ragged.length * FEELERS * 3);
  const to = new Float32Array(from.length);
  for (let r = 0; r < ragged.length; r++) {
    const o = ragged[r]! * 3;
    const far = reachM((thin.footprintM[thin.tap[ragged[r]! * TAPS]!]! * thin.block) / fine.block);
    const su = unit(hash32(options.seed, ragged[r]!, 81));
    const sv = unit(hash32(options.seed, ragged[r]!, 82));
    for (let k = 0; k < FEELERS; k++) {
      aboutNormal(points.normal[o]!, points.normal[o + 1]!, points.normal[o + 2]!, r2x(k, su), r2y(k, sv));
      const a = (r * FEELERS + k) * 3;
      for (let x = 0; x < 3; x++) {
        from[a + x] = points.position[o + x]!;
        to[a + x] = points.position[o + x]! + far * cosineRay[x]!;
      }
    }
  }
  const free = await tracer.passes(from, to, options.signal ? { signal: options.signal } : {});

  const best = new Int32Array(TAPS);
  const weight = new Float64Array(TAPS);
  for (let r = 0; r < ragged.length; r++) {
    const i = ragged[r]!;
    let own = 0;
    for (let k = 0; k < FEELERS; k++) own += (1 - free[r * FEELERS + k]!) / FEELERS;
    best.fill(-1);
    weight.fill(0);
    // The added points of the three by three blocks about it.
    const q = thin.pixel[thin.tap[i * TAPS]!]!;
    const bx = Math.floor((q % fine.fullWidth) / fine.block);
    const by = Math.floor(q / fine.fullWidth / fine.block);
    for (let y = Math.max(0, by - 1); y <= Math.min(fine.height - 1, by + 1); y++) {
      for (let x = Math.max(0, bx - 1); x <= Math.min(fine.width - 1, bx + 1); x++) {
        for (let c = fine.start[y * fine.width + x]!; c < fine.start[y * fine.width + x + 1]!; c++) {
          const a = place[c]!;
          if (a < 0 || fine.points.material[c] !== points.material[i]) continue;
          const off = Math.max(0.02, 1 - UNLIKE * Math.abs(crowd[a]! - own));
          const k = off * off * (0.05 + likeness(points, i, fine.points, c, fine.footprintM[c]!));
          let t = TAPS - 1;
          if (k <= weight[t]!) continue;
          for (; t > 0 && weight[t - 1]! < k; t--) {
            weight[t] = weight[t - 1]!;
            best[t] = best[t - 1]!;
          }
          weight[t] = k;
          best[t] = first + a;
        }
      }
    }
    putTaps(thin, i, best, weight);
  }
}
