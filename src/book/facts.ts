/** What a book is made from: the shoot, what was read, pictures, the day; all handed in. */
import type { StandDrawing } from '../drawing/standHatch.ts';
import type { OutlineOf } from '../scheme/planFacts.ts';
import type { Read } from '../scheme/read.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot, Supply } from '../shoot/schema.ts';
import type { PaperName, Picture } from './page.ts';
import { type Units, unitsOf } from './units.ts';

export interface BookFacts {
  shoot: Shoot;
  /** Angles to be printed, in file order. */
  angles: readonly AngleRef[];
  /** By `keyOf`. An angle nobody has read prints without figures, and says so. */
  reads: ReadonlyMap<string, Read>;
  pictures: Readonly<Record<string, Picture>>;
  outlines: (ref: AngleRef) => OutlineOf;
  paper: PaperName;
  /** The day of printing, in words. */
  date: string;
  /** How many times the shoot has been printed or saved, and a short word for its content. */
  version: { number: number; word: string };
  /** Who the drawing is for; absent: a line to write on. */
  drawnFor?: string | undefined;
  /** Maps of the floor that somebody asked for; absent: none. */
  stands?: readonly StandOnPaper[];
}
/** Where one can stand in an angle, drawn in metres, with what it comes to in words. */
export interface StandOnPaper {
  ref: AngleRef;
  mark: string;
  drawing: StandDrawing;
  says: string;
}

export const keyOf = (ref: AngleRef): string => `${ref.scene}/${ref.angle}`;

export const regionOf = (shoot: Shoot, scene: string): Supply['region'] =>
  shoot.places[shoot.scenes[scene]!.place]?.supply.region ?? 'uk';
export const unitsFor = (f: BookFacts, scene: string): Units => unitsOf(f.shoot, regionOf(f.shoot, scene));
/** Scenes that any wanted angle belongs to, in file order. */
export const scenesOf = (f: BookFacts): string[] => [...new Set(f.angles.map((a) => a.scene))];
export const anglesIn = (f: BookFacts, scene: string): AngleRef[] =>
  f.angles.filter((a) => a.scene === scene);

/** The angle that is shot before, in file order; undefined for a scene's first. */
export function previousOf(shoot: Shoot, ref: AngleRef): AngleRef | undefined {
  const ids = Object.keys(shoot.scenes[ref.scene]?.angles ?? {});
  const before = ids[ids.indexOf(ref.angle) - 1];
  return before === undefined ? undefined : { scene: ref.scene, angle: before };
}
