/**
 * Named edits: everything that changes a shoot, as data. An edit checks its arguments, changes a draft, and
 * says in words what it did. With `angle` given, a lamp's edit is a cheat of that angle alone; without it, the
 * rig in every angle.
 */
import { applyPatches, enablePatches, type Patch, produceWithPatches } from 'immer';
import { z } from 'zod';
import {
  CameraSettings,
  type Cheat,
  Circuit,
  Feed,
  Finish,
  HeadReading,
  RigFlag,
  type RigLamp,
  RigLamp as RigLampSchema,
  type Scene,
  type Shoot,
  Support,
  Wish,
} from './schema.ts';

enablePatches();

export class EditError extends Error {
  override name = 'EditError';
}

export interface Edit {
  edit: string;
  args: Record<string, unknown>;
}
export interface Edited {
  shoot: Shoot;
  patches: Patch[];
  inverse: Patch[];
  says: string;
}

const id = z.string().min(1).max(60);
const vec = z.tuple([
  z.number().min(-1000).max(1000),
  z.number().min(-1000).max(1000),
  z.number().min(-1000).max(1000),
]);
const scene = { scene: id };
const lampAt = { scene: id, angle: id.optional(), lamp: id };
const share = z.number().min(0).max(1);

interface EditKind<S extends z.ZodType = z.ZodType> {
  args: S;
  apply(draft: Shoot, args: z.infer<S>): string;
}
const kind = <S extends z.ZodType>(args: S, apply: (draft: Shoot, a: z.infer<S>) => string): EditKind<S> => ({
  args,
  apply,
});

const sceneOf = (s: Shoot, id: string): Scene => there(s.scenes[id], `scene ${id}`);
const angleOf = (s: Shoot, sc: string, an: string) => there(sceneOf(s, sc).angles[an], `angle ${an}`);
const lampOf = (s: Shoot, sc: string, l: string): RigLamp => there(sceneOf(s, sc).rig.lamps[l], `lamp ${l}`);
function there<T>(v: T | undefined, what: string): T {
  if (v === undefined) throw new EditError(`There is no ${what}.`);
  return v;
}
const fixed = (v: number, digits = 2) => v.toFixed(digits);

/** Changes a lamp in the rig, or lays the change over it for one angle; a cheat equal to the rig is dropped. */
function change(
  s: Shoot,
  a: { scene: string; angle?: string | undefined; lamp: string },
  changes: Partial<Cheat>,
): void {
  const lamp = lampOf(s, a.scene, a.lamp);
  if (a.angle === undefined) {
    Object.assign(lamp, changes);
    return;
  }
  const cheats = angleOf(s, a.scene, a.angle).cheats;
  const cheat: Record<string, unknown> = { ...cheats[a.lamp], ...changes };
  for (const key of Object.keys(cheat))
    if (JSON.stringify(cheat[key]) === JSON.stringify((lamp as Record<string, unknown>)[key]))
      delete cheat[key];
  if (Object.keys(cheat).length) cheats[a.lamp] = cheat as Cheat;
  else delete cheats[a.lamp];
}
const where = (a: { angle?: string | undefined }) => (a.angle === undefined ? '' : ` in ${a.angle}`);
/** The lamp as it stands where the edit speaks of it. */
const now = (s: Shoot, a: { scene: string; angle?: string | undefined; lamp: string }): RigLamp => {
  const lamp = lampOf(s, a.scene, a.lamp);
  const cheat = a.angle === undefined ? undefined : angleOf(s, a.scene, a.angle).cheats[a.lamp];
  return { ...lamp, ...cheat } as RigLamp;
};

export const EDITS = {
  moveLamp: kind(z.looseObject({ ...lampAt, to: vec }), (s, a) => {
    const l = now(s, a);
    const d = Math.hypot(a.to[0] - l.at[0], a.to[1] - l.at[1], a.to[2] - l.at[2]);
    change(s, a, { at: a.to });
    return `${l.number} moved ${fixed(d)} m${where(a)}`;
  }),
  raiseLamp: kind(z.looseObject({ ...lampAt, heightM: z.number().min(-20).max(100) }), (s, a) => {
    const l = now(s, a);
    change(s, a, { at: [l.at[0], l.at[1], a.heightM] });
    return `${l.number} at ${fixed(a.heightM)} m${where(a)}`;
  }),
  aimLamp: kind(z.looseObject({ ...lampAt, at: vec }), (s, a) => {
    const l = now(s, a);
    if (Math.hypot(a.at[0] - l.at[0], a.at[1] - l.at[1], a.at[2] - l.at[2]) < 0.01)
      throw new EditError('A lamp cannot be aimed at itself: choose a point further off.');
    change(s, a, { aim: a.at });
    return `${l.number} aimed${where(a)}`;
  }),
  focusLamp: kind(z.looseObject({ ...lampAt, focus: share }), (s, a) => {
    change(s, a, { focus: a.focus });
    return `${now(s, a).number} ${a.focus < 0.05 ? 'flooded' : a.focus > 0.95 ? 'spotted' : `${(a.focus * 100).toFixed(0)} % toward spot`}${where(a)}`;
  }),
  setLevel: kind(z.looseObject({ ...lampAt, level: share }), (s, a) => {
    change(s, a, { level: a.level });
    return `${now(s, a).number} burns ${(a.level * 100).toFixed(0)} %${where(a)}`;
  }),
  switchLamp: kind(z.looseObject({ ...lampAt, on: z.boolean() }), (s, a) => {
    change(s, a, { on: a.on });
    return `${now(s, a).number} ${a.on ? 'on' : 'out'}${where(a)}`;
  }),
  setSheets: kind(z.looseObject({ ...lampAt, sheets: z.array(z.string().max(40)).max(8) }), (s, a) => {
    change(s, a, { sheets: a.sheets });
    return `${now(s, a).number}: ${a.sheets.length ? a.sheets.join(', ') : 'bare'}${where(a)}`;
  }),
  setScrims: kind(z.looseObject({ ...lampAt, scrims: z.array(z.enum(['half', 'full'])).max(6) }), (s, a) => {
    change(s, a, { scrims: a.scrims });
    return `${now(s, a).number}: ${a.scrims.length ? `${a.scrims.join(' and ')} scrim` : 'no scrim'}${where(a)}`;
  }),
  setDoors: kind(z.looseObject({ ...scene, lamp: id, doors: RigLampSchema.shape.doors }), (s, a) => {
    const l = lampOf(s, a.scene, a.lamp);
    if (a.doors) l.doors = a.doors;
    else delete l.doors;
    return `${l.number}: doors`;
  }),
  setSupport: kind(z.looseObject({ ...lampAt, support: Support }), (s, a) => {
    change(s, a, { support: a.support });
    return `${now(s, a).number}: ${a.support.kind}${where(a)}`;
  }),
  cheatLamp: kind(
    z.looseObject({ scene: id, angle: id, lamp: id, changes: z.record(z.string(), z.unknown()) }),
    (s, a) => {
      const l = lampOf(s, a.scene, a.lamp);
      const known = RigLampSchema.partial().safeParse(a.changes);
      if (!known.success)
        throw new EditError(`The cheat of ${l.number} cannot be read: ${known.error.issues[0]?.message}.`);
      change(s, a, a.changes as Partial<Cheat>);
      return `${l.number} cheats in ${a.angle}`;
    },
  ),
  endCheat: kind(z.looseObject({ scene: id, angle: id, lamp: id }), (s, a) => {
    delete angleOf(s, a.scene, a.angle).cheats[a.lamp];
    return `${lampOf(s, a.scene, a.lamp).number} as the rig in ${a.angle}`;
  }),
  makeCheatTheRig: kind(z.looseObject({ scene: id, angle: id, lamp: id }), (s, a) => {
    const angle = angleOf(s, a.scene, a.angle);
    const cheat = there(angle.cheats[a.lamp], `cheat of ${a.lamp} in ${a.angle}`);
    Object.assign(lampOf(s, a.scene, a.lamp), cheat);
    delete angle.cheats[a.lamp];
    return `${lampOf(s, a.scene, a.lamp).number}: the cheat of ${a.angle} is the rig`;
  }),
  addLamp: kind(z.looseObject({ ...scene, id, lamp: RigLampSchema }), (s, a) => {
    const sc = sceneOf(s, a.scene);
    if (a.id in sc.rig.lamps) throw new EditError(`The rig has a lamp ${a.id} already.`);
    there(s.kit.lamps[a.lamp.head], `head ${a.lamp.head} in the kit`);
    sc.rig.lamps[a.id] = a.lamp;
    return `${a.lamp.number} added`;
  }),
  removeLamp: kind(z.looseObject({ ...scene, lamp: id }), (s, a) => {
    const sc = sceneOf(s, a.scene);
    const number = lampOf(s, a.scene, a.lamp).number;
    delete sc.rig.lamps[a.lamp];
    for (const angle of Object.values(sc.angles)) delete angle.cheats[a.lamp];
    return `${number} struck`;
  }),
  addFlag: kind(z.looseObject({ ...scene, id, flag: RigFlag }), (s, a) => {
    const flags = sceneOf(s, a.scene).rig.flags;
    if (a.id in flags) throw new EditError(`The rig has a flag ${a.id} already.`);
    flags[a.id] = a.flag;
    return `${a.id} hung${a.flag.angles ? ` for ${a.flag.angles.join(', ')}` : ''}`;
  }),
  moveFlag: kind(z.looseObject({ ...scene, flag: id, to: vec, facing: vec.optional() }), (s, a) => {
    const flag = there(sceneOf(s, a.scene).rig.flags[a.flag], `flag ${a.flag}`);
    flag.at = a.to;
    if (a.facing) flag.facing = a.facing;
    return `${a.flag} moved`;
  }),
  removeFlag: kind(z.looseObject({ ...scene, flag: id }), (s, a) => {
    there(sceneOf(s, a.scene).rig.flags[a.flag], `flag ${a.flag}`);
    delete sceneOf(s, a.scene).rig.flags[a.flag];
    return `${a.flag} taken down`;
  }),
  moveMark: kind(z.looseObject({ ...scene, mark: id, to: z.tuple([z.number(), z.number()]) }), (s, a) => {
    there(sceneOf(s, a.scene).marks[a.mark], `mark ${a.mark}`).at = a.to;
    return `${a.mark} moved`;
  }),
  turnMark: kind(
    z.looseObject({ ...scene, angle: id.optional(), mark: id, byDeg: z.number().min(-360).max(360) }),
    (s, a) => {
      const sc = sceneOf(s, a.scene);
      const mark = there(sc.marks[a.mark], `mark ${a.mark}`);
      const current = a.angle === undefined ? 0 : (angleOf(s, a.scene, a.angle).facings?.[a.mark] ?? 0);
      const to = +((mark.facings[current] ?? mark.facings[0]!) + a.byDeg).toFixed(2);
      if (a.angle === undefined) mark.facings[0] = to;
      else {
        let index = mark.facings.indexOf(to);
        if (index < 0) {
          if (mark.facings.length >= 8)
            throw new EditError(`${a.mark} has eight facings already: take one away first.`);
          index = mark.facings.push(to) - 1;
        }
        const angle = angleOf(s, a.scene, a.angle);
        angle.facings = { ...angle.facings, [a.mark]: index };
      }
      return `${a.mark} turned ${fixed(a.byDeg, 0)}°${where(a)}`;
    },
  ),
  moveCamera: kind(z.looseObject({ scene: id, angle: id, to: vec }), (s, a) => {
    angleOf(s, a.scene, a.angle).at = a.to;
    return `Camera ${a.angle} moved`;
  }),
  aimCamera: kind(z.looseObject({ scene: id, angle: id, at: vec }), (s, a) => {
    angleOf(s, a.scene, a.angle).lookAt = a.at;
    return `Camera ${a.angle} aimed`;
  }),
  setLens: kind(z.looseObject({ scene: id, angle: id, focalMm: z.number().gt(0).max(3000) }), (s, a) => {
    angleOf(s, a.scene, a.angle).focalMm = a.focalMm;
    return `${a.angle}: ${a.focalMm} mm`;
  }),
  setCamera: kind(
    z.looseObject({ scene: id, angle: id.optional(), camera: CameraSettings.partial() }),
    (s, a) => {
      if (a.angle === undefined) Object.assign(sceneOf(s, a.scene).camera, a.camera);
      else {
        const angle = angleOf(s, a.scene, a.angle);
        angle.camera = { ...angle.camera, ...a.camera };
      }
      const c = a.camera;
      const parts = [
        c.stop === undefined ? '' : `T${c.stop}`,
        c.ei === undefined ? '' : `EI ${c.ei}`,
        c.class === undefined ? '' : `${c.class} camera`,
        c.whiteBalance === undefined
          ? ''
          : c.whiteBalance.kind === 'kelvin'
            ? `${c.whiteBalance.kelvin} K`
            : 'balanced on a card',
      ].filter(Boolean);
      return `Camera${where(a)}: ${parts.join(', ') || 'set'}`;
    },
  ),
  markMeant: kind(
    z.looseObject({
      scene: id,
      angle: id,
      kind: z.string().max(60),
      lamp: id.optional(),
      subject: z.string().max(80).optional(),
      word: z.string().max(200).optional(),
    }),
    (s, a) => {
      const { scene: _s, angle: _a, ...meant } = a;
      angleOf(s, a.scene, a.angle).meant.push(meant);
      return `Meant in ${a.angle}${a.word ? `: ${a.word}` : ''}`;
    },
  ),
  unmeant: kind(
    z.looseObject({
      scene: id,
      angle: id,
      kind: z.string(),
      lamp: id.optional(),
      subject: z.string().max(80).optional(),
    }),
    (s, a) => {
      const angle = angleOf(s, a.scene, a.angle);
      angle.meant = angle.meant.filter(
        (m) => !(m.kind === a.kind && m.lamp === a.lamp && m.subject === a.subject),
      );
      return `No longer meant in ${a.angle}`;
    },
  ),
  setHouseLoad: kind(z.looseObject({ place: id, circuit: id, load: id, on: z.boolean() }), (s, a) => {
    const load = there(
      there(s.places[a.place], `place ${a.place}`).supply.circuits[a.circuit]?.houseLoads[a.load],
      `house load ${a.load}`,
    );
    load.on = a.on;
    return `${load.words} ${a.on ? 'on' : 'off'}`;
  }),
  setCircuit: kind(z.looseObject({ place: id, circuit: id, changes: Circuit.partial() }), (s, a) => {
    Object.assign(there(s.places[a.place]?.supply.circuits[a.circuit], `circuit ${a.circuit}`), a.changes);
    return `Circuit ${a.circuit} told`;
  }),
  setSocketDead: kind(z.looseObject({ place: id, socket: id, dead: z.boolean() }), (s, a) => {
    there(s.places[a.place]?.supply.sockets[a.socket], `socket ${a.socket}`).dead = a.dead;
    return `Socket ${a.socket} ${a.dead ? 'is dead' : 'lives'}`;
  }),
  setFeed: kind(z.looseObject({ ...scene, lamp: id, feed: Feed.optional() }), (s, a) => {
    const l = lampOf(s, a.scene, a.lamp);
    if (a.feed) {
      const feed = { ...a.feed };
      if (feed.via === undefined) delete feed.via;
      there(s.places[sceneOf(s, a.scene).place]?.supply.sockets[feed.socket], `socket ${feed.socket}`);
      l.feed = feed;
    } else delete l.feed;
    return a.feed ? `${l.number} on ${a.feed.socket}` : `${l.number} unplugged`;
  }),
  setLead: kind(
    z.looseObject({ ...scene, lamp: id, index: z.number().int().min(0), coiled: z.boolean() }),
    (s, a) => {
      const l = lampOf(s, a.scene, a.lamp);
      there(l.feed?.leads[a.index], `lead ${a.index + 1} of ${l.number}`).coiled = a.coiled;
      return `Lead of ${l.number} ${a.coiled ? 'left wound' : 'unwound'}`;
    },
  ),
  readHead: kind(z.looseObject({ head: id, reading: HeadReading.optional() }), (s, a) => {
    const head = there(s.kit.lamps[a.head], `head ${a.head}`);
    if (a.reading) head.reading = a.reading;
    else delete head.reading;
    return a.reading ? `${a.head} corrected by a reading` : `${a.head} as its kind`;
  }),
  setFinish: kind(
    z.looseObject({ place: id, surface: z.enum(['walls', 'floor', 'ceiling']), finish: Finish }),
    (s, a) => {
      there(s.places[a.place], `place ${a.place}`)[a.surface] = a.finish;
      return `${a.surface}: ${a.finish.words ?? `reflectance ${a.finish.reflectance}`}`;
    },
  ),
  setWishes: kind(z.looseObject({ scene: id, angle: id, wishes: z.array(Wish).max(100) }), (s, a) => {
    angleOf(s, a.scene, a.angle).wishes = a.wishes;
    return `Wishes of ${a.angle}`;
  }),
  setExposureConstant: kind(z.looseObject({ constant: z.number().min(100).max(600) }), (s, a) => {
    s.exposureConstant = a.constant;
    return `Exposure constant ${a.constant}`;
  }),
  rename: kind(z.looseObject({ title: z.string().min(1).max(2000) }), (s, a) => {
    s.title = a.title;
    return `Called ${a.title}`;
  }),
} satisfies Record<string, EditKind>;

export type EditName = keyof typeof EDITS;

/** Applies one edit. Throws an EditError with a sentence if the name or the arguments do not fit. */
export function applyEdit(shoot: Shoot, edit: Edit): Edited {
  const found = (EDITS as Record<string, EditKind>)[edit.edit];
  if (!found || !Object.hasOwn(EDITS, edit.edit))
    throw new EditError(`There is no edit called ${edit.edit}.`);
  const args = found.args.safeParse(edit.args);
  if (!args.success) {
    const i = args.error.issues[0]!;
    throw new EditError(
      `${edit.edit}: ${i.path.join('.') || 'arguments'}: ${i.message.replace(/^Invalid input: /, '')}.`,
    );
  }
  let says = '';
  const [next, patches, inverse] = produceWithPatches(shoot, (draft) => {
    says = found.apply(draft as Shoot, args.data);
  });
  return { shoot: next, patches, inverse, says };
}

export const patched = (shoot: Shoot, patches: readonly Patch[]): Shoot =>
  applyPatches(shoot, patches as Patch[]);
