/** Fills what a plan is drawn from, out of the shoot: place, people, cameras, lamps as one angle has them. */
import { encodeSrgb } from '../colour/rgb.ts';
import { leadsTo } from '../setup/gaps.ts';
import { beamDegOf, kindOf } from '../setup/lamps.ts';
import { facingOf } from '../setup/people.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import { roomBy, outlineOf as wallsOf } from '../shoot/rooms.ts';
import type { Furniture, RigLamp, Shoot } from '../shoot/schema.ts';
import { atWall } from '../shoot/walls.ts';
import { footprint } from '../stage/silhouette.ts';
import type { Stage } from '../stage/stage.ts';
import { leadRoute } from './leadRoute.ts';

/** Metres, x east, y north. */
type Point = readonly [number, number];

/** What is known of the light in the angle, for the colour of beams. */
export interface PlanLight {
  /** By lamp: XYZ of its light on a perfect white. */
  whites: Readonly<Record<string, readonly number[] | undefined>>;
  balance: { matrix: readonly number[] };
}

/** True outlines from above, by part of the stage (`person:A`, `furniture:table`), where a stage has been built. */
export type OutlineOf = (part: string) => Point[][] | undefined;

/** Outlines of a stage's parts, each traced when asked for, to 2 cm. */
export function outlinesOf(stage: Stage): OutlineOf {
  const numbers = new Map(stage.parts.map((p, i) => [p.id, i]));
  return (id) => {
    const part = numbers.get(id);
    if (part === undefined) return undefined;
    const own: number[] = [];
    for (let t = 0; t < stage.part.length; t++)
      if (stage.part[t] === part)
        own.push(stage.indices[3 * t]!, stage.indices[3 * t + 1]!, stage.indices[3 * t + 2]!);
    const made = footprint(
      {
        part: stage.parts[part]!,
        positions: stage.positions,
        normals: stage.normals,
        indices: Uint32Array.from(own),
        material: new Uint16Array(own.length / 3),
        materials: stage.materials,
        patch: new Uint32Array(own.length / 3),
      },
      0.02,
    );
    return made.length ? made : undefined;
  };
}

const RAD = Math.PI / 180;

const point = (p: readonly [number, number, ...number[]]): Point => [p[0], p[1]];

function boxOf(f: Furniture): Point[] {
  const a = (f.turnDeg ?? 0) * RAD;
  const [w, d] = [f.sizeM[0] / 2, f.sizeM[1] / 2];
  return (
    [
      [-w, -d],
      [w, -d],
      [w, d],
      [-w, d],
    ] as const
  ).map(
    ([x, y]): Point => [
      f.at[0] + x * Math.cos(a) - y * Math.sin(a),
      f.at[1] + x * Math.sin(a) + y * Math.cos(a),
    ],
  );
}

/** A person from above where no figure is at hand: shoulders and head. */
function shoulders(at: readonly [number, number], facingDeg: number): Point[][] {
  const a = facingDeg * RAD;
  const oval = (rx: number, ry: number, dx: number): Point[] =>
    Array.from({ length: 24 }, (_, i): Point => {
      const t = (i / 24) * 2 * Math.PI;
      const x = dx + rx * Math.cos(t);
      const y = ry * Math.sin(t);
      return [at[0] + x * Math.cos(a) - y * Math.sin(a), at[1] + x * Math.sin(a) + y * Math.cos(a)];
    });
  return [oval(0.13, 0.23, -0.03), oval(0.1, 0.08, 0.01)];
}

/** The hue of a light on screen, at full lightness: what the camera's balance makes of its white. */
function hexOf(white: readonly number[] | undefined, matrix: readonly number[] | undefined): string {
  if (!white || !matrix || !(white[1]! > 0)) return '#d8cdb4';
  const rgb = [0, 3, 6].map((r) =>
    Math.max(0, matrix[r]! * white[0]! + matrix[r + 1]! * white[1]! + matrix[r + 2]! * white[2]!),
  );
  const top = Math.max(...rgb, 1e-9);
  return `#${rgb
    .map((v) =>
      Math.round(255 * encodeSrgb(v / top))
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;
}

/** Points about a lamp, x along its axis. */
const placed = (l: Pick<RigLamp, 'at' | 'aim'>) => {
  const dir = Math.atan2(l.aim[1] - l.at[1], l.aim[0] - l.at[0]);
  return (x: number, y: number): Point => [
    l.at[0] + x * Math.cos(dir) - y * Math.sin(dir),
    l.at[1] + x * Math.sin(dir) + y * Math.cos(dir),
  ];
};

/** A lamp's housing from above, its face at x = 0: half as wide as `w`, `d` deep. */
const housing = (at: (x: number, y: number) => Point, w: number, d: number): Point[] => [
  at(0, -w),
  at(-d * 0.6, -w),
  at(-d, -w * 0.55),
  at(-d, w * 0.55),
  at(-d * 0.6, w),
  at(0, w),
];

/** The facts of one angle: the shape that `drawPlan` takes. `troubled`: lamps to draw as trouble. */
export function planFacts(
  shoot: Shoot,
  ref: AngleRef,
  light: PlanLight | undefined,
  troubled: ReadonlySet<string>,
  outlineOf: OutlineOf = () => undefined,
) {
  const rig = rigFor(shoot, ref);
  const place = shoot.places[rig.scene.place]!;
  const ids = Object.keys(rig.lamps);
  return {
    outline: place.outline.map((p): Point => [p[0], p[1]]),
    rooms: Object.entries(place.rooms ?? {}).map(([id, r]) => ({
      id,
      words: r.name,
      outline: r.outline.map((p): Point => [p[0], p[1]]),
    })),
    openings: Object.entries(place.openings).flatMap(([id, o]) => {
      const outline = wallsOf(place, o);
      if (!outline) return [];
      const own = {
        id,
        kind: o.kind,
        from: atWall(outline, o.wall, o.fromM),
        to: atWall(outline, o.wall, o.toM),
        fill: o.fill,
        ...(o.leafDeg === undefined ? {} : { leafDeg: o.leafDeg }),
      };
      // A way into another room shows in both walls.
      const far = leadsTo(place, o);
      const there = far && wallsOf(place, far.id === undefined ? {} : { room: far.id });
      if (!far || !there) return [own];
      return [
        own,
        {
          id,
          kind: o.kind,
          from: atWall(there, far.wall, far.there(o.toM)),
          to: atWall(there, far.wall, far.there(o.fromM)),
          fill: 'open' as const,
        },
      ];
    }),
    furniture: Object.entries(place.furniture).map(([id, f]) => ({
      id,
      words: f.words ?? id,
      outlines: outlineOf(`furniture:${id}`) ?? [boxOf(f)],
      heightM: f.at[2] + f.sizeM[2],
    })),
    outside: Object.entries(place.outside?.furniture ?? {}).map(([id, f]) => ({
      id,
      words: f.words ?? id,
      outlines: outlineOf(`outside:${id}`) ?? [boxOf(f)],
    })),
    rigging: Object.entries(place.rigging).map(([id, r]) => ({
      id,
      from: point(r.from),
      to: point(r.to),
      widthM: r.widthM,
    })),
    people: Object.entries(rig.scene.marks)
      .filter(([, m]) => m.present === undefined || m.present.includes(ref.angle))
      .map(([id, m]) => {
        const facingDeg = facingOf(m, rig.angle.facings?.[id]);
        const drawn = m.person === undefined ? [] : (outlineOf(`person:${id}`) ?? shoulders(m.at, facingDeg));
        return { id, at: point(m.at), facingDeg, silhouettes: drawn };
      }),
    spots: Object.entries(rig.scene.spots).map(([id, s]) => ({ id, at: point(s.at) })),
    cameras: Object.entries(rig.scene.angles).map(([id, a]) => ({
      id,
      at: point(a.at),
      towards: point(a.lookAt),
      halfAngleDeg: Math.atan(a.sensorMm[0] / (2 * a.focalMm)) / RAD,
      chosen: id === ref.angle,
    })),
    lamps: ids.flatMap((id, i) => {
      const l = rig.lamps[id]!;
      const kind = kindOf(shoot.kit.lamps[l.head]);
      if (!kind) return [];
      const inRig = rig.scene.rig.lamps[id]!;
      const [dx, dy, dz] = [l.aim[0] - l.at[0], l.aim[1] - l.at[1], l.aim[2] - l.at[2]];
      const flat = Math.hypot(dx, dy);
      const turned = placed(l);
      // A head rolled on its side shows its height from above.
      const roll = (l.rollDeg ?? 0) * RAD;
      const across =
        Math.abs(Math.cos(roll)) * kind.housing.widthM + Math.abs(Math.sin(roll)) * kind.housing.heightM;
      const w = Math.max(0.09, across / 2);
      const d = Math.max(0.12, kind.housing.depthM);
      const beam = beamDegOf(l, kind);
      const cheatsPlace = rig.cheated.includes(id) && (inRig.at[0] !== l.at[0] || inRig.at[1] !== l.at[1]);
      return [
        {
          id,
          number: l.number,
          identity: i + 1,
          at: point(l.at),
          heightM: l.at[2],
          aim: point(l.aim),
          downDeg: -Math.atan2(dz, flat) / RAD,
          // The beam is told as a full angle.
          beamHalfDeg: Math.min(beam / 2, 80),
          reachM: beam > 90 ? 1.2 : Math.min(5.5, Math.max(1.2, flat * 1.05)),
          body: housing(turned, w, d),
          doors: l.doors
            ? [
                [turned(0, -w), turned(0.12, -w * 1.5)],
                [turned(0, w), turned(0.12, w * 1.5)],
              ]
            : [],
          ...(l.support.kind === 'stand' ? { footM: l.support.footM ?? 0.45 } : {}),
          on: l.on && l.level > 0,
          seenColour: hexOf(light?.whites[id], light?.balance.matrix),
          ...(cheatsPlace ? { rigPlace: point(inRig.at), rigBody: housing(placed(inRig), w, d) } : {}),
          trouble: troubled.has(id),
        },
      ];
    }),
    flags: Object.entries(rig.flags).map(([id, f]) => {
      const a = Math.atan2(f.facing[1], f.facing[0]) + Math.PI / 2;
      const h = f.sizeM[0] / 2;
      return {
        id,
        from: [f.at[0] - h * Math.cos(a), f.at[1] - h * Math.sin(a)] as Point,
        to: [f.at[0] + h * Math.cos(a), f.at[1] + h * Math.sin(a)] as Point,
      };
    }),
    sockets: Object.entries(place.supply.sockets).map(([id, s]) => ({
      id,
      at: point(s.at),
      dead: s.dead ?? false,
    })),
    leads: ids.flatMap((id, i) => {
      const l = rig.lamps[id]!;
      const socket = l.feed ? place.supply.sockets[l.feed.socket] : undefined;
      if (!socket || (l.practical && !l.feed?.leads.length)) return [];
      return [{ lamp: id, identity: i + 1, route: leadRoute(place, socket.at, l).points }];
    }),
    seen: seenFloor(shoot, ref),
  };
}

/** The floor that a camera's horizontal angle covers, cut at the walls (a convex cut of the outline by two lines). */
function seenFloor(shoot: Shoot, ref: AngleRef): Point[] | undefined {
  const scene = shoot.scenes[ref.scene]!;
  const a = scene.angles[ref.angle]!;
  const half = Math.atan(a.sensorMm[0] / (2 * a.focalMm));
  const dir = Math.atan2(a.lookAt[1] - a.at[1], a.lookAt[0] - a.at[0]);
  if (Math.hypot(a.lookAt[1] - a.at[1], a.lookAt[0] - a.at[0]) < 0.05 || half > 1.4) return undefined;
  let points: Point[] = roomBy(shoot.places[scene.place]!, [a.at[0], a.at[1]]).outline.map(
    (p): Point => [p[0], p[1]],
  );
  for (const [turn, side] of [
    [dir - half, 1],
    [dir + half, -1],
  ] as const) {
    const sideOf = (p: Point) =>
      side * (Math.cos(turn) * (p[1] - a.at[1]) - Math.sin(turn) * (p[0] - a.at[0]));
    const cut: Point[] = [];
    points.forEach((p, i) => {
      const q = points[(i + 1) % points.length]!;
      const [u, v] = [sideOf(p), sideOf(q)];
      if (u >= 0) cut.push(p);
      if (u * v < 0) cut.push([p[0] + ((q[0] - p[0]) * u) / (u - v), p[1] + ((q[1] - p[1]) * u) / (u - v)]);
    });
    points = cut;
  }
  return points.length >= 3 ? points : undefined;
}
