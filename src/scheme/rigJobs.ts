/**
 * What a place on the floor is worth for a lamp's job, angle by angle: how far round and up it stands from the faces
 * that angle sees, what it would do to the other faces there, where shadows and glare fall. Where one place does not
 * serve every angle, the others cheat the lamp: another place, or out. Windows of angle are common practice
 * [CHECKS-CAMERA §4.1]; the weights between them are judgement.
 */
import { DEG, normalize, sub, type Vec3 } from '../maths/vec3.ts';
import { type Bearing, bearing, wrap } from '../readings/bearing.ts';
import { inFrame, onFrame } from '../setup/view.ts';
import { ends, type Point } from '../shoot/walls.ts';
import type { View } from '../transport/scene.ts';
import { ZONE_DEG } from './faceTroubles.ts';
import { hoodShadesBeyond } from './flagOnLens.ts';
import { type Face, frameGapDeg, type Ground, inAPane, type Site, seesFace } from './rigGround.ts';
import { toWallM } from './room.ts';
import { inTheWay } from './sightLines.ts';

export type Job = 'key' | 'back' | 'fill' | 'bounce';

export interface Want {
  job: Job;
  /** Whom it lights. */
  faces: Face[];
  /** Whom it stands behind, for a key that is another's back light. */
  behind?: Face;
  /** Of each face: + the cameras stand on the person's left, − on their right. */
  cameraSide: ReadonlyMap<string, number>;
  /** By angle, other lamps' places there. */
  taken: readonly (readonly Vec3[])[];
  /** Of the likely lamp, watts: how far it must keep from what burns. */
  watts: number;
}
/** Where a lamp is in an angle that cheats it. */
export interface Elsewhere {
  at: Vec3;
  aim: Vec3;
  /** Its job goes on there; else it is out and only stands out of the way. */
  on: boolean;
  /** It is this one's back light there, where nobody else it is for is seen. */
  backOf?: Face;
}
export interface Placed {
  at: Vec3;
  aim: Vec3;
  cost: number;
  bearings: Map<string, Bearing>;
  /** By angle, where the rig's place does not serve it. */
  cheats: Map<string, Elsewhere>;
}
/** Why places fell out, counted: the commonest is what gave. */
export type Fallen = Map<string, number>;

/** Windows: ideal from … to, outside of which it costs; and the limits, degrees. */
export const WINDOW = {
  key: { azimuth: [35, 55], hardAzimuth: [15, 88], elevation: [28, 42], hardElevation: [4, 58] },
  back: {
    azimuth: [150, 172],
    hardAzimuth: [ZONE_DEG.to + 2, 180],
    elevation: [25, 50],
    hardElevation: [4, 64],
  },
  /** Into the ceiling: how it stands from the faces hardly matters. */
  bounce: { azimuth: [0, 180], hardAzimuth: [0, 180], elevation: [-40, 60], hardElevation: [-60, 80] },
  fill: { azimuth: [0, 45], hardAzimuth: [0, 75], elevation: [8, 32], hardElevation: [0, 50] },
} as const;
/** From the face, metres: nearer is hot and falls off fast, farther is weak (common practice, no source). */
const DISTANCE_M: Record<Job, readonly [number, number]> = {
  key: [1.4, 3],
  back: [1.4, 3],
  fill: [1.7, 3.6],
  bounce: [1.3, 3],
};
/** Feet of two stands keep this far apart, metres. */
const FOOT_GAP_M = 0.9;
/** A key less than this round from the lens, seen from the face, lights it flat (common practice, no source). */
const FLAT_DEG = 35;
/** What it costs to carry a lamp between two angles, and to do without it in one. */
const CARRY = 0.7;
const WITHOUT = 1.8;
/** What it costs to be seen mirrored in a window. */
const IN_A_PANE = 2;

const beyond = (v: number, [low, high]: readonly [number, number], per: number): number =>
  (Math.max(0, low - v, v - high) / per) ** 2;
export const middleOf = (v: readonly Vec3[]): Vec3 => [
  v.reduce((s, p) => s + p[0], 0) / v.length,
  v.reduce((s, p) => s + p[1], 0) / v.length,
  v.reduce((s, p) => s + p[2], 0) / v.length,
];

export function place(g: Ground, all: readonly Site[], want: Want, fallen: Fallen): Placed | undefined {
  const middle = middleOf(want.faces.map((f) => f.eyes));
  const to: Vec3 = want.job === 'back' ? [middle[0], middle[1], middle[2] - 0.1] : middle;
  const aimFrom = (at: Vec3): Vec3 => (want.job === 'bounce' ? overhead(g, at, middle) : to);
  // Every site with the height its job asks for there, and what it is worth in each angle.
  const rated: Rated[] = [];
  for (const site of all) {
    const at = heightAt(g, site, want, middle);
    const common = inRoom(g, at, want);
    if (typeof common === 'string') {
      fall(fallen, common);
      continue;
    }
    const by = g.views.map((v, i) => inAngle(g, v.view, i, site, at, aimFrom(at), want));
    for (const x of by) if (typeof x === 'string') fall(fallen, x);
    const served = by.filter((x, i) => typeof x === 'number' && lights(g.views[i]!.view, want));
    if (served.length === 0) continue;
    const worths = by.filter((x): x is number => typeof x === 'number');
    const cost =
      common + worths.reduce((s, x) => s + x, 0) / worths.length + (by.length - worths.length) * CARRY;
    rated.push({ at, by, cost });
  }
  rated.sort((a, b) => a.cost - b.cost);
  // The best few, with where the lamp goes in the angles they do not serve.
  const nearest = cheatsOf(g, all, want, rated, aimFrom);
  let best: Placed | undefined;
  for (const r of rated.slice(0, 16)) {
    if (best && best.cost <= r.cost) break;
    const moved = new Map<string, Elsewhere>();
    let cost = r.cost;
    for (const [i, v] of g.views.entries()) {
      if (typeof r.by[i] === 'number') continue;
      const there = nearest(i, r.at);
      if (there) moved.set(v.id, there.e);
      cost += (there?.cost ?? Number.POSITIVE_INFINITY) / g.views.length;
    }
    if (!Number.isFinite(cost) || (best && best.cost <= cost)) continue;
    best = {
      at: r.at,
      aim: aimFrom(r.at),
      cost,
      cheats: moved,
      bearings: new Map(g.faces.map((f) => [f.id, bearing(f.eyes, f.facingDeg, r.at)])),
    };
  }
  return best;
}

interface Rated {
  at: Vec3;
  by: (number | string)[];
  cost: number;
}
interface There {
  e: Elsewhere;
  cost: number;
}

/** Where a lamp goes in an angle that its place in the rig does not serve; each angle is looked through once. */
function cheatsOf(
  g: Ground,
  all: readonly Site[],
  want: Want,
  rated: readonly Rated[],
  aimFrom: (at: Vec3) => Vec3,
): (angle: number, from: Vec3) => There | undefined {
  const known = new Map<number, There[]>();
  const places = (i: number): There[] => {
    let made = known.get(i);
    if (!made) {
      const { view } = g.views[i]!;
      const behind = want.behind;
      // Where nobody it keys is seen it is only the other's back light.
      made =
        behind && !lights(view, want) && seesFace(view, behind)
          ? behindOne(g, all, i, want, behind)
          : rated.flatMap((r): There[] => {
              const cost = r.by[i];
              return typeof cost === 'number'
                ? [{ e: { at: r.at, aim: aimFrom(r.at), on: true }, cost }]
                : [];
            });
      known.set(i, made);
    }
    return made;
  };
  return (i, from) => {
    let best: There | undefined;
    for (const t of places(i)) {
      const cost = t.cost + 0.3 * gap(t.e.at, from);
      if (!best || cost < best.cost) best = { e: t.e, cost };
    }
    if (best && best.cost < 4) return best;
    const sees = lights(g.views[i]!.view, want);
    // A face that is seen keeps its key.
    if (want.job === 'key' && sees) return best;
    const aside = nearestClear(all, i, from, want.taken[i] ?? []);
    const cost = sees ? WITHOUT : 0.3;
    if (aside && (!best || cost < best.cost))
      return { e: { at: aside, aim: aimFrom(aside), on: false }, cost };
    return best;
  };
}

function behindOne(g: Ground, all: readonly Site[], i: number, want: Want, behind: Face): There[] {
  const { behind: _behind, ...rest } = want;
  const back: Want = { ...rest, job: 'back', faces: [behind] };
  const aim: Vec3 = [behind.eyes[0], behind.eyes[1], behind.eyes[2] - 0.1];
  return all.flatMap((site): There[] => {
    const at = heightAt(g, site, back, behind.eyes);
    const room = inRoom(g, at, back);
    const here = typeof room === 'string' ? room : inAngle(g, g.views[i]!.view, i, site, at, aim, back);
    return typeof room === 'number' && typeof here === 'number'
      ? [{ e: { at, aim, on: true, backOf: behind }, cost: room + here }]
      : [];
  });
}

/** The height a job asks for at a site, held to what the stand leaves. */
function heightAt(g: Ground, site: Site, want: Want, middle: Vec3): Vec3 {
  const [low, high] = WINDOW[want.job].elevation;
  const d = Math.hypot(middle[0] - site.at[0], middle[1] - site.at[1]);
  // A head that is aimed up stands well below the ceiling, so that it lights much of it and does not scorch it.
  const ask =
    want.job === 'bounce'
      ? (g.place.ceilingM ?? 2.4) - 1.1
      : middle[2] + d * Math.tan(((low + high) / 2) * DEG);
  // As far under the ceiling as the note on heat asks, unless that brings the light down to eye level.
  const cool = (g.place.ceilingM ?? Number.POSITIVE_INFINITY) - heatM(want.watts);
  const most = cool > middle[2] + d * Math.tan(FLAT_UP_DEG * DEG) ? Math.min(site.highM, cool) : site.highM;
  return [site.at[0], site.at[1], +Math.max(site.lowM, Math.min(most, ask)).toFixed(2)];
}
/** Under this elevation light looks like a table lamp's; a hot head rather goes nearer to the ceiling, degrees. */
const FLAT_UP_DEG = 17;

/** Where a lamp that is bounced is aimed: the ceiling a little towards those it is for. */
export function overhead(g: Ground, at: Vec3, middle: Vec3): Vec3 {
  const d = Math.hypot(middle[0] - at[0], middle[1] - at[1]);
  const k = d > 0 ? Math.min(0.35, d / 2) / d : 0;
  return [
    +(at[0] + (middle[0] - at[0]) * k).toFixed(3),
    +(at[1] + (middle[1] - at[1]) * k).toFixed(3),
    g.place.ceilingM ?? 3,
  ];
}

/** Whether an angle sees anybody whom the lamp is for. */
const lights = (view: View, want: Want): boolean => want.faces.some((f) => seesFace(view, f));

function nearestClear(all: readonly Site[], i: number, at: Vec3, taken: readonly Vec3[]): Vec3 | undefined {
  let best: Vec3 | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const s of all) {
    if (s.topM[i]! < s.lowM || taken.some((t) => gap(t, s.at) < FOOT_GAP_M)) continue;
    const d = gap(at, s.at);
    if (d < least) [best, least] = [[s.at[0], s.at[1], Math.max(s.lowM, Math.min(s.topM[i]!, at[2]))], d];
  }
  return best;
}
const gap = (a: readonly number[], b: readonly number[]): number => Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!);
const fall = (fallen: Fallen, why: string): void => {
  fallen.set(why, (fallen.get(why) ?? 0) + 1);
};

/** What does not depend on the angle: round from the faces, up, how far, what is between, heat; or why not. */
function inRoom(g: Ground, at: Vec3, want: Want): number | string {
  const w = WINDOW[want.job];
  const n = want.faces.length;
  let cost = 0;
  for (const f of want.faces) {
    const b = bearing(f.eyes, f.facingDeg, at);
    if (b.azimuthDeg < w.hardAzimuth[0] || b.azimuthDeg > w.hardAzimuth[1])
      return 'it would stand too far round';
    if (b.elevationDeg < w.hardElevation[0]) return 'it would stand too low: ceiling or stand';
    if (b.elevationDeg > w.hardElevation[1]) return 'it would stand too steep';
    // One lamp for two faces comes from farther round each.
    const window: readonly [number, number] =
      want.job === 'key' && (n > 1 || want.behind) ? [35, 66] : [w.azimuth[0], w.azimuth[1]];
    cost += beyond(b.azimuthDeg, window, 12) / n;
    cost += beyond(b.elevationDeg, [w.elevation[0], w.elevation[1]], 14) / n;
    cost += beyond(b.distanceM, DISTANCE_M[want.job], 0.9) / n;
    if (want.job === 'bounce') continue;
    const side = (b.side === 'left' ? 1 : -1) * (want.cameraSide.get(f.id) ?? 0);
    // A key from the far side leaves the cameras the shadow; a fill stands with the cameras.
    if (want.job === 'key' && side > 0) cost += 0.6 / n;
    if (want.job === 'fill' && side < 0) cost += 0.8 / n;
    const others = g.posts.filter((p) => p.id !== f.id);
    const blocked = inTheWay(g.place, others, at, f.eyes, 0.02);
    if (blocked) return `${blocked} stands between it and ${f.id}`;
  }
  if (want.behind) {
    const b = bearing(want.behind.eyes, want.behind.facingDeg, at);
    if (b.azimuthDeg <= ZONE_DEG.to) return `it would not be behind ${want.behind.id}`;
  }
  return cost + heat(g, at, want.watts);
}

/** What it is worth in one angle; or why it cannot be there in it. */
function inAngle(
  g: Ground,
  view: View,
  i: number,
  site: Site,
  at: Vec3,
  aim: Vec3,
  want: Want,
): number | string {
  if (at[2] > site.topM[i]! + 1e-9) return 'it would be in frame or on top of a camera';
  if (want.taken[i]?.some((t) => gap(t, at) < FOOT_GAP_M)) return 'another lamp stands there';
  // A pane that mirrors it can be curtained; better it does not.
  let cost = inAPane(g.place, view, at, 0.2) ? IN_A_PANE : 0;
  // What is aimed into the ceiling rakes nobody; the patch it lights overhead stays out of frame.
  if (want.job === 'bounce') {
    return frameGapDeg(g.place, view, aim, 0.6) < 0 ? 'the lit ceiling would be in frame' : 0;
  }
  for (const f of g.faces) {
    if (!seesFace(view, f)) continue;
    const b = bearing(f.eyes, f.facingDeg, at);
    if (b.elevationDeg < 65) {
      if (b.azimuthDeg > ZONE_DEG.from - 1 && b.azimuthDeg < ZONE_DEG.to + 1.5)
        return `it would rake ${f.id}’s cheek and ear`;
      if (b.azimuthDeg >= ZONE_DEG.to && b.azimuthDeg <= ZONE_DEG.nearTo + 0.5) cost += 0.8;
    }
    if (want.job === 'key' && want.faces.includes(f)) {
      const lens = Math.atan2(view.eye[1] - f.eyes[1], view.eye[0] - f.eyes[0]);
      const lamp = Math.atan2(at[1] - f.eyes[1], at[0] - f.eyes[0]);
      const apart = Math.abs(wrap((lamp - lens) / DEG));
      if (apart < FLAT_DEG) cost += ((FLAT_DEG - apart) / 12) ** 2;
      const shadow = ontoWall(g, at, f.eyes);
      if (shadow && inFrame(onFrame(view, shadow))) cost += 0.35;
    }
  }
  return cost + glare(view, at, aim);
}

/** Where the line from a lamp past a head meets a wall; undefined: the floor first. */
export function ontoWall(g: Ground, from: Vec3, past: Vec3): Vec3 | undefined {
  const [dx, dy, dz] = sub(past, from);
  let best: { t: number; at: Vec3 } | undefined;
  const o = g.place.outline;
  for (let i = 0; i < o.length; i++) {
    const [a, b]: [Point, Point] = ends(o, i);
    const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
    const det = dx * ey - dy * ex;
    if (Math.abs(det) < 1e-9) continue;
    const t = ((a[0] - from[0]) * ey - (a[1] - from[1]) * ex) / det;
    const u = ((a[0] - from[0]) * dy - (a[1] - from[1]) * dx) / det;
    if (t <= 1 || u < 0 || u > 1 || (best && best.t <= t)) continue;
    best = { t, at: [from[0] + t * dx, from[1] + t * dy, from[2] + t * dz] };
  }
  return best && best.at[2] > 0 ? best.at : undefined;
}

/** Its light on a lens that looks towards it, where neither hood nor a door keeps it off. */
function glare(view: View, at: Vec3, aim: Vec3): number {
  const f = onFrame(view, at);
  if (f.depthM <= 0 || f.offAxis > hoodShadesBeyond(view)) return 0;
  const axis = normalize(sub(aim, at));
  const to = normalize(sub(view.eye, at));
  const cos = to[0] * axis[0] + to[1] * axis[1] + to[2] * axis[2];
  return 0.9 * Math.max(0, 1 - Math.acos(Math.max(-1, Math.min(1, cos))) / DEG / 60);
}

/** Least distance an industry note asks for between a head and what burns, metres; as the troubles have it. */
const heatM = (watts: number): number => (watts > 2000 ? 1.2 : watts > 500 ? 0.7 : watts >= 100 ? 0.5 : 0);
function heat(g: Ground, at: Vec3, watts: number): number {
  const ask = heatM(watts);
  if (ask === 0) return 0;
  const up = g.place.ceilingM === undefined ? 9 : g.place.ceilingM - at[2];
  const wall = toWallM(g.place.outline, at[0], at[1]);
  return (up < ask ? 0.3 : 0) + (wall < ask ? 0.7 : 0);
}
