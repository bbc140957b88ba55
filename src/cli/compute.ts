/**
 * What the commands ask of the physics: the one place where they meet. Every function says `NotThere` until the part
 * behind it stands; nothing is invented meanwhile.
 */
import type { Solution } from '../power/solve.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { Cure, Trouble } from '../scheme/trouble.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
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
export async function withCure(_shoot: Shoot, _cure: Cure): Promise<Shoot> {
  throw new NotThere('making the edit that a cure names');
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

/** The supply of a scene's place with its rig plugged in, solved; for one angle, its cheats included. */
export async function powerOf(
  _shoot: Shoot,
  _at: { scene: string; angle: string | undefined },
): Promise<{ solution: Solution; cautions: readonly string[] }> {
  throw new NotThere('amps and volts, from a shoot file');
}
