/** What a builder of furniture is given, and how a thing is told. */
import type { Vec3 } from '../../maths/vec3.ts';
import type { FinishSpec } from '../finish.ts';
import type { Draft } from '../mesh.ts';

/** A thing's own triangles, as they are kept. */
export interface ShapeSpec {
  /** Unsigned 16-bit, three a corner: shares of the box. */
  corners: Uint16Array;
  /** Three corners a triangle, part by part. */
  triangles: Uint16Array;
  parts: readonly { part: string; triangles: number }[];
}

/** A piece of furniture as told. */
export interface FurnitureSpec {
  /** Part id without its prefix. */
  id: string;
  words: string;
  kind: string;
  /** Middle of its footprint at its lowest point, metres. */
  at: Vec3;
  /** Width (local x), depth (local y), height, metres. */
  sizeM: Vec3;
  /** About the vertical, counter-clockwise seen from above. Seats look along local +x, cased things along local −y. */
  turnDeg?: number;
  finish: FinishSpec;
  /** Of named parts that differ. */
  finishes?: Readonly<Record<string, FinishSpec>>;
  /** Measures a kind needs, metres or counts. */
  detail?: Readonly<Record<string, number>>;
  /** Drawn elsewhere: its own triangles in place of what its kind would build. */
  shape?: ShapeSpec;
}

/** A rectangle cut through a flat thing, local metres: x0, y0, x1, y1. */
export type Cut = readonly [number, number, number, number];

/** What a builder works with. */
export interface Work {
  d: Draft;
  /** Width, depth, height, metres; the frame stands in the middle of the footprint. */
  w: number;
  deep: number;
  h: number;
  /**
   * Slot of a named part's finish, or of the main one; `usual` gloss where the finish tells none. `tone`: so many times
   * as light, for boards of one wood, pages, books: their mean is what is told.
   */
  slot: (part?: string, usual?: { glossF0: number; roughness: number }, tone?: number) => number;
  detail: (name: string, otherwise: number) => number;
  /** Cut-outs that other things ask for (a worktop over a sink). */
  cuts: readonly Cut[];
  /** Height over its own foot of the surface laid over it (a sink under a worktop), metres. */
  coverM?: number;
}

/** Draws one kind of thing into a draft. */
export type Builder = (work: Work) => void;
