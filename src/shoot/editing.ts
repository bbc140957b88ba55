/** What every named edit is made of: its arguments, what it changes, how it speaks when it cannot. */
import { z } from 'zod';
import { type Angle, type Cheat, Id, type Place, type RigLamp, type Scene, type Shoot } from './schema.ts';

/** An edit that cannot be made; its message is a sentence for the person. */
export class EditError extends Error {
  override name = 'EditError';
}

export interface EditKind<S extends z.ZodType = z.ZodType> {
  args: S;
  /** Changes the draft and says in the past tense what was done. */
  apply(draft: Shoot, args: z.infer<S>): string;
}

/** An edit of exactly these arguments; a word that none of them has is refused, because it would be lost. */
export const kind = <S extends z.ZodRawShape>(
  args: S,
  apply: (draft: Shoot, a: z.infer<z.ZodObject<S, z.core.$strict>>) => string,
): EditKind<z.ZodObject<S, z.core.$strict>> => ({ args: z.strictObject(args), apply });

/** The name of something that is there already. */
export const id = z.string().min(1).max(60);
/** A name for something new. */
export const newId = Id.refine(
  (s) => !(s in Object.prototype) && s !== 'prototype',
  'is no name for a thing',
);
const metre = z.number().min(-1000).max(1000);
export const vec = z.tuple([metre, metre, metre]);
export const floorPoint = z.tuple([metre, metre]);
export const share = z.number().min(0).max(1);
/** With `angle` the edit is a cheat of that angle alone, without it the rig in every angle. */
export const lampAt = { scene: id, angle: id.optional(), lamp: id };

export function there<T>(v: T | undefined, what: string): T {
  if (v === undefined) throw new EditError(`There is no ${what}.`);
  return v;
}
/** An own entry of a record, never something every object has. */
export const own = <T>(group: Record<string, T> | undefined, key: string): T | undefined =>
  group !== undefined && Object.hasOwn(group, key) ? group[key] : undefined;

export const sceneOf = (s: Shoot, scene: string): Scene => there(own(s.scenes, scene), `scene ${scene}`);
export const angleOf = (s: Shoot, scene: string, angle: string): Angle =>
  there(own(sceneOf(s, scene).angles, angle), `angle ${angle}`);
export const lampOf = (s: Shoot, scene: string, lamp: string): RigLamp =>
  there(own(sceneOf(s, scene).rig.lamps, lamp), `lamp ${lamp}`);
export const placeOf = (s: Shoot, place: string): Place => there(own(s.places, place), `place ${place}`);

export const fixed = (v: number, digits = 2): string => v.toFixed(digits);
export const where = (a: { angle?: string | undefined }): string =>
  a.angle === undefined ? '' : ` in ${a.angle}`;

interface LampArgs {
  scene: string;
  angle?: string | undefined;
  lamp: string;
}

/** The lamp as it stands where the edit speaks of it. */
export function now(s: Shoot, a: LampArgs): RigLamp {
  const lamp = lampOf(s, a.scene, a.lamp);
  const cheat = a.angle === undefined ? undefined : own(angleOf(s, a.scene, a.angle).cheats, a.lamp);
  return { ...lamp, ...cheat } as RigLamp;
}

/** Changes a lamp in the rig, or lays the change over it for one angle; a cheat equal to the rig is dropped. */
export function change(s: Shoot, a: LampArgs, changes: Partial<Cheat>): void {
  const lamp = lampOf(s, a.scene, a.lamp);
  const after = { ...now(s, a), ...changes } as RigLamp;
  apart(after.at, after.aim, `Lamp ${after.number} would stand where it aims: choose a point further off.`);
  if (a.angle === undefined) {
    // What is as it was is no change: a drag that ends where it began is no step.
    Object.assign(lamp, differing(changes, lamp));
    return;
  }
  const cheats = angleOf(s, a.scene, a.angle).cheats;
  const cheat = differing({ ...own(cheats, a.lamp), ...changes }, lamp);
  if (Object.keys(cheat).length) cheats[a.lamp] = cheat as Cheat;
  else delete cheats[a.lamp];
}

/** Angles that keep their own while the rig's changes: “; OB, W1 hold”. Nothing where the edit is an angle's. */
export function holds(s: Shoot, a: LampArgs, key: keyof Cheat): string {
  if (a.angle !== undefined) return '';
  const own = holders(sceneOf(s, a.scene), a.lamp, [key]);
  return own.length ? `; ${own.join(', ')} ${own.length > 1 ? 'hold' : 'holds'}` : '';
}

/** Angles that cheat any of these of a lamp, in order. */
export const holders = (scene: Pick<Scene, 'angles'>, lamp: string, keys: readonly string[]): string[] =>
  Object.entries(scene.angles)
    .filter(([, angle]) => keys.some((k) => own(angle.cheats, lamp)?.[k] !== undefined))
    .map(([name]) => name);

/** What differs from `plain`, key by key. */
export function differing(laid: Record<string, unknown>, plain: object): Record<string, unknown> {
  const out: Record<string, unknown> = {};
  for (const [key, v] of Object.entries(laid))
    if (v !== undefined && JSON.stringify(v) !== JSON.stringify((plain as Record<string, unknown>)[key]))
      out[key] = v;
  return out;
}

/** A direction needs two points. */
export function apart(a: readonly number[], b: readonly number[], says: string): void {
  if (Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!) < 0.01) throw new EditError(says);
}

/** Puts a thing into a record, or (undefined) takes it out; says which. */
export function putOrTake<T>(
  group: Record<string, T>,
  key: string,
  thing: T | undefined,
  what: string,
): string {
  const known = own(group, key) !== undefined;
  if (thing === undefined) {
    there(own(group, key), what);
    delete group[key];
    return `${what} taken away`;
  }
  if (!known && !newId.safeParse(key).success)
    throw new EditError(`“${key}” cannot be a name: a letter first, then letters, digits, - or _.`);
  group[key] = thing;
  return `${what} ${known ? 'changed' : 'added'}`;
}
