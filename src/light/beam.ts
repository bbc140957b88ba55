/**
 * A beam: luminous intensity over direction, seen from far away. Directions are unit vectors in the lamp's own
 * frame: z along the axis, x to the right and y up (the axis comes toward the reader).
 */
import { bisect } from '../maths/roots.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { DEG } from '../maths/vec3.ts';
import type { IntensityTable } from './photometry.ts';
import { tableFluxLm, tableIntensityCd } from './photometry.ts';
import { levelOverZenith, type Sky, skyOverZenith } from './sky.ts';

export type Beam =
  /**
   * I = peakCd · cosⁿθ in front, none behind. `exponentV`: an oval beam, exponent across y; then
   * n = exponent·cos²φ + exponentV·sin²φ with φ from x. n gives half intensity at half the beam angle.
   */
  | { kind: 'cosine'; peakCd: number; exponent: number; exponentV?: number }
  /** A bare tube along the local x axis: I = peakCd · sin(angle to the tube), all round. */
  | { kind: 'tube'; peakCd: number }
  /** The same in every direction. */
  | { kind: 'isotropic'; cd: number }
  /** Measured (LM-63, EULUMDAT); `gain` scales it, default 1. */
  | { kind: 'table'; table: IntensityTable; gain?: number }
  /**
   * The sky as if it were one square metre: I toward a direction is its luminance against that direction. The frame is
   * the stage's; `peakCd`: at the zenith.
   */
  | { kind: 'sky'; peakCd: number; sky: Sky };

/** cosⁿ exponent with half intensity at half of the full beam angle (radians) [FIELD-GUIDE]. */
export const exponentOfBeam = (beamAngle: number): number =>
  Math.log(0.5) / Math.log(Math.cos(beamAngle / 2));

/** Full angle (radians) at which cosⁿ has fallen to `share` of its peak; 0.5 beam, 0.1 field. */
export const beamOfExponent = (exponent: number, share = 0.5): number =>
  2 * Math.acos(share ** (1 / exponent));

/** A cosⁿ beam from its peak and full angle(s) to half intensity, degrees; the second is up and down. */
export const cosineBeam = (peakCd: number, beamDeg: number, beamVDeg?: number): Beam => {
  const exponent = exponentOfBeam(beamDeg * DEG);
  return beamVDeg === undefined
    ? { kind: 'cosine', peakCd, exponent }
    : { kind: 'cosine', peakCd, exponent, exponentV: exponentOfBeam(beamVDeg * DEG) };
};

/** A bare Lambertian tube of `fluxLm`: Φ/π² across its axis [CHECKS-LIGHT §2.6]. */
export const tubeBeam = (fluxLm: number): Beam => ({ kind: 'tube', peakCd: fluxLm / Math.PI ** 2 });

/** An even glow of `fluxLm` in all directions. */
export const isotropicBeam = (fluxLm: number): Beam => ({ kind: 'isotropic', cd: fluxLm / (4 * Math.PI) });

/** Luminous intensity, cd, toward the unit vector `dir` (lamp's frame). */
export function intensityCd(beam: Beam, dir: Vec3): number {
  switch (beam.kind) {
    case 'isotropic':
      return beam.cd;
    case 'tube':
      return beam.peakCd * Math.sqrt(Math.max(0, 1 - dir[0] * dir[0]));
    case 'table':
      return (beam.gain ?? 1) * tableIntensityCd(beam.table, dir);
    case 'sky':
      return beam.peakCd * skyOverZenith(beam.sky, [-dir[0], -dir[1], -dir[2]]);
    case 'cosine': {
      const cos = dir[2];
      if (cos <= 0) return 0;
      if (beam.exponentV === undefined) return beam.peakCd * cos ** beam.exponent;
      const across = dir[0] * dir[0] + dir[1] * dir[1];
      if (across <= 0) return beam.peakCd;
      const n = (beam.exponent * dir[0] * dir[0] + beam.exponentV * dir[1] * dir[1]) / across;
      return beam.peakCd * cos ** n;
    }
  }
}

/** Luminous flux, lm (of the sky: on a level square metre): closed forms (oval: ∫dφ/(n(φ)+1) = 2π/√((1+n)(1+nᵥ))), tables exactly for their interpolant. */
export function fluxLm(beam: Beam): number {
  switch (beam.kind) {
    case 'isotropic':
      return 4 * Math.PI * beam.cd;
    case 'tube':
      return Math.PI ** 2 * beam.peakCd;
    case 'table':
      return (beam.gain ?? 1) * tableFluxLm(beam.table);
    case 'sky':
      return beam.peakCd * levelOverZenith(beam.sky);
    case 'cosine':
      return (
        (2 * Math.PI * beam.peakCd) / Math.sqrt((1 + beam.exponent) * (1 + (beam.exponentV ?? beam.exponent)))
      );
  }
}

/** The greatest intensity, cd, and the intensity on the axis. */
export const axisCd = (beam: Beam): number => intensityCd(beam, [0, 0, 1]);

/** The same beam with every intensity times `factor`. */
export function scaleBeam(beam: Beam, factor: number): Beam {
  switch (beam.kind) {
    case 'isotropic':
      return { ...beam, cd: beam.cd * factor };
    case 'table':
      return { ...beam, gain: (beam.gain ?? 1) * factor };
    default:
      return { ...beam, peakCd: beam.peakCd * factor };
  }
}

/** Full angle, radians, at which the intensity across x (`vertical`: across y) falls to `share` of the axis. */
export function angleAtShare(beam: Beam, share: number, vertical = false): number {
  const axis = axisCd(beam);
  if (axis <= 0) return 0;
  const at = (theta: number): number =>
    intensityCd(
      beam,
      vertical ? [0, Math.sin(theta), Math.cos(theta)] : [Math.sin(theta), 0, Math.cos(theta)],
    ) /
      axis -
    share;
  // March out to the first crossing, then halve.
  const step = 0.25 * DEG;
  for (let theta = step; theta <= Math.PI; theta += step) {
    if (at(theta) <= 0) return 2 * bisect(at, theta - step, theta, 1e-12);
  }
  return 2 * Math.PI;
}

/** One end of a focusing lamp's travel: peak candela and full angle(s) to half intensity, degrees. */
export interface BeamEnd {
  peakCd: number;
  beamDeg: number;
  /** Up and down, if it differs. */
  beamVDeg?: number;
}

/**
 * A focusing lamp between flood (focus 0) and spot (1): the angle moves evenly, log candela runs straight against
 * the angle [CHECKS-CAMERA §7.2], a planning value, half a stop.
 */
export function focusBeam(spot: BeamEnd, flood: BeamEnd, focus: number): Beam {
  const f = Math.min(1, Math.max(0, focus));
  const beamDeg = flood.beamDeg + (spot.beamDeg - flood.beamDeg) * f;
  const logCd = Math.log(flood.peakCd) + (Math.log(spot.peakCd) - Math.log(flood.peakCd)) * f;
  if (spot.beamVDeg === undefined && flood.beamVDeg === undefined)
    return cosineBeam(Math.exp(logCd), beamDeg);
  const v0 = flood.beamVDeg ?? flood.beamDeg;
  const v1 = spot.beamVDeg ?? spot.beamDeg;
  return cosineBeam(Math.exp(logCd), beamDeg, v0 + (v1 - v0) * f);
}

/** The focus (0 flood … 1 spot) that gives the full beam angle, degrees; held to the lamp's travel. */
export const focusOfAngle = (spot: BeamEnd, flood: BeamEnd, beamDeg: number): number =>
  spot.beamDeg === flood.beamDeg
    ? 0
    : Math.min(1, Math.max(0, (flood.beamDeg - beamDeg) / (flood.beamDeg - spot.beamDeg)));

/**
 * Could a lamp of `lampLm` really give this beam? Light inside half intensity ≈ 0.75·I·Ω; above 0.9 of the lamp's
 * lumens something is wrong (often a field angle given as a beam angle) [CHECKS-CAMERA §7.2].
 */
export function energyCheck(end: BeamEnd, lampLm: number): { share: number; plausible: boolean } {
  const beam = Math.sqrt(end.beamDeg * (end.beamVDeg ?? end.beamDeg)) * DEG;
  const share = (0.75 * end.peakCd * 2 * Math.PI * (1 - Math.cos(beam / 2))) / lampLm;
  return { share, plausible: share < 0.9 };
}
