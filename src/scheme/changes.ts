/**
 * What changes from one angle to the next, lamp by lamp: keep, move, set, add, strike; flags likewise. Pure, from the
 * rigs that two angles have; applied to the first, the changes give the second.
 */
import { type AngleRef, type RigForAngle, rigFor } from '../shoot/rigFor.ts';
import type { RigFlag, RigLamp, Shoot } from '../shoot/schema.ts';
import { windOf } from './compass.ts';

/**
 * keep: not touched. move: its stand goes elsewhere. set: touched where it stands. add: burns now. strike: goes out.
 * out: burns in neither.
 */
export type ChangeAct = 'keep' | 'move' | 'set' | 'add' | 'strike' | 'out';

export interface LampChange {
  lamp: string;
  number: string;
  act: ChangeAct;
  /** What is done, each a few words: “0.60 m north-east”, “to 50 %”. Empty for keep and out. */
  says: string[];
  /** The fields that differ, as they are now; a field that went is undefined. */
  now: Partial<Record<keyof RigLamp, unknown>>;
}
export interface FlagChange {
  flag: string;
  act: 'keep' | 'add' | 'strike';
  words: string;
}
export interface AngleChanges {
  from: AngleRef | undefined;
  to: AngleRef;
  lamps: LampChange[];
  flags: FlagChange[];
  /** Settings of the camera that differ, in words. */
  camera: string[];
}

const burns = (l: RigLamp) => l.on && l.level > 0;
const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
const metres = (v: number) => `${v.toFixed(2)} m`;
const percent = (v: number) => `${Math.round(v * 100)} %`;
const RAD = Math.PI / 180;

/** What a length reads as; the shoot's units decide. */
export type LengthWords = (m: number) => string;

/** From `from` (undefined: nothing stands yet) to `to`, both of one scene. */
export function changesBetween(
  shoot: Shoot,
  from: AngleRef | undefined,
  to: AngleRef,
  length: LengthWords = metres,
): AngleChanges {
  const after = rigFor(shoot, to);
  const before = from && from.scene === to.scene ? rigFor(shoot, from) : undefined;
  const northDeg = shoot.places[after.scene.place]?.northDeg ?? 0;
  return {
    from: before ? from : undefined,
    to,
    lamps: Object.entries(after.lamps).map(([id, now]) =>
      lampChange(id, before?.lamps[id], now, { northDeg, length, rig: after }),
    ),
    flags: flagChanges(before, after),
    camera: before ? cameraChanges(before, after) : [],
  };
}

interface Telling {
  northDeg: number;
  length: LengthWords;
  rig: RigForAngle;
}

function lampChange(id: string, was: RigLamp | undefined, is: RigLamp, t: Telling): LampChange {
  const now: LampChange['now'] = {};
  for (const key of new Set([...Object.keys(was ?? {}), ...Object.keys(is)]) as Set<keyof RigLamp>)
    if (!same(was?.[key], is[key])) now[key] = is[key];
  const number = is.number;
  if (!burns(is)) {
    const act = was && burns(was) ? 'strike' : 'out';
    return { lamp: id, number, act, says: act === 'strike' ? ['out'] : [], now };
  }
  if (!was || !burns(was))
    return { lamp: id, number, act: 'add', says: was ? addSays(was, is, t) : [standsWords(is, t)], now };
  const says = touches(was, is, t);
  const moved = !same(was.at, is.at) || !same(was.support, is.support);
  return { lamp: id, number, act: says.length === 0 ? 'keep' : moved ? 'move' : 'set', says, now };
}

const standsWords = (l: RigLamp, t: Telling): string =>
  l.support.words ?? (l.support.kind === 'stand' ? `stand, ${t.length(l.at[2])} high` : l.support.kind);

const addSays = (was: RigLamp, is: RigLamp, t: Telling): string[] => {
  const touched = touches({ ...was, on: is.on, level: is.level } as RigLamp, is, t);
  return [`on at ${percent(is.level)}`, ...touched];
};

/** Everything done to a lamp between two states, in the order a hand does it. */
function touches(was: RigLamp, is: RigLamp, t: Telling): string[] {
  const says: string[] = [];
  const [dx, dy, dz] = [is.at[0] - was.at[0], is.at[1] - was.at[1], is.at[2] - was.at[2]];
  const flat = Math.hypot(dx, dy);
  if (!same(was.support, is.support))
    says.push(
      is.support.words ??
        `${is.support.kind === 'stand' ? 'on its stand' : is.support.kind}${is.support.on ? ` on ${is.support.on}` : ''}`,
    );
  if (flat >= 0.005) says.push(`${t.length(flat)} ${windOf(dx, dy, t.northDeg)}`);
  if (Math.abs(dz) >= 0.005) says.push(`${dz > 0 ? 'up' : 'down'} ${t.length(Math.abs(dz))}`);
  if (!same(was.aim, is.aim)) says.push(aimWords(was, is, t));
  if (was.rollDeg !== is.rollDeg) says.push(`rolled to ${Math.round(is.rollDeg ?? 0)}°`);
  if (was.focus !== is.focus)
    says.push(`${is.focus > was.focus ? 'spot in' : 'flood out'} to ${percent(is.focus)} spot`);
  if (!same(was.doors, is.doors))
    says.push(
      is.doors
        ? `doors top ${Math.round(is.doors.top)}°, bottom ${Math.round(is.doors.bottom)}°, left ${Math.round(is.doors.left)}°, right ${Math.round(is.doors.right)}°`
        : 'doors off',
    );
  if (!same(was.scrims, is.scrims))
    says.push(is.scrims.length ? `scrims: ${is.scrims.join(', ')}` : 'scrims out');
  if (!same(was.sheets, is.sheets))
    says.push(
      is.sheets.length
        ? `in the beam: ${is.sheets.map((s) => s.replaceAll('-', ' ')).join(', ')}`
        : 'all sheets off',
    );
  if (was.level !== is.level) says.push(`${is.level > was.level ? 'up' : 'down'} to ${percent(is.level)}`);
  // What no words above cover (a key of a newer program) is still told.
  if (says.length === 0) {
    const keys = Object.keys({ ...was, ...is }).filter(
      (k) => !same(was[k as keyof RigLamp], is[k as keyof RigLamp]) && !['at', 'on'].includes(k),
    );
    if (keys.length) says.push(`changed: ${keys.join(', ')}`);
  }
  return says;
}

/** At a face or a spot by its name, else by the turn of the head. */
function aimWords(was: RigLamp, is: RigLamp, t: Telling): string {
  for (const [id, m] of Object.entries(t.rig.scene.marks))
    if (Math.hypot(is.aim[0] - m.at[0], is.aim[1] - m.at[1], is.aim[2] - m.eyeM) < 0.25)
      return `aim at ${id}’s face`;
  for (const s of Object.values(t.rig.scene.spots))
    if (Math.hypot(is.aim[0] - s.at[0], is.aim[1] - s.at[1], is.aim[2] - s.at[2]) < 0.15)
      return `aim at ${s.name}`;
  const turn = (l: RigLamp) => Math.atan2(l.aim[1] - l.at[1], l.aim[0] - l.at[0]) / RAD;
  const tilt = (l: RigLamp) =>
    Math.atan2(l.at[2] - l.aim[2], Math.hypot(l.aim[0] - l.at[0], l.aim[1] - l.at[1])) / RAD;
  const round = ((((turn(is) - turn(was) + 540) % 360) + 360) % 360) - 180;
  const lower = tilt(is) - tilt(was);
  const parts = [];
  if (Math.abs(round) >= 0.5)
    parts.push(`turned ${Math.round(Math.abs(round))}° ${round > 0 ? 'left' : 'right'}`);
  if (Math.abs(lower) >= 0.5)
    parts.push(`tilted ${Math.round(Math.abs(lower))}° ${lower > 0 ? 'down' : 'up'}`);
  return parts.length ? parts.join(', ') : 'aimed anew';
}

const flagWords = (f: RigFlag, id: string) =>
  `${f.kind.replace('-', ' ')} ${id}${f.words ? `, ${f.words}` : ''}`;

function flagChanges(before: RigForAngle | undefined, after: RigForAngle): FlagChange[] {
  const out: FlagChange[] = [];
  for (const [id, f] of Object.entries(before?.flags ?? {}))
    if (!after.flags[id]) out.push({ flag: id, act: 'strike', words: flagWords(f, id) });
  for (const [id, f] of Object.entries(after.flags))
    out.push({ flag: id, act: before?.flags[id] ? 'keep' : 'add', words: flagWords(f, id) });
  return out;
}

function cameraChanges(before: RigForAngle, after: RigForAngle): string[] {
  const [a, b] = [before.camera, after.camera];
  const says: string[] = [];
  if (before.angle.focalMm !== after.angle.focalMm) says.push(`lens ${after.angle.focalMm} mm`);
  if (a.stop !== b.stop) says.push(`T${b.stop}`);
  if (a.ei !== b.ei) says.push(`EI ${b.ei}`);
  if (!same(a.shutter, b.shutter) || a.fps !== b.fps) says.push('shutter or speed');
  if (a.ndDensity !== b.ndDensity) says.push(`ND ${b.ndDensity ?? 0}`);
  if (!same(a.whiteBalance, b.whiteBalance))
    says.push(
      b.whiteBalance.kind === 'kelvin'
        ? `white balance ${b.whiteBalance.kelvin} K`
        : 'white balance on a card',
    );
  return says;
}

/** The lamps after the changes: the law that a change list must keep. */
export function applyChanges(
  lamps: Readonly<Record<string, RigLamp>>,
  changes: readonly LampChange[],
): Record<string, RigLamp> {
  const out: Record<string, RigLamp> = {};
  for (const c of changes) {
    const lamp: Record<string, unknown> = { ...lamps[c.lamp], ...c.now };
    for (const [k, v] of Object.entries(c.now)) if (v === undefined) delete lamp[k];
    out[c.lamp] = lamp as RigLamp;
  }
  return out;
}
