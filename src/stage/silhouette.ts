/** A body's outline from above, for the plan: exact where it is convex, else traced from a fine raster. */
import { hull, signedArea, type Vec2 } from './outline.ts';
import type { Body } from './stage.ts';

/** Closed outlines, metres: solid ones counter-clockwise, holes clockwise. `cellM`: raster and tolerance, metres. */
export function footprint(body: Body, cellM = 0.01): Vec2[][] {
  const points: Vec2[] = [];
  const seen = new Set<number>(body.indices);
  for (const v of seen) points.push([body.positions[v * 3]!, body.positions[v * 3 + 1]!]);
  if (points.length < 3) return [];
  const round = hull(points);
  const whole = signedArea(round);
  if (!(whole > 0)) return [];
  let x0 = Infinity;
  let y0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  for (const [x, y] of round) {
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
  }
  // Coarser for large bodies: at most some 400 cells a side.
  const cell = Math.max(cellM, Math.max(x1 - x0, y1 - y0) / 400);
  const nx = Math.ceil((x1 - x0) / cell) + 3;
  const ny = Math.ceil((y1 - y0) / cell) + 3;
  const ox = x0 - cell * 1.5;
  const oy = y0 - cell * 1.5;
  const full = new Uint8Array(nx * ny);
  fill(body, full, nx, ny, ox, oy, cell);
  let filled = 0;
  for (const f of full) filled += f;
  if (filled * cell * cell > 0.97 * whole) return [round];
  return trace(full, nx, ny)
    .map((loop) =>
      simplify(
        loop.map(([i, j]): Vec2 => [ox + i * cell, oy + j * cell]),
        cell * 0.8,
      ),
    )
    .filter((loop) => loop.length >= 3 && Math.abs(signedArea(loop)) > 4 * cell * cell);
}

/** Marks the cells whose middle a triangle covers, and those its edges run through. */
function fill(
  body: Body,
  full: Uint8Array,
  nx: number,
  ny: number,
  ox: number,
  oy: number,
  cell: number,
): void {
  const { positions: p, indices } = body;
  for (let t = 0; t < indices.length; t += 3) {
    const q: Vec2[] = [0, 1, 2].map((k): Vec2 => {
      const v = indices[t + k]! * 3;
      return [(p[v]! - ox) / cell, (p[v + 1]! - oy) / cell];
    });
    for (let k = 0; k < 3; k++) {
      const a = q[k]!;
      const b = q[(k + 1) % 3]!;
      const n = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) * 2));
      for (let s = 0; s <= n; s++) {
        const i = Math.floor(a[0] + ((b[0] - a[0]) * s) / n);
        const j = Math.floor(a[1] + ((b[1] - a[1]) * s) / n);
        full[j * nx + i] = 1;
      }
    }
    const [a, b, c] = q as [Vec2, Vec2, Vec2];
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    if (Math.abs(area) < 0.2) continue;
    const i0 = Math.max(0, Math.floor(Math.min(a[0], b[0], c[0])));
    const i1 = Math.min(nx - 1, Math.floor(Math.max(a[0], b[0], c[0])));
    const j0 = Math.max(0, Math.floor(Math.min(a[1], b[1], c[1])));
    const j1 = Math.min(ny - 1, Math.floor(Math.max(a[1], b[1], c[1])));
    for (let j = j0; j <= j1; j++)
      for (let i = i0; i <= i1; i++) {
        const x = i + 0.5;
        const y = j + 0.5;
        const u = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / area;
        const v = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / area;
        if (u >= 0 && v >= 0 && u + v <= 1) full[j * nx + i] = 1;
      }
  }
}

/** Loops around the filled cells, filled side on the left. */
function trace(full: Uint8Array, nx: number, ny: number): Vec2[][] {
  const on = (i: number, j: number): boolean => full[j * nx + i] === 1;
  const from = new Map<number, number[]>();
  const put = (i: number, j: number, k: number, l: number): void => {
    const key = j * (nx + 1) + i;
    const list = from.get(key);
    if (list) list.push(l * (nx + 1) + k);
    else from.set(key, [l * (nx + 1) + k]);
  };
  for (let j = 1; j + 1 < ny; j++)
    for (let i = 1; i + 1 < nx; i++) {
      if (!on(i, j)) continue;
      if (!on(i, j - 1)) put(i, j, i + 1, j);
      if (!on(i + 1, j)) put(i + 1, j, i + 1, j + 1);
      if (!on(i, j + 1)) put(i + 1, j + 1, i, j + 1);
      if (!on(i - 1, j)) put(i, j + 1, i, j);
    }
  const loops: Vec2[][] = [];
  for (const [start, list] of from)
    while (list.length) {
      const loop: Vec2[] = [];
      let at = start;
      do {
        loop.push([at % (nx + 1), Math.floor(at / (nx + 1))]);
        at = from.get(at)!.pop()!;
      } while (at !== start);
      loops.push(loop);
    }
  return loops;
}

/** Leaves out points that lie within `by` of the line between those kept (Douglas and Peucker). */
function simplify(loop: Vec2[], by: number): Vec2[] {
  const n = loop.length;
  // Split at the point furthest from the first.
  let far = 0;
  let most = -1;
  loop.forEach((p, i) => {
    const l = Math.hypot(p[0] - loop[0]![0], p[1] - loop[0]![1]);
    if (l > most) {
      most = l;
      far = i;
    }
  });
  const keep = new Uint8Array(n + 1);
  keep[0] = 1;
  keep[far] = 1;
  const at = (i: number): Vec2 => loop[i % n]!;
  const todo: [number, number][] = [
    [0, far],
    [far, n],
  ];
  while (todo.length) {
    const [i, j] = todo.pop()!;
    const a = at(i);
    const b = at(j);
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    let worst = -1;
    let gap = by;
    for (let k = i + 1; k < j; k++) {
      const p = at(k);
      const off = Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / l;
      if (off > gap) {
        gap = off;
        worst = k;
      }
    }
    if (worst >= 0) {
      keep[worst] = 1;
      todo.push([i, worst], [worst, j]);
    }
  }
  return loop.filter((_, i) => keep[i]);
}
