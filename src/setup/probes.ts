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

/** How far in front of the eyes a meter is held so that the head does not shade it, metres. */
export const METER_REACH_M = 0.14;

/**
 * A meter at the eyes turned toward `target`, held clear of the head; `nearer` is the factor by which
 * inverse square brings the reading back to the eyes (exact for a small source).
 */
export function meterToward(eyes: Vec3, target: Vec3): Probe & { nearer: number } {
  const d: Vec3 = [target[0] - eyes[0], target[1] - eyes[1], target[2] - eyes[2]];
  const r = Math.hypot(...d);
  const normal = normalize(d);
  const reach = Math.min(METER_REACH_M, r / 4);
  return { at: add(eyes, scale(normal, reach)), normal, nearer: ((r - reach) / r) ** 2 };
}
