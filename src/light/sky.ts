/**
 * Luminance of the sky over direction: the fifteen general skies of CIE S 011 / ISO 15469 and, as number 16, the
 * traditional overcast sky. Directions are unit vectors of the stage, z up, from the eye to the sky.
 */
import type { Vec3 } from '../maths/vec3.ts';
import { DEG } from '../maths/vec3.ts';

/** Gradation a, b and indicatrix c, d, e by type [CIE-S011], as transcribed in [CHECKS-LIGHT §1.8]. */
const TYPES: readonly (readonly [number, number, number, number, number])[] = [
  [4, -0.7, 0, -1, 0],
  [4, -0.7, 2, -1.5, 0.15],
  [1.1, -0.8, 0, -1, 0],
  [1.1, -0.8, 2, -1.5, 0.15],
  [0, -1, 0, -1, 0],
  [0, -1, 2, -1.5, 0.15],
  [0, -1, 5, -2.5, 0.3],
  [0, -1, 10, -3, 0.45],
  [-1, -0.55, 2, -1.5, 0.15],
  [-1, -0.55, 5, -2.5, 0.3],
  [-1, -0.55, 10, -3, 0.45],
  [-1, -0.32, 10, -3, 0.45],
  [-1, -0.32, 16, -3, 0.3],
  [-1, -0.15, 16, -3, 0.3],
  [-1, -0.15, 24, -2.8, 0.15],
];
export const UNIFORM = 5;
export const CLEAR = 12;
/** L = Lz (1 + 2 sin γ) / 3. */
export const OVERCAST = 16;

/** A sky of one type with the sun at a place (unit vector); the sun's own disc is not in it. */
export interface Sky {
  /** 1–16. */
  type: number;
  sun: Vec3;
}

/** Luminance toward the unit direction over that of the zenith; 0 below the horizon. */
export function skyOverZenith(sky: Sky, dir: Vec3): number {
  const up = dir[2];
  if (up < 0) return 0;
  if (sky.type === OVERCAST) return (1 + 2 * up) / 3;
  const [a, b, c, d, e] = TYPES[sky.type - 1] ?? TYPES[UNIFORM - 1]!;
  const gradation = (z: number): number => 1 + a * Math.exp(b / Math.max(1e-4, z));
  const indicatrix = (cosine: number): number => {
    const chi = Math.acos(Math.min(1, Math.max(-1, cosine)));
    return 1 + c * (Math.exp(d * chi) - Math.exp((d * Math.PI) / 2)) + e * cosine * cosine;
  };
  const toSun = dir[0] * sky.sun[0] + dir[1] * sky.sun[1] + dir[2] * sky.sun[2];
  return (gradation(up) * indicatrix(toSun)) / (gradation(1) * indicatrix(sky.sun[2]));
}

const kept = new Map<string, number>();

/** Illuminance on open level ground over the luminance of the zenith, sr: π for an even sky. Within 1e-4. */
export function levelOverZenith(sky: Sky): number {
  const key = `${sky.type}|${sky.sun[2].toFixed(6)}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  // Only the sun's height matters; even steps of sin²γ are even steps of illuminance.
  const side = Math.sqrt(Math.max(0, 1 - sky.sun[2] ** 2));
  const turned: Sky = { type: sky.type, sun: [side, 0, sky.sun[2]] };
  const rings = 160;
  const spokes = 320;
  let sum = 0;
  for (let i = 0; i < rings; i++) {
    const up = Math.sqrt((i + 0.5) / rings);
    const flat = Math.sqrt(1 - up * up);
    for (let j = 0; j < spokes; j++) {
      const a = ((j + 0.5) / spokes) * 2 * Math.PI;
      sum += skyOverZenith(turned, [flat * Math.cos(a), flat * Math.sin(a), up]);
    }
  }
  const made = (Math.PI * sum) / (rings * spokes);
  if (kept.size > 200) kept.clear();
  kept.set(key, made);
  return made;
}

/** Unit vector to a body at azimuth (clockwise from north) and elevation, degrees; `northDeg`: bearing of +y. */
export function towards(azimuthDeg: number, elevationDeg: number, northDeg = 0): Vec3 {
  const a = (azimuthDeg - northDeg) * DEG;
  const flat = Math.cos(elevationDeg * DEG);
  return [Math.sin(a) * flat, Math.cos(a) * flat, Math.sin(elevationDeg * DEG)];
}
