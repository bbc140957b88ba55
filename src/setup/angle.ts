/**
 * What physics needs of one angle, worked out from the document: the only hand-over between the two.
 * Geometry (what rays meet) is kept apart from weights (how much of each layer, in what colour), so that
 * a dimmer, a gel, volts, balance and stop rebuild no geometry and trace no ray.
 */

import type { Belief } from '../maths/belief.ts';
import type { Vec3 } from '../maths/vec3.ts';
import type { RigForAngle } from '../shoot/rigFor.ts';
import type { FaceGrid } from '../stage/people/faceGrid.ts';
import type { FacePoints } from '../stage/stage.ts';
import type { Frame } from '../transport/relay.ts';
import type { TransportScene, View } from '../transport/scene.ts';
import type { LampCauses } from './causes.ts';

/** One head of the rig as it stands in this angle. */
export interface LampGeometry {
  id: string;
  /** Middle of the luminous face and unit direction of the beam. */
  at: Vec3;
  axis: Vec3;
  /** Largest dimension of the luminous face, metres. */
  sizeM: number;
  /** Indices of its layers in the scene. */
  layers: number[];
  /** Number of its housing's part in the stage, −1 if it has none; of its support likewise. */
  headPart: number;
  supportPart: number;
  /** Middle of the beam to where it falls to half and to a tenth, degrees, horizontally. */
  beamDeg: number;
}

export interface MarkGeometry {
  id: string;
  eyes: Vec3;
  facingDeg: number;
  /** Part number of the person, −1 if nobody stands there. */
  part: number;
  face: FacePoints | undefined;
  /** The face all over; undefined with nobody there. */
  faceGrid: FaceGrid | undefined;
  /** Luminous reflectance of the skin, 0–1. */
  skinReflectance: number;
}

export interface SpotGeometry {
  id: string;
  at: Vec3;
  normal: Vec3;
  reflectance: number | undefined;
  kind: string;
}

export interface AngleGeometry {
  scene: string;
  angle: string;
  rig: RigForAngle;
  transport: TransportScene;
  view: View;
  lamps: LampGeometry[];
  /** Sun, sky and what else of the day lights the angle; layers after the lamps'. */
  daylight: LampGeometry[];
  marks: MarkGeometry[];
  spots: SpotGeometry[];
  /** Diffusion frames that stand in the room: relays still to be lit (`withRelays`). */
  frames: Frame[];
  /** For each layer that a frame made, in order after the lamps' own: the layer it relays. */
  relayOf: number[];
  /** Things in the document the stage could not build as asked, in words. */
  notes: string[];
  /** Content key of the stage and the camera: equal keys, equal first hits. */
  viewKey: string;
}

/** Everything that gives light: the rig's lamps, then the day's. */
export const lightsOf = (angle: AngleGeometry): LampGeometry[] => [...angle.lamps, ...angle.daylight];

/** A layer's photometric weight and colour. */
export interface LayerWeight {
  /** 3 × 12, row-major: X, Y, Z per lux of the layer's bare rated light, at the 12 sample wavelengths. */
  matrix: Float64Array;
  /** matrix · (1 … 1): what a perfect white would get; white[1] is the luminous gain. */
  white: [number, number, number];
  /** What the readings make of the bounced part against the direct: a factor; absent: 1. */
  bounceGain?: number;
}

/** What a lamp gives now: volts, colour, and the causes that its light hangs on. */
export interface LampWeight {
  id: string;
  /** Volts at the lamp, its dimmer included; undefined: not on the network. */
  volts: number | undefined;
  /** Light against rated volts and full level, gels and scrims apart, 0 … */
  lightFactor: number;
  /** Colour temperature of the bare lamp now, kelvin. */
  cctK: number;
  /** After its sheets: correlated colour temperature and distance from the Planckian locus. */
  outCctK: number;
  outDuv: number;
  /** Luminous share that its sheets and scrims pass, 0–1. */
  passes: number;
  /** The causes its light hangs on; what the readings make of them together, stops; and what doubt is left. */
  causes: LampCauses;
  shiftStops: number;
  /** Half-width of a 90 % interval on its direct light, the meter’s and the camera’s own doubt apart, stops. */
  bandStops: number;
  /** A reading that counts was made under it, standing where it stands, and it gave most of that light. */
  metered: boolean;
  kindWords: string;
  currentA: number;
}

/** What has been measured, as far as an angle needs it. */
export interface MeteredBefore {
  joint: Belief;
  /** The cause that stands for the reflectance of this place’s surfaces. */
  surfaces: string;
  /** By mark (`mark:A`) and spot (`spot:N`): causes of the places of lamps under which a reading was made there. */
  readAt: ReadonlyMap<string, ReadonlySet<string>>;
}

export interface AngleWeights {
  layers: LayerWeight[];
  lamps: LampWeight[];
  metered: MeteredBefore;
}
