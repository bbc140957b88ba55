/**
 * What the commands ask of the physics: the one place where they meet. Every function says `NotThere` until the part
 * behind it stands; nothing is invented meanwhile.
 */
import type { Solution } from '../power/solve.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { Cure, Trouble } from '../scheme/trouble.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { BadUse } from './command.ts';

/** A part of the program that does not stand yet: said plainly, exit status 2. */
export class NotThere extends BadUse {
  constructor(what: string) {
    super([`This part of Rushlight is not built yet: ${what}.`]);
  }
}

/** How to compute: which chance, how long, and whom to tell how far it is. */
export interface Effort {
  seed: number;
  /** Paths from every point; undefined: until settled. */
  paths: number | undefined;
  progress: (share: number, words?: string) => void;
}

/** One angle, read. */
export interface Told {
  ref: AngleRef;
  marks: readonly MarkReading[];
  /** Worst first. */
  troubles: readonly Trouble[];
  /** What could not be built as asked, what is quick only, in words. */
  notes: readonly string[];
}

export async function tellAngle(_shoot: Shoot, _ref: AngleRef, _effort: Effort): Promise<Told> {
  throw new NotThere('light on faces, from a shoot file');
}

/** The document with a cure's edit made. */
export async function withCure(shoot: Shoot, cure: Cure): Promise<Shoot> {
  const { applyEdit, EditError } = await import('../shoot/edits.ts');
  try {
    return applyEdit(shoot, cure).shoot;
  } catch (error) {
    if (error instanceof EditError) throw new BadUse([`The cure cannot be made: ${error.message}`]);
    throw error;
  }
}

/** A picture as the camera would show it. */
export interface Picture {
  width: number;
  height: number;
  /** 3 × width × height bytes, sRGB encoded, top row first. */
  rgb: Uint8Array;
  notes: readonly string[];
}

export async function pictureOf(
  _shoot: Shoot,
  _ref: AngleRef,
  _size: { width: number; height: number; stops: boolean },
  _effort: Effort,
): Promise<Picture> {
  throw new NotThere('pictures of an angle, from a shoot file');
}

/** A solved supply. */
export interface Supplied {
  solution: Solution;
  cautions: readonly string[];
  /** Lamps that could not be counted, in words. */
  uncounted: readonly string[];
}

/** The supply of a scene's place with its rig plugged in, solved; for one angle, its cheats included. */
export async function powerOf(
  shoot: Shoot,
  at: { scene: string; angle: string | undefined },
): Promise<Supplied> {
  const { networkOf } = await import('../setup/network.ts');
  const { kindOf, loadOf } = await import('../setup/lamps.ts');
  const { solve } = await import('../power/solve.ts');
  const { cautions } = await import('../power/caution.ts');
  const scene = shoot.scenes[at.scene]!;
  const place = shoot.places[scene.place]!;
  const lamps =
    at.angle === undefined ? scene.rig.lamps : rigFor(shoot, { scene: at.scene, angle: at.angle }).lamps;
  const uncounted: string[] = [];
  const network = networkOf(place, shoot.kit, lamps, scene.rig.multiways, (id) => {
    const lamp = lamps[id]!;
    const head = shoot.kit.lamps[lamp.head];
    const kind = kindOf(head);
    if (head && kind) return loadOf(lamp, head, kind);
    uncounted.push(
      `lamp ${lamp.number} (${lamp.head}): of no kind that is known, so its watts are not counted`,
    );
    return undefined;
  });
  return { solution: solve(network), cautions: cautions(network), uncounted };
}
