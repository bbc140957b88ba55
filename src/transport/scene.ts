/**
 * What a tracer is given: a stage and the lights in it, with no colour. Light is kept apart by layer; a
 * layer's photometric weight and spectrum enter later (setup, picture), so that a dimmer traces nothing.
 */
import type { Beam } from '../light/beam.ts';
import type { Vec3 } from '../maths/vec3.ts';
import type { Stage } from '../stage/stage.ts';

/** A luminous surface of true size. `axis`: unit vector the beam points along; `up`: unit, at right angles to it. */
export type EmitterShape =
  | { kind: 'disc'; centre: Vec3; axis: Vec3; up: Vec3; radiusM: number }
  | { kind: 'rectangle'; centre: Vec3; axis: Vec3; up: Vec3; widthM: number; heightM: number }
  | { kind: 'tube'; from: Vec3; to: Vec3; radiusM: number }
  | { kind: 'sphere'; centre: Vec3; axis: Vec3; up: Vec3; radiusM: number }
  | FarShape;

/**
 * What lies beyond everything: the sky's half of all directions, or the ground's that runs to the horizon. The beam is
 * spoken of as of one square metre, in the stage's own frame. With `portal` it is what one inside sees through that
 * opening (a parallelogram, outward normal u × v); without, what one outside sees.
 */
export interface FarShape {
  kind: 'far';
  half: 'sky' | 'ground';
  portal?: { corner: Vec3; u: Vec3; v: Vec3 };
  /** The rooms, as upright prisms: who is in one of them is inside. */
  rooms: readonly { outline: readonly (readonly [number, number])[]; fromM: number; toM: number }[];
}

/**
 * An emitter: its surface and its intensity over direction. Seen from far away it has exactly `beam`'s
 * intensity (cd, at rated volts, bare); every part of its surface sends the same beam, so its light at a
 * point is the mean over the surface of I(direction) cosθ / d².
 */
export interface Emitter {
  shape: EmitterShape;
  beam: Beam;
  /** Scales the beam (a cell of a relay). Default 1. */
  gain?: number;
}

/** The smallest amount of light kept apart: one lamp, or one share of it (straight, scattered). */
export interface Layer {
  id: string;
  lamp: string;
  emitters: Emitter[];
  /** Content key of the emitters. */
  key: string;
  /** Parts of the stage that belong to this lamp (its housing and doors). */
  ownParts: number[];
}

export interface TransportScene {
  stage: Stage;
  layers: Layer[];
}

/** A camera as a tracer needs it: pinhole at `eye`, orthonormal axes, half-extents of the frame at unit distance. */
export interface View {
  eye: Vec3;
  forward: Vec3;
  right: Vec3;
  up: Vec3;
  /** tan of half the horizontal and vertical angle of view. */
  tanH: number;
  tanV: number;
}
