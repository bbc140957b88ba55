/** What the finders of trouble look at: one angle, measured, weighted, read and seen. */

import type { Clipped } from '../readings/readAngle.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { SeenPart } from '../readings/seen.ts';
import type { AngleGeometry, AngleWeights } from '../setup/angle.ts';
import type { Place, Shoot } from '../shoot/schema.ts';

export interface SchemeContext {
  shoot: Shoot;
  place: Place;
  angle: AngleGeometry;
  weights: AngleWeights;
  marks: MarkReading[];
  /** By part number of the stage. */
  seen: ReadonlyMap<number, SeenPart>;
  /** By lamp: its luminous face is itself in frame; greatest luminance, cd/m², and share of the frame. */
  glow: ReadonlyMap<string, { share: number; luminance: number }>;
  /** By lamp: direct light on the lens turned to it, lux. */
  lensLx: ReadonlyMap<string, number>;
  /** By spot: light there, lux, and whether this angle sees it. */
  spots: ReadonlyMap<string, { lx: number; seen: boolean }>;
  /** By part: share of the frame in which it is over the clip; greatest stops over grey. */
  clipped: ReadonlyMap<number, Clipped>;
  eRefLx: number;
  stop: number;
  clipStops: number;
  floorStops: number;
}
