/** A thing that can be found by typing its name and set down with a tap. */
import type { Finish } from './schema.ts';

export interface RoomThing {
  id: string;
  /** A body the stage can build. */
  kind: string;
  words: string;
  found: readonly string[];
  /** Width (local x), depth (local y), height, metres. */
  sizeM: readonly [number, number, number];
  finish: Finish;
  /** Of named parts that differ in an ordinary one. */
  finishes?: Readonly<Record<string, Finish>>;
  /** Which local side looks into the room when it stands at a wall: seats along +x, cases along −y; absent: stands free. */
  front?: 'x' | '-y';
  /** Lowest point over the floor, metres. */
  baseM?: number;
  detail?: Readonly<Record<string, number>>;
}
