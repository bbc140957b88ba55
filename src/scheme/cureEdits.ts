/** Cures as edits in data: the one place that knows the edits' names and arguments. */
import type { Vec3 } from '../maths/vec3.ts';
import type { Idea } from './trouble.ts';

/** Whom an act touches: one angle, or without it the rig in every angle. */
export interface Where {
  scene: string;
  angle?: string;
}

export const only = (w: Where): string => (w.angle === undefined ? 'in every angle' : `${w.angle} only`);

const round = (v: Vec3): Vec3 => [+v[0].toFixed(3), +v[1].toFixed(3), +v[2].toFixed(3)];
const lampArgs = (w: Where, lamp: string) => ({
  scene: w.scene,
  ...(w.angle === undefined ? {} : { angle: w.angle }),
  lamp,
});
const idea = (
  edit: string,
  args: Record<string, unknown>,
  act: string,
  scope: string,
  needs?: string,
): Idea => ({ edit, args, act, scope, ...(needs === undefined ? {} : { needs }) });

export const carry = (w: Where, lamp: string, at: Vec3, act: string): Idea =>
  idea('moveLamp', { ...lampArgs(w, lamp), to: round(at) }, act, only(w));

export const aimAt = (w: Where, lamp: string, at: Vec3, act: string): Idea =>
  idea('aimLamp', { ...lampArgs(w, lamp), at: round(at) }, act, only(w));

export const putOut = (w: Where, lamp: string, act: string): Idea =>
  idea('switchLamp', { ...lampArgs(w, lamp), on: false }, act, only(w));

export const light = (w: Where, lamp: string, act: string): Idea =>
  idea('switchLamp', { ...lampArgs(w, lamp), on: true }, act, only(w));

export const cheat = (
  w: Where & { angle: string },
  lamp: string,
  changes: Record<string, unknown>,
  act: string,
): Idea => idea('cheatLamp', { ...lampArgs(w, lamp), changes }, act, only(w));

export const otherHead = (scene: string, lamp: string, head: string, act: string): Idea =>
  idea('setLamp', { scene, lamp, head }, act, 'in every angle');

export const burn = (w: Where, lamp: string, number: string, to: number): Idea =>
  idea(
    'setLevel',
    { ...lampArgs(w, lamp), level: +to.toFixed(3) },
    `Burn ${number} at ${(to * 100).toFixed(0)} %`,
    only(w),
  );

export const spot = (w: Where, lamp: string, number: string, focus: number): Idea =>
  idea(
    'focusLamp',
    { ...lampArgs(w, lamp), focus: +focus.toFixed(2) },
    `Spot ${number} in to ${(focus * 100).toFixed(0)} %`,
    only(w),
  );

export const peg = (w: Where, lamp: string, sheets: readonly string[], act: string, needs?: string): Idea =>
  idea('setSheets', { ...lampArgs(w, lamp), sheets: [...sheets] }, act, only(w), needs);

export const scrim = (w: Where, lamp: string, scrims: readonly string[], act: string, needs?: string): Idea =>
  idea('setScrims', { ...lampArgs(w, lamp), scrims: [...scrims] }, act, only(w), needs);

export const doors = (w: Where, lamp: string, to: unknown, act: string): Idea =>
  idea('setDoors', { ...lampArgs(w, lamp), doors: to }, act, only(w));

export const hold = (w: Where, lamp: string, changes: Record<string, unknown>, act: string): Idea =>
  w.angle === undefined
    ? idea('setSupport', { scene: w.scene, lamp, support: changes.support }, act, only(w))
    : idea('cheatLamp', { scene: w.scene, angle: w.angle, lamp, changes }, act, only(w));

export interface Hung {
  at: Vec3;
  facing: Vec3;
  sizeM: [number, number];
  words: string;
  kind: 'flag' | 'board';
  holds: string;
}
export const hang = (w: Where, id: string, flag: Hung, act: string, needs: string): Idea =>
  idea(
    'addFlag',
    {
      scene: w.scene,
      id,
      flag: {
        words: flag.words,
        at: round(flag.at),
        facing: round(flag.facing),
        sizeM: flag.sizeM.map((s) => +s.toFixed(2)),
        kind: flag.kind,
        finish: { words: 'black velvet', reflectance: 0.01 },
        ...(w.angle === undefined ? {} : { angles: [w.angle] }),
        support: { kind: 'hung', words: flag.holds },
      },
    },
    act,
    only(w),
    needs,
  );

/** A flag taken out of one angle: it stays for the others. */
export const flagOut = (
  w: Where & { angle: string },
  flag: string,
  others: readonly string[],
  act: string,
): Idea =>
  others.length
    ? idea('setFlag', { scene: w.scene, flag, changes: { angles: [...others] } }, act, only(w))
    : idea('removeFlag', { scene: w.scene, flag }, act, only(w));

export const shiftFlag = (scene: string, flag: string, to: Vec3, act: string): Idea =>
  idea('moveFlag', { scene, flag, to: round(to) }, act, 'wherever it hangs');

export const turnFace = (w: Where, mark: string, deg: number, act: string): Idea =>
  idea(
    'turnMark',
    { scene: w.scene, mark, ...(w.angle === undefined ? {} : { angle: w.angle }), byDeg: +deg.toFixed(1) },
    act,
    only(w),
  );

export const moveLens = (w: Where & { angle: string }, to: Vec3, act: string): Idea =>
  idea('moveCamera', { scene: w.scene, angle: w.angle, to: round(to) }, act, only(w));

export const setCamera = (w: Where, camera: Record<string, unknown>, act: string): Idea =>
  idea(
    'setCamera',
    { scene: w.scene, ...(w.angle === undefined ? {} : { angle: w.angle }), camera },
    act,
    only(w),
  );

export const houseLoadOff = (place: string, circuit: string, load: string, act: string): Idea =>
  idea('setHouseLoad', { place, circuit, load, on: false }, act, '');

export const plugInto = (
  w: { scene: string },
  lamp: string,
  feed: unknown,
  act: string,
  needs?: string,
): Idea => idea('setFeed', { scene: w.scene, lamp, feed }, act, '', needs);

export const unwind = (w: { scene: string }, lamp: string, index: number, act: string): Idea =>
  idea('setLead', { scene: w.scene, lamp, index, coiled: false }, act, '');

export const paneSheets = (place: string, opening: string, panes: readonly string[], act: string): Idea =>
  idea(
    'setPanes',
    { place, opening, panes: [...panes] },
    act,
    'in every angle',
    'neutral sheets for the glass',
  );
