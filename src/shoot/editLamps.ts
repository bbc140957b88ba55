/** Edits of the rig: lamps, what cheats them, flags, and how they are fed. */
import { z } from 'zod';
import {
  angleOf,
  apart,
  change,
  EditError,
  type EditKind,
  fixed,
  holds,
  id,
  kind,
  lampAt,
  lampOf,
  newId,
  now,
  own,
  placeOf,
  putOrTake,
  sceneOf,
  share,
  there,
  vec,
  where,
} from './editing.ts';
import { Cheat, Feed, HeadReading, RigFlag, RigLamp, RigMultiway, type Scene, Support } from './schema.ts';

const scene = { scene: id };
const cheat = { scene: id, angle: id, lamp: id };
const scrims = z.array(z.enum(['half', 'full'])).max(6);
const sheets = z.array(z.string().max(40)).max(8);
const flagOf = (s: Scene, flag: string) => there(own(s.rig.flags, flag), `flag ${flag}`);

export const LAMP_EDITS = {
  moveLamp: kind({ ...lampAt, to: vec }, (s, a) => {
    const l = now(s, a);
    const d = Math.hypot(a.to[0] - l.at[0], a.to[1] - l.at[1], a.to[2] - l.at[2]);
    change(s, a, { at: a.to });
    return `${l.number} moved ${fixed(d)} m${where(a)}${holds(s, a, 'at')}`;
  }),
  raiseLamp: kind({ ...lampAt, heightM: z.number().min(-20).max(100) }, (s, a) => {
    const l = now(s, a);
    change(s, a, { at: [l.at[0], l.at[1], a.heightM] });
    return `${l.number} at ${fixed(a.heightM)} m${where(a)}${holds(s, a, 'at')}`;
  }),
  /** At a point, or at the eyes of whoever stands on a mark. */
  aimLamp: kind({ ...lampAt, at: vec.optional(), mark: id.optional() }, (s, a) => {
    const l = now(s, a);
    const mark =
      a.mark === undefined ? undefined : there(own(sceneOf(s, a.scene).marks, a.mark), `mark ${a.mark}`);
    const point = mark ? ([...mark.at, mark.eyeM] as [number, number, number]) : a.at;
    if (!point) throw new EditError('Aim it at a point or at a mark.');
    apart(l.at, point, 'A lamp cannot be aimed at itself: choose a point further off.');
    change(s, a, { aim: point });
    return `${l.number} aimed${a.mark === undefined ? '' : ` at ${a.mark}`}${where(a)}${holds(s, a, 'aim')}`;
  }),
  focusLamp: kind({ ...lampAt, focus: share }, (s, a) => {
    change(s, a, { focus: a.focus });
    return `${now(s, a).number} ${a.focus < 0.05 ? 'flooded' : a.focus > 0.95 ? 'spotted' : `${(a.focus * 100).toFixed(0)} % toward spot`}${where(a)}${holds(s, a, 'focus')}`;
  }),
  setLevel: kind({ ...lampAt, level: share }, (s, a) => {
    change(s, a, { level: a.level });
    return `${now(s, a).number} burns ${(a.level * 100).toFixed(0)} %${where(a)}${holds(s, a, 'level')}`;
  }),
  switchLamp: kind({ ...lampAt, on: z.boolean() }, (s, a) => {
    change(s, a, { on: a.on });
    return `${now(s, a).number} ${a.on ? 'on' : 'out'}${where(a)}${holds(s, a, 'on')}`;
  }),
  setSheets: kind({ ...lampAt, sheets }, (s, a) => {
    change(s, a, { sheets: a.sheets });
    return `${now(s, a).number}: ${a.sheets.length ? a.sheets.join(', ') : 'bare'}${where(a)}${holds(s, a, 'sheets')}`;
  }),
  setScrims: kind({ ...lampAt, scrims }, (s, a) => {
    change(s, a, { scrims: a.scrims });
    return `${now(s, a).number}: ${a.scrims.length ? `${a.scrims.join(' and ')} scrim` : 'no scrim'}${where(a)}${holds(s, a, 'scrims')}`;
  }),
  setDoors: kind({ ...lampAt, doors: RigLamp.shape.doors }, (s, a) => {
    const l = lampOf(s, a.scene, a.lamp);
    // In one angle doors cannot be taken off; wide open they stand flat.
    if (a.angle !== undefined)
      change(s, a, { doors: a.doors ?? { top: 90, bottom: 90, left: 90, right: 90 } });
    else if (a.doors) l.doors = a.doors;
    else delete l.doors;
    return `${l.number}: doors ${a.doors ? 'set' : 'wide open'}${where(a)}`;
  }),
  rollLamp: kind({ ...scene, lamp: id, rollDeg: z.number().min(-360).max(360) }, (s, a) => {
    const l = lampOf(s, a.scene, a.lamp);
    l.rollDeg = a.rollDeg;
    return `${l.number} rolled to ${fixed(a.rollDeg, 0)}°`;
  }),
  setSupport: kind({ ...lampAt, support: Support }, (s, a) => {
    change(s, a, { support: a.support });
    const place = own(s.places, sceneOf(s, a.scene).place);
    const holder = a.support.on === undefined ? undefined : own(place?.rigging, a.support.on);
    const held = {
      stand: 'on a stand',
      clamp: `clamped${holder ? ` to ${holder.words ?? holder.kind}` : ''}`,
      foot: 'on its own foot',
      hung: 'hung',
      wall: 'on the wall',
      hand: 'in the hand',
    }[a.support.kind];
    return `${now(s, a).number} ${held}${where(a)}${holds(s, a, 'support')}`;
  }),
  /** Other names on a lamp: its number, its words, whether it belongs to the story. */
  setLamp: kind(
    {
      ...scene,
      lamp: id,
      number: z.string().min(1).max(6).optional(),
      words: z.string().max(2000).optional(),
      practical: z.boolean().optional(),
      head: id.optional(),
    },
    (s, a) => {
      const l = lampOf(s, a.scene, a.lamp);
      if (a.head !== undefined) {
        there(own(s.kit.lamps, a.head), `head ${a.head} in the kit`);
        l.head = a.head;
      }
      if (a.number !== undefined) l.number = a.number;
      if (a.words !== undefined) l.words = a.words;
      if (a.practical !== undefined) l.practical = a.practical;
      return `${l.number}: ${a.head === undefined ? 'named' : `is ${a.head}`}`;
    },
  ),
  addLamp: kind({ ...scene, id: newId, lamp: RigLamp }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    if (own(sc.rig.lamps, a.id)) throw new EditError(`The rig has a lamp ${a.id} already.`);
    there(own(s.kit.lamps, a.lamp.head), `head ${a.lamp.head} in the kit`);
    apart(a.lamp.at, a.lamp.aim, 'A lamp cannot be aimed at itself: choose a point further off.');
    sc.rig.lamps[a.id] = a.lamp;
    return `${a.lamp.number} added`;
  }),
  /** With it go its cheats and what was meant of it. */
  removeLamp: kind({ ...scene, lamp: id }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    const number = lampOf(s, a.scene, a.lamp).number;
    delete sc.rig.lamps[a.lamp];
    for (const angle of Object.values(sc.angles)) {
      delete angle.cheats[a.lamp];
      if (angle.meant.some((m) => m.lamp === a.lamp))
        angle.meant = angle.meant.filter((m) => m.lamp !== a.lamp);
    }
    for (const camera of [sc.camera, ...Object.values(sc.angles).map((angle) => angle.camera)]) {
      const balance = camera?.whiteBalance;
      if (balance?.kind === 'read' && balance.lamps?.includes(a.lamp))
        balance.lamps = balance.lamps.filter((l) => l !== a.lamp);
    }
    return `${number} struck`;
  }),

  cheatLamp: kind({ ...cheat, changes: Cheat }, (s, a) => {
    const l = lampOf(s, a.scene, a.lamp);
    const strange = Object.keys(a.changes).find((k) => !Object.hasOwn(Cheat.shape, k));
    if (strange !== undefined)
      throw new EditError(
        `An angle cannot cheat “${strange}”; it can cheat ${Object.keys(Cheat.shape).join(', ')}.`,
      );
    change(s, a, a.changes);
    return `${l.number} cheats in ${a.angle}`;
  }),
  endCheat: kind(cheat, (s, a) => {
    const number = lampOf(s, a.scene, a.lamp).number;
    delete angleOf(s, a.scene, a.angle).cheats[a.lamp];
    return `${number} as the rig in ${a.angle}`;
  }),
  makeCheatTheRig: kind(cheat, (s, a) => {
    const angle = angleOf(s, a.scene, a.angle);
    const lamp = lampOf(s, a.scene, a.lamp);
    Object.assign(lamp, there(own(angle.cheats, a.lamp), `cheat of ${a.lamp} in ${a.angle}`));
    delete angle.cheats[a.lamp];
    return `${lamp.number}: the cheat of ${a.angle} is the rig`;
  }),
  /** The same cheat in other angles. */
  cheatElsewhere: kind({ ...cheat, to: z.array(id).min(1).max(60) }, (s, a) => {
    const laid = there(own(angleOf(s, a.scene, a.angle).cheats, a.lamp), `cheat of ${a.lamp} in ${a.angle}`);
    for (const angle of a.to) angleOf(s, a.scene, angle).cheats[a.lamp] = JSON.parse(JSON.stringify(laid));
    return `${lampOf(s, a.scene, a.lamp).number} cheats in ${a.to.join(', ')} as in ${a.angle}`;
  }),

  addFlag: kind({ ...scene, id: newId, flag: RigFlag }, (s, a) => {
    const flags = sceneOf(s, a.scene).rig.flags;
    if (own(flags, a.id)) throw new EditError(`The rig has a flag ${a.id} already.`);
    flags[a.id] = a.flag;
    return `${a.id} hung${a.flag.angles ? ` for ${a.flag.angles.join(', ')}` : ''}`;
  }),
  moveFlag: kind({ ...scene, flag: id, to: vec, facing: vec.optional() }, (s, a) => {
    const flag = flagOf(sceneOf(s, a.scene), a.flag);
    if (a.to.some((v, k) => v !== flag.at[k])) flag.at = a.to;
    if (a.facing) flag.facing = a.facing;
    return `${a.flag} moved`;
  }),
  setFlag: kind({ ...scene, flag: id, changes: RigFlag.partial() }, (s, a) => {
    const flag = flagOf(sceneOf(s, a.scene), a.flag) as Record<string, unknown>;
    for (const [key, v] of Object.entries(a.changes)) {
      if (v !== undefined) flag[key] = v;
      // In all angles again; without a sheet of its own.
      else if (
        key === 'angles' ||
        key === 'sheet' ||
        key === 'words' ||
        key === 'finish' ||
        key === 'pattern'
      )
        delete flag[key];
    }
    return `${a.flag} changed`;
  }),
  removeFlag: kind({ ...scene, flag: id }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    flagOf(sc, a.flag);
    delete sc.rig.flags[a.flag];
    return `${a.flag} taken down`;
  }),

  /** Without `feed` the lamp is unplugged (or runs from a battery). */
  setFeed: kind({ ...scene, lamp: id, feed: Feed.optional() }, (s, a) => {
    const l = lampOf(s, a.scene, a.lamp);
    if (!a.feed) {
      delete l.feed;
      return `${l.number} unplugged`;
    }
    const feed = { ...a.feed };
    if (feed.via === undefined) delete feed.via;
    const sockets = placeOf(s, sceneOf(s, a.scene).place).supply.sockets;
    there(own(sockets, feed.socket), `socket ${feed.socket}`);
    l.feed = feed;
    return `${l.number} on ${feed.via ?? feed.socket}`;
  }),
  setLead: kind({ ...scene, lamp: id, index: z.number().int().min(0), coiled: z.boolean() }, (s, a) => {
    const l = lampOf(s, a.scene, a.lamp);
    there(l.feed?.leads[a.index], `lead ${a.index + 1} of ${l.number}`).coiled = a.coiled;
    return `Lead of ${l.number} ${a.coiled ? 'left wound' : 'unwound'}`;
  }),
  /** A multiway set down, moved to another socket with all that is plugged in, or taken away from under its plugs. */
  setMultiway: kind({ ...scene, id, multiway: RigMultiway.optional() }, (s, a) => {
    const sc = sceneOf(s, a.scene);
    for (const l of Object.values(sc.rig.lamps)) {
      if (l.feed?.via !== a.id) continue;
      if (a.multiway) l.feed.socket = a.multiway.socket;
      else delete l.feed.via;
    }
    return putOrTake(sc.rig.multiways, a.id, a.multiway, `multiway ${a.id}`);
  }),
  /** Without `reading` the head is as its kind again. */
  readHead: kind({ head: id, reading: HeadReading.optional() }, (s, a) => {
    const head = there(own(s.kit.lamps, a.head), `head ${a.head}`);
    if (a.reading) head.reading = a.reading;
    else delete head.reading;
    return a.reading ? `${a.head} corrected by a reading` : `${a.head} as its kind`;
  }),
} satisfies Record<string, EditKind>;
