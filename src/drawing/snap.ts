/** What draws a hand on the plan: steps of 5 cm, walls, beams and rails. Pure. */
import type { Point } from './display.ts';
import type { Holder, Vec } from './ground.ts';

export const STEP_M = 0.05;

/** To the nearest step; free: to the millimetre. */
export const stepped = (v: number, free: boolean, step = STEP_M): number =>
  free ? +v.toFixed(3) : +(Math.round(v / step) * step).toFixed(3);

/** Foot of the perpendicular from p on the segment, and how far along it. */
export function along(a: Point, b: Point, p: Point): { t: number; at: Point; offM: number; longM: number } {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const longM = Math.hypot(dx, dy);
  const t = longM > 0 ? Math.max(0, Math.min(longM, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / longM)) : 0;
  const at: Point = longM > 0 ? [a[0] + (dx * t) / longM, a[1] + (dy * t) / longM] : a;
  return { t, at, offM: Math.hypot(p[0] - at[0], p[1] - at[1]), longM };
}

/**
 * Set against the walls: a thing of radius `radiusM` that comes within `reachM` of touching a wall touches it; in a
 * corner both. Undefined: no wall is near enough.
 */
export function toWalls(
  outline: readonly Point[],
  p: Point,
  radiusM: number,
  reachM: number,
): Point | undefined {
  let at = p;
  let touched = 0;
  const near = outline
    .map((a, i) => ({ a, b: outline[(i + 1) % outline.length]! }))
    .map((w) => ({ ...w, offM: along(w.a, w.b, p).offM }))
    .filter((w) => Math.abs(w.offM - radiusM) <= reachM)
    .sort((v, w) => Math.abs(v.offM - radiusM) - Math.abs(w.offM - radiusM))
    .slice(0, 2);
  for (const { a, b } of near) {
    const foot = along(a, b, at);
    // Beside the wall's end there is no wall to stand against.
    if (foot.t <= 0 || foot.t >= foot.longM || foot.offM < 1e-9) continue;
    if (Math.abs(foot.offM - radiusM) > reachM) continue;
    const k = radiusM / foot.offM;
    at = [foot.at[0] + (at[0] - foot.at[0]) * k, foot.at[1] + (at[1] - foot.at[1]) * k];
    touched++;
  }
  return touched ? [+at[0].toFixed(3), +at[1].toFixed(3)] : undefined;
}

/** The holder nearest to p in plan within reach, and the point of its middle line, in steps from its end. */
export function toHolder(
  holders: readonly Holder[],
  p: Point,
  reachM: number,
  free: boolean,
): { holder: Holder; at: Vec; offM: number } | undefined {
  let best: { holder: Holder; at: Vec; offM: number } | undefined;
  for (const holder of holders) {
    const { from, to } = holder;
    const foot = along([from[0], from[1]], [to[0], to[1]], p);
    if (foot.offM > reachM || (best && best.offM <= foot.offM)) continue;
    const t = Math.min(foot.longM, stepped(foot.t, free));
    const s = foot.longM > 0 ? t / foot.longM : 0;
    const on = (k: 0 | 1 | 2) => +(from[k] + (to[k] - from[k]) * s).toFixed(3);
    best = { holder, at: [on(0), on(1), on(2)], offM: foot.offM };
  }
  return best;
}
