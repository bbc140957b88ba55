/**
 * Illuminance in closed form: what every tracer must agree with. E in lux, L luminance cd/m², I intensity cd, lengths
 * in metres. Formulas are textbook; [CHECKS-LIGHT §2] lists their values and proofs.
 */
import type { Vec3 } from '../maths/vec3.ts';
import { add, cross, dot, length, scale, sub } from '../maths/vec3.ts';

/** A point of `cd` toward the receiver, distance d, angle of incidence by its cosine: I cosθ / d². */
export const pointLux = (cd: number, distanceM: number, cosIncidence = 1): number =>
  (cd * Math.max(0, cosIncidence)) / (distanceM * distanceM);

/** Disc of radius R, receiver parallel at depth d and sideways offset x from its axis [HOWELL B-12]. */
export function discLux(luminance: number, radiusM: number, d: number, x = 0): number {
  const r2 = radiusM * radiusM;
  const root = Math.sqrt((d * d + x * x + r2) ** 2 - 4 * r2 * x * x);
  return ((Math.PI * luminance) / 2) * (1 - (d * d + x * x - r2) / root);
}

/** The same disc, receiver at right angles to it, facing its axis, x > 0 from the axis. */
export function discSideLux(luminance: number, radiusM: number, d: number, x: number): number {
  const r2 = radiusM * radiusM;
  const root = Math.sqrt((d * d + x * x + r2) ** 2 - 4 * r2 * x * x);
  return ((Math.PI * luminance) / 2) * (d / x) * ((d * d + x * x + r2) / root - 1);
}

/** Configuration factor of an a × b rectangle at distance c, parallel, foot of the normal at a corner [HOWELL B-3]. */
export function cornerParallel(a: number, b: number, c: number): number {
  const A = a / c;
  const B = b / c;
  const ra = Math.sqrt(1 + A * A);
  const rb = Math.sqrt(1 + B * B);
  return ((A / ra) * Math.atan(B / ra) + (B / rb) * Math.atan(A / rb)) / (2 * Math.PI);
}

/** The same at right angles: rectangle a wide, b high, receiver at distance c from its foot [HOWELL B-4]. */
export function cornerPerpendicular(a: number, b: number, c: number): number {
  const r = Math.hypot(b, c);
  return (Math.atan(a / c) - (c / r) * Math.atan(a / r)) / (2 * Math.PI);
}

/** The part of a polygon above the plane through `at` with unit normal `n`. */
export function clipToHorizon(polygon: readonly Vec3[], at: Vec3, n: Vec3): Vec3[] {
  const out: Vec3[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    const ha = dot(sub(a, at), n);
    const hb = dot(sub(b, at), n);
    if (ha >= 0) out.push(a);
    if (ha * hb < 0) out.push(add(a, scale(sub(b, a), ha / (ha - hb))));
  }
  return out;
}

/**
 * Configuration factor of any flat, evenly bright matte polygon at a point with unit normal `n`, by Lambert's contour
 * sum (1/2π) Σ Γᵢ n·(rᵢ × rᵢ₊₁)/|…|, after clipping to the receiver's horizon. Either winding; E = πLF.
 */
export function polygonFactor(polygon: readonly Vec3[], at: Vec3, n: Vec3): number {
  const seen = clipToHorizon(polygon, at, n).map((p) => sub(p, at));
  let sum = 0;
  for (let i = 0; i < seen.length; i++) {
    const a = seen[i]!;
    const b = seen[(i + 1) % seen.length]!;
    const c = cross(a, b);
    const s = length(c);
    if (s < 1e-15) continue;
    sum += (Math.atan2(s, dot(a, b)) * dot(n, c)) / s;
  }
  return Math.abs(sum) / (2 * Math.PI);
}

/** Illuminance from a matte polygon of luminance L. */
export const polygonLux = (luminance: number, polygon: readonly Vec3[], at: Vec3, n: Vec3): number =>
  Math.PI * luminance * polygonFactor(polygon, at, n);

/** Tube: Lambertian line of `fluxLm` and length ℓ, receiver facing its middle at distance d, parallel to it. */
export function tubeLux(fluxLm: number, lengthM: number, d: number): number {
  const i0 = fluxLm / (Math.PI ** 2 * lengthM);
  const alpha = Math.atan(lengthM / (2 * d));
  return (i0 / d) * (alpha + Math.sin(alpha) * Math.cos(alpha));
}

/** The same with the foot of the receiver at one end of the tube. */
export function tubeEndLux(fluxLm: number, lengthM: number, d: number): number {
  const i0 = fluxLm / (Math.PI ** 2 * lengthM);
  const alpha = Math.atan(lengthM / d);
  return (i0 / (2 * d)) * (alpha + Math.sin(alpha) * Math.cos(alpha));
}

/** Sphere of radius R wholly above the horizon: an exact inverse-square source at any distance from its centre. */
export const sphereLux = (luminance: number, radiusM: number, d: number, cosIncidence = 1): number =>
  Math.PI * luminance * (radiusM / d) ** 2 * cosIncidence;

/** Configuration factor of a sphere whose centre lies in the receiver's plane (half hidden), H = d/R > 1. */
export const halfSphereFactor = (H: number): number =>
  (Math.atan(1 / Math.sqrt(H * H - 1)) - Math.sqrt(H * H - 1) / (H * H)) / Math.PI;
