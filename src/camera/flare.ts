/** Lamps that look into the lens: hood, and the flag that stops one [CHECKS-CAMERA §5]. Any one length unit. */

/** Smallest mouth half-size of a hood of length l over a glass of radius r that clears a half field of view. */
export const hoodMouth = (glassRadius: number, hoodLength: number, halfFov: number): number =>
  glassRadius + hoodLength * Math.tan(halfFov);

/** Angle off the axis beyond which the hood shades the whole glass, radians. */
export const fullyShadedBeyond = (mouth: number, glassRadius: number, hoodLength: number): number =>
  Math.atan((mouth + glassRadius) / hoodLength);

/** A flag on the line lamp → lens, `x` from the lens, lamp at `distance`: size for full shade, softness at the lens. */
export const flagFor = (
  glass: number,
  lamp: number,
  distance: number,
  x: number,
): { size: number; softEdge: number } => ({
  size: glass + ((lamp - glass) * x) / distance,
  softEdge: (lamp * x) / (distance - x),
});
