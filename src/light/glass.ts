/** A pane of clear glass: a slab with all inner reflections added up, unpolarised light, no interference. */

export interface Pane {
  /** Refractive index. */
  n: number;
  /** Internal transmittance at normal incidence, 0–1. */
  internal: number;
}

/** 6 mm window glass: n 1.52, internal 0.96; reproduces the glazed tables of CIE 171 [CHECKS-LIGHT §1.4] (inferred). */
export const CLEAR_PANE: Pane = { n: 1.52, internal: 0.96 };

/** Reflectance of one surface for s and p polarised light, and the cosine inside. */
function fresnel(cosTheta: number, n: number): { rs: number; rp: number; cosIn: number } {
  const c = Math.min(1, Math.max(0, Math.abs(cosTheta)));
  const cosIn = Math.sqrt(1 - (1 - c * c) / (n * n));
  const rs = (c - n * cosIn) / (c + n * cosIn);
  const rp = (n * c - cosIn) / (n * c + cosIn);
  return { rs: rs * rs, rp: rp * rp, cosIn };
}

/** Transmittance of the pane at the cosine of the angle of incidence, 0–1. */
export function glassTransmittance(cosTheta: number, pane: Pane = CLEAR_PANE): number {
  const { rs, rp, cosIn } = fresnel(cosTheta, pane.n);
  const a = pane.internal ** (1 / cosIn);
  const pass = (r: number): number => ((1 - r) ** 2 * a) / (1 - (r * a) ** 2);
  return (pass(rs) + pass(rp)) / 2;
}

/** Reflectance of the pane, both surfaces and all inner passes, 0–1. */
export function glassReflectance(cosTheta: number, pane: Pane = CLEAR_PANE): number {
  const { rs, rp, cosIn } = fresnel(cosTheta, pane.n);
  const a = pane.internal ** (1 / cosIn);
  const back = (r: number): number => r + ((1 - r) ** 2 * r * a * a) / (1 - (r * a) ** 2);
  return (back(rs) + back(rp)) / 2;
}

/** Reflectance of a single surface, unpolarised. */
export function surfaceReflectance(cosTheta: number, n = 1.52): number {
  const { rs, rp } = fresnel(cosTheta, n);
  return (rs + rp) / 2;
}
