/** Correlated colour temperature, distance from the black-body locus, mired. */
import { planckAt } from './planck.ts';
import type { Chromaticity, XYZ } from './xyz.ts';
import { uvOf, uvOfXy, xyzOfFunction } from './xyz.ts';

/** Colour temperature and distance from the locus in the CIE 1960 plane; positive is the green side. */
export interface Cct {
  cctK: number;
  duv: number;
}

const planckUv = (cctK: number): { u: number; v: number } => uvOf(xyzOfFunction((nm) => planckAt(cctK, nm)));

interface Row {
  t: number;
  u: number;
  v: number;
}
let table: Row[] | undefined;

/** Black-body u, v from 1000 K in steps of 1 % to 40 000 K; made once (about 370 rows). */
function locus(): Row[] {
  if (table === undefined) {
    table = [];
    for (let t = 1000; t < 40500; t *= 1.01) table.push({ t, ...planckUv(t) });
  }
  return table;
}

/** Ohno's triangle and parabola through three neighbouring rows. */
function between(rows: readonly [Row, Row, Row], u: number, v: number): Cct {
  const [a, b, c] = rows;
  const d = (r: Row): number => Math.hypot(u - r.u, v - r.v);
  const [da, db, dc] = [d(a), d(b), d(c)];
  // Triangle between the outer two.
  const l = Math.hypot(c.u - a.u, c.v - a.v);
  const x = (da * da - dc * dc + l * l) / (2 * l);
  let cctK = a.t + ((c.t - a.t) * x) / l;
  const vtx = a.v + ((c.v - a.v) * x) / l;
  const sign = v - vtx >= 0 ? 1 : -1;
  let duv = sign * Math.sqrt(Math.max(0, da * da - x * x));
  // Parabola through the three distances, better far from the locus.
  if (Math.abs(duv) >= 0.002) {
    const X = (c.t - b.t) * (a.t - c.t) * (b.t - a.t);
    const A = (a.t * (dc - db) + b.t * (da - dc) + c.t * (db - da)) / X;
    const B = -(a.t * a.t * (dc - db) + b.t * b.t * (da - dc) + c.t * c.t * (db - da)) / X;
    const C =
      -(da * (c.t - b.t) * b.t * c.t + db * (a.t - c.t) * a.t * c.t + dc * (b.t - a.t) * a.t * b.t) / X;
    cctK = -B / (2 * A);
    duv = sign * (A * cctK * cctK + B * cctK + C);
  }
  return { cctK, duv };
}

/**
 * Colour temperature and Duv of CIE 1960 (u, v) by Ohno's method [OHNO-2014], the table refined once round the
 * answer: within 0.1 K and 1e-5 on the locus, 1000–20 000 K. Far off it (|Duv| > 0.05) the number is only a label.
 */
export function cctOfUv(u: number, v: number): Cct {
  // The same few lights are asked again and again while a hand moves something else.
  const key = `${u}|${v}`;
  let found = known.get(key);
  if (!found) {
    found = worked(u, v);
    if (known.size >= MOST_KNOWN) known.clear();
    known.set(key, found);
  }
  return { ...found };
}

const known = new Map<string, Cct>();
const MOST_KNOWN = 500;

function worked(u: number, v: number): Cct {
  const rows = locus();
  let best = 1;
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = 1; i + 1 < rows.length; i++) {
    const r = rows[i]!;
    const d = (u - r.u) ** 2 + (v - r.v) ** 2;
    if (d < nearest) {
      nearest = d;
      best = i;
    }
  }
  const first = between([rows[best - 1]!, rows[best]!, rows[best + 1]!], u, v);
  if (!(first.cctK > 900 && first.cctK < 41000)) return first;
  const fine = (t: number): Row => ({ t, ...planckUv(t) });
  return between([fine(first.cctK * 0.999), fine(first.cctK), fine(first.cctK * 1.001)], u, v);
}

export const cctOf = (xyz: XYZ): Cct => {
  const { u, v } = uvOf(xyz);
  return cctOfUv(u, v);
};

export const cctOfXy = (xy: Chromaticity): Cct => {
  const { u, v } = uvOfXy(xy);
  return cctOfUv(u, v);
};

/** McCamy's cubic [MCCAMY-1992]: a few kelvin near the locus from 3000 to 7000 K. */
export const mcCamyK = ({ x, y }: Chromaticity): number => {
  const n = (x - 0.332) / (0.1858 - y);
  return 449 * n ** 3 + 3525 * n ** 2 + 6823.3 * n + 5520.33;
};

/** Micro-reciprocal degrees. */
export const mired = (cctK: number): number => 1e6 / cctK;

/** Mired shift from one temperature to another; negative is bluer. */
export const miredShift = (fromK: number, toK: number): number => 1e6 / toK - 1e6 / fromK;

/** Temperature after a shift; undefined where the sum is not above zero (no such black body). */
export const shifted = (cctK: number, shift: number): number | undefined => {
  const m = 1e6 / cctK + shift;
  return m > 0 ? 1e6 / m : undefined;
};

/** A shift in words. Below 5 mired nobody sees it (common practice, no source). */
export function miredWords(shift: number): string {
  const s = Math.abs(shift);
  if (s < 5) return 'the same warmth';
  const much = s < 20 ? 'a touch' : s < 50 ? 'a little' : s < 110 ? 'clearly' : 'far';
  return `${much} ${shift > 0 ? 'warmer' : 'cooler'}`;
}
