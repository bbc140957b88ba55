/** An angle's camera as a tracer's view, and points on the frame. */
import { add, cross, dot, length, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import type { Angle } from '../shoot/schema.ts';
import type { View } from '../transport/scene.ts';

/** A level camera (no roll) at the angle's lens. Angles of view by focal length and sensor [CHECKS-CAMERA §3.1]. */
export function viewOf(angle: Pick<Angle, 'at' | 'lookAt' | 'focalMm' | 'sensorMm'>): View {
  const forward = normalize(sub(angle.lookAt, angle.at));
  const steep = Math.abs(forward[2]) > 0.9999;
  const right = normalize(cross(forward, steep ? [0, 1, 0] : [0, 0, 1]));
  const up = cross(right, forward);
  return {
    eye: angle.at,
    forward,
    right,
    up,
    tanH: angle.sensorMm[0] / (2 * angle.focalMm),
    tanV: angle.sensorMm[1] / (2 * angle.focalMm),
  };
}

export interface OnFrame {
  /** −1 left edge … +1 right edge. */
  x: number;
  /** −1 bottom … +1 top. */
  y: number;
  /** Along the lens axis, metres; not positive: behind the camera. */
  depthM: number;
  /** From the lens axis, radians. */
  offAxis: number;
}

/** Where a point falls on the frame. */
export function onFrame(view: View, p: Vec3): OnFrame {
  const d = sub(p, view.eye);
  const z = dot(d, view.forward);
  const x = dot(d, view.right);
  const y = dot(d, view.up);
  return {
    x: x / (z * view.tanH),
    y: y / (z * view.tanV),
    depthM: z,
    offAxis: Math.atan2(Math.hypot(x, y), z),
  };
}

export const inFrame = (f: OnFrame): boolean => f.depthM > 0 && Math.abs(f.x) <= 1 && Math.abs(f.y) <= 1;

/** The point at frame position (x, y) and `depthM` along the axis. */
export const fromFrame = (view: View, x: number, y: number, depthM: number): Vec3 =>
  add(
    view.eye,
    add(
      scale(view.forward, depthM),
      add(scale(view.right, x * view.tanH * depthM), scale(view.up, y * view.tanV * depthM)),
    ),
  );

/** How far outside the frame a point lies, degrees; 0 inside. */
export function outsideDeg(view: View, p: Vec3): number {
  const f = onFrame(view, p);
  if (f.depthM <= 0) return 180;
  const x = Math.max(0, Math.abs(Math.atan(f.x * view.tanH)) - Math.atan(view.tanH));
  const y = Math.max(0, Math.abs(Math.atan(f.y * view.tanV)) - Math.atan(view.tanV));
  return (Math.hypot(x, y) * 180) / Math.PI;
}

export const distanceTo = (view: View, p: Vec3): number => length(sub(p, view.eye));
