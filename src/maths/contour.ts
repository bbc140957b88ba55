/** Lines of one level through values on a grid, by marching squares; where a value is missing there is no line. */

export interface Levels {
  x0: number;
  y0: number;
  step: number;
  nx: number;
  ny: number;
  /** Row by row from y0; not a finite number: missing. */
  values: ArrayLike<number>;
}
export type Line = (readonly [number, number])[];

/**
 * Polylines of `level`, each as long as it goes on. Straight between grid points; none through a square whose corners
 * differ by more than `mostStep`: there is an edge, not a slope.
 */
export function contour(g: Levels, level: number, mostStep = Number.POSITIVE_INFINITY): Line[] {
  // Pieces by square, their ends named by the edge they lie on, so that neighbours meet exactly.
  const pieces: [string, string][] = [];
  const at = new Map<string, readonly [number, number]>();
  const v = (i: number, j: number) => g.values[j * g.nx + i]!;
  const cut = (i: number, j: number, ii: number, jj: number): string | undefined => {
    const a = v(i, j);
    const b = v(ii, jj);
    if (a < level === b < level) return undefined;
    const t = (level - a) / (b - a);
    const name = `${i},${j},${ii},${jj}`;
    at.set(name, [g.x0 + g.step * (i + t * (ii - i)), g.y0 + g.step * (j + t * (jj - j))]);
    return name;
  };
  for (let j = 0; j + 1 < g.ny; j++)
    for (let i = 0; i + 1 < g.nx; i++) {
      const corners = [v(i, j), v(i + 1, j), v(i + 1, j + 1), v(i, j + 1)];
      if (!corners.every(Number.isFinite)) continue;
      if (Math.max(...corners) - Math.min(...corners) > mostStep) continue;
      const south = cut(i, j, i + 1, j);
      const east = cut(i + 1, j, i + 1, j + 1);
      const north = cut(i, j + 1, i + 1, j + 1);
      const west = cut(i, j, i, j + 1);
      const ends = [south, east, north, west].filter((e) => e !== undefined);
      if (ends.length === 2) pieces.push([ends[0]!, ends[1]!]);
      else if (ends.length === 4) {
        // A saddle: the middle says which corners belong together.
        const middle = corners.reduce((s, c) => s + c, 0) / 4 >= level;
        const same = corners[0]! >= level === middle;
        if (same) pieces.push([south!, east!], [north!, west!]);
        else pieces.push([south!, west!], [north!, east!]);
      }
    }
  return joined(pieces).map((names) => names.map((n) => at.get(n)!));
}

/** Pieces joined end to end. */
function joined(pieces: readonly [string, string][]): string[][] {
  const by = new Map<string, number[]>();
  pieces.forEach((p, k) => {
    for (const end of p) by.set(end, [...(by.get(end) ?? []), k]);
  });
  const used = new Set<number>();
  const out: string[][] = [];
  pieces.forEach(([a, b], k) => {
    if (used.has(k)) return;
    used.add(k);
    const line = [a, b];
    for (const front of [false, true]) {
      for (;;) {
        const end = front ? line[0]! : line.at(-1)!;
        const next = by.get(end)?.find((n) => !used.has(n));
        if (next === undefined) break;
        used.add(next);
        const [p, q] = pieces[next]!;
        const other = p === end ? q : p;
        if (front) line.unshift(other);
        else line.push(other);
      }
    }
    out.push(line);
  });
  return out;
}
