/** This very head: one reading scales it everywhere. */
import type { Vec3 } from '../maths/vec3.ts';
import type { Beam } from './beam.ts';
import { intensityCd } from './beam.ts';

/** A reading of one lamp alone, meter pointed at it. */
export interface HeadReading {
  lux: number;
  distanceM: number;
  /** Off the lamp's axis, radians; to the side unless `upward`. Default 0. */
  offAxis?: number;
  upward?: boolean;
}

/** Direction in the lamp's frame of a reading. */
const directionOf = (r: HeadReading): Vec3 => {
  const s = Math.sin(r.offAxis ?? 0);
  const c = Math.cos(r.offAxis ?? 0);
  return r.upward ? [0, s, c] : [s, 0, c];
};

/**
 * Factor on the head's output: reading over what `beam` (at the focus, volts, gel of the reading, its losses in
 * `filterTransmittance`) should give. A point formula: read from at least five times the lamp's size, on the beam's
 * flank a small error of angle is a large one of light. Undefined where the beam gives nothing there.
 */
export function headFactor(beam: Beam, reading: HeadReading, filterTransmittance = 1): number | undefined {
  const expected =
    (intensityCd(beam, directionOf(reading)) * filterTransmittance) / (reading.distanceM * reading.distanceM);
  return expected > 0 && reading.lux > 0 ? reading.lux / expected : undefined;
}

/**
 * Lux on a grey card from a stop read off the camera: the card looked right at T-stop `tStop`, so E = C·N²/(S·t),
 * times 0.18 over the card's reflectance, times 2^stopsOver if it looked over [ISO-2720].
 */
export const luxFromStop = (settings: {
  tStop: number;
  iso: number;
  shutterS: number;
  constantC?: number;
  cardReflectance?: number;
  stopsOver?: number;
}): number =>
  (((settings.constantC ?? 250) * settings.tStop ** 2) / (settings.iso * settings.shutterS)) *
  (0.18 / (settings.cardReflectance ?? 0.18)) *
  2 ** (settings.stopsOver ?? 0);
