/** What the finders of trouble look at: one angle, measured, weighted, read and seen. */

import type { Vec3 } from '../maths/vec3.ts';
import { wrap } from '../readings/bearing.ts';
import type { Clipped } from '../readings/readAngle.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { SeenPart } from '../readings/seen.ts';
import type { AngleGeometry, AngleWeights } from '../setup/angle.ts';
import { onFrame } from '../setup/view.ts';
import { isDaylight, lightName } from '../shoot/rigFor.ts';
import type { CameraSettings, Place, RigLamp, Shoot } from '../shoot/schema.ts';
import type { AirLight, Hits } from '../transport/tracer.ts';
import { windOf } from './compass.ts';
import type { Where } from './cureEdits.ts';
import type { Box } from './trouble.ts';

/** A picture with its light still apart by layer, for what only a picture can tell. */
export interface Lit {
  hits: Hits;
  /** 3 × pixels, Y in cd/m². */
  xyz: Float32Array;
  /** By layer: direct illuminance at every point of the hits, bare, shadows included. */
  direct: readonly (Float32Array | undefined)[];
  /** By layer: what the air itself sends to the lens; absent: clear air. */
  air?: readonly (AirLight | undefined)[];
}

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
  /** By spot: light there, lux, which lamps it is of, and whether this angle sees it. */
  spots: ReadonlyMap<string, { lx: number; seen: boolean; lamps: { lamp: string; lx: number }[] }>;
  /** By part: share of the frame in which it is over the clip; greatest stops over grey. */
  clipped: ReadonlyMap<number, Clipped>;
  /** Absent while a hand moves something, or there is no picture yet. */
  lit: Lit | undefined;
  camera: CameraSettings;
  shutterS: number;
  eRefLx: number;
  greyCdM2: number;
  stop: number;
  clipStops: number;
  floorStops: number;
}

/** This angle alone. */
export const here = (c: SchemeContext): Where & { angle: string } => ({
  scene: c.angle.scene,
  angle: c.angle.angle,
});
/** The rig, unless this angle already cheats the lamp: then this angle. */
export const whole = (c: SchemeContext, lamp: string): Where =>
  c.angle.rig.cheated.includes(lamp) ? here(c) : { scene: c.angle.scene };

export const rigLamp = (c: SchemeContext, lamp: string): RigLamp => c.angle.rig.lamps[lamp]!;
/** A lamp's number; daylight has a name. */
export const numberOf = (c: SchemeContext, light: string): string =>
  isDaylight(light) ? `the ${lightName(c.angle.rig, light)}` : rigLamp(c, light).number;
/** “2, 650 W fresnel”. */
export function nameOf(c: SchemeContext, lamp: string): string {
  const l = rigLamp(c, lamp);
  return `${l.number}${l.words ? `, ${l.words}` : ''}`;
}

export const boxOf = (s: Box): Box => ({ left: s.left, top: s.top, right: s.right, bottom: s.bottom });

/** Whether the lens sees this face: the eyes in frame or just outside, and not turned more than 110° away. */
export function faceSeen(c: SchemeContext, markId: string): boolean {
  const mark = c.angle.marks.find((g) => g.id === markId)!;
  if (mark.part < 0 || !c.seen.has(mark.part)) return false;
  const f = onFrame(c.angle.view, mark.eyes);
  if (!(f.depthM > 0 && Math.abs(f.x) < 1.05 && Math.abs(f.y) < 1.05)) return false;
  const eye = c.angle.view.eye;
  const toCamera = (Math.atan2(eye[1] - mark.eyes[1], eye[0] - mark.eyes[0]) * 180) / Math.PI;
  return Math.abs(wrap(toCamera - mark.facingDeg)) < 110;
}

/** Luminance that `part` shows on average over what is seen of it, stops over grey; undefined: no picture. */
export function levelOf(c: SchemeContext, part: number): number | undefined {
  if (!c.lit) return undefined;
  const { hits, xyz } = c.lit;
  let sum = 0;
  let n = 0;
  for (let p = 0; p + 1 < hits.pixelStart.length; p++) {
    const h = hits.pixelStart[p]!;
    if (h === hits.pixelStart[p + 1] || hits.part[h] !== part) continue;
    sum += xyz[3 * p + 1]!;
    n++;
  }
  return n === 0 ? undefined : Math.log2(Math.max(1e-9, sum / n) / c.greyCdM2);
}

/** The wind a step goes to. */
export const windTo = (c: SchemeContext, d: Vec3): string => windOf(d[0], d[1], c.place.northDeg);
