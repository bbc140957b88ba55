/** What a hand on the plan knows of the place: walls, what can be clamped to, where a lamp cannot be and why. */
import type { Support } from '../shoot/schema.ts';
import type { Point } from './display.ts';

/** Metres: x east, y north, z up. */
export type Vec = readonly [number, number, number];

/** A beam, rail, pipe, gantry or cupboard that a clamp holds to: middle line of its lower face. */
export interface Holder {
  id: string;
  words: string;
  from: Vec;
  to: Vec;
}

export interface Ground {
  /** Corners of the floor, counter-clockwise. */
  outline: readonly Point[];
  /** Of what other rooms there are. */
  rooms?: readonly (readonly Point[])[];
  holders: readonly Holder[];
  /** Why a lamp so held cannot be there, each reason with its kind; empty: it can. */
  refuses: (support: Support, at: Vec) => readonly { kind: string; why: string }[];
  /** Top of what a foot of its own would stand on there, metres over the floor. */
  restsOn: (at: Point) => { on?: string; heightM: number };
  /** Of the kit and held by no lamp of the rig; undefined: none is left. */
  clamp: Support | undefined;
  stand: { support: Support; lowestM: number; highestM: number } | undefined;
}

/** Where a hand is, and how near things must be to draw it to them. */
export interface Touch {
  to: Point;
  /** Up the screen since the hand went down, pixels. */
  upPx: number;
  /** Without steps and without being drawn to anything. */
  free: boolean;
  /** How far walls and beams draw it, metres. */
  reachM: number;
}
