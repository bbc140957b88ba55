/** Edits by which a room is told: its corners, what is in its walls, its mains, and what one owns. */

import { z } from 'zod';
import { EditError, type EditKind, fixed, floorPoint, id, kind, own, placeOf, there } from './editing.ts';
import { goesWith, hungAt } from './hung.ts';
import { kitKind, thingOf } from './kit.ts';
import { clearAlong } from './openings.ts';
import { outlineOf, wallBy } from './rooms.ts';
import type { Place, Shoot } from './schema.ts';
import { Supply } from './schema.ts';
import { middleOf } from './seatings.ts';
import { MAINS, SOCKET_KIND, usualCircuit, usualSupply } from './usualRoom.ts';
import {
  atWall,
  boundsOf,
  nearestWall,
  type Outline,
  onFloor,
  type Point,
  tidyOutline,
  wallLengthM,
} from './walls.ts';

const place = { place: id };
const round = (v: number): number => +v.toFixed(3);
/** A thing this near a wall stands at it and goes with it, metres. */
const AT_WALL_M = 0.25;

/** Where a point of the old room is in the new one: what stands at a wall keeps its wall, the rest goes with the middle. */
function carrier(from: Outline, to: Outline): (p: Point, reachM?: number) => [number, number] {
  const [a, b] = [middleOf(from).at, middleOf(to).at];
  const same = from.length === to.length;
  return (p, reachM = 0) => {
    const w = nearestWall(from, p);
    if (same && w.offM - reachM < AT_WALL_M) {
      const along = (w.alongM / wallLengthM(from, w.wall)) * wallLengthM(to, w.wall);
      return atWall(to, w.wall, along, w.offM);
    }
    return onto(to, [p[0] + b[0] - a[0], p[1] + b[1] - a[1]], b, Math.max(0.3, reachM));
  };
}

/** A point drawn toward the middle until it stands clear of the walls. */
function onto(outline: Outline, p: Point, middle: Point, clearM: number): [number, number] {
  for (let t = 0; t < 1; t += 0.05) {
    const q: [number, number] = [p[0] + (middle[0] - p[0]) * t, p[1] + (middle[1] - p[1]) * t];
    if (onFloor(outline, q) && nearestWall(outline, q).offM >= clearM) return q;
  }
  return [middle[0], middle[1]];
}

/** Openings and sockets find their walls again; what no longer fits its wall is narrowed. */
function refit(p: Place, from: Outline, to: Outline): void {
  const same = from.length === to.length;
  for (const o of Object.values(p.openings)) {
    if (o.room !== undefined) continue;
    const middle = (o.fromM + o.toM) / 2;
    const old = Math.min(o.wall, from.length - 1);
    let wall = old;
    let at = (middle / wallLengthM(from, old)) * wallLengthM(to, old % to.length);
    if (!same) ({ wall, alongM: at } = nearestWall(to, atWall(from, old, middle)));
    const long = wallLengthM(to, wall);
    const wide = Math.min(o.toM - o.fromM, long * 0.95);
    o.wall = wall;
    o.fromM = round(Math.max(0.01, Math.min(long - wide - 0.01, at - wide / 2)));
    o.toM = round(o.fromM + wide);
  }
  for (const s of Object.values(p.supply.sockets)) {
    if (p.rooms && Object.values(p.rooms).some((r) => onFloor(r.outline, [s.at[0], s.at[1]]))) continue;
    const w = nearestWall(from, [s.at[0], s.at[1]]);
    const n = same ? w : nearestWall(to, [s.at[0], s.at[1]]);
    const along = same ? (w.alongM / wallLengthM(from, w.wall)) * wallLengthM(to, w.wall) : n.alongM;
    const [x, y] = atWall(to, n.wall, along, Math.min(w.offM, 0.1));
    s.at = [round(x), round(y), s.at[2]];
  }
}

const under = (p: Place, ceilingM: number): void => {
  for (const o of Object.values(p.openings)) {
    if (o.room !== undefined || o.headM <= ceilingM - 0.01) continue;
    o.headM = round(ceilingM - 0.01);
    o.sillM = Math.min(o.sillM, round(o.headM / 2));
  }
};

/** Names of the heads of a kind the kit has, in order. */
export const headsOf = (shoot: Shoot, lampKind: string): string[] =>
  Object.entries(shoot.kit.lamps)
    .filter(([, h]) => h.kind === lampKind)
    .map(([head]) => head);
/** The name a kit thing has in the document. */
export const thingId = (kitId: string): string => kitId.replace(/[^A-Za-z0-9_-]/g, '_');
const headId = (kitId: string, n: number): string => `${thingId(kitId)}${n === 1 ? '' : `-${n}`}`;

const onARig = (s: Shoot, head: string): boolean =>
  Object.values(s.scenes).some((sc) => Object.values(sc.rig.lamps).some((l) => l.head === head));

export const ROOM_EDITS = {
  /**
   * The room’s corners, in the order one walks round; openings and sockets go with their walls. With `carry` what
   * stands in the room, and people, go with it; without, they stay where they were.
   */
  setOutline: kind(
    {
      ...place,
      outline: z.array(floorPoint).min(3).max(200),
      ceilingM: z.number().gt(0.5).max(100).optional(),
      carry: z.boolean().optional(),
    },
    (s, a) => {
      const p = placeOf(s, a.place);
      const to = tidyOutline(a.outline);
      if (typeof to === 'string') throw new EditError(to);
      const from = p.outline.map(([x, y]): Point => [x, y]);
      refit(p, from, to);
      if (a.carry) {
        const carried = carrier(from, to);
        for (const f of Object.values(p.furniture)) {
          const [x, y] = carried([f.at[0], f.at[1]], Math.min(f.sizeM[0], f.sizeM[1]) / 2);
          f.at = [round(x), round(y), f.at[2]];
        }
        for (const sc of Object.values(s.scenes)) {
          if (sc.place !== a.place) continue;
          for (const m of Object.values(sc.marks))
            m.at = carried([m.at[0], m.at[1]]).map(round) as [number, number];
        }
      }
      p.outline = to;
      if (a.ceilingM !== undefined) {
        p.ceilingM = a.ceilingM;
        under(p, a.ceilingM);
      }
      const b = boundsOf(to);
      const high = p.ceilingM === undefined ? '' : ` × ${fixed(p.ceilingM)}`;
      return `Room ${to.length === 4 ? '' : `of ${to.length} corners, `}${fixed(b.x1 - b.x0)} × ${fixed(b.y1 - b.y0)}${high} m`;
    },
  ),
  /** Along its wall, or to another wall, as near as the others let it; what hangs at it goes with it. */
  moveOpening: kind(
    {
      ...place,
      id,
      wall: z.number().int().min(0).max(199).optional(),
      fromM: z.number().min(-100).max(1000),
    },
    (s, a) => {
      const p = placeOf(s, a.place);
      const o = there(own(p.openings, a.id), `opening ${a.id}`);
      const wall = a.wall ?? o.wall;
      const outline = there(outlineOf(p, o), `room ${o.room}`);
      if (wall >= outline.length) throw new EditError(`There is no wall ${wall}.`);
      const long = wallLengthM(outline, wall);
      const wide = Math.min(o.toM - o.fromM, long * 0.95);
      const before = { ...o };
      const hung = hungAt(p, before).map((h) => h.id);
      const wanted = { ...before, wall, toM: before.fromM + wide };
      // Past another opening it goes; over one it stops beside it.
      const fromM = clearAlong(p, a.id, wanted, a.fromM);
      if (fromM === undefined)
        throw new EditError(
          `There is no room for the ${o.words ?? o.kind} in that wall: others are in the way.`,
        );
      Object.assign(o, { wall, fromM, toM: round(fromM + wide) });
      delete o.guessed;
      goesWith(p, before, o, hung);
      return `${o.words ?? o.kind} moved`;
    },
  ),
  /** To the point of a wall that is nearest to `to`. */
  moveSocket: kind({ ...place, socket: id, to: floorPoint }, (s, a) => {
    const p = placeOf(s, a.place);
    const socket = there(own(p.supply.sockets, a.socket), `socket ${a.socket}`);
    const w = wallBy(p, a.to);
    const [x, y] = atWall(w.room.outline, w.wall, w.alongM, 0.02);
    socket.at = [round(x), round(y), socket.at[2]];
    delete socket.guessed;
    return `Socket ${a.socket} moved`;
  }),
  /** Volts, cycles and sockets of a region; circuits that nobody told are the usual ones there, still not told. */
  setRegion: kind({ ...place, region: Supply.shape.region }, (s, a) => {
    const p = placeOf(s, a.place);
    const mains = MAINS[a.region];
    Object.assign(p.supply, { region: a.region, ...mains });
    for (const socket of Object.values(p.supply.sockets)) socket.kind = SOCKET_KIND[a.region];
    for (const [c, circuit] of Object.entries(p.supply.circuits))
      if (circuit.device === 'unknown' && circuit.ratingA === undefined)
        p.supply.circuits[c] = { ...circuit, words: usualCircuit(a.region).words };
    p.supply.words = usualSupply(a.region).words!;
    for (const head of Object.values(s.kit.lamps)) if (head.volts !== undefined) head.volts = mains.nominalV;
    return `Mains: ${mains.nominalV} V, ${mains.frequencyHz} Hz`;
  }),
  /** How many of a kind of the generic kit one owns; heads that burn on a rig cannot go. */
  own: kind(
    {
      kind: z.string().max(60),
      count: z.number().int().min(0).max(40),
      volts: z.number().gt(0).max(1000).optional().describe('marked on new heads'),
      guessed: z.boolean().optional().describe('supposed, not counted by anybody'),
    },
    (s, a) => {
      const k = kitKind(a.kind);
      if (!k) throw new EditError(`The kit knows no ${a.kind}.`);
      const says = a.count === 0 ? `No ${k.words}` : a.count === 1 ? k.words : `${a.count} × ${k.words}`;
      if (k.part !== 'lamps') {
        const key = thingId(a.kind);
        if (a.count === 0) delete s.kit[k.part][key];
        else
          s.kit[k.part][key] = {
            ...(own(s.kit[k.part], key) ?? thingOf(k, a.count, 'owned')),
            count: a.count,
            ...(a.guessed ? { guessed: true } : {}),
          };
        if (!a.guessed) delete own(s.kit[k.part], key)?.guessed;
        return says;
      }
      const have = headsOf(s, a.kind);
      const idle = have.filter((h) => !onARig(s, h)).reverse();
      for (let n = have.length; n > a.count; n--) {
        const gone = idle.shift();
        if (gone === undefined)
          throw new EditError(`The ${k.words} is on a rig: strike it there before it leaves the kit.`);
        delete s.kit.lamps[gone];
      }
      for (let n = have.length, i = 1; n < a.count; i++) {
        const key = headId(a.kind, i);
        if (own(s.kit.lamps, key)) continue;
        s.kit.lamps[key] = {
          kind: a.kind,
          held: 'owned',
          ...(a.volts === undefined ? {} : { volts: a.volts }),
        };
        n++;
      }
      return says;
    },
  ),
} satisfies Record<string, EditKind>;
