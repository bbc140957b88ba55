/** What a head of a kind is: its light, its size, what it draws. */
import type { Beam, BeamEnd } from './beam.ts';
import type { SourceKind } from './source.ts';

/** Luminous opening, true size, metres. */
export type EmitterSize =
  | { kind: 'disc'; diameterM: number }
  | { kind: 'rectangle'; widthM: number; heightM: number }
  | { kind: 'tube'; lengthM: number; diameterM: number }
  | { kind: 'sphere'; diameterM: number };

export interface KitLamp {
  id: string;
  words: string;
  source: SourceKind;
  cctK: number;
  /** A bi-colour head's range. */
  cctRangeK?: readonly [number, number];
  /** Real power, W. */
  watts: number;
  /** watts / VA. */
  powerFactor: number;
  supply: 'mains' | 'battery' | 'none';
  /** Volts it is rated for; a filament's light depends on it. 0: no mains. */
  ratedV: number;
  /** Lumens of the bare lamp inside, for the energy check; undefined: not known. */
  bareLm?: number;
  emitter: EmitterSize;
  /** Housing box, metres: across, up, along the axis. */
  housing: { widthM: number; heightM: number; depthM: number };
  massKg: number;
  /** A head that focuses between two ends, or one fixed beam. */
  optics: { kind: 'focus'; spot: BeamEnd; flood: BeamEnd } | { kind: 'fixed'; beam: Beam };
  /** Half-width of a 90 % interval on its candela, stops. */
  bandStops: number;
  /** Class I: metal parts on the earth wire. Undefined: not known. */
  classI?: boolean;
  /** Switch-on current: cold filament, capacitor, gear. Times the running current; planning values from memory. */
  inrush: { kind: 'filament' | 'capacitor' | 'gear' | 'none'; times?: number };
  /** May its light go up and down by changing the mains voltage? */
  dimsByVoltage: boolean;
  /** Half of peak-to-peak over mean of its light at twice the mains frequency; undefined: not known. */
  ripple?: number;
  /** Has it a slot for scrims and doors? */
  doors: boolean;
  note?: string;
}
