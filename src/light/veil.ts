/**
 * Stray light in a lens: what of the light that strikes the front glass comes down all over the picture. Measured by a
 * black spot in a field that is bright all round: the spot's brightness over the field's is the veiling glare index
 * [ISO-9358]. A bright field of luminance L lights the glass with E = π L, so a veil of index × E / π follows: linear in
 * every lamp.
 */

/** The index taken for a clean zoom of modest price: from memory, lenses run from under 1 to over 5 %. */
export const VEIL_INDEX = 0.02;
/** Of the light that the lens pictures, what goes into a halo round its place (judgement). */
export const HALO_SHARE = 0.008;

/** Front glass of a usual lens and the hood that clears its picture [CHECKS-CAMERA §5; judgement for the sizes]. */
export const GLASS_RADIUS_M = 0.04;
export const HOOD_LENGTH_M = 0.12;

/** Half the hood's mouth, metres: it clears the corners of a picture of half-angle `half` (radians) [CHECKS-CAMERA §5]. */
const mouthM = (half: number): number => GLASS_RADIUS_M + HOOD_LENGTH_M * Math.tan(half);

/** Beyond this angle from the lens axis the hood shades the glass wholly, radians: atan((m + r) / l). */
export const hoodShadesBeyond = (half: number): number =>
  Math.atan((mouthM(half) + GLASS_RADIUS_M) / HOOD_LENGTH_M);

/**
 * Share of the front glass that a light `offAxis` radians from the axis reaches past the hood, 0–1: all of it up to the
 * picture's corner, none where the hood shades it, in between by the breadth left (a square glass; a round one's share
 * differs by a tenth at most).
 */
export function glassShare(offAxis: number, half: number): number {
  if (!(offAxis < Math.PI / 2)) return 0;
  const left = mouthM(half) + GLASS_RADIUS_M - HOOD_LENGTH_M * Math.tan(offAxis);
  return Math.min(1, Math.max(0, left / (2 * GLASS_RADIUS_M)));
}

/** Luminance of the veil, cd/m², from light that passes the glass, lux (cosine and hood in it). */
export const veilCdM2 = (glassLx: number): number => (VEIL_INDEX * glassLx) / Math.PI;
