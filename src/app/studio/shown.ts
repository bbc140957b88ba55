/** One angle as the studio holds it: its light so far, its meters, and what is the finest there is to show. */

import type { FaceLight } from '../../readings/faces.ts';
import type { ProbePlan } from '../../readings/measure.ts';
import type { Clipped } from '../../readings/readAngle.ts';
import type { FaceShade, StandLight } from '../../readings/standMap.ts';
import type { Found } from '../../scheme/trouble.ts';
import type { AngleGeometry, LayerWeight } from '../../setup/angle.ts';
import type { Weighed } from '../../setup/weights.ts';
import type { AngleRef, RigForAngle } from '../../shoot/rigFor.ts';
import type { Palette } from '../../transport/quick/picture.ts';
import type { LayerLight, Room, Sight } from '../../transport/quick/quick.ts';
import type { Refinement } from '../../transport/quick/refine.ts';
import type { Hits } from '../../transport/tracer.ts';
import type { Wanted } from '../messages.ts';

/** A picture moves by less than this once settled, stops. */
const SETTLED_PICTURE = 0.06;
/** Fewer paths than these do not count as settled, whatever the noise looks like. */
const LEAST_PATHS = 64;

/** A picture's light at one size, by layer. */
export interface Lit {
  key: string;
  width: number;
  height: number;
  sight: Sight;
  /** Ids of the stage's parts and of the layers, in the order in which the sight numbers them. */
  names: { parts: readonly string[]; layers: readonly string[] };
  /** Patches and links of the stage it was lit on; undefined: direct light only. */
  room: Room | undefined;
  palette: { stageKey: string; palette: Palette };
  /** The record it was last shown for. */
  shownFor: string;
  /** The colours its bounced light is of. */
  stageKey: string;
  layerKeys: string[];
  light: LayerLight[];
  quality: 'direct' | 'quick' | 'paths';
  paths: number;
  noise: number;
  refined?: Refinement;
  xyz: Float32Array;
  /** The picture without the layers that a hand moves, as long as the others stay. */
  others?: Others;
  /** The layers in somebody's hand, if this picture is of such a moment. */
  carried?: readonly number[];
  /** What of `xyz` is over the clip, and of which exposure, once it was asked. */
  clipped?: { of: string; hits: Hits; parts: ReadonlyMap<number, Clipped> };
}

/** A picture without some of its layers, and of what it is. */
export interface Others {
  layers: string;
  palette?: Palette;
  light: LayerLight[];
  weights: LayerWeight[];
  xyz: Float32Array;
}

export interface Meters {
  key: string;
  plan: ProbePlan;
  /** Shape of the stage that the direct light is of. */
  shapeKey: string;
  links: { room: Room; to: Uint32Array } | undefined;
  /** Direct light all over the faces, once it was measured. */
  faces: FaceLight[] | undefined;
  layers: { direct: Float32Array; bounced: Float32Array }[];
  layerKeys: string[];
  /** The bounced light is of this stage; none yet: nothing to be read. */
  bouncedKey: string | undefined;
  paths: number;
  noise: number;
  variance: Float64Array[];
}

export interface Shown {
  ref: AngleRef;
  geometryKey: string;
  geometry: AngleGeometry;
  rig: RigForAngle;
  weighed: Weighed;
  weights: LayerWeight[];
  meters: Meters | undefined;
  lit: Map<string, Lit>;
  last: Lit | undefined;
  /** The geometry that a carried lamp was last shown in. */
  carried: string | undefined;
  /** Troubles as they were last found, their cures still to be tried. */
  found: Found[];
}

/** Where one of its marks could stand, as last traced. */
export interface Stood {
  key: string;
  light: StandLight;
  shade: FaceShade | undefined;
  /** The map was sent for this record. */
  sentFor: string;
}

export const idOf = (ref: AngleRef) => `${ref.scene}/${ref.angle}`;

export const sizeOf = (s: Shown, w: Wanted) => w.sizes[s.ref.angle] ?? { width: 384, height: 216 };

export const smaller = (size: { width: number; height: number }) => ({
  width: Math.round(size.width / 2),
  height: Math.round(size.height / 2),
});

export const glimpse = (size: { width: number; height: number }) => ({
  width: Math.round(size.width / 3),
  height: Math.round(size.height / 3),
});

export const isSettled = (lit: Lit) =>
  lit.quality === 'paths' && lit.paths >= LEAST_PATHS && lit.noise <= SETTLED_PICTURE;

/** How far a picture has settled, 0–1; 1: it has. */
export const progressOf = (lit: Lit): number =>
  isSettled(lit) ? 1 : Math.min(0.99, lit.paths / LEAST_PATHS, (SETTLED_PICTURE / lit.noise) ** 2);
