/**
 * Gels: spectral transmittances of our own. Corrections are smooth dye-like curves whose parameters were solved
 * (scripts/fit-gels.ts) so that mired shift, luminous transmittance and green shift match the published figures of
 * the generic grade; no maker's curve was used. Strong colours have no published figures: ours throughout.
 */
import type { Spectrum } from '../colour/spectrum.ts';
import { constant, product, spectrumOf } from '../colour/spectrum.ts';
import { luminousOf } from '../colour/xyz.ts';
import type { GelParameters } from './gelTable.ts';
import { GEL_PARAMETERS } from './gelTable.ts';

/** The two faces of a clear film (n 1.48) pass 0.926: nothing passes more. */
export const FILM_DENSITY = -Math.log10(0.926);

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));
const bell = (nm: number, centre: number, width: number): number =>
  Math.exp(-(((nm - centre) / width) ** 2) / 2);

/** Density at a wavelength. */
export function gelDensity(p: GelParameters, nm: number): number {
  let d = FILM_DENSITY + p.grey;
  switch (p.family) {
    case 'orange':
      d += p.amount * logistic((p.edgeNm - nm) / 32) + p.trim * bell(nm, 545, 40);
      break;
    case 'blue':
      d += p.amount * logistic((nm - p.edgeNm) / 50) + p.trim * bell(nm, 545, 40);
      break;
    case 'plus-green':
      d += p.amount * (bell(nm, 440, 35) * (1 - p.trim) + logistic((nm - p.edgeNm) / 15) * (1 + p.trim));
      break;
    case 'minus-green':
      d += p.amount * bell(nm, p.edgeNm, 38) + p.trim * logistic((500 - nm) / 20);
      break;
  }
  return Math.max(FILM_DENSITY, d);
}

export const gelCurve = (p: GelParameters): Spectrum => spectrumOf((nm) => 10 ** -gelDensity(p, nm));

export type GelGroup = 'warming' | 'cooling' | 'green' | 'neutral' | 'colour';

export interface Gel {
  id: string;
  words: string;
  group: GelGroup;
  /** Transmittance 0–1 at 380 … 780 nm. */
  transmittance: Spectrum;
  /** Published figures it was made to match (absent: ours): mired shift on its design light and that light's kelvin. */
  published?: { miredShift?: number; onK: number; transmittance?: number };
}

const FRACTIONS: Record<string, string> = {
  full: 'full',
  'three-quarter': 'three-quarter',
  half: 'half',
  quarter: 'quarter',
  eighth: 'eighth',
};
const NAMES: Record<string, string> = {
  cto: 'CTO',
  ctb: 'CTB',
  'plus-green': 'plus green',
  'minus-green': 'minus green',
};

/** Corrections as published: shift [TRADE-MIRED], transmittance (from memory, ±5 points; see gelTable.ts). */
const corrections = (): Gel[] =>
  GEL_PARAMETERS.map((row) => {
    const cut = row.id.lastIndexOf(
      row.id.endsWith('green') ? (row.id.includes('plus') ? 'plus' : 'minus') : 'ct',
    );
    const fraction = row.id.slice(0, cut - 1);
    const name = row.id.slice(cut);
    return {
      id: row.id,
      words: `${FRACTIONS[fraction] ?? fraction} ${NAMES[name] ?? name}`,
      group: name === 'cto' ? 'warming' : name === 'ctb' ? 'cooling' : 'green',
      transmittance: gelCurve(row),
      published: {
        miredShift: row.publishedMired,
        onK: row.onK,
        ...(row.publishedT === undefined ? {} : { transmittance: row.publishedT }),
      },
    };
  });

/** Neutral density: 10^−d at every wavelength; half a stop each 0.15 [CHECKS-CAMERA §1.5, formula]. */
const neutrals = (): Gel[] =>
  [0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.2].map((d) => ({
    id: `nd-${d}`,
    words: `neutral density ${d}`,
    group: 'neutral',
    transmittance: constant(10 ** -d),
  }));

/** A dye that passes above `edge` (long) or below it, between `floor` and the film. */
const long = (nm: number, edge: number, width: number): number => logistic((nm - edge) / width);
const tint = (pass: (nm: number) => number, floor: number): Spectrum =>
  spectrumOf((nm) => floor + (0.88 - floor) * pass(nm));

/** Nine strong colours: two reds, amber, yellow, green, cyan, two blues, magenta. Curves of our own. */
const strong = (): Gel[] => {
  const gel = (id: string, words: string, transmittance: Spectrum): Gel => ({
    id,
    words,
    group: 'colour',
    transmittance,
  });
  return [
    gel(
      'red',
      'red',
      tint((nm) => long(nm, 603, 9), 0.004),
    ),
    gel(
      'deep-red',
      'deep red',
      tint((nm) => long(nm, 628, 9), 0.001),
    ),
    gel(
      'amber',
      'amber',
      tint((nm) => long(nm, 560, 16), 0.01),
    ),
    gel(
      'yellow',
      'yellow',
      tint((nm) => long(nm, 505, 10), 0.01),
    ),
    gel(
      'green',
      'green',
      tint((nm) => 0.75 * bell(nm, 525, 26) + 0.25 * long(nm, 725, 14), 0.004),
    ),
    gel(
      'cyan',
      'cyan',
      tint((nm) => 0.85 * (1 - long(nm, 575, 16)) * long(nm, 410, 15) + 0.4 * long(nm, 735, 14), 0.02),
    ),
    gel(
      'blue',
      'blue',
      tint((nm) => 0.8 * bell(nm, 465, 30) + 0.5 * long(nm, 730, 14), 0.006),
    ),
    gel(
      'deep-blue',
      'deep blue',
      tint((nm) => 0.55 * bell(nm, 440, 24) + 0.4 * long(nm, 735, 14), 0.001),
    ),
    gel(
      'magenta',
      'magenta',
      tint((nm) => 0.75 * (1 - long(nm, 480, 12)) + long(nm, 605, 12), 0.01),
    ),
  ];
};

let all: readonly Gel[] | undefined;

/** Every gel, corrections first. */
export function gels(): readonly Gel[] {
  all ??= [...corrections(), ...neutrals(), ...strong()];
  return all;
}

export const gelById = (id: string): Gel | undefined => gels().find((g) => g.id === id);

/** Share of a light's lumens that a transmittance passes, 0–1. */
export const luminousTransmittance = (transmittance: Spectrum, light: Spectrum): number =>
  luminousOf(product(transmittance, light)) / luminousOf(light);

/** Gels in a row: transmittances multiply. None: clear. */
export const stackGels = (stack: readonly Gel[]): Spectrum =>
  stack.reduce((s, g) => product(s, g.transmittance), constant(1));
