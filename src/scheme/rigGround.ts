/**
 * Where a stand may be put in a room that is being lit: on clear floor, out of the way of people; and, angle by angle,
 * how high a head may stand there with neither its column nor itself in that frame or on top of that camera.
 */

import { DEG, distance, type Vec3 } from '../maths/vec3.ts';
import { wrap } from '../readings/bearing.ts';
import { inFrame, onFrame } from '../setup/view.ts';
import { boundsOfPlace, indoors, outlineOf, roomAt, wallStops } from '../shoot/rooms.ts';
import type { Place } from '../shoot/schema.ts';
import { atWall, ends, type Point } from '../shoot/walls.ts';
import type { View } from '../transport/scene.ts';
import { footHits } from './room.ts';
import { type Post, postOf } from './sightLines.ts';

/** A face that is to be lit. */
export interface Face {
  id: string;
  eyes: Vec3;
  facingDeg: number;
}
export interface AngleView {
  id: string;
  view: View;
}
export interface Ground {
  place: Place;
  faces: Face[];
  posts: Post[];
  views: AngleView[];
}
/** A place on the floor. */
export interface Site {
  at: Point;
  lowM: number;
  highM: number;
  /** For each angle how high a head may be; under `lowM`: not at all. */
  topM: number[];
}
export interface Holding {
  footM: number;
  heightM: readonly [number, number];
}

/** Nearest that a head comes to a person, metres: heat, and somebody who gets up (common practice, no source). */
export const NEAR_PERSON_M = 0.9;
/** Light from farther than this across a hall is not looked for, metres. */
const FAR_M = 8;
/** A stand keeps this far from a camera and who is behind it, metres (common practice, no source). */
export const NEAR_CAMERA_M = 0.65;
/** A head keeps this far under the ceiling, metres (common practice, no source; its own label rules). */
export const UNDER_CEILING_M = 0.3;
/** Nothing is called out of frame nearer to its edge than this: 1° and 5 cm (judgement). */
const EDGE_DEG = 1;
const EDGE_M = 0.05;
/** The column stands behind the face by about this; legs and knobs stick out; metres. */
const COLUMN_M = 0.2;

export function groundOf(place: Place, faces: Face[], views: AngleView[]): Ground {
  return { place, faces, views, posts: faces.map((f) => postOf(f.id, [f.eyes[0], f.eyes[1]], f.eyes[2])) };
}

/** Whether an angle sees this face: its eyes in frame, not turned more than 110° from the lens. */
export function seesFace(view: View, f: Face): boolean {
  if (!inFrame(onFrame(view, f.eyes))) return false;
  const to = Math.atan2(view.eye[1] - f.eyes[1], view.eye[0] - f.eyes[0]) / DEG;
  return Math.abs(wrap(to - f.facingDeg)) < 110;
}

/** How near a ball comes to an angle's frame, degrees; negative: some of it is in. Behind a wall it is out. */
export function frameGapDeg(place: Place, view: View, at: Vec3, radiusM: number): number {
  if (wallStops(place, view.eye, at)) return 90;
  const f = onFrame(view, at);
  if (f.depthM <= 0) return 60;
  const own = Math.asin(Math.min(1, (radiusM + EDGE_M) / Math.max(distance(view.eye, at), 1e-6))) / DEG;
  // Distance to the four planes of the frame, over the distance from the lens.
  const [x, y] = [Math.abs(f.x) * view.tanH, Math.abs(f.y) * view.tanV];
  const far = Math.hypot(1, x, y);
  const out = Math.max(
    (x - view.tanH) / Math.hypot(1, view.tanH),
    (y - view.tanV) / Math.hypot(1, view.tanV),
  );
  return Math.asin(Math.max(-1, Math.min(1, out / far))) / DEG - own;
}

/**
 * Whether an angle sees a stand or the head on it mirrored in the glass of a window or door: at night a pane is a dark
 * mirror. `at`: the head.
 */
export function inAPane(place: Place, view: View, at: Vec3, radiusM: number): boolean {
  return Object.values(place.openings).some((o) => {
    if (o.fill !== 'glass') return false;
    const outline = outlineOf(place, o) ?? place.outline;
    const [a, b] = ends(outline, o.wall);
    const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
    // Distance into the room from the wall, and along it.
    const deep = (p: Vec3) => -(p[0] - a[0]) * uy + (p[1] - a[1]) * ux;
    const along = (p: Vec3) => (p[0] - a[0]) * ux + (p[1] - a[1]) * uy;
    const [d0, d1] = [deep(view.eye), deep(at)];
    if (d0 <= 0.01 || d1 <= 0.01) return false;
    const t = d0 / (d0 + d1);
    const u = along(view.eye) + (along(at) - along(view.eye)) * t;
    if (u < o.fromM - radiusM || u > o.toM + radiusM) return false;
    const [x, y] = atWall(outline, o.wall, u);
    for (let h = at[2]; h > 0; h -= 0.25) {
      const z = view.eye[2] + (h - view.eye[2]) * t;
      if (z < o.sillM - radiusM || z > o.headM + radiusM) continue;
      const f = onFrame(view, [x, y, z]);
      if (f.depthM > 0 && Math.abs(f.x) < 1.05 && Math.abs(f.y) < 1.05) return true;
    }
    return false;
  });
}

/** Highest point up to which a column from the floor stays out of a frame. */
function columnTopM(place: Place, view: View, at: Point, highM: number): number {
  if (Math.hypot(view.eye[0] - at[0], view.eye[1] - at[1]) < NEAR_CAMERA_M) return -1;
  for (let z = 0.05; z <= highM + 1e-9; z += 0.15)
    if (frameGapDeg(place, view, [at[0], at[1], z], COLUMN_M) < EDGE_DEG) return z - 0.15 - COLUMN_M;
  return highM;
}

/** All places of a grid where a stand like this can stand; those that no angle allows are left out. */
export function sites(g: Ground, hold: Holding): Site[] {
  const b = boundsOfPlace(g.place);
  const step = Math.max(0.15, Math.sqrt(((b.x1 - b.x0) * (b.y1 - b.y0)) / 1600));
  const out: Site[] = [];
  const lowM = hold.heightM[0];
  const from = hold.footM + 0.03;
  for (let x = b.x0 + from; x <= b.x1 - from + 1e-9; x += step)
    for (let y = b.y0 + from; y <= b.y1 - from + 1e-9; y += step) {
      const at: Point = [+x.toFixed(2), +y.toFixed(2)];
      const nearest = Math.min(...g.posts.map((p) => Math.hypot(p.at[0] - at[0], p.at[1] - at[1])));
      if (nearest < NEAR_PERSON_M || nearest > FAR_M || !indoors(g.place, at)) continue;
      const ceilingM = roomAt(g.place, at)?.ceilingM ?? Number.POSITIVE_INFINITY;
      const highM = Math.min(hold.heightM[1], ceilingM - UNDER_CEILING_M);
      if (highM < lowM) continue;
      if (footHits(g.place, at[0], at[1], hold.footM + 0.02) !== undefined) continue;
      const topM = g.views.map(({ view }) => columnTopM(g.place, view, at, highM));
      if (topM.some((t) => t >= lowM)) out.push({ at, lowM, highM, topM });
    }
  return out;
}
