/** What makes the light: kinds of source and their spectra. */
import { cctOf } from '../colour/cct.ts';
import { daylight } from '../colour/daylight.ts';
import { illuminant } from '../colour/illuminants.ts';
import { planck } from '../colour/planck.ts';
import type { Spectrum } from '../colour/spectrum.ts';
import { luminousOf, xyzOf } from '../colour/xyz.ts';
import { bisect } from '../maths/roots.ts';

export type SourceKind =
  | 'tungsten'
  | 'flame'
  | 'fluorescent'
  | 'fluorescent-three-band'
  | 'led'
  | 'sodium'
  | 'metal-halide'
  | 'discharge-daylight'
  | 'daylight'
  | 'moon'
  | 'screen';

/** The same spectrum scaled to one lumen: W/nm per lumen, 683.002·Σ s·ȳ·5 = 1. */
export function perLumen(s: Spectrum): Spectrum {
  const lm = luminousOf(s);
  if (!(lm > 0)) throw new Error('perLumen: this spectrum gives no light the eye sees');
  return s.map((v) => v / lm);
}

/** A mix of two lights, by share of lumens, whose colour temperature is `cctK`; held to the two ends. */
function mixedTo(warm: Spectrum, cool: Spectrum, cctK: number): Spectrum {
  const a = perLumen(warm);
  const b = perLumen(cool);
  const mix = (t: number): Spectrum => a.map((v, i) => v * (1 - t) + b[i]! * t);
  const at = (t: number): number => cctOf(xyzOf(mix(t))).cctK - cctK;
  if (at(0) >= 0) return a;
  if (at(1) <= 0) return b;
  return mix(bisect(at, 0, 1, 1e-5));
}

/**
 * White phosphor LED: CIE LED-B1 (2733 K), B3 (4103 K), B5 (6598 K), or the mix of two neighbours that has the
 * colour temperature, as in a bi-colour lamp [CIE-15]. Below 2733 and above 6598 K the end spectrum. Typical, not a
 * given lamp: cheap ones may be greener or redder.
 */
function ledWhite(cctK: number): Spectrum {
  const [b1, b3, b5] = [illuminant('LED-B1'), illuminant('LED-B3'), illuminant('LED-B5')];
  return cctK < cctOf(xyzOf(b3)).cctK ? mixedTo(b1, b3, cctK) : mixedTo(b3, b5, cctK);
}

const cache = new Map<string, Spectrum>();

/** Colour temperature assumed where none is told, kelvin. */
export const DEFAULT_CCT: Record<SourceKind, number> = {
  tungsten: 3200,
  flame: 1900,
  fluorescent: 4230,
  'fluorescent-three-band': 4000,
  led: 5600,
  sodium: 1959,
  'metal-halide': 4039,
  'discharge-daylight': 5600,
  daylight: 5600,
  moon: 4100,
  screen: 6500,
};

/**
 * Spectrum of a source in W/nm per lumen at `cctK`.
 * tungsten, flame, moon (4100 K, from memory: sunlight off a reddish ground): black body. fluorescent: CIE FL4 (2940 K), FL2 (4230 K), FL7 (6500 K) or the mix of neighbours;
 * three-band: FL12 (3000 K), FL11 (4000 K). led, screen: white phosphor LED. sodium HP1, metal-halide HP5: as they
 * are, `cctK` ignored. daylight: CIE daylight, below 4000 K a black body. discharge-daylight: CIE daylight as a
 * stand-in, without its lines (ours: no published table at hand).
 */
export function sourceSpectrum(kind: SourceKind, cctK: number = DEFAULT_CCT[kind]): Spectrum {
  const key = `${kind}|${cctK}`;
  const known = cache.get(key);
  if (known !== undefined) return known;
  const made = perLumen(make(kind, cctK));
  if (cache.size > 400) cache.clear();
  cache.set(key, made);
  return made;
}

function make(kind: SourceKind, cctK: number): Spectrum {
  switch (kind) {
    case 'tungsten':
    case 'flame':
    case 'moon':
      return planck(Math.max(1000, cctK));
    case 'fluorescent':
      return cctK < 4224
        ? mixedTo(illuminant('FL4'), illuminant('FL2'), cctK)
        : mixedTo(illuminant('FL2'), illuminant('FL7'), cctK);
    case 'fluorescent-three-band':
      return mixedTo(illuminant('FL12'), illuminant('FL11'), cctK);
    case 'led':
    case 'screen':
      return ledWhite(cctK);
    case 'sodium':
      return illuminant('HP1');
    case 'metal-halide':
      return illuminant('HP5');
    case 'daylight':
    case 'discharge-daylight':
      return cctK < 4000 ? planck(cctK) : daylight(cctK);
  }
}
