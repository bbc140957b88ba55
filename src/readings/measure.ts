/**
 * Holds meters in an angle: direct and bounced light of every layer at every probe, still without colour
 * or weight, so that a change of dimmer or gel needs no new measurement.
 */
import type { Vec3 } from '../maths/vec3.ts';
import { type AngleGeometry, lightsOf } from '../setup/angle.ts';
import { meterAtSide, meterToward, type Probe, probePoints } from '../setup/probes.ts';
import type { SurfacePoints } from '../transport/tracer.ts';
import type { FaceLight } from './faces.ts';

/** Which meter a probe is. */
export type ProbeName =
  | { mark: string; toward: { lamp: string }; nearer: number }
  | { mark: string; toward: 'front' | 'camera' }
  | { mark: string; side: 'left' | 'right' }
  | { spot: string }
  | { lens: string /* lamp */ }
  | { card: true /* the white card the camera is balanced on */ };

export interface ProbePlan {
  names: ProbeName[];
  points: SurfacePoints;
}

/** Every meter that the readings of an angle need. */
export function probePlan(angle: AngleGeometry): ProbePlan {
  const names: ProbeName[] = [];
  const probes: Probe[] = [];
  const put = (name: ProbeName, probe: Probe) => {
    names.push(name);
    probes.push(probe);
  };
  for (const mark of angle.marks) {
    const front: Vec3 = [Math.cos(rad(mark.facingDeg)), Math.sin(rad(mark.facingDeg)), 0];
    for (const lamp of lightsOf(angle)) {
      const meter = meterToward(mark.eyes, lamp.at, mark.facingDeg);
      // A window or the sky is no point: nothing to be brought back.
      const nearer = angle.daylight.includes(lamp) ? 1 : meter.nearer;
      put({ mark: mark.id, toward: { lamp: lamp.id }, nearer }, meter);
    }
    put({ mark: mark.id, toward: 'front' }, meterToward(mark.eyes, sum(mark.eyes, front)));
    put({ mark: mark.id, toward: 'camera' }, meterToward(mark.eyes, angle.view.eye, mark.facingDeg));
    for (const side of ['left', 'right'] as const)
      put({ mark: mark.id, side }, meterAtSide(mark.eyes, mark.facingDeg, side));
  }
  for (const spot of angle.spots)
    put({ spot: spot.id }, { at: sum(spot.at, times(spot.normal, 0.005)), normal: spot.normal });
  for (const lamp of lightsOf(angle)) {
    const d = sum(lamp.at, times(angle.view.eye, -1));
    const r = Math.hypot(...d) || 1;
    put({ lens: lamp.id }, { at: angle.view.eye, normal: times(d, 1 / r) });
  }
  const wb = angle.rig.camera.whiteBalance;
  if (wb.kind === 'read') put({ card: true }, cardOf(angle, wb));
  return { names, points: probePoints(probes) };
}

/** Where the card is held, and which way it faces: toward the one lamp that burns, as told, or as the mark does. */
function cardOf(
  angle: AngleGeometry,
  wb: { at: string | readonly [number, number, number]; toward?: unknown; lamps?: string[] | undefined },
): Probe {
  const mark = typeof wb.at === 'string' ? angle.marks.find((m) => m.id === wb.at) : undefined;
  const spot = typeof wb.at === 'string' ? angle.spots.find((s) => s.id === wb.at) : undefined;
  const place: Vec3 = mark?.eyes ?? spot?.at ?? (typeof wb.at === 'string' ? angle.view.eye : wb.at);
  const lamp = wb.lamps?.length === 1 ? lightsOf(angle).find((l) => l.id === wb.lamps![0]) : undefined;
  if (lamp) return meterToward(place, lamp.at, mark?.facingDeg);
  if (Array.isArray(wb.toward)) return meterToward(place, sum(place, wb.toward as unknown as Vec3));
  if (mark)
    return meterToward(place, sum(place, [Math.cos(rad(mark.facingDeg)), Math.sin(rad(mark.facingDeg)), 0]));
  if (spot) return { at: sum(spot.at, times(spot.normal, 0.01)), normal: spot.normal };
  return meterToward(place, angle.view.eye);
}

/** Light at the probes: by layer, bare rated light. */
export interface Measured {
  plan: ProbePlan;
  layers: {
    /** One per probe, lux. */
    direct: Float32Array;
    /** probes × 12, lux-like at the sample wavelengths. */
    bounced: Float32Array;
  }[];
  /** Direct light all over the faces; absent: not measured (yet). */
  faces?: FaceLight[];
  /** True while the bounced part is the quick one. */
  quick: boolean;
  /** One-sigma noise of the sums, stops (typical). */
  noiseStops: number;
}

const rad = (deg: number) => (deg * Math.PI) / 180;
const sum = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const times = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];
