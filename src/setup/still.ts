/** A place as it stands still: room, furniture, what lamps may hang from; kept by the content of the document's record. */
import type { Vec3 } from '../maths/vec3.ts';
import { fromBase64 } from '../shoot/gltf.ts';
import { roomsIn } from '../shoot/rooms.ts';
import type { Finish, Furniture, Opening, Place } from '../shoot/schema.ts';
import { type StillHalf, stillHalf } from '../stage/assemble.ts';
import type { FinishSpec } from '../stage/finish.ts';
import { buildFurniture } from '../stage/furniture.ts';
import { buildRigging } from '../stage/rigging.ts';
import type { OpeningSpec } from '../stage/room.ts';
import { buildRooms } from '../stage/rooms.ts';
import type { Body } from '../stage/stage.ts';
import { passesOf } from './panes.ts';
import type { StagePart } from './people.ts';

export const finishOf = (f: Finish): FinishSpec => ({
  reflectance: f.reflectance,
  ...(f.words === undefined ? {} : { words: f.words }),
  ...(f.colour === undefined ? {} : { colour: f.colour }),
  ...(f.glossF0 === undefined ? {} : { glossF0: f.glossF0 }),
  ...(f.roughness === undefined ? {} : { roughness: f.roughness }),
  ...(f.metal === undefined ? {} : { metal: f.metal }),
  ...(f.mirror === undefined ? {} : { mirror: f.mirror }),
  ...(f.passes === undefined ? {} : { passes: f.passes }),
});

const words16 = (text: string): Uint16Array => {
  const bytes = fromBase64(text) ?? new Uint8Array(0);
  const v = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return Uint16Array.from({ length: bytes.length >> 1 }, (_, i) => v.getUint16(2 * i, true));
};
/** Read once, however often the thing stands there. */
const shapes = new WeakMap<object, { corners: Uint16Array; triangles: Uint16Array }>();
const shapeOf = (s: NonNullable<Furniture['shape']>) => {
  const known = shapes.get(s) ?? { corners: words16(s.corners), triangles: words16(s.triangles) };
  shapes.set(s, known);
  return { ...known, parts: s.parts };
};

export const thingOf = (id: string, f: Furniture) => ({
  id,
  kind: f.kind,
  words: f.words ?? id,
  at: f.at as Vec3,
  sizeM: f.sizeM as Vec3,
  finish: finishOf(f.finish),
  ...(f.turnDeg === undefined ? {} : { turnDeg: f.turnDeg }),
  ...(f.finishes === undefined
    ? {}
    : { finishes: Object.fromEntries(Object.entries(f.finishes).map(([k, v]) => [k, finishOf(v)])) }),
  ...(f.detail === undefined ? {} : { detail: f.detail }),
  ...(f.shape === undefined ? {} : { shape: shapeOf(f.shape) }),
});

/** Ground is drawn this far beyond what stands on it, metres. */
const BEYOND_M = 8;

/** How far the things outside reach: west, south, east, north. */
function reachOf(things: Readonly<Record<string, Furniture>>): [number, number, number, number] {
  const out: [number, number, number, number] = [0, 0, 0, 0];
  for (const f of Object.values(things)) {
    const r = Math.hypot(f.sizeM[0], f.sizeM[1]) / 2 + BEYOND_M;
    out[0] = Math.min(out[0], f.at[0] - r);
    out[1] = Math.min(out[1], f.at[1] - r);
    out[2] = Math.max(out[2], f.at[0] + r);
    out[3] = Math.max(out[3], f.at[1] + r);
  }
  return out;
}

const holeOf = (o: Opening): OpeningSpec => ({
  kind: o.kind,
  wall: o.wall,
  fromM: o.fromM,
  toM: o.toM,
  sillM: o.sillM,
  headM: o.headM,
  fill: o.fill,
  ...(o.words === undefined ? {} : { words: o.words }),
  ...(o.leafDeg === undefined ? {} : { leafDeg: o.leafDeg }),
  ...(o.finish === undefined ? {} : { finish: finishOf(o.finish) }),
  ...(o.barsAcross || o.barsUp ? { bars: [o.barsAcross ?? 0, o.barsUp ?? 0] as const } : {}),
  ...(o.panes?.length ? { passes: passesOf(o) } : {}),
});

interface Still {
  half: StillHalf;
  notes: string[];
}
const stills = new Map<string, Still>();

const keyOf = (place: Place): string =>
  JSON.stringify([
    place.outline,
    place.ceilingM,
    place.slopes,
    place.wallM,
    place.floor,
    place.ceiling,
    place.walls,
    place.wallFinishes,
    place.openings,
    place.furniture,
    place.rigging,
    place.outside,
    place.rooms,
  ]);

function kept(key: string, made: Still): Still {
  if (stills.size > 8) stills.delete(stills.keys().next().value as string);
  stills.set(key, made);
  return made;
}

/** The place as a part of a stage. */
export function stillPart(place: Place): StagePart {
  const key = keyOf(place);
  return { key, make: () => stillOf(place), take: (made: Still) => void kept(key, made) };
}

/** The place as it stands still, kept by the content of the document's record. */
export function stillOf(place: Place): Still {
  const key = keyOf(place);
  const found = stills.get(key);
  if (found) return found;
  const notes: string[] = [];
  const room = buildRooms({
    rooms: roomsIn(place).map((r) => ({
      outline: r.outline,
      ...(r.id === undefined ? {} : { id: `${r.id}:`, of: r.name ?? r.id }),
      ...(r.ceilingM === undefined ? {} : { ceilingM: r.ceilingM }),
      ...(r.slopes ? { slopes: r.slopes } : {}),
      ...(place.wallM === undefined ? {} : { wallM: place.wallM }),
      floor: finishOf(r.floor),
      ...(r.ceiling ? { ceiling: finishOf(r.ceiling) } : {}),
      walls: finishOf(r.walls),
      ...(r.wallFinishes
        ? {
            wallFinishes: Object.fromEntries(
              Object.entries(r.wallFinishes).map(([k, v]) => [k, finishOf(v)]),
            ),
          }
        : {}),
      openings: Object.fromEntries(
        Object.entries(place.openings)
          .filter(([, o]) => o.room === r.id)
          .map(([id, o]) => [id, holeOf(o)]),
      ),
      ...(place.outside && r.id === undefined
        ? {
            outside: {
              groundM: place.outside.groundM,
              ground: finishOf(place.outside.ground),
              reach: reachOf(place.outside.furniture ?? {}),
            },
          }
        : {}),
    })),
  });
  const bodies: Body[] = [...room.bodies];
  notes.push(...room.notes);
  const things = buildFurniture(Object.entries(place.furniture).map(([id, f]) => thingOf(id, f)));
  bodies.push(...things.bodies);
  notes.push(...things.notes);
  if (place.outside?.furniture) {
    const out = buildFurniture(
      Object.entries(place.outside.furniture).map(([id, f]) => thingOf(id, f)),
      'outside',
    );
    bodies.push(...out.bodies);
    notes.push(...out.notes);
  }
  for (const [id, r] of Object.entries(place.rigging)) {
    // A cupboard one can clamp to is drawn as furniture already.
    if (r.kind === 'cupboard') continue;
    bodies.push(
      buildRigging({
        id,
        words: r.words ?? r.kind,
        kind: r.kind,
        from: r.from as Vec3,
        to: r.to as Vec3,
        widthM: r.widthM,
        depthM: r.depthM,
        finish: finishOf(r.finish),
      }),
    );
  }
  return kept(key, { half: stillHalf(bodies), notes });
}
