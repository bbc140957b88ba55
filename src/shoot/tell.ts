/**
 * What a hand does while it tells a room, as lists of named edits: what was supposed gives way to the first thing
 * told of its sort, seats come with the people on them, a lamp brings the stand and the lead nobody has counted yet.
 */

import { headsOf, thingId } from './editRoom.ts';
import type { Edit } from './edits.ts';
import { kitKind, type Region } from './kit.ts';
import { clearAlong } from './openings.ts';
import { wallBy } from './rooms.ts';
import type { Opening, Place, Shoot } from './schema.ts';
import { type How, MARK_IDS, mark, middleOf, seating } from './seatings.ts';
import { furnitureOf, type RoomThing } from './things.ts';
import { MAINS, usualOpening, usualSocket } from './usualRoom.ts';
import { atWall, inwardDeg, onFloor, type Point, wallLengthM } from './walls.ts';

/** The first of `prefix`1, `prefix`2 … that nothing is called yet. */
export function freeId(taken: object, prefix: string): string {
  for (let n = 1; ; n++) if (!Object.hasOwn(taken, `${prefix}${n}`)) return `${prefix}${n}`;
}

/** A door, window or gap in the wall nearest to the tap; in place of what was only supposed. */
export function tellOpening(place: Place, id: string, kind: Opening['kind'], tap: Point): Edit[] {
  const { room, ...w } = wallBy(place, tap);
  const supposed = Object.entries(place.openings).filter(([, o]) => o.kind === kind && o.guessed);
  const usual = usualOpening(room.outline, room.ceilingM ?? 3, kind, w.wall, w.alongM);
  const opening = room.id === undefined ? usual : { ...usual, room: room.id };
  const [first, ...more] = supposed.map(([o]) => o);
  const left = Object.fromEntries(
    Object.entries(place.openings).filter(([o]) => !supposed.some(([s]) => s === o)),
  );
  const clear = clearAlong({ ...place, openings: left }, first ?? '', opening, opening.fromM);
  if (clear !== undefined) {
    opening.toM = +(clear + opening.toM - opening.fromM).toFixed(3);
    opening.fromM = clear;
  }
  return [
    ...more.map((o): Edit => ({ edit: 'setOpening', args: { place: id, id: o } })),
    {
      edit: 'setOpening',
      args: { place: id, id: first ?? freeId(place.openings, kind), opening },
    },
  ];
}

/** A socket in the wall nearest to the tap. The first one told takes the supposed ones away. */
export function tellSocket(place: Place, id: string, tap: Point): Edit[] {
  const w = wallBy(place, tap);
  const supposed = Object.entries(place.supply.sockets)
    .filter(([, s]) => s.guessed)
    .map(([s]) => s);
  const socket = usualSocket(w.room.outline, w.wall, w.alongM, place.supply.region);
  // A socket that something hangs on keeps its name, so that nothing loses its feed.
  const [first, ...more] = supposed;
  return [
    ...more.map((s): Edit => ({ edit: 'setSocket', args: { place: id, id: s } })),
    {
      edit: 'setSocket',
      args: { place: id, id: first ?? freeId(place.supply.sockets, 'S'), socket },
    },
  ];
}

/** How near to a wall a tap must be for the thing to stand against it, metres. */
const AT_WALL_M = 0.75;

/** Where a thing comes to stand that is set down at a tap: against the wall near by, looking into the room. */
export function standing(place: Place, thing: RoomThing, tap: Point): { at: Point; turnDeg: number } {
  const w = wallBy(place, tap);
  const { outline } = w.room;
  if (!thing.front || (w.offM > AT_WALL_M && onFloor(outline, tap)))
    return { at: tap, turnDeg: thing.front === '-y' ? 0 : thing.front === 'x' ? -90 : 0 };
  const [wide, deep] =
    thing.front === 'x' ? [thing.sizeM[1], thing.sizeM[0]] : [thing.sizeM[0], thing.sizeM[1]];
  const long = wallLengthM(outline, w.wall);
  const along = Math.max(wide / 2 + 0.02, Math.min(long - wide / 2 - 0.02, w.alongM));
  const facing = inwardDeg(outline, w.wall);
  return {
    at: atWall(outline, w.wall, along, deep / 2 + 0.02),
    turnDeg: thing.front === 'x' ? facing : facing + 90,
  };
}

export function tellThing(
  place: Place,
  id: string,
  thing: RoomThing,
  tap: Point,
): { id: string; edits: Edit[] } {
  const { at, turnDeg } = standing(place, thing, tap);
  const name = freeId(place.furniture, thing.id.replace(/-.*/, ''));
  return {
    id: name,
    edits: [
      {
        edit: 'setFurniture',
        args: { place: id, id: name, furniture: furnitureOf(thing, at[0], at[1], turnDeg) },
      },
    ],
  };
}

/** Free floor for something that nobody has pointed at a place for: clear of things and people, else the middle. */
export function freeFloor(shoot: Shoot, placeId: string): Point {
  const place = shoot.places[placeId]!;
  const taken: Point[] = Object.values(place.furniture).map((f): Point => [f.at[0], f.at[1]]);
  for (const sc of Object.values(shoot.scenes))
    if (sc.place === placeId) for (const m of Object.values(sc.marks)) taken.push([m.at[0], m.at[1]]);
  const middle = middleOf(place.outline).at;
  let best: Point = middle;
  let most = -1;
  place.outline.forEach((_, wall) => {
    const long = wallLengthM(place.outline, wall);
    for (let along = 0.5; along < long; along += 0.25) {
      const p = atWall(place.outline, wall, along, 0.5);
      if (!onFloor(place.outline, p)) continue;
      const clear = Math.min(2, ...taken.map((t) => Math.hypot(t[0] - p[0], t[1] - p[1])));
      if (clear > most + 1e-9) [best, most] = [p, clear];
    }
  });
  return best;
}

/** The people of a scene set down anew, with what they sit at; what earlier seats brought goes. */
export function tellPeople(shoot: Shoot, sceneId: string, count: 1 | 2 | 3, how: How): Edit[] {
  const scene = shoot.scenes[sceneId]!;
  const place = shoot.places[scene.place]!;
  const { marks, furniture } = seating(place.outline, count, how);
  const brought = new Set(['table', 'sofa', ...MARK_IDS.map((m) => `chair${m}`)]);
  return [
    ...Object.keys(scene.marks).map((m): Edit => ({ edit: 'removeMark', args: { scene: sceneId, mark: m } })),
    ...Object.keys(place.furniture)
      .filter((f) => brought.has(f))
      .map((f): Edit => ({ edit: 'setFurniture', args: { place: scene.place, id: f } })),
    ...Object.entries(furniture).map(
      ([f, thing]): Edit => ({
        edit: 'setFurniture',
        args: { place: scene.place, id: f, furniture: thing },
      }),
    ),
    ...Object.entries(marks).map(
      ([m, who]): Edit => ({ edit: 'addMark', args: { scene: sceneId, id: m, mark: who } }),
    ),
  ];
}

/** One more person, standing where the tap was, looking at the middle of the others. */
export function tellPerson(shoot: Shoot, sceneId: string, tap: Point): { id: string; edits: Edit[] } {
  const scene = shoot.scenes[sceneId]!;
  const others = Object.values(scene.marks);
  const id = MARK_IDS.find((m) => !Object.hasOwn(scene.marks, m)) ?? freeId(scene.marks, 'P');
  const n = Math.max(1, others.length);
  const [x, y] = others.length
    ? [others.reduce((s, m) => s + m.at[0], 0) / n, others.reduce((s, m) => s + m.at[1], 0) / n]
    : [tap[0], tap[1] - 1];
  const facing = (Math.atan2(y - tap[1], x - tap[0]) * 180) / Math.PI;
  const index = MARK_IDS.indexOf(id as (typeof MARK_IDS)[number]);
  const who = { ...mark(Math.max(0, index), tap, facing, 'standing'), name: id };
  return { id, edits: [{ edit: 'addMark', args: { scene: sceneId, id, mark: who } }] };
}

/** Heads that need something to hold them up, and the ordinary lead of a region that is supposed to come with them. */
const NEEDS_STAND = /^(fresnel|open-face|site-flood|led-flood|led-panel|led-spot|tube)/;
const ON_MAINS =
  /^(fresnel|open-face|site-flood|led-flood|led-panel|led-spot|tube|bulb|lantern|led-bulb|led-filament)/;
const LEAD: Readonly<Record<Region, string>> = {
  uk: 'lead-uk-10-15',
  eu: 'lead-eu-10-15',
  na: 'lead-na-15.2-331',
  au: 'lead-au-10-15',
  jp: 'lead-na-15.2-331',
};

/**
 * So many of a lamp. Until somebody counts stands and leads, one of each is supposed for every head that needs it;
 * once told, they are what was told.
 */
export function tellLamp(shoot: Shoot, lampKind: string, count: number): Edit[] {
  const region = Object.values(shoot.places)[0]?.supply.region ?? 'uk';
  const others = Object.values(shoot.kit.lamps)
    .map((h) => h.kind)
    .filter((k) => k !== lampKind);
  const heads = [...others, ...Array.from({ length: count }, () => lampKind)];
  const stands = heads.filter((k) => NEEDS_STAND.test(k)).length;
  const leads = heads.filter((k) => ON_MAINS.test(k)).length;
  const edits: Edit[] = [{ edit: 'own', args: { kind: lampKind, count, volts: MAINS[region].nominalV } }];
  const suppose = (part: 'supports' | 'leads', kind: string, n: number) => {
    const told = Object.values(shoot.kit[part]).some((t) => !t.guessed);
    const have = shoot.kit[part][thingId(kind)]?.count ?? 0;
    if (!told && have !== n) edits.push({ edit: 'own', args: { kind, count: n, guessed: true } });
  };
  suppose('supports', 'stand', stands);
  suppose('leads', LEAD[region], leads);
  return edits;
}

/** So many of anything else; counting one stand or lead tells them all. */
export function tellKit(shoot: Shoot, kitId: string, count: number): Edit[] {
  const k = kitKind(kitId);
  if (!k) return [];
  if (k.part === 'lamps') return tellLamp(shoot, kitId, count);
  const supposed =
    k.part === 'supports' || k.part === 'leads'
      ? Object.values(shoot.kit[k.part]).filter((t) => t.guessed && t.kind !== kitId)
      : [];
  return [
    ...supposed.map((t): Edit => ({ edit: 'own', args: { kind: t.kind, count: 0 } })),
    { edit: 'own', args: { kind: kitId, count } },
  ];
}

/** How many of a kind there are. */
export function owned(shoot: Shoot, kitId: string): { count: number; guessed: boolean } {
  const k = kitKind(kitId);
  if (!k) return { count: 0, guessed: false };
  if (k.part === 'lamps') return { count: headsOf(shoot, kitId).length, guessed: false };
  const t = shoot.kit[k.part][thingId(kitId)];
  return { count: t?.count ?? 0, guessed: t?.guessed ?? false };
}
