/** What was read in one angle, as plain data: the same from the terminal's survey and from the program's workers. */
import type { Solution } from '../power/solve.ts';
import type { SpotReading } from '../readings/readAngle.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { LampWeight } from '../setup/angle.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Survey } from './survey.ts';
import type { Trouble } from './trouble.ts';

export interface Read {
  ref: AngleRef;
  marks: readonly MarkReading[];
  /** Marks whose face this angle sees. */
  facesSeen: readonly string[];
  spots: readonly SpotReading[];
  lamps: readonly LampWeight[];
  supply: Solution;
  exposure: { eRefLx: number; stop: number };
  balance: { cctK: number; duv: number; matrix: readonly number[] };
  /** By lamp: XYZ of its light on a perfect white. */
  whites: Readonly<Record<string, readonly [number, number, number] | undefined>>;
  troubles: readonly Trouble[];
  savingStop: number;
  quick: boolean;
  noiseStops: number;
  notes: readonly string[];
}

export function readOf(ref: AngleRef, s: Survey): Read {
  const whites: Record<string, [number, number, number]> = {};
  for (const lamp of s.angle.lamps) {
    const sum: [number, number, number] = [0, 0, 0];
    for (const l of lamp.layers) for (let c = 0; c < 3; c++) sum[c]! += s.weights.layers[l]!.white[c]!;
    whites[lamp.id] = sum;
  }
  return {
    ref,
    marks: s.reading.marks,
    facesSeen: s.angle.marks.filter((m) => m.part >= 0 && s.reading.seen.has(m.part)).map((m) => m.id),
    spots: s.reading.spots,
    lamps: s.weights.lamps,
    supply: s.supply,
    exposure: { eRefLx: s.exposure.eRefLx, stop: s.exposure.stop },
    balance: s.balance,
    whites,
    troubles: s.troubles,
    savingStop: s.savingStop,
    quick: s.reading.quick,
    noiseStops: s.reading.noiseStops,
    notes: s.notes,
  };
}
