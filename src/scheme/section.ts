/** Fills a side section through one lamp and what it is aimed at: heights, openings the light passes, what it hangs from. */

import { leadsTo } from '../setup/gaps.ts';
import { beamDegOf, kindOf } from '../setup/lamps.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import { indoors, type RoomShape, roomBy, roomsIn } from '../shoot/rooms.ts';
import type { Furniture, Place, Shoot } from '../shoot/schema.ts';
import { ceilingOver } from '../stage/slope.ts';

/** Metres along the cut (from the lamp, toward its aim) and up from the floor. */
type Point = readonly [number, number];

/** Things this far to either side of the cut are drawn in it, metres. */
const BESIDE_M = 0.7;

export interface SectionFacts {
  lamp: {
    id: string;
    number: string;
    identity: number;
    what: string;
    at: Point;
    aim: Point;
    downDeg: number;
    beamHalfDeg: number;
    body: Point[];
  };
  /** Where the cut goes in and out of the room, metres along it. */
  walls: { x: number; opening: { words: string; sillM: number; headM: number } | undefined }[];
  ceilingM: number | undefined;
  /** Where it slopes: its line along the cut, from wall to wall. */
  ceiling?: Point[];
  /** Height of the walls where there is no ceiling. */
  topM: number;
  groundM: number;
  /** From, to: how far the cut is drawn. */
  fromM: number;
  toM: number;
  people: { id: string; x: number; eyeM: number; seatM: number | undefined; besideM: number }[];
  things: { words: string; x0: number; x1: number; z0: number; z1: number }[];
  /** What the lamp hangs from or stands on. */
  holds:
    | { kind: 'hung'; words: string; x: number; z: number; widthM: number; depthM: number }
    | { kind: 'stand'; baseM: number }
    | undefined;
  why: string;
}

/** Lamps of an angle that a plan alone does not explain: through an opening, or hung from something. */
export function sectionsOf(shoot: Shoot, ref: AngleRef): SectionFacts[] {
  const rig = rigFor(shoot, ref);
  const place = shoot.places[rig.scene.place]!;
  return Object.entries(rig.lamps).flatMap(([id, l], i): SectionFacts[] => {
    if (!l.on || l.level <= 0) return [];
    const outside = !indoors(place, [l.at[0], l.at[1]]);
    const hung = (l.support.kind === 'clamp' || l.support.kind === 'hung') && !l.practical;
    if (!outside && !hung) return [];
    const kind = kindOf(shoot.kit.lamps[l.head]);
    let [ux, uy] = [l.aim[0] - l.at[0], l.aim[1] - l.at[1]];
    let long = Math.hypot(ux, uy);
    if (long < 0.1) [ux, uy, long] = [1, 0, 1];
    ux /= long;
    uy /= long;
    const along = (p: readonly number[]): number => (p[0]! - l.at[0]) * ux + (p[1]! - l.at[1]) * uy;
    const beside = (p: readonly number[]): number => -(p[0]! - l.at[0]) * uy + (p[1]! - l.at[1]) * ux;

    // The cut through the walls.
    const walls: SectionFacts['walls'] = [];
    const cutWall = (room: RoomShape, a: Point, w: number): void => {
      const b = room.outline[(w + 1) % room.outline.length]!;
      const [sa, sb] = [beside(a), beside(b)];
      if (sa === sb || sa * sb > 0) return;
      const t = sa / (sa - sb);
      const at = t * Math.hypot(b[0] - a[0], b[1] - a[1]);
      const opening = Object.entries(place.openings).find(([, o]) => {
        if (o.fill === 'shut') return false;
        if (o.room === room.id) return o.wall === w && at >= o.fromM - 1e-6 && at <= o.toM + 1e-6;
        // A way in from another room, as this room's wall has it.
        const far = leadsTo(place, o);
        if (!far || far.id !== room.id || far.wall !== w) return false;
        return at >= far.there(o.toM) - 1e-6 && at <= far.there(o.fromM) + 1e-6;
      });
      walls.push({
        x: along(a) + t * (along(b) - along(a)),
        opening: opening && {
          words: opening[1].words ?? opening[0],
          sillM: opening[1].sillM,
          headM: opening[1].headM,
        },
      });
    };
    for (const room of roomsIn(place))
      room.outline.forEach((a, w) => {
        cutWall(room, a, w);
      });
    walls.sort((a, b) => a.x - b.x);
    const here = roomBy(place, outside ? [l.aim[0], l.aim[1]] : [l.at[0], l.at[1]]);
    const people = Object.entries(rig.scene.marks)
      .filter(([, m]) => m.present === undefined || m.present.includes(ref.angle))
      .map(([mark, m]) => ({
        id: mark,
        x: along(m.at),
        eyeM: m.eyeM,
        seatM: m.posture === 'seated' ? (m.seatM ?? 0.45) : undefined,
        besideM: Math.abs(beside(m.at)),
      }))
      .filter((m) => m.besideM <= BESIDE_M);
    const ends = endsOf(
      [0, along(l.aim), ...people.map((p) => p.x)],
      walls.map((w) => w.x),
    );
    const holder = l.support.on ? place.rigging[l.support.on] : undefined;
    const tilt = Math.atan2(l.aim[2] - l.at[2], long);
    const w = Math.max(0.05, (kind?.housing.heightM ?? 0.2) / 2);
    const d = Math.max(0.1, kind?.housing.depthM ?? 0.2);
    const turned = (x: number, z: number): Point => [
      x * Math.cos(tilt) - z * Math.sin(tilt),
      l.at[2] + x * Math.sin(tilt) + z * Math.cos(tilt),
    ];
    const beam = kind ? beamDegOf(l, kind) : 60;
    const through = walls.find(
      (x) => x.opening && x.x > 0 && x.x < Math.max(along(l.aim), 0.5) + 1e-6,
    )?.opening;
    const groundM = place.outside?.groundM ?? 0;
    return [
      {
        lamp: {
          id,
          number: l.number,
          identity: i + 1,
          what: l.words ?? kind?.words ?? l.head,
          at: [0, l.at[2]],
          aim: [along(l.aim), l.aim[2]],
          downDeg: (-tilt * 180) / Math.PI,
          beamHalfDeg: Math.min(85, beam / 2),
          body: [
            turned(0, -w),
            turned(-d * 0.6, -w),
            turned(-d, -w * 0.55),
            turned(-d, w * 0.55),
            turned(-d * 0.6, w),
            turned(0, w),
          ],
        },
        walls,
        ceilingM: here.ceilingM,
        ...((place.slopes?.length && place.ceilingM !== undefined) || place.rooms
          ? { ceiling: ceilingLine(place, [l.at[0], l.at[1]], [ux, uy], walls) }
          : {}),
        topM: here.ceilingM ?? 3,
        groundM,
        fromM: ends.fromM,
        toM: ends.toM,
        people,
        things: Object.entries(place.furniture).flatMap(([thing, f]) => {
          const cut = cutOf(f, along, beside, ends);
          return cut ? [{ words: f.words ?? thing, ...cut, z0: f.at[2], z1: f.at[2] + f.sizeM[2] }] : [];
        }),
        holds: holder
          ? {
              kind: 'hung' as const,
              words: holder.words ?? `the ${holder.kind}`,
              x: 0,
              z:
                l.at[2] +
                (l.support.dropM ?? Math.max(0.1, Math.min(holder.from[2], holder.to[2]) - l.at[2])),
              widthM: holder.widthM,
              depthM: holder.depthM,
            }
          : l.support.kind === 'stand'
            ? { kind: 'stand' as const, baseM: l.support.baseM ?? (outside ? groundM : 0) }
            : undefined,
        why: through
          ? `through ${through.words}`
          : outside
            ? 'from outside'
            : `from ${holder?.words ?? 'above'}`,
      },
    ];
  });
}

/** The sloping ceiling along a cut, from its first wall to its last, every 5 cm. */
function ceilingLine(place: Place, from: Point, way: Point, walls: readonly { x: number }[]): Point[] {
  const xs = walls.map((w) => w.x);
  const [x0, x1] = [Math.min(...xs), Math.max(...xs)];
  const n = Math.min(400, Math.ceil((x1 - x0) / 0.05));
  return Array.from({ length: n + 1 }, (_, i): Point => {
    const x = x0 + ((x1 - x0) * i) / n;
    // A wall is as high as the room that has it, on either side of the cut.
    const over = (d: number) => ceilingOver(place, from[0] + (x + d) * way[0], from[1] + (x + d) * way[1]);
    return [x, (place.rooms ? (over(x < (x0 + x1) / 2 ? 0.02 : -0.02) ?? over(0)) : over(0)) ?? 0];
  });
}

/** From lamp to aim with a metre on either side, out to a wall that is near. */
function endsOf(xs: readonly number[], walls: readonly number[]): { fromM: number; toM: number } {
  const lo = Math.min(...xs);
  const hi = Math.max(...xs);
  const left = walls.filter((w) => w < lo && w > lo - 1.8);
  const right = walls.filter((w) => w > hi && w < hi + 1.8);
  return {
    fromM: left.length ? Math.min(...left) - 0.3 : lo - 1,
    toM: right.length ? Math.max(...right) + 0.3 : hi + 1.2,
  };
}

/** Where a thing's footprint lies along the cut, if it comes within reach of it. */
function cutOf(
  f: Furniture,
  along: (p: readonly number[]) => number,
  beside: (p: readonly number[]) => number,
  ends: { fromM: number; toM: number },
): { x0: number; x1: number } | undefined {
  const a = ((f.turnDeg ?? 0) * Math.PI) / 180;
  const [w, d] = [f.sizeM[0] / 2, f.sizeM[1] / 2];
  const corners = [
    [-w, -d],
    [w, -d],
    [w, d],
    [-w, d],
  ].map(([x, y]) => [
    f.at[0] + x! * Math.cos(a) - y! * Math.sin(a),
    f.at[1] + x! * Math.sin(a) + y! * Math.cos(a),
  ]);
  const across = corners.map(beside);
  if (Math.min(...across) > 0.15 || Math.max(...across) < -0.15) return undefined;
  const xs = corners.map(along);
  const [x0, x1] = [Math.max(Math.min(...xs), ends.fromM), Math.min(Math.max(...xs), ends.toM)];
  return x1 - x0 > 0.02 ? { x0, x1 } : undefined;
}
