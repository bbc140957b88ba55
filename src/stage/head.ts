/** How a lamp head is told to the stage. */
import type { Vec3 } from '../maths/vec3.ts';
import { type Frame, looking } from './mesh.ts';

/** A head as told: its face, its housing, its doors. */
export interface HousingSpec {
  id: string;
  words: string;
  kind: 'fresnel' | 'open-face' | 'floodlight' | 'panel' | 'tube' | 'bulb' | 'spot';
  /** Middle of the luminous face (bulb, tube: of the luminous body), metres. */
  at: Vec3;
  /** Unit, along the beam. */
  axis: Vec3;
  up: Vec3;
  /** Of a round face, a bulb or a tube, metres. */
  faceRadiusM?: number;
  /** Width and height of a rectangular face; of a tube its length first, metres. */
  faceM?: readonly [number, number];
  /** Of the housing behind the face, metres. */
  bodyDepthM: number;
  /** Width and height of the housing; absent: a little more than the face. */
  bodyM?: readonly [number, number];
  /** Opening of each blade from the axis, degrees (0 along the beam, 90 flat), as seen by one who faces the lamp. */
  doors?: { top: number; bottom: number; left: number; right: number; lengthM?: number };
  /** The yoke holds it from above. */
  hung?: boolean;
  /** No yoke (a practical). */
  bare?: boolean;
}

/** The frame of a head: z along the beam, y up, x to the right of one who faces it. */
export const frameOfHead = (s: Pick<HousingSpec, 'at' | 'axis' | 'up'>): Frame => looking(s.at, s.axis, s.up);

/** Half width and half height of the face, metres. */
export function halfFace(s: HousingSpec): readonly [number, number] {
  if (s.faceM) return [s.faceM[0] / 2, s.faceM[1] / 2];
  const r = s.faceRadiusM ?? 0.05;
  return [r, r];
}
