/**
 * The usual angles of a scene, from who stands where: of two people a two-shot and a single of each, matched, all on
 * one side of the line between them [CHECKS-CAMERA §3.3]; of one a medium, a close-up and a profile. By geometry
 * alone: inside the room, clear of things, seeing past them, with the longest ordinary lens that holds the frame.
 */
import { DEG, type Vec3 } from '../maths/vec3.ts';
import type { Edit } from '../shoot/edits.ts';
import type { Angle, Mark, Place, Shoot } from '../shoot/schema.ts';
import { atWall, compassWord, type Point } from '../shoot/walls.ts';
import { BODY_M, clearAt, inTheWay, type Post, postOf } from './sightLines.ts';

/** Super 35, 16:9: the frame these lenses are spoken of on [CHECKS-CAMERA §3.1]. */
export const SENSOR_MM: [number, number] = [24.9, 14];
/** Lenses one meets, mm (common practice, no source). */
const LENSES_MM = [14, 18, 21, 25, 28, 32, 35, 40, 50, 65, 75, 85];
/** Heights of the frame at the subject, metres: close-up, medium close-up, medium, knees up [CHECKS-CAMERA §3.3]. */
const CLOSE_M = 0.4;
const MEDIUM_CLOSE_M = 0.6;
const MEDIUM_M = 0.95;
const KNEES_M = 1.4;
/** A camera with somebody behind it: radius it needs, and of its back to a wall, metres (common practice, no source). */
const CAMERA_M = 0.3;
const CAMERA_WALL_M = 0.25;
/** Eyes stand at the upper third: the middle of the frame is a sixth of its height under them (common practice). */
const UNDER_EYES = 1 / 6;
/** Room left beside a person in a two-shot, metres: half a body and looking room (common practice, no source). */
const BESIDE_M = 0.45;

export interface UsualAngles {
  /** Adds the angles, in order. */
  edits: Edit[];
  angles: Record<string, Angle>;
  /** Where the cameras stand and what could not be had, in sentences. */
  says: string[];
}

interface Face {
  id: string;
  at: Point;
  eyeM: number;
  facing: number;
}
interface Camera {
  at: Vec3;
  lookAt: Vec3;
  focalMm: number;
  cost: number;
}
interface Room {
  place: Place;
  posts: Post[];
}

const unit = (deg: number): Point => [Math.cos(deg * DEG), Math.sin(deg * DEG)];
const plus = (p: Point, v: Point, k: number): Point => [p[0] + v[0] * k, p[1] + v[1] * k];
const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];
const deg = (v: Point): number => Math.atan2(v[1], v[0]) / DEG;
const wrap = (d: number): number => ((((d + 180) % 360) + 360) % 360) - 180;
const round = (v: Vec3): [number, number, number] => [+v[0].toFixed(3), +v[1].toFixed(3), +v[2].toFixed(3)];

export function usualAngles(shoot: Shoot, sceneId: string): UsualAngles {
  const scene = shoot.scenes[sceneId]!;
  const place = shoot.places[scene.place]!;
  const faces = Object.entries(scene.marks)
    .filter(([, m]) => m.person !== undefined)
    .map(([id, m]: [string, Mark]): Face => ({ id, at: m.at, eyeM: m.eyeM, facing: m.facings[0]! }));
  const room: Room = { place, posts: faces.map((f) => postOf(f.id, f.at, f.eyeM)) };
  const says: string[] = [];
  const found: Record<string, Angle> = {};
  const keep = (id: string, name: string, c: Camera | undefined, missing: string): void => {
    if (!c) {
      says.push(missing);
      return;
    }
    found[id] = {
      name,
      at: round(c.at),
      lookAt: round(c.lookAt),
      focalMm: c.focalMm,
      sensorMm: SENSOR_MM,
      cheats: {},
      wishes: [],
      meant: [],
    };
  };
  const [a, b] = pairOf(faces);
  if (a && b) {
    const plans = [1, -1].map((side) => ofTwo(room, faces, a, b, side));
    const best = plans[0]!.cost <= plans[1]!.cost ? plans[0]! : plans[1]!;
    const word = compassWord(deg(best.side), place.northDeg ?? 0);
    says.push(
      `Cameras stand ${word} of the line from ${a.id} to ${b.id}; none crosses it, so each keeps looking the same way across the frame.`,
    );
    keep(
      'T',
      'two-shot',
      best.two,
      'No place was found from which one lens holds everybody: the room is too small for a two-shot.',
    );
    for (const [i, f] of [a, b].entries())
      keep(`C${f.id}`, `single ${f.id}`, best.singles?.[i], `No place was found for a single of ${f.id}.`);
    if (best.two && best.two.focalMm < 25)
      says.push(`The two-shot needs ${best.two.focalMm} mm: there is no more distance ${word}.`);
    if (faces.length > 2) says.push('The two-shot holds everybody; singles of the others are not made here.');
  } else if (faces[0]) {
    const f = faces[0];
    const one = ofOne(room, f);
    keep('M', `medium of ${f.id}`, one.medium, `No place was found for a medium shot of ${f.id}.`);
    keep('C', `close-up of ${f.id}`, one.close, `No place was found for a close-up of ${f.id}.`);
    keep('P', `${f.id} in profile`, one.profile, `No place was found for a profile of ${f.id}.`);
  } else says.push('Nobody is in the room: put somebody down before cameras are placed.');
  const taken = scene.angles;
  const angles: Record<string, Angle> = {};
  for (const [id, angle] of Object.entries(found)) {
    let name = id;
    for (let n = 2; Object.hasOwn(taken, name); n++) name = `${id}${n}`;
    angles[name] = angle;
  }
  return {
    angles,
    says,
    edits: Object.entries(angles).map(
      ([id, angle]): Edit => ({ edit: 'addAngle', args: { scene: sceneId, id, angle } }),
    ),
  };
}

/** The two who most look at each other; else the first two. */
function pairOf(faces: readonly Face[]): [Face | undefined, Face | undefined] {
  let best: [Face, Face] | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const [i, a] of faces.entries())
    for (const b of faces.slice(i + 1)) {
      const line = deg([b.at[0] - a.at[0], b.at[1] - a.at[1]]);
      const off = Math.abs(wrap(a.facing - line)) + Math.abs(wrap(b.facing - line - 180));
      if (Math.hypot(b.at[0] - a.at[0], b.at[1] - a.at[1]) > 0.3 && off < least) {
        least = off;
        best = [a, b];
      }
    }
  return best ?? [faces[0], undefined];
}

interface Coverage {
  side: Point;
  two: Camera | undefined;
  singles: [Camera, Camera] | undefined;
  cost: number;
}

function ofTwo(room: Room, all: readonly Face[], a: Face, b: Face, sign: number): Coverage {
  const line = deg([b.at[0] - a.at[0], b.at[1] - a.at[1]]);
  const side = unit(line + 90 * sign);
  const two = twoShot(room, all, a, b, line, side);
  const singles = matched(room, a, b, side);
  // Faces that look to this side are seen from it.
  const away = all.reduce((s, f) => s - dot(unit(f.facing), side), 0);
  return {
    side,
    two,
    singles,
    cost:
      4 * away +
      0.3 * windowsBehind(room.place, a, b, side) +
      (two ? two.cost : 20) +
      (singles ? singles[0].cost + singles[1].cost : 20),
  };
}

/** Of two sides alike the one that looks at the windows: where light could come from. */
function windowsBehind(place: Place, a: Face, b: Face, side: Point): number {
  const middle: Point = [(a.at[0] + b.at[0]) / 2, (a.at[1] + b.at[1]) / 2];
  return Object.values(place.openings).filter((o) => {
    if (o.kind !== 'window') return false;
    const [x, y] = atWall(place.outline, o.wall, (o.fromM + o.toM) / 2);
    return dot([x - middle[0], y - middle[1]], side) > 0.3;
  }).length;
}

/** Near the perpendicular, as far as it takes to hold everybody with a lens that is not too wide. */
function twoShot(
  room: Room,
  all: readonly Face[],
  a: Face,
  b: Face,
  line: number,
  side: Point,
): Camera | undefined {
  const middle: Point = [(a.at[0] + b.at[0]) / 2, (a.at[1] + b.at[1]) / 2];
  const eyeM = all.reduce((s, f) => s + f.eyeM, 0) / all.length;
  const along = unit(line);
  let best: Camera | undefined;
  for (let off = -45; off <= 45; off += 5) {
    const dir: Point = [
      side[0] * Math.cos(off * DEG) + along[0] * Math.sin(off * DEG),
      side[1] * Math.cos(off * DEG) + along[1] * Math.sin(off * DEG),
    ];
    for (let d = 0.9; d <= 7; d += 0.1) {
      const at = plus(middle, dir, d);
      if (!clearAt(room.place, room.posts, at, CAMERA_M, CAMERA_WALL_M)) continue;
      // How wide the frame must be: everybody, half a body and looking room beside.
      const forward: Point = [-dir[0], -dir[1]];
      const right: Point = [forward[1], -forward[0]];
      let need = 0;
      for (const f of all) {
        const v: Point = [f.at[0] - at[0], f.at[1] - at[1]];
        const depth = dot(v, forward);
        if (depth < 0.6) need = Number.POSITIVE_INFINITY;
        else need = Math.max(need, (Math.abs(dot(v, right)) + BESIDE_M) / depth);
      }
      // Tight, but not under a medium: then the heads would fill the frame.
      const widest = Math.min(SENSOR_MM[0] / (2 * need), (SENSOR_MM[1] * d) / MEDIUM_M);
      const focalMm = LENSES_MM.filter((f) => f <= widest).at(-1);
      if (focalMm === undefined) continue;
      const frameM = (SENSOR_MM[1] * d) / focalMm;
      const eye: Vec3 = [at[0], at[1], eyeM + 0.05];
      const blocked = all.filter((f) =>
        inTheWay(
          room.place,
          room.posts.filter((p) => p.id !== f.id),
          eye,
          [f.at[0], f.at[1], f.eyeM],
        ),
      ).length;
      const cost =
        (off / 25) ** 2 +
        3 * Math.log2(frameM / 1.25) ** 2 +
        (focalMm < 25 ? 1.2 * (25 / focalMm - 1) * 4 : 0) +
        (focalMm > 40 ? 0.5 : 0) +
        6 * blocked;
      if (best && best.cost <= cost) continue;
      best = { at: eye, lookAt: [middle[0], middle[1], eyeM - UNDER_EYES * frameM], focalMm, cost };
    }
  }
  return best;
}

/** Where a single of `f` could be: so far round from the way the face looks, toward the cameras' side. */
function single(
  room: Room,
  f: Face,
  other: Face,
  side: Point,
  round: number,
  focalMm: number,
  d: number,
  wantM: number,
): Camera | undefined {
  const toSide = wrap(deg(side) - f.facing);
  const dir = unit(f.facing + Math.sign(toSide || 1) * Math.min(round, Math.abs(toSide)));
  const at = plus(f.at, dir, d);
  if (!clearAt(room.place, room.posts, at, CAMERA_M, CAMERA_WALL_M)) return undefined;
  // On the cameras' side of the line.
  const v: Point = [at[0] - f.at[0], at[1] - f.at[1]];
  if (dot(v, side) <= 0.02) return undefined;
  const frameM = (SENSOR_MM[1] * d) / focalMm;
  const eye: Vec3 = [at[0], at[1], f.eyeM];
  const posts = room.posts.filter((p) => p.id !== f.id);
  const blocked = inTheWay(room.place, posts, eye, [f.at[0], f.at[1], f.eyeM]);
  // Somebody's shoulder at the frame's edge is welcome; in the middle of it it is not.
  const forward: Point = [-dir[0], -dir[1]];
  const right: Point = [forward[1], -forward[0]];
  let over = 0;
  for (const p of posts) {
    const w: Point = [p.at[0] - at[0], p.at[1] - at[1]];
    const depth = dot(w, forward);
    if (depth <= 0.1 || depth > d - 0.2) continue;
    const half = (depth * SENSOR_MM[0]) / (2 * focalMm);
    over = Math.max(over, (half - (Math.abs(dot(w, right)) - BODY_M)) / (2 * half));
  }
  // Looking room: the frame's middle lies toward the one looked at.
  const gaze: Point = [other.at[0] - f.at[0], other.at[1] - f.at[1]];
  const lead = Math.sign(dot(gaze, right)) * 0.1 * ((SENSOR_MM[0] * d) / focalMm);
  const target = plus(f.at, right, lead);
  return {
    at: eye,
    lookAt: [target[0], target[1], f.eyeM - UNDER_EYES * frameM],
    focalMm,
    cost:
      ((round - 25) / 15) ** 2 +
      6 * Math.log2(frameM / wantM) ** 2 +
      (focalMm < 32 ? 1.5 : focalMm < 50 ? 0.6 : 0) +
      (focalMm > 65 ? 0.5 : 0) +
      (over > 0.15 ? 2 * over : 0) +
      (blocked ? 6 : 0),
  };
}

/** Singles that cut with each other: same lens, distance and angle off the line. */
function matched(room: Room, a: Face, b: Face, side: Point): [Camera, Camera] | undefined {
  let best: [Camera, Camera] | undefined;
  for (const focalMm of [25, 28, 32, 35, 40, 50, 65, 75])
    for (let round = 10; round <= 45; round += 2.5)
      for (let d = 0.8; d <= 3.6; d += 0.1) {
        const frameM = (SENSOR_MM[1] * d) / focalMm;
        if (frameM < 0.42 || frameM > 0.95) continue;
        const ca = single(room, a, b, side, round, focalMm, d, MEDIUM_CLOSE_M);
        if (!ca || (best && ca.cost >= best[0].cost + best[1].cost)) continue;
        const cb = single(room, b, a, side, round, focalMm, d, MEDIUM_CLOSE_M);
        if (!cb) continue;
        if (!best || ca.cost + cb.cost < best[0].cost + best[1].cost) best = [ca, cb];
      }
  return best;
}

/** One person: both sides of the face are tried for all three together. */
function ofOne(room: Room, f: Face) {
  const ahead: Face = { ...f, at: plus(f.at, unit(f.facing), 2) };
  const tries = [1, -1].map((sign) => {
    const side = unit(f.facing + 90 * sign);
    const shot = (round: number, wantM: number, focals: number[], most: number) => {
      let best: Camera | undefined;
      for (const focalMm of focals)
        for (let off = -10; off <= 10; off += 5)
          for (let d = 0.8; d <= most; d += 0.1) {
            const c = single(room, f, ahead, side, round + off, focalMm, d, wantM);
            if (!c) continue;
            const cost = c.cost - ((round + off - 25) / 15) ** 2 + (off / 10) ** 2;
            if (!best || cost < best.cost) best = { ...c, cost };
          }
      return best;
    };
    const medium = shot(40, MEDIUM_M, [25, 28, 32, 35, 40, 50], 4);
    const close = shot(15, CLOSE_M * 1.15, [35, 40, 50, 65, 75, 85], 3);
    const profile = shot(85, KNEES_M, [18, 21, 25, 28, 32, 35], 6);
    const cost = [medium, close, profile].reduce((s, c) => s + (c ? Math.min(12, c.cost) : 12), 0);
    return { medium, close, profile, cost };
  });
  return tries[0]!.cost <= tries[1]!.cost ? tries[0]! : tries[1]!;
}
