/** EULUMDAT photometric files (.ldt), one value a line [EULUMDAT]. */
import type { Parsed } from './lm63.ts';
import { zonalFluxLm } from './photometry.ts';

/**
 * Reads the text of an EULUMDAT file. The file's cd per 1000 lm become cd of the lamps it was measured with. Planes
 * left out by symmetry stay left out where the net can say so (rotation, two planes), else they are written out.
 */
export function parseEulumdat(text: string): Parsed {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  const warnings: string[] = [];
  let at = 0;
  let bad: string | undefined;
  const line = (): string => (lines[at++] ?? '').trim();
  const next = (what: string): number => {
    const t = line();
    const v = Number(t.replace(',', '.').replace(/[_\s]/g, ''));
    if (t === '' || !Number.isFinite(v)) {
      bad ??= `Line ${at}: '${t}' stands where ${what} is due.`;
      return 0;
    }
    return v;
  };
  // Items 1–12: names and the net.
  const company = line();
  next('the type');
  const symmetry = next('the symmetry');
  const mc = next('the number of C planes');
  next('the distance of C planes');
  const ng = next('the number of gamma angles');
  next('the distance of gamma angles');
  const report = line();
  const name = line();
  const number = line();
  line();
  line();
  // 13–21: sizes in millimetres.
  const size = Array.from({ length: 9 }, () => next('a size'));
  next('the downward flux fraction');
  const ratio = next('the light output ratio');
  const conversion = next('the conversion factor');
  next('the tilt');
  const sets = next('the number of lamp sets');
  if (bad !== undefined) return { ok: false, error: bad };
  if (!(mc >= 1 && mc <= 721 && ng >= 2 && ng <= 361))
    return { ok: false, error: `${mc} planes of ${ng} angles cannot be right.` };
  if (![0, 1, 2, 3, 4].includes(symmetry))
    return { ok: false, error: `Symmetry ${symmetry} is not one of 0 to 4.` };
  if (sets < 1 || sets > 20) return { ok: false, error: 'No lamp set is given.' };
  // 26a–f, set by set.
  let lampLm = 0;
  let watts = 0;
  let absolute = false;
  for (let s = 0; s < sets; s++) {
    const count = next('the number of lamps');
    line();
    const lm = next('the flux of the lamps');
    line();
    line();
    watts += next('the watts') * 1;
    if (count < 0) absolute = true;
    if (s === 0) lampLm = lm;
  }
  if (sets > 1) warnings.push(`${sets} lamp sets: the first was taken.`);
  for (let i = 0; i < 10; i++) next('a direct ratio');
  const allC = Array.from({ length: mc }, () => next('a C angle'));
  const verticalDeg = Array.from({ length: ng }, () => next('a gamma angle'));
  if (bad !== undefined) return { ok: false, error: bad };
  // Which planes are stored.
  const from = symmetry === 3 ? Math.floor((3 * mc) / 4) : 0;
  const planes =
    symmetry === 0
      ? mc
      : symmetry === 1
        ? 1
        : symmetry === 4
          ? Math.floor(mc / 4) + 1
          : Math.floor(mc / 2) + 1;
  const factor = (lampLm / 1000) * (conversion > 0 ? conversion : 1);
  const cd = new Float64Array(planes * ng);
  for (let i = 0; i < cd.length; i++) {
    if (at >= lines.length || (lines[at]!.trim() === '' && lines.slice(at).every((l) => l.trim() === ''))) {
      warnings.push('The file is shorter than it says; the rest is dark.');
      break;
    }
    cd[i] = next('an intensity') * factor;
  }
  if (bad !== undefined) return { ok: false, error: bad };
  let horizontalDeg: number[];
  if (symmetry === 1) horizontalDeg = [0];
  else if (symmetry === 0) {
    horizontalDeg = allC;
  } else if (symmetry === 3) {
    // C270 … 360 … 90: write as 90 … 270 by the mirror (φ → 180 − φ), in ascending order.
    horizontalDeg = Array.from({ length: planes }, (_, i) => {
      const c = (allC[(from + i) % mc]! + 360) % 360;
      return ((180 - c + 360) % 360) as number;
    });
    const order = horizontalDeg.map((c, i) => ({ c, i })).sort((a, b) => a.c - b.c);
    const sorted = new Float64Array(cd.length);
    order.forEach(({ i }, row) => {
      sorted.set(cd.subarray(i * ng, (i + 1) * ng), row * ng);
    });
    cd.set(sorted);
    horizontalDeg = order.map((o) => o.c);
  } else {
    horizontalDeg = allC.slice(0, planes);
  }
  if (cd.every((v) => v === 0)) warnings.push('Every intensity is zero.');
  if (cd.some((v) => v < 0)) warnings.push('Some intensities are negative.');
  if (verticalDeg.some((v) => v < 0 || v > 180)) warnings.push('Gamma angles pass 180.');
  if (symmetry === 3 && mc % 4 !== 0) warnings.push('C90 or C270 is missing for this symmetry.');
  const table = { type: 'C' as const, verticalDeg, horizontalDeg, cd };
  const expected = (lampLm * ratio) / 100;
  if (!absolute && expected > 0 && Math.abs(zonalFluxLm(table) / expected - 1) > 0.05)
    warnings.push('The flux of the net and the stated output ratio differ by more than 5 %.');
  const mm = (k: number): number => size[k]! / 1000;
  return {
    ok: true,
    file: {
      table,
      keywords: { COMPANY: company, REPORT: report, LUMINAIRE: name, NUMBER: number },
      ...(absolute ? {} : { lampLm }),
      ...(watts > 0 ? { watts } : {}),
      opening: size[4] === 0 ? { diameterM: mm(3) } : { lengthM: mm(3), widthM: mm(4) },
      version: 'EULUMDAT',
      warnings,
    },
  };
}
