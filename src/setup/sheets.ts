/** What is pegged on a lamp, taken apart: colour, loss, and how much goes straight or is scattered. */
import type { Spectrum } from '../colour/spectrum.ts';
import { constant, product } from '../colour/spectrum.ts';
import type { Beam } from '../light/beam.ts';
import { angleAtShare, exponentOfBeam, fluxLm } from '../light/beam.ts';
import { diffusionById, scrimById, stackDiffusion } from '../light/diffusion.ts';
import { gelById } from '../light/gels.ts';
import { DEG } from '../maths/vec3.ts';

/** Full angle over which a sheet scatters, degrees; judgement from the grades' spread in words [CHECKS-CAMERA §6.1]. */
const SCATTER_DEG: Record<string, number> = {
  'light-light-frost': 12,
  'light-frost': 20,
  'eighth-white': 20,
  'quarter-white': 30,
  'half-white': 40,
  'full-white': 70,
  'quarter-spun': 30,
  'half-spun': 45,
  'full-spun': 70,
  'quarter-silk': 30,
  'china-silk': 45,
  'artificial-silk': 50,
  'quarter-grid': 45,
};
const MATTE_DEG = 120;

export interface Pegged {
  /** Transmittance of the gels, 0–1 by wavelength. */
  colour: Spectrum;
  /** Luminous share the diffusion and scrims pass, straight and scattered, 0–1. */
  straight: number;
  scattered: number;
  /** Full angle of the scatter, degrees; 0: no diffusion. */
  scatterDeg: number;
  /** Names that are not known: counted as clear, and said. */
  unknown: string[];
}

export function pegged(sheets: readonly string[], scrims: readonly string[]): Pegged {
  let colour = constant(1);
  const diffusions = [];
  const unknown: string[] = [];
  let scatter2 = 0;
  for (const id of sheets) {
    const gel = gelById(id);
    const diffusion = diffusionById(id);
    if (gel) colour = product(colour, gel.transmittance);
    else if (diffusion) {
      diffusions.push(diffusion);
      scatter2 += (SCATTER_DEG[id] ?? MATTE_DEG) ** 2;
    } else if (id !== 'egg-crate') unknown.push(id);
  }
  const stack = stackDiffusion(diffusions);
  let wire = 1;
  for (const id of scrims) wire *= scrimById(id)?.transmittance ?? 1;
  return {
    colour,
    straight: stack.transmittance * stack.straightShare * wire,
    scattered: diffusions.length ? stack.transmittance * (1 - stack.straightShare) * wire : 0,
    scatterDeg: diffusions.length ? Math.min(MATTE_DEG, Math.sqrt(scatter2)) : 0,
    unknown,
  };
}

/**
 * The beam that a sheet sends on of what falls on it: beam angle and scatter combine as root-sum-square, the
 * flux stays (losses are weights). A beam too wide to speak of becomes a matte sheet's.
 */
export function scatteredBeam(beam: Beam, scatterDeg: number): Beam {
  const front = beam.kind === 'isotropic' || beam.kind === 'tube' ? fluxLm(beam) / 2 : fluxLm(beam);
  const widen = (rad: number) => Math.min(MATTE_DEG * DEG, Math.hypot(rad, scatterDeg * DEG));
  if (beam.kind === 'isotropic' || beam.kind === 'tube')
    return { kind: 'cosine', peakCd: front / Math.PI, exponent: 1 };
  const n = exponentOfBeam(widen(angleAtShare(beam, 0.5)));
  const v = exponentOfBeam(widen(angleAtShare(beam, 0.5, true)));
  const peakCd = (front * Math.sqrt((1 + n) * (1 + v))) / (2 * Math.PI);
  return Math.abs(n - v) < 1e-6
    ? { kind: 'cosine', peakCd, exponent: n }
    : { kind: 'cosine', peakCd, exponent: n, exponentV: v };
}
