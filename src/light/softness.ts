/** Edges, fall-off and ratios: craft as arithmetic [CHECKS-CAMERA §4.4–4.7]. */

/** Width of a shadow's soft edge: source size S, source to edge a, edge to surface b. */
export const penumbraWidth = (size: number, sourceToEdge: number, edgeToSurface: number): number =>
  (size * edgeToSurface) / sourceToEdge;

/** Throw from the source at which a pattern with gaps g, b from the wall, is still readable: a ≥ b(S/g − 1). */
export const patternThrow = (size: number, gap: number, edgeToSurface: number): number =>
  Math.max(0, edgeToSurface * (size / gap - 1));

/** Stops lost from distance d1 to d2 by the inverse square. */
export const fallOffStops = (d1: number, d2: number): number => 2 * Math.log2(d2 / d1);

/** Distance behind a subject at d at which the same lamp has lost `stops`. */
export const distanceForFallOff = (d: number, stops: number): number => d * (2 ** (stops / 2) - 1);

/** Full angle of a source of size S at distance D, radians. */
export const angularSize = (size: number, distance: number): number => 2 * Math.atan(size / (2 * distance));

/** How soft a source of this angle counts (classes are common practice): hard < 3° < medium < 15° < soft < 40° < very soft. */
export function softnessWords(angle: number): 'hard' | 'medium' | 'soft' | 'very soft' {
  const deg = (angle * 180) / Math.PI;
  return deg < 3 ? 'hard' : deg < 15 ? 'medium' : deg < 40 ? 'soft' : 'very soft';
}

/** Size of the catch-light in an eye: cornea radius 7.8 mm (from memory). */
export const catchLightM = (size: number, distance: number): number => (0.0039 * size) / distance;

/** The three ways to say key against fill, where fill reaches both sides. */
export interface Ratio {
  /** key : fill, lamps read apart. */
  keyToFill: number;
  /** (key + fill) : fill, the two sides of the face. */
  sides: number;
  stopsOnFace: number;
  stopsBetweenLamps: number;
}

export function ratioOf(keyLux: number, fillLux: number): Ratio {
  const keyToFill = keyLux / fillLux;
  return {
    keyToFill,
    sides: keyToFill + 1,
    stopsOnFace: Math.log2(keyToFill + 1),
    stopsBetweenLamps: Math.log2(keyToFill),
  };
}
