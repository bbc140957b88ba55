/**
 * The ring round a head in a picture, seen from above with the camera at 6: where a lamp stands on it, and where it goes
 * when it is pulled along the ring or nearer. Angles in radians, 0 toward the camera, growing as a clock goes.
 */
import type { Point } from './display.ts';

const bearing = (from: readonly number[], to: readonly number[]): number =>
  Math.atan2(to[1]! - from[1]!, to[0]! - from[0]!);

/** Where on the ring a lamp stands. */
export const ringAngle = (mark: Point, eye: readonly number[], at: readonly number[]): number =>
  bearing(mark, eye) - bearing(mark, at);

/** The place at this angle of the ring, as far off as the lamp is. */
export function onRing(mark: Point, eye: readonly number[], at: readonly number[], angle: number): Point {
  const far = Math.hypot(at[0]! - mark[0], at[1]! - mark[1]);
  const a = bearing(mark, eye) - angle;
  return [mark[0] + far * Math.cos(a), mark[1] + far * Math.sin(a)];
}

/** The same way from the mark, so many times as far; never nearer than half a metre. */
export function farther(mark: Point, at: readonly number[], times: number): Point {
  const far = Math.hypot(at[0]! - mark[0], at[1]! - mark[1]);
  const k = far > 0 ? Math.max(Math.min(0.5, far), far * times) / far : 1;
  return [mark[0] + (at[0]! - mark[0]) * k, mark[1] + (at[1]! - mark[1]) * k];
}
