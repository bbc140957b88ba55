/** What gels make of a lamp’s colour, in mired, and how much light they pass. */
import { cctOf } from '../colour/cct.ts';
import { product, type Spectrum } from '../colour/spectrum.ts';
import { xyzOf } from '../colour/xyz.ts';
import { gelById } from '../light/gels.ts';
import { type SourceKind, sourceSpectrum } from '../light/source.ts';
import { pegged } from '../setup/sheets.ts';

export interface Gelled {
  /** Some of it is a gel. */
  gel: boolean;
  /** Of the light after them, mired. */
  mired: number;
  /** Luminous share they pass, 0–1. */
  passes: number;
}

export function gelled(sheets: readonly string[], source: SourceKind = 'tungsten', cctK = 3200): Gelled {
  const gels = sheets.filter((s) => gelById(s));
  const bare: Spectrum = sourceSpectrum(source, cctK);
  const out = product(bare, pegged(gels, []).colour);
  const [from, to] = [xyzOf(bare), xyzOf(out)];
  return { gel: gels.length > 0, mired: 1e6 / cctOf(to).cctK, passes: from[1] > 0 ? to[1] / from[1] : 1 };
}
