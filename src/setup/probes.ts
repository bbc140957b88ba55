/** Probes: white matte receivers that stand where a meter would be held, as surface points for a tracer. */
import { add, normalize, scale, type Vec3 } from '../maths/vec3.ts';
import type { SurfacePoints } from '../transport/tracer.ts';

export const PROBE_MATERIAL = 65535;
const NO_PATCH = 4294967295;

export interface Probe {
  at: Vec3;
  normal: Vec3;
}

export function probePoints(probes: readonly Probe[]): SurfacePoints {
  const count = probes.length;
  const position = new Float32Array(3 * count);
  const normal = new Float32Array(3 * count);
  for (let i = 0; i < count; i++) {
    position.set(probes[i]!.at, 3 * i);
    normal.set(probes[i]!.normal, 3 * i);
  }
  return {
    count,
    position,
    faceNormal: normal,
    normal,
    toEye: normal,
    material: new Uint16Array(count).fill(PROBE_MATERIAL),
    patch: new Uint32Array(count).fill(NO_PATCH),
  };
}

/** How far from the eyes a meter is held so that the head does not shade it, metres: before the face, behind it. */
export const METER_REACH_M = 0.14;
const BEHIND_REACH_M = 0.38;

/**
 * A meter at the eyes turned toward `target`, held clear of the head of one who looks along `facingDeg`;
 * `nearer` is the factor by which inverse square brings the reading back to the eyes (exact for a small source).
 */
export function meterToward(eyes: Vec3, target: Vec3, facingDeg?: number): Probe & { nearer: number } {
  const d: Vec3 = [target[0] - eyes[0], target[1] - eyes[1], target[2] - eyes[2]];
  const r = Math.hypot(...d);
  const normal = normalize(d);
  const a = ((facingDeg ?? 0) * Math.PI) / 180;
  const behind = facingDeg === undefined ? 0 : -(normal[0] * Math.cos(a) + normal[1] * Math.sin(a));
  const reach = Math.min(
    METER_REACH_M + (BEHIND_REACH_M - METER_REACH_M) * Math.max(0, Math.min(1, behind * 1.6)),
    r / 4,
  );
  return { at: add(eyes, scale(normal, reach)), normal, nearer: ((r - reach) / r) ** 2 };
}

/** Sides of a face are read by a flat receptor turned this far from the way the face looks, degrees. */
export const SIDE_DEG = 60;

/** The meter held at one side of the face, at cheek height, turned to that side. */
export function meterAtSide(eyes: Vec3, facingDeg: number, side: 'left' | 'right'): Probe {
  const a = ((facingDeg + (side === 'left' ? SIDE_DEG : -SIDE_DEG)) * Math.PI) / 180;
  const normal: Vec3 = [Math.cos(a), Math.sin(a), 0];
  return { at: add(add(eyes, [0, 0, -0.04]), scale(normal, METER_REACH_M)), normal };
}
