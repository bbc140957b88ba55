/**
 * Direct light, quickly: a term without shadows at every point (no ray), times visibility that is traced at
 * one pixel of every block and brought up where the neighbours agree; where they do not — shadow edges,
 * silhouettes, panes — the points themselves are traced.
 */
import { pointsOf } from './points.ts';
import type { AbortSignalLike, Direct, Hits, SurfacePoints, Tracer } from './tracer.ts';

export interface QuickQuality {
  /** Pixels across a block with one traced point. */
  block: number;
  /** Shadow rays at each. */
  samples: number;
  /** Shadow rays where neighbours disagree. */
  repair: number;
  /** Samples of the term without shadows (no rays). */
  open: number;
}
/** While a hand moves a lamp; when it rests. */
export const DRAG: QuickQuality = { block: 3, samples: 2, repair: 2, open: 2 };
export const STILL: QuickQuality = { block: 2, samples: 4, repair: 8, open: 6 };

/** What belongs to a picture’s hits and block size alone: kept while the view and stage stay. */
export interface DirectPlan {
  quality: QuickQuality;
  /** Traced points: numbers into hits.points. */
  traced: Uint32Array;
  tracedPoints: SurfacePoints;
  /** By block: entry in `traced`, −1 if none. */
  ofBlock: Int32Array;
  across: number;
  down: number;
  /** By point: 1 if its pixel holds it alone. */
  alone: Uint8Array;
  pixelOf: Uint32Array;
}

export function directPlan(hits: Hits, quality: QuickQuality): DirectPlan {
  const { width, height, pixelStart } = hits;
  const { block } = quality;
  const across = Math.ceil(width / block);
  const down = Math.ceil(height / block);
  const n = hits.points.count;
  const pixelOf = new Uint32Array(n);
  const alone = new Uint8Array(n);
  for (let p = 0; p < width * height; p++) {
    const only = pixelStart[p + 1]! - pixelStart[p]! === 1;
    for (let i = pixelStart[p]!; i < pixelStart[p + 1]!; i++) {
      pixelOf[i] = p;
      if (only && hits.weight[i]! > 0.99) alone[i] = 1;
    }
  }
  const traced: number[] = [];
  const ofBlock = new Int32Array(across * down).fill(-1);
  for (let by = 0; by < down; by++)
    for (let bx = 0; bx < across; bx++) {
      // The middle of the block, or the first pixel of it that sees one thing.
      const mx = Math.min(width - 1, bx * block + (block >> 1));
      const my = Math.min(height - 1, by * block + (block >> 1));
      let found = pixelStart[my * width + mx]!;
      if (!(found < n && pixelOf[found] === my * width + mx && alone[found])) {
        found = -1;
        for (let y = by * block; y < Math.min(height, (by + 1) * block) && found < 0; y++)
          for (let x = bx * block; x < Math.min(width, (bx + 1) * block) && found < 0; x++) {
            const i = pixelStart[y * width + x]!;
            if (i < n && pixelOf[i] === y * width + x && alone[i]) found = i;
          }
      }
      if (found >= 0) ofBlock[by * across + bx] = traced.push(found) - 1;
    }
  const numbers = Uint32Array.from(traced);
  return {
    quality,
    traced: numbers,
    tracedPoints: subset(hits.points, numbers),
    ofBlock,
    across,
    down,
    alone,
    pixelOf,
  };
}

/** Some of the points, in the order given. */
export function subset(points: SurfacePoints, which: Uint32Array): SurfacePoints {
  const out = pointsOf(which.length);
  for (let k = 0; k < which.length; k++) {
    const i = which[k]!;
    for (let x = 0; x < 3; x++) {
      out.position[3 * k + x] = points.position[3 * i + x]!;
      out.faceNormal[3 * k + x] = points.faceNormal[3 * i + x]!;
      out.normal[3 * k + x] = points.normal[3 * i + x]!;
      out.toEye[3 * k + x] = points.toEye[3 * i + x]!;
    }
    out.material[k] = points.material[i]!;
    out.patch[k] = points.patch[i]!;
  }
  return out;
}

/** Neighbours whose visibility differs by more than this are an edge between them. */
const DISAGREE = 0.12;

export async function quickDirect(
  tracer: Tracer,
  hits: Hits,
  plan: DirectPlan,
  layer: number,
  options: { seed: number; signal?: AbortSignalLike },
): Promise<Direct> {
  const { quality, traced, tracedPoints, ofBlock, across, down, alone, pixelOf } = plan;
  const { width, points } = hits;
  const n = points.count;

  // The light as if nothing stood in the way; where there is none, nothing more is asked.
  const open = await tracer.direct(points, layer, { ...options, samples: quality.open, shadows: false });
  const lit = new Uint8Array(traced.length);
  const asked: number[] = [];
  for (let k = 0; k < traced.length; k++)
    if (open.diffuse[traced[k]!]! > 1e-7) {
      lit[k] = 1;
      asked.push(k);
    }
  const askedPoints =
    asked.length === traced.length ? tracedPoints : subset(tracedPoints, Uint32Array.from(asked));
  const shaded = await tracer.direct(askedPoints, layer, { ...options, samples: quality.samples });
  const clear = await tracer.direct(askedPoints, layer, {
    ...options,
    samples: quality.samples,
    shadows: false,
  });
  const visible = new Float32Array(traced.length);
  asked.forEach((k, a) => {
    visible[k] = clear.diffuse[a]! > 0 ? Math.min(1, shaded.diffuse[a]! / clear.diffuse[a]!) : 0;
  });

  // Bring visibility up from the blocks around where they agree; note the points where they do not.
  const out: Direct = { diffuse: open.diffuse, gloss: open.gloss };
  const repair: number[] = [];
  for (let i = 0; i < n; i++) {
    if (!(open.diffuse[i]! > 1e-7 || open.gloss[i]! > 1e-9)) {
      out.diffuse[i] = 0;
      out.gloss[i] = 0;
      continue;
    }
    if (!alone[i]) {
      repair.push(i);
      continue;
    }
    const x = pixelOf[i]! % width;
    const y = (pixelOf[i]! / width) | 0;
    const fx = (x + 0.5) / quality.block - 0.5;
    const fy = (y + 0.5) / quality.block - 0.5;
    const bx = Math.round(fx);
    const by = Math.round(fy);
    let sum = 0;
    let weights = 0;
    let least = 2;
    let most = -1;
    for (let v = -1; v <= 1; v++)
      for (let u = -1; u <= 1; u++) {
        const cx = bx + u;
        const cy = by + v;
        if (cx < 0 || cy < 0 || cx >= across || cy >= down) continue;
        const k = ofBlock[cy * across + cx]!;
        if (k < 0) continue;
        const j = traced[k]!;
        if (hits.part[j] !== hits.part[i] || !lit[k]) continue;
        const facing =
          points.normal[3 * i]! * points.normal[3 * j]! +
          points.normal[3 * i + 1]! * points.normal[3 * j + 1]! +
          points.normal[3 * i + 2]! * points.normal[3 * j + 2]!;
        if (facing < 0.85) continue;
        const d = Math.max(Math.abs(fx - cx), Math.abs(fy - cy));
        const w = Math.max(0.02, 1.2 - d);
        sum += w * visible[k]!;
        weights += w;
        if (visible[k]! < least) least = visible[k]!;
        if (visible[k]! > most) most = visible[k]!;
      }
    if (weights === 0 || most - least > DISAGREE) repair.push(i);
    else {
      const s = sum / weights;
      out.diffuse[i]! *= s;
      out.gloss[i]! *= s;
    }
  }
  if (repair.length > 0) {
    const numbers = Uint32Array.from(repair);
    const exact = await tracer.direct(subset(points, numbers), layer, {
      ...options,
      seed: options.seed + 1,
      samples: quality.repair,
    });
    for (let k = 0; k < repair.length; k++) {
      out.diffuse[repair[k]!] = exact.diffuse[k]!;
      out.gloss[repair[k]!] = exact.gloss[k]!;
    }
  }
  return out;
}
