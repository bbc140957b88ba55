/**
 * One thing more, found by typing and set down by a tap on the plan: a lamp on its stand, aimed and plugged in; a flag
 * or a frame in the beam that passes there; furniture at its wall; a person turned to the others. As named edits.
 */

import { kitLampById } from '../light/kitlamps.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { type BeamThing, beamThing, searchBeam } from '../shoot/cloths.ts';
import { headsOf } from '../shoot/editRoom.ts';
import { applyEdits, type Edit } from '../shoot/edits.ts';
import { kitKind } from '../shoot/kit.ts';
import { OPENING_KINDS, openingKind, searchOpenings, tellOpeningOf } from '../shoot/moreOpenings.ts';
import { roomKind, searchRooms, tellRoom } from '../shoot/moreRooms.ts';
import { figureOf, inPosture, searchFigures } from '../shoot/persons.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import { outlineOf, roomBy } from '../shoot/rooms.ts';
import type { Mark, Opening, Shoot, Support } from '../shoot/schema.ts';
import { searchKit } from '../shoot/searchKit.ts';
import { middleOf } from '../shoot/seatings.ts';
import { freeId, tellLamp, tellPerson, tellThing } from '../shoot/tell.ts';
import { roomThing, searchThings } from '../shoot/things.ts';
import { wallWord } from '../shoot/walls.ts';
import { ceilingOver } from '../stage/slope.ts';
import { feedOne } from './feedOne.ts';
import { groundOf } from './ground.ts';
import { underfoot } from './room.ts';

export interface Puttable {
  sort: 'lamp' | 'beam' | 'thing' | 'person' | 'room' | 'opening';
  id: string;
  words: string;
}

/** What is there to be put, by what was typed: lamps one owns first among lamps, each sort its few best. */
export function searchPuttable(shoot: Shoot, sceneId: string, text: string, limit = 8): Puttable[] {
  const region = shoot.places[shoot.scenes[sceneId]!.place]!.supply.region;
  const person = /^(?:person|people|somebody|someone|actor|figure|mark|one more)\b/i.test(text.trim());
  const openings = searchOpenings(text).map((o): Puttable => ({ sort: 'opening', id: o.id, words: o.words }));
  // A door is meant by “door”, a window by “win”; by “open” more likely a lamp.
  const typed = text.trim().toLowerCase();
  const named = typed.length > 2 && OPENING_KINDS.some((o) => o.words.startsWith(typed));
  const lists: Puttable[][] = [
    named ? openings : [],
    searchKit(text, { part: 'lamps', region, limit: 6 })
      .sort((a, b) => Number(headsOf(shoot, b.id).length > 0) - Number(headsOf(shoot, a.id).length > 0))
      .map((k) => ({ sort: 'lamp', id: k.id, words: k.words })),
    searchBeam(text, 5).map((t) => ({ sort: 'beam', id: t.id, words: t.words })),
    searchThings(text, 6).map((t) => ({ sort: 'thing', id: t.id, words: t.words })),
    searchRooms(text).map((r) => ({ sort: 'room', id: r.id, words: r.words })),
    (person ? searchFigures('of', 8) : searchFigures(text, 4)).map((f) => ({
      sort: 'person',
      id: f.id,
      words: f.words,
    })),
    named ? [] : openings,
  ];
  // In turn, so that no sort hides another.
  const out: Puttable[] = [];
  for (let i = 0; out.length < limit && i < limit; i++)
    for (const list of lists) if (list[i] && out.length < limit) out.push(list[i]!);
  return out;
}

export interface PutDown {
  ref: { kind: 'lamp' | 'flag' | 'furniture' | 'mark' | 'room' | 'opening'; id: string };
  edits: Edit[];
  /** What was done besides, or could not be; a clause each. */
  says: string[];
}

export function putDown(
  shoot: Shoot,
  ref: AngleRef,
  what: Puttable,
  tap: readonly [number, number],
): PutDown {
  const scene = shoot.scenes[ref.scene]!;
  const place = shoot.places[scene.place]!;
  const at: [number, number] = [round(tap[0]), round(tap[1])];
  switch (what.sort) {
    case 'thing': {
      const made = tellThing(place, scene.place, roomThing(what.id)!, at);
      return { ref: { kind: 'furniture', id: made.id }, edits: made.edits, says: [] };
    }
    case 'person': {
      const made = tellPerson(shoot, ref.scene, at);
      const own = figureOf(what.id)!;
      const args = made.edits[0]!.args as { mark: Mark };
      const { complexion: _c, top: _t, bottom: _b, ...bare } = args.mark;
      const mark = { ...bare, person: what.id, ...inPosture(place, args.mark, 'standing', what.id) };
      return {
        ref: { kind: 'mark', id: made.id },
        edits: [{ edit: 'addMark', args: { scene: ref.scene, id: made.id, mark } }],
        says: [`${own.words}, eyes at ${mark.eyeM!.toFixed(2)} m`],
      };
    }
    case 'room': {
      const made = tellRoom(place, scene.place, roomKind(what.id)!, at);
      return typeof made === 'string'
        ? { ref: { kind: 'room', id: '' }, edits: [], says: [made] }
        : { ref: { kind: 'room', id: made.id }, edits: made.edits, says: made.says };
    }
    case 'opening': {
      const made = tellOpeningOf(place, scene.place, openingKind(what.id)!, at);
      if (typeof made === 'string') return { ref: { kind: 'opening', id: '' }, edits: [], says: [made] };
      const o = (made.edits.at(-1)!.args as { opening: Opening }).opening;
      const wall = wallWord(outlineOf(place, o)!, o.wall, place.northDeg);
      const other = o.room === undefined ? undefined : place.rooms?.[o.room]?.name;
      return {
        ref: { kind: 'opening', id: made.id },
        edits: made.edits,
        says: [`in the ${wall} wall${other ? ` of the ${other}` : ''}`, 'an ordinary one: measure it'],
      };
    }
    case 'beam':
      return beam(shoot, ref, beamThing(what.id)!, at);
    default:
      return lamp(shoot, ref, what.id, at);
  }
}

const round = (v: number): number => +v.toFixed(2);
const NEAR_FACE_M = 0.9;

/** Eyes of the people of an angle, nearest to a point first. */
function faces(shoot: Shoot, ref: AngleRef, at: readonly [number, number]) {
  return Object.entries(shoot.scenes[ref.scene]!.marks)
    .filter(([, m]) => m.present === undefined || m.present.includes(ref.angle))
    .map(([id, m]) => ({
      id,
      eyes: [m.at[0], m.at[1], m.eyeM] as Vec3,
      d: Math.hypot(m.at[0] - at[0], m.at[1] - at[1]),
    }))
    .sort((a, b) => a.d - b.d);
}

/** Where a lamp's light comes by a point of the floor on its way to what it is aimed at; the one that comes nearest. */
function beamBy(shoot: Shoot, ref: AngleRef, at: readonly [number, number]) {
  let best: { number: string; from: Vec3; t: number; off: number; aim: Vec3 } | undefined;
  for (const l of Object.values(rigFor(shoot, ref).lamps)) {
    if (!l.on) continue;
    const [dx, dy] = [l.aim[0] - l.at[0], l.aim[1] - l.at[1]];
    const flat = dx * dx + dy * dy;
    if (flat < 0.01) continue;
    const t = Math.max(0.12, Math.min(0.95, ((at[0] - l.at[0]) * dx + (at[1] - l.at[1]) * dy) / flat));
    const off = Math.hypot(at[0] - l.at[0] - t * dx, at[1] - l.at[1] - t * dy);
    if (!best || off < best.off) best = { number: l.number, from: l.at as Vec3, t, off, aim: l.aim as Vec3 };
  }
  return best;
}

/** A beam is looked for so far to the side, metres. */
const BEAM_M = 1.5;

function beam(shoot: Shoot, ref: AngleRef, t: BeamThing, tap: readonly [number, number]): PutDown {
  const scene = shoot.scenes[ref.scene]!;
  const place = shoot.places[scene.place]!;
  const by = t.stands === 'before a lamp' ? beamBy(shoot, ref, tap) : undefined;
  const face = faces(shoot, ref, tap)[0];
  const half = t.sizeM[1] / 2;
  const ceiling = ceilingOver(place, tap[0], tap[1]) ?? 3;
  const within = (z: number) => round(Math.max(half + 0.03, Math.min(ceiling - half - 0.03, z)));
  let z = within(face ? face.eyes[2] : 1.5);
  let facing: Vec3 = face ? [face.eyes[0] - tap[0], face.eyes[1] - tap[1], 0] : [0, -1, 0];
  let says = face ? [`turned to ${face.id}`] : [];
  if (by && by.off < BEAM_M) {
    z = within(by.from[2] + by.t * (by.aim[2] - by.from[2]));
    // Square to the beam: its face looks back at the lamp.
    facing = [by.from[0] - tap[0], by.from[1] - tap[1], by.from[2] - z];
    says = [`square to lamp ${by.number}`];
  }
  if (Math.hypot(...facing) < 0.05) facing = [0, -1, 0];
  const length = Math.hypot(...facing);
  const id = freeId(scene.rig.flags, (t.pattern ?? t.id).slice(0, 1).toUpperCase());
  const flag = {
    words: t.words,
    at: [tap[0], tap[1], z],
    facing: facing.map((v) => +(v / length).toFixed(4)),
    sizeM: [...t.sizeM],
    kind: t.kind,
    ...(t.sheet === undefined ? {} : { sheet: t.sheet }),
    ...(t.finish === undefined ? {} : { finish: t.finish }),
    ...(t.pattern === undefined ? {} : { pattern: { kind: t.pattern } }),
    support: { kind: t.id.startsWith('hung') ? 'hung' : 'stand' },
  };
  return {
    ref: { kind: 'flag', id },
    edits: [{ edit: 'addFlag', args: { scene: ref.scene, id, flag } }],
    says: [...says, `middle ${z.toFixed(2)} m up`],
  };
}

/** Bare lamps and flames stand on what is there, or hang; the rest goes on a stand. */
const ON_ITS_FOOT = /^(bulb|led-bulb|led-filament|candle|led-flame|shade-lamp|torch|led-small)/;
const HANGS = /^(lantern|strip|tubes|bulkhead|street)/;

function lamp(shoot: Shoot, ref: AngleRef, kind: string, tap: readonly [number, number]): PutDown {
  const scene = shoot.scenes[ref.scene]!;
  const place = shoot.places[scene.place]!;
  const words = kitKind(kind)!.words;
  const edits: Edit[] = [];
  const says: string[] = [];

  // A head of the kit that no lamp of this rig burns; else one more is owned.
  const taken = new Set(Object.values(scene.rig.lamps).map((l) => l.head));
  let head = headsOf(shoot, kind).find((h) => !taken.has(h));
  let then = shoot;
  if (head === undefined) {
    const before = new Set(headsOf(shoot, kind));
    edits.push(...tellLamp(shoot, kind, before.size + 1));
    then = applyEdits(shoot, edits).shoot;
    head = headsOf(then, kind).find((h) => !before.has(h))!;
    says.push(before.size ? 'one more goes into the kit' : 'it goes into the kit');
  }

  // How it is held, and how high.
  const ground = groundOf(then, ref);
  const under = underfoot(place, tap[0], tap[1]);
  const ceiling = ceilingOver(place, tap[0], tap[1]);
  const face = faces(then, ref, tap)[0];
  const own = kitLampById(kind)!;
  let support: Support;
  let z: number;
  if (ON_ITS_FOOT.test(kind)) {
    support = { kind: 'foot', baseM: under.heightM, ...(under.on === undefined ? {} : { on: under.on }) };
    z = under.heightM + Math.max(0.08, own.housing.heightM / 2);
  } else if (HANGS.test(kind)) {
    support = { kind: 'hung' };
    z = (ceiling ?? 3) - 0.5;
  } else {
    support = ground.stand?.support ?? { kind: 'stand' };
    const [low, high] = ground.stand ? [ground.stand.lowestM, ground.stand.highestM] : [0.8, 2.6];
    const eyes = face?.eyes[2] ?? 1.5;
    z = Math.max(low, Math.min(high, (ceiling ?? 9) - 0.4, eyes + 0.7));
    if (!ground.stand) says.push('no stand of the kit is left: one is supposed');
  }
  const at: Vec3 = [tap[0], tap[1], round(z)];
  const no = ground.refuses(support, at).map((r) => r.why);
  if (no.length) says.push(`it cannot stay there: ${no.join('; ')}`);

  // What it looks at: the face that is nearest but not on top of it, else the middle of the room.
  const faced = faces(then, ref, tap).find((f) => f.d > NEAR_FACE_M) ?? face;
  const [mx, my] = middleOf(roomBy(place, tap).outline).at;
  let aim: Vec3 = faced && faced.d > 0.2 ? faced.eyes : [round(mx), round(my), 1.2];
  if (Math.hypot(aim[0] - at[0], aim[1] - at[1], aim[2] - at[2]) < 0.1) aim = [at[0], at[1] + 1, at[2]];
  if (faced && aim === faced.eyes) says.push(`aimed at ${faced.id}`);

  const numbers = new Set(Object.values(scene.rig.lamps).map((l) => l.number));
  let n = 1;
  while (numbers.has(String(n))) n++;
  const id = freeId(scene.rig.lamps, 'L');
  const fed = own.supply === 'mains' ? feedOne(then, ref.scene, at) : { gave: [] };
  says.push(...fed.gave);
  if ('feed' in fed && fed.feed) says.push(`on ${fed.feed.via ?? fed.feed.socket}`);
  edits.push({
    edit: 'addLamp',
    args: {
      scene: ref.scene,
      id,
      lamp: {
        head,
        number: String(n),
        words,
        on: true,
        at,
        aim,
        focus: 0,
        level: 1,
        scrims: [],
        sheets: [],
        support,
        ...(own.doors ? { doors: { top: 50, bottom: 60, left: 55, right: 55 } } : {}),
        ...('feed' in fed && fed.feed ? { feed: fed.feed } : {}),
      },
    },
  });
  return { ref: { kind: 'lamp', id }, edits, says };
}
