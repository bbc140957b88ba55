/** A place's openings to the outside as gaps in its shell, and its rooms as prisms: how daylight gets in. */
import type { Gap } from '../light/openings.ts';
import { add, cross, normalize, scale, type Vec3 } from '../maths/vec3.ts';
import { roomsIn } from '../shoot/rooms.ts';
import type { Opening, Place } from '../shoot/schema.ts';
import { FRAME_M } from '../stage/opening.ts';
import { setOut } from '../stage/outline.ts';
import { type Beyond, beyond } from '../stage/party.ts';
import { WALL_M } from '../stage/room.ts';
import type { FarShape } from '../transport/scene.ts';

/** Outside the outer face of the wall by so much, metres. */
const CLEAR_M = 1e-3;
const OPEN_WALL_M = 3;

export interface Outlet {
  /** The opening's id; `roof`: there is no ceiling. */
  id: string;
  opening: Opening | undefined;
  /** In the outer face; outward normal u × v. */
  gap: Gap;
  /** In the plane of the pane or leaf, the frame left out. */
  pane: Gap;
  out: Vec3;
  middle: Vec3;
  areaM2: number;
}

const wallM = (place: Place): number => Math.max(0.02, place.wallM ?? WALL_M);

/** The rooms of a place, walls included. */
export function roomsOf(place: Place): FarShape['rooms'] {
  const w = wallM(place);
  const deep = Math.min(0, place.outside?.groundM ?? 0) + w;
  return roomsIn(place).map((r) => ({
    outline: setOut(r.outline, w).map((p): [number, number] => [p[0], p[1]]),
    fromM: -deep,
    toM: (r.ceilingM ?? OPEN_WALL_M) + (r.ceilingM === undefined ? 0 : w),
  }));
}

/** The room that an opening leads to, another than its own; undefined: outside, or a room that is not told. */
export function leadsTo(place: Place, o: Opening): (Beyond & { id: string | undefined }) | undefined {
  if (!place.rooms) return undefined;
  const rooms = roomsIn(place);
  const own = rooms.findIndex((r) => r.id === o.room);
  const far =
    own < 0
      ? undefined
      : beyond(
          rooms.map((r) => r.outline),
          own,
          o.wall,
          o.fromM,
          o.toM,
        );
  return far && { ...far, id: rooms[far.room]!.id };
}

/** Openings that daylight can come through: glazed, open, or no ceiling at all. */
export function outletsOf(place: Place): Outlet[] {
  const out: Outlet[] = [];
  const w = wallM(place);
  const rooms = roomsIn(place);
  for (const [id, o] of Object.entries(place.openings)) {
    if (o.fill === 'shut' || o.inside === true || leadsTo(place, o)) continue;
    const room = rooms.find((r) => r.id === o.room);
    const a = room?.outline[o.wall];
    const b = room?.outline[(o.wall + 1) % room.outline.length];
    if (!room || !a || !b) continue;
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along: Vec3 = [(b[0] - a[0]) / l, (b[1] - a[1]) / l, 0];
    const way: Vec3 = [along[1], -along[0], 0];
    const [u0, u1] = [Math.max(0, o.fromM), Math.min(l, o.toM)];
    const [v0, v1] = [Math.max(0, o.sillM), Math.min(room.ceilingM ?? OPEN_WALL_M, o.headM)];
    if ((u1 - u0) * (v1 - v0) < 0.02) continue;
    const at = (t: number, inset = 0): Gap => {
      const corner = add(add([a[0], a[1], v0 + inset], scale(along, u0 + inset)), scale(way, t));
      // u × v outward: along the wall, then up.
      return { corner, u: scale(along, u1 - u0 - 2 * inset), v: [0, 0, v1 - v0 - 2 * inset] };
    };
    const pane = at(w / 2, o.fill === 'glass' ? FRAME_M : 0);
    const gap = at(w + CLEAR_M);
    out.push({
      id,
      opening: o,
      gap,
      pane,
      out: normalize(cross(gap.u, gap.v)),
      middle: add(pane.corner, add(scale(pane.u, 0.5), scale(pane.v, 0.5))),
      areaM2: Math.hypot(...pane.u) * Math.hypot(...pane.v),
    });
  }
  for (const room of rooms) {
    if (room.ceilingM !== undefined) continue;
    const xs = room.outline.map((p) => p[0]);
    const ys = room.outline.map((p) => p[1]);
    const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    const gap: Gap = {
      corner: [x0 - w, y0 - w, OPEN_WALL_M + CLEAR_M],
      u: [x1 - x0 + 2 * w, 0, 0],
      v: [0, y1 - y0 + 2 * w, 0],
    };
    out.push({
      id: room.id === undefined ? 'roof' : `roof-${room.id}`,
      opening: undefined,
      gap,
      pane: gap,
      out: [0, 0, 1],
      middle: [(x0 + x1) / 2, (y0 + y1) / 2, OPEN_WALL_M],
      areaM2: (x1 - x0) * (y1 - y0),
    });
  }
  return out;
}
