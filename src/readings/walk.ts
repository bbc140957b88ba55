/** The level on a face along a walk between two points of the floor, read off the map of where they can stand. */
import type { StandMap } from './standMap.ts';

export interface Step {
  /** From where the walk begins, metres. */
  alongM: number;
  /** Incident light over the set stop; undefined: nobody can stand there, or no light. */
  overStops: number | undefined;
}

/** Steps every `everyM`, the last at the end; between points of the map straight in stops. */
export function walk(
  map: StandMap,
  from: readonly [number, number],
  to: readonly [number, number],
  everyM = 0.1,
): Step[] {
  const far = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const n = Math.max(1, Math.ceil(far / everyM - 1e-9));
  return Array.from({ length: n + 1 }, (_, i): Step => {
    const t = i / n;
    const at = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])] as const;
    return { alongM: t * far, overStops: levelAt(map, at) };
  });
}

/** Among the four points about a place, those that are there, each by its nearness. */
function levelAt({ grid, points }: StandMap, [x, y]: readonly [number, number]): number | undefined {
  const [u, v] = [(x - grid.x0) / grid.stepM, (y - grid.y0) / grid.stepM];
  const [i0, j0] = [Math.floor(u), Math.floor(v)];
  let sum = 0;
  let weight = 0;
  for (const [i, j] of [
    [i0, j0],
    [i0 + 1, j0],
    [i0, j0 + 1],
    [i0 + 1, j0 + 1],
  ] as const) {
    if (i < 0 || j < 0 || i >= grid.nx || j >= grid.ny) continue;
    const n = grid.index[j * grid.nx + i]!;
    const stops = n < 0 ? Number.NaN : points[n]!.overStops;
    if (!Number.isFinite(stops)) continue;
    const w = Math.max(0, 1 - Math.abs(u - i)) * Math.max(0, 1 - Math.abs(v - j));
    sum += w * stops;
    weight += w;
  }
  // Beside a wall or a table a quarter of the way in is known still.
  return weight > 0.25 ? sum / weight : undefined;
}

export interface Walked {
  farM: number;
  least: { alongM: number; overStops: number };
  most: { alongM: number; overStops: number };
  /** Steepest metre, stops a metre, and where it is. */
  steepest: { alongM: number; stopsPerM: number } | undefined;
  /** Where the level is first out of the range, and the share of the way that is in it. */
  leavesM: number | undefined;
  within: number;
  /** Share of the way that nobody knows a level for. */
  unknown: number;
}

export function walked(steps: readonly Step[], target: number, withinStops: number): Walked | undefined {
  const known = steps.filter((s): s is { alongM: number; overStops: number } => s.overStops !== undefined);
  if (!known.length) return undefined;
  const pick = (better: (a: number, b: number) => boolean) =>
    known.reduce((b, s) => (better(s.overStops, b.overStops) ? s : b));
  let steepest: Walked['steepest'];
  for (let i = 1; i < known.length; i++) {
    const [a, b] = [known[i - 1]!, known[i]!];
    const d = b.alongM - a.alongM;
    if (d <= 0 || d > 0.5) continue;
    const per = (b.overStops - a.overStops) / d;
    if (!steepest || Math.abs(per) > Math.abs(steepest.stopsPerM))
      steepest = { alongM: (a.alongM + b.alongM) / 2, stopsPerM: per };
  }
  const inside = (s: { overStops: number }) => Math.abs(s.overStops - target) <= withinStops + 1e-9;
  return {
    farM: steps.at(-1)!.alongM,
    least: pick((a, b) => a < b),
    most: pick((a, b) => a > b),
    steepest,
    leavesM: known.find((s) => !inside(s))?.alongM,
    within: known.filter(inside).length / known.length,
    unknown: 1 - known.length / steps.length,
  };
}
