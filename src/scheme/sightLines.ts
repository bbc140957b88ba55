/** What stands in the way between two points of a room: walls, things, people; as plan and heights, without a ray. */

import type { Vec3 } from '../maths/vec3.ts';
import { roomAt, wallStops } from '../shoot/rooms.ts';
import type { Place } from '../shoot/schema.ts';
import type { Point } from '../shoot/walls.ts';

/** A person as a post: middle, radius of the body, top of the head, metres. */
export interface Post {
  id: string;
  at: Point;
  radiusM: number;
  topM: number;
}

/** The top of the head stands this far over the eyes, metres (common practice, no source). */
const OVER_EYES_M = 0.13;
/** Half a person's width at the shoulders, metres (common practice, no source). */
export const BODY_M = 0.25;

export const postOf = (id: string, at: Point, eyeM: number): Post => ({
  id,
  at,
  radiusM: BODY_M,
  topM: eyeM + OVER_EYES_M,
});

/** Whether the straight line from a to b meets the upright box of a thing, grown by `growM`. */
function meetsBox(f: Place['furniture'][string], a: Vec3, b: Vec3, growM: number): boolean {
  const turn = (-(f.turnDeg ?? 0) * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const local = (p: Vec3): Vec3 => {
    const [dx, dy] = [p[0] - f.at[0], p[1] - f.at[1]];
    return [dx * c - dy * s, dx * s + dy * c, p[2] - f.at[2]];
  };
  const [p, q] = [local(a), local(b)];
  const low = [-f.sizeM[0] / 2 - growM, -f.sizeM[1] / 2 - growM, -growM];
  const high = [f.sizeM[0] / 2 + growM, f.sizeM[1] / 2 + growM, f.sizeM[2] + growM];
  let [t0, t1] = [0, 1];
  for (let k = 0; k < 3; k++) {
    const d = q[k]! - p[k]!;
    if (Math.abs(d) < 1e-9) {
      if (p[k]! < low[k]! || p[k]! > high[k]!) return false;
      continue;
    }
    const [u, v] = [(low[k]! - p[k]!) / d, (high[k]! - p[k]!) / d];
    t0 = Math.max(t0, Math.min(u, v));
    t1 = Math.min(t1, Math.max(u, v));
    if (t0 > t1) return false;
  }
  return true;
}

/** Whether it passes through a person. */
function meetsPost(post: Post, a: Vec3, b: Vec3): boolean {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const l2 = dx * dx + dy * dy;
  const t = l2 > 0 ? Math.max(0, Math.min(1, ((post.at[0] - a[0]) * dx + (post.at[1] - a[1]) * dy) / l2)) : 0;
  const d = Math.hypot(post.at[0] - a[0] - t * dx, post.at[1] - a[1] - t * dy);
  return d < post.radiusM && a[2] + t * (b[2] - a[2]) < post.topM;
}

/** What a line of sight or of light meets first that stops it, in words; undefined: nothing that is told. */
export function inTheWay(
  place: Place,
  posts: readonly Post[],
  a: Vec3,
  b: Vec3,
  growM = 0.05,
): string | undefined {
  if (wallStops(place, a, b)) return 'a wall';
  for (const [id, f] of Object.entries(place.furniture))
    if (meetsBox(f, a, b, growM)) return f.words ?? `the ${id}`;
  for (const post of posts) if (meetsPost(post, a, b)) return post.id;
  return undefined;
}

/** Whether something of this radius may stand at a point of the floor: on it, clear of walls, things and people. */
export function clearAt(
  place: Place,
  posts: readonly Post[],
  p: Point,
  radiusM: number,
  wallM = radiusM,
): boolean {
  const outline = roomAt(place, p)?.outline;
  if (!outline) return false;
  const n = outline.length;
  for (let i = 0; i < n; i++) {
    const [a, b] = [outline[i]!, outline[(i + 1) % n]!];
    const l2 = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
    const t = Math.max(0, Math.min(1, ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / l2));
    if (Math.hypot(p[0] - a[0] - t * (b[0] - a[0]), p[1] - a[1] - t * (b[1] - a[1])) < wallM) return false;
  }
  for (const f of Object.values(place.furniture)) {
    // What hangs over one's head stops nobody.
    if (f.at[2] > 1.9) continue;
    const turn = (-(f.turnDeg ?? 0) * Math.PI) / 180;
    const [dx, dy] = [p[0] - f.at[0], p[1] - f.at[1]];
    const x = Math.max(0, Math.abs(dx * Math.cos(turn) - dy * Math.sin(turn)) - f.sizeM[0] / 2);
    const y = Math.max(0, Math.abs(dx * Math.sin(turn) + dy * Math.cos(turn)) - f.sizeM[1] / 2);
    if (Math.hypot(x, y) < radiusM) return false;
  }
  return posts.every((q) => Math.hypot(p[0] - q.at[0], p[1] - q.at[1]) >= q.radiusM + radiusM);
}
