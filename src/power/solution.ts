/** What a power sheet says: the shape of the answers. */
import type { CircuitChecks } from './circuit.ts';
import type { Level } from './verdict.ts';

/** What one thing on the way carries. Plugs, fuses, plates, reels, flexes; also what stands ahead of the board. */
export interface DeviceAnswer {
  readonly id: string;
  readonly words: string;
  /** Circuit it belongs to; undefined ahead of the board. */
  readonly circuit: string | undefined;
  /** Solved amps: what flows once the volts have settled. */
  readonly currentA: number;
  /** Amps at nominal volts, added without phase: for ratings. */
  readonly nominalCurrentA: number;
  /** Amps at the worst volts: decides the level. */
  readonly planningCurrentA: number;
  readonly ratingA: number | undefined;
  /** What binds: rating, wound-up rating or planning cap, A. */
  readonly limitA: number | undefined;
  /** Nominal amps over that limit. */
  readonly share: number | undefined;
  /** Limit less planning amps, A; negative when over. */
  readonly marginA: number | undefined;
  readonly level: Level;
  readonly verdict: string;
}

/** A circuit's answer. */
export interface CircuitAnswer extends DeviceAnswer, CircuitChecks {
  /** Volts where its cable ends. */
  readonly endV: number | undefined;
  /** Ring legs, nominal amps; undefined off a ring or where not told. */
  readonly legsA: { readonly a: number; readonly b: number } | undefined;
}

/** One load's answer. `volts` undefined: no working point. */
export interface LoadAnswer {
  readonly id: string;
  readonly words: string;
  readonly circuit: string;
  readonly volts: number | undefined;
  readonly currentA: number | undefined;
  readonly nominalCurrentA: number;
  readonly planningCurrentA: number;
  /** Volts over rated volts: what light and warmth follow. */
  readonly voltsFactor: number | undefined;
  /** Lost between source and load, V and share of the source's volts. */
  readonly dropV: number | undefined;
  readonly dropShare: number | undefined;
  /** The same by nominal amps through every ohm on the way, V: a little too high for tungsten. */
  readonly nominalDropV: number;
  readonly level: Level;
  readonly verdict: string;
}

/** Everything a power sheet says. */
export interface Solution {
  readonly circuits: readonly CircuitAnswer[];
  readonly devices: readonly DeviceAnswer[];
  readonly loads: readonly LoadAnswer[];
  /** What stands ahead of the board, and a generator. */
  readonly upstream: readonly DeviceAnswer[];
  readonly sourceA: number;
  readonly nominalA: number;
  /** Worst of all amps, volts, sets, earth faults, leakage and wet loads; the surge stands apart. */
  readonly worst: Level;
  /** What nobody told or nobody can tell from paper: always printed. */
  readonly notChecked: readonly string[];
}
