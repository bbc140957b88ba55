/** Edits of the place and its supply, of the kit, and of the shoot's own words. */
import { z } from 'zod';
import {
  angleOf,
  EditError,
  type EditKind,
  fixed,
  id,
  kind,
  newId,
  own,
  placeOf,
  putOrTake,
  sceneOf,
  there,
  vec,
} from './editing.ts';
import { editionOf } from './edition.ts';
import { goesWith, hungAt } from './hung.ts';
import { misfit, sameHole } from './openings.ts';
import {
  Circuit,
  Finish,
  Furniture,
  KitLamp,
  KitThing,
  Opening,
  Place,
  Rigging,
  Room,
  Scene,
  Shoot,
  Socket,
} from './schema.ts';

const place = { place: id };
const words = z.string().max(2000);
const sizeM = z.number().gt(0.5).max(200);
const HouseLoad = Circuit.shape.houseLoads.valueType;
const circuitOf = (s: Shoot, p: string, c: string) =>
  there(own(placeOf(s, p).supply.circuits, c), `circuit ${c}`);

export const PLACE_EDITS = {
  /** A rectangular room with its south-west corner at the origin. */
  setRoom: kind({ ...place, widthM: sizeM, depthM: sizeM, heightM: sizeM.optional() }, (s, a) => {
    const p = placeOf(s, a.place);
    const walls = [a.widthM, a.depthM, a.widthM, a.depthM];
    for (const [o, opening] of Object.entries(p.openings))
      if (!(opening.toM <= (walls[opening.wall] ?? 0)))
        throw new EditError(
          `The ${opening.words ?? opening.kind} (${o}) would reach past the end of its wall.`,
        );
    p.outline = [
      [0, 0],
      [a.widthM, 0],
      [a.widthM, a.depthM],
      [0, a.depthM],
    ];
    if (a.heightM !== undefined) p.ceilingM = a.heightM;
    return `Room ${fixed(a.widthM)} × ${fixed(a.depthM)}${a.heightM === undefined ? '' : ` × ${fixed(a.heightM)}`} m`;
  }),
  /** Of all walls, the floor, the ceiling, or (`wall`) one wall by its number. */
  setFinish: kind(
    {
      ...place,
      surface: z.enum(['walls', 'floor', 'ceiling']),
      wall: z.number().int().min(0).max(199).optional(),
      room: id.optional(),
      finish: Finish,
    },
    (s, a) => {
      const place = placeOf(s, a.place);
      const p = a.room === undefined ? place : there(own(place.rooms, a.room), `room ${a.room}`);
      if (a.wall !== undefined && a.surface === 'walls') {
        if (a.wall >= p.outline.length) throw new EditError(`There is no wall ${a.wall}.`);
        p.wallFinishes = { ...p.wallFinishes, [String(a.wall)]: a.finish };
      } else p[a.surface] = a.finish;
      return `${a.surface}: ${a.finish.words ?? `reflectance ${a.finish.reflectance}`}`;
    },
  ),
  /** One more room, a room as it is now, or without `room` none: what is in its walls goes with it. */
  setOtherRoom: kind({ ...place, id, room: Room.optional() }, (s, a) => {
    const p = placeOf(s, a.place);
    if (a.room) {
      p.rooms = { ...p.rooms, [a.id]: a.room };
      return `${a.room.name} told`;
    }
    const gone = there(own(p.rooms, a.id), `room ${a.id}`);
    const { [a.id]: _, ...rest } = p.rooms!;
    if (Object.keys(rest).length) p.rooms = rest;
    else delete p.rooms;
    for (const [o, opening] of Object.entries(p.openings)) if (opening.room === a.id) delete p.openings[o];
    return `${gone.name} taken away`;
  }),
  /** What hangs at an opening goes where it goes, and is as much wider or taller. */
  setOpening: kind({ ...place, id, opening: Opening.optional() }, (s, a) => {
    const p = placeOf(s, a.place);
    const before = own(p.openings, a.id);
    const what = (a.opening ?? before)?.words ?? before?.kind ?? a.opening?.kind ?? a.id;
    if (!a.opening || (before && sameHole(before, a.opening)))
      return putOrTake(p.openings, a.id, a.opening, what);
    const why = misfit(p, a.id, a.opening);
    if (why) throw new EditError(why);
    const hung = before ? hungAt(p, before).map((h) => h.id) : [];
    const says = putOrTake(p.openings, a.id, a.opening, what);
    if (before) goesWith(p, before, a.opening, hung);
    return says;
  }),
  /** Neutral sheets laid on the glass of a window; none: bare. */
  setPanes: kind({ ...place, opening: id, panes: z.array(z.string().max(40)).max(4) }, (s, a) => {
    const o = there(own(placeOf(s, a.place).openings, a.opening), `opening ${a.opening}`);
    if (a.panes.length) o.panes = a.panes;
    else delete o.panes;
    return `${o.words ?? a.opening}: ${a.panes.length ? a.panes.join(', ') : 'bare glass'}`;
  }),
  setFurniture: kind({ ...place, id, furniture: Furniture.optional() }, (s, a) =>
    putOrTake(placeOf(s, a.place).furniture, a.id, a.furniture, a.furniture?.words ?? a.id),
  ),
  moveFurniture: kind(
    { ...place, id, to: vec, turnDeg: z.number().min(-720).max(720).optional() },
    (s, a) => {
      const f = there(own(placeOf(s, a.place).furniture, a.id), `${a.id} in ${a.place}`);
      f.at = a.to;
      if (a.turnDeg !== undefined) f.turnDeg = a.turnDeg;
      return `${f.words ?? f.kind} moved`;
    },
  ),
  setRigging: kind({ ...place, id, rigging: Rigging.optional() }, (s, a) =>
    putOrTake(placeOf(s, a.place).rigging, a.id, a.rigging, a.rigging?.words ?? a.id),
  ),

  setHouseLoad: kind({ ...place, circuit: id, load: id, on: z.boolean() }, (s, a) => {
    const load = there(own(circuitOf(s, a.place, a.circuit).houseLoads, a.load), `house load ${a.load}`);
    load.on = a.on;
    return `${load.words} ${a.on ? 'on' : 'off'}`;
  }),
  /** A house load told, changed, or (without `load`) taken away. */
  tellHouseLoad: kind({ ...place, circuit: id, id, load: HouseLoad.optional() }, (s, a) =>
    putOrTake(circuitOf(s, a.place, a.circuit).houseLoads, a.id, a.load, a.load?.words ?? a.id),
  ),
  setCircuit: kind({ ...place, circuit: id, changes: Circuit.partial() }, (s, a) => {
    Object.assign(circuitOf(s, a.place, a.circuit), a.changes);
    return `Circuit ${a.circuit} told`;
  }),
  addCircuit: kind({ ...place, id: newId, circuit: Circuit }, (s, a) => {
    const circuits = placeOf(s, a.place).supply.circuits;
    if (own(circuits, a.id)) throw new EditError(`There is a circuit ${a.id} already.`);
    circuits[a.id] = a.circuit;
    return `Circuit ${a.id} told: ${a.circuit.words}`;
  }),
  setSocket: kind({ ...place, id, socket: Socket.optional() }, (s, a) =>
    putOrTake(placeOf(s, a.place).supply.sockets, a.id, a.socket, `socket ${a.id}`),
  ),
  setSocketDead: kind({ ...place, socket: id, dead: z.boolean() }, (s, a) => {
    there(own(placeOf(s, a.place).supply.sockets, a.socket), `socket ${a.socket}`).dead = a.dead;
    return `Socket ${a.socket} ${a.dead ? 'is dead' : 'lives'}`;
  }),

  /** A head of the kit, changed or (without `head`) given back; a head on a rig cannot go. */
  setHead: kind({ id, head: KitLamp.optional() }, (s, a) =>
    putOrTake(s.kit.lamps, a.id, a.head, a.head?.words ?? `head ${a.id}`),
  ),
  setKit: kind(
    {
      part: z.enum(['supports', 'sheets', 'flags', 'leads', 'multiways']),
      id,
      thing: KitThing.optional(),
    },
    (s, a) => putOrTake(s.kit[a.part], a.id, a.thing, a.thing?.words ?? a.id),
  ),

  setPlace: kind({ id, place: Place.optional() }, (s, a) =>
    putOrTake(s.places, a.id, a.place, `place ${a.place?.name ?? a.id}`),
  ),
  setScene: kind({ id, scene: Scene.optional() }, (s, a) =>
    putOrTake(s.scenes, a.id, a.scene, `scene ${a.scene?.name ?? a.id}`),
  ),
  setExposureConstant: kind({ constant: z.number().min(100).max(600) }, (s, a) => {
    s.exposureConstant = a.constant;
    return `Exposure constant ${a.constant}`;
  }),
  setUnits: kind({ units: Shoot.shape.units, light: Shoot.shape.light }, (s, a) => {
    if (a.units !== undefined) s.units = a.units;
    if (a.light !== undefined) s.light = a.light;
    return `Units: ${s.units ?? 'metric'}, ${s.light ?? 'lux'}`;
  }),
  /** Before printing or saving: the version number grows if anything was changed since it last did. */
  countEdition: kind({}, (s) => {
    const { number, word } = editionOf(s);
    s.edition = { number, content: word };
    return `Version ${number}`;
  }),
  setCrewNote: kind({ crewNote: words }, (s, a) => {
    s.crewNote = a.crewNote;
    return 'Crew note written';
  }),
  rename: kind({ title: words.min(1) }, (s, a) => {
    s.title = a.title;
    return `Called ${a.title}`;
  }),
  /** The name of a place, a scene, or (with its scene) an angle, a mark or a spot. */
  nameThing: kind(
    {
      place: id.optional(),
      scene: id.optional(),
      angle: id.optional(),
      mark: id.optional(),
      spot: id.optional(),
      name: words.min(1),
    },
    (s, a) => {
      const sc = a.scene === undefined ? undefined : sceneOf(s, a.scene);
      const thing =
        a.place !== undefined
          ? placeOf(s, a.place)
          : a.angle !== undefined && a.scene !== undefined
            ? angleOf(s, a.scene, a.angle)
            : a.mark !== undefined
              ? there(own(sc?.marks, a.mark), `mark ${a.mark}`)
              : a.spot !== undefined
                ? there(own(sc?.spots, a.spot), `spot ${a.spot}`)
                : there(sc, 'thing to name: say which place, scene, angle, mark or spot');
      thing.name = a.name;
      return `Called ${a.name}`;
    },
  ),
} satisfies Record<string, EditKind>;
