/** Where a lamp stands, as a crew says it: round from the face, up, and on a clock seen from above. */
import { DEG, type Vec3 } from '../maths/vec3.ts';

export interface Bearing {
  /** Round from the way the face looks, in plan, 0 (in front) … 180 (behind), degrees. */
  azimuthDeg: number;
  /** The person's own side on which the lamp stands. */
  side: 'left' | 'right';
  /** Above (+) or below (−) the eyes, degrees. */
  elevationDeg: number;
  distanceM: number;
}

/** Bearing of `lamp` from eyes at `eyes` of a face that looks along `facingDeg` (0 = east, counter-clockwise). */
export function bearing(eyes: Vec3, facingDeg: number, lamp: Vec3): Bearing {
  const dx = lamp[0] - eyes[0];
  const dy = lamp[1] - eyes[1];
  const dz = lamp[2] - eyes[2];
  const plan = Math.hypot(dx, dy);
  const turn = plan > 1e-9 ? wrap(Math.atan2(dy, dx) / DEG - facingDeg) : 0;
  return {
    azimuthDeg: Math.abs(turn),
    side: turn >= 0 ? 'left' : 'right',
    elevationDeg: Math.atan2(dz, plan) / DEG,
    distanceM: Math.hypot(plan, dz),
  };
}

/** An angle in degrees brought into −180 (excluded) … 180. */
export const wrap = (deg: number): number => {
  const w = ((deg % 360) + 360) % 360;
  return w > 180 ? w - 360 : w;
};

/**
 * Hours on a clock seen from above, the person in the middle and the camera at 6: 0.5, 1, 1.5 … 12.
 * Back light stands near 12; right of the picture is 3.
 */
export function clock(subject: Vec3, camera: Vec3, lamp: Vec3): number {
  const toCamera = Math.atan2(camera[1] - subject[1], camera[0] - subject[0]);
  const toLamp = Math.atan2(lamp[1] - subject[1], lamp[0] - subject[0]);
  // Clockwise seen from above is the negative sense; the camera direction is 6 hours.
  const hours = 6 - wrap((toLamp - toCamera) / DEG) / 30;
  const half = Math.round((((hours % 12) + 12) % 12) * 2) / 2;
  return half === 0 ? 12 : half;
}

/** “10 o’clock”, “half past 10”. */
export const clockWords = (hours: number): string => {
  const whole = Math.floor(hours) || 12;
  return Number.isInteger(hours) ? `${hours} o’clock` : `half past ${whole}`;
};
