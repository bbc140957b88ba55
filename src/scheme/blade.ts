/** A barn door as a blade of the usual length, as the stage builds it: which one lies toward a point, how far it hides. */
import type { KitLamp } from '../light/kitlamps.ts';
import { cross, normalize, sub, type Vec3 } from '../maths/vec3.ts';
import type { RigLamp } from '../shoot/schema.ts';

export type Door = 'top' | 'bottom' | 'left' | 'right';
export type Doors = NonNullable<RigLamp['doors']>;

export interface Blade {
  which: Door;
  /** Off the axis toward the point, as a slope. */
  want: number;
  /** Half the face across the blade, and the blade's length, metres. */
  halfM: number;
  longM: number;
}

/** The door between a head's face and a point; undefined: behind the head, or its kind has none. */
export function bladeToward(kind: KitLamp, at: Vec3, axis: Vec3, target: Vec3): Blade | undefined {
  if (!kind.doors) return undefined;
  const e = kind.emitter;
  const half =
    e.kind === 'rectangle'
      ? [e.widthM / 2, e.heightM / 2]
      : [e.kind === 'disc' ? e.diameterM / 2 : 0.05, e.kind === 'disc' ? e.diameterM / 2 : 0.05];
  const d = normalize(sub(target, at));
  const level: Vec3 = Math.abs(axis[2]) > 0.999 ? [0, 1, 0] : [0, 0, 1];
  const right = normalize(cross(level, axis));
  const up = cross(axis, right);
  const on = (v: Vec3) => v[0] * d[0] + v[1] * d[1] + v[2] * d[2];
  const ahead = on(axis);
  if (ahead <= 0) return undefined;
  const across = on(right);
  const rise = on(up);
  const levelDoor = Math.abs(rise) > Math.abs(across);
  return {
    which: levelDoor ? (rise > 0 ? 'top' : 'bottom') : across > 0 ? 'right' : 'left',
    want: Math.abs(levelDoor ? rise : across) / ahead,
    halfM: half[levelDoor ? 1 : 0]!,
    longM: 1.5 * Math.max(...half),
  };
}

/** Slope from which on a door opened so far hides even the far edge of the face. */
export function hiddenFrom(b: Blade, openDeg: number): number {
  const a = (openDeg * Math.PI) / 180;
  return (2 * b.halfM + 0.006 + Math.sin(a) * b.longM) / (0.004 + Math.cos(a) * b.longM);
}
