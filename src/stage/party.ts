/** Walls that two rooms have between them: what an opening in one room's wall leads to. */
import type { Vec2 } from './outline.ts';

/** The wall between is at most so thick, metres: further apart two rooms have air between them. */
const THICKEST_M = 1.2;
/** Thinner than this it is no wall, metres. */
export const THINNEST_M = 0.02;

export interface Beyond {
  /** Number of the room it leads to, and of that room's wall. */
  room: number;
  wall: number;
  /** Thickness between the two faces, metres. */
  gapM: number;
  /** The other wall's two ends along this one, metres: the lesser first. */
  fromM: number;
  toM: number;
  /** The same stretch along the other wall, metres. */
  there: (alongM: number) => number;
}

/** What lies behind wall `wall` of room `of` between `u0` and `u1` along it; undefined: the open, or solid ground. */
export function beyond(
  outlines: readonly (readonly Vec2[])[],
  of: number,
  wall: number,
  u0: number,
  u1: number,
): Beyond | undefined {
  const own = outlines[of]!;
  const a = own[wall];
  const b = own[(wall + 1) % own.length];
  if (!a || !b) return undefined;
  const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
  let best: Beyond | undefined;
  outlines.forEach((other, room) => {
    if (room === of) return;
    other.forEach((c, k) => {
      const e = other[(k + 1) % other.length]!;
      const m = Math.hypot(e[0] - c[0], e[1] - c[1]);
      // It faces this one: runs the other way.
      if (((e[0] - c[0]) * ux + (e[1] - c[1]) * uy) / m > -0.99995) return;
      const gapM = (c[0] - a[0]) * uy - (c[1] - a[1]) * ux;
      if (gapM < THINNEST_M - 1e-6 || gapM > THICKEST_M || (best && best.gapM <= gapM)) return;
      const start = (c[0] - a[0]) * ux + (c[1] - a[1]) * uy;
      const [fromM, toM] = [start - m, start];
      if (Math.min(u1, toM) - Math.max(u0, fromM) < (u1 - u0) / 2) return;
      best = { room, wall: k, gapM, fromM, toM, there: (u) => start - u };
    });
  });
  return best;
}

/** Stretches of a line from `p` to `q` that lie inside a polygon, metres along it. */
export function within(outline: readonly Vec2[], p: Vec2, q: Vec2): [number, number][] {
  const l = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const cuts = [0, 1];
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    const det = (q[0] - p[0]) * (b[1] - a[1]) - (q[1] - p[1]) * (b[0] - a[0]);
    if (Math.abs(det) < 1e-12) return;
    const t = ((a[0] - p[0]) * (b[1] - a[1]) - (a[1] - p[1]) * (b[0] - a[0])) / det;
    if (t > 0 && t < 1) cuts.push(t);
  });
  cuts.sort((x, y) => x - y);
  const out: [number, number][] = [];
  for (let i = 1; i < cuts.length; i++) {
    const [t0, t1] = [cuts[i - 1]!, cuts[i]!];
    if (t1 - t0 < 1e-9) continue;
    const t = (t0 + t1) / 2;
    if (!holds(outline, [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t])) continue;
    const last = out.at(-1);
    if (last && last[1] > t0 * l - 1e-9) last[1] = t1 * l;
    else out.push([t0 * l, t1 * l]);
  }
  return out;
}

/** Is a point in a polygon? */
export function holds(outline: readonly Vec2[], p: Vec2): boolean {
  let odd = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [xi, yi] = outline[i]!;
    const [xj, yj] = outline[j]!;
    if (yi > p[1] !== yj > p[1] && p[0] < ((xj - xi) * (p[1] - yi)) / (yj - yi) + xi) odd = !odd;
  }
  return odd;
}
