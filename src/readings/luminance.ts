/** Luminance of a lamp's bare luminous surface toward a point: what a camera would meter on the lamp itself. */
import { intensityCd } from '../light/beam.ts';
import { cross, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import type { Emitter } from '../transport/scene.ts';

/** cd/m² at rated volts, bare: intensity over projected area, as the tracers take it. 0: not seen from there. */
export function luminanceToward(emitter: Emitter, point: Vec3): number {
  const { shape, beam } = emitter;
  const gain = emitter.gain ?? 1;
  // What is far has no one luminance: it is metered in the picture.
  if (shape.kind === 'far') return 0;
  if (shape.kind === 'tube') {
    const x = normalize(sub(shape.to, shape.from));
    const middle = scale([0, 1, 2].map((i) => shape.from[i]! + shape.to[i]!) as unknown as Vec3, 0.5);
    const d = normalize(sub(point, middle));
    const along = dot(d, x);
    const sine = Math.sqrt(Math.max(0, 1 - along * along));
    const length = Math.hypot(...sub(shape.to, shape.from));
    return sine > 0 ? (gain * intensityCd(beam, [along, 0, sine])) / (length * 2 * shape.radiusM * sine) : 0;
  }
  const z = normalize(shape.axis);
  const y = normalize(sub(shape.up, scale(z, dot(shape.up, z))));
  const x = cross(y, z);
  const d = normalize(sub(point, shape.centre));
  const local: Vec3 = [dot(d, x), dot(d, y), dot(d, z)];
  const I = gain * intensityCd(beam, local);
  if (shape.kind === 'sphere') return I / (Math.PI * shape.radiusM ** 2);
  if (local[2] <= 0) return 0;
  const area = shape.kind === 'disc' ? Math.PI * shape.radiusM ** 2 : shape.widthM * shape.heightM;
  return I / (area * local[2]);
}
