/**
 * Solves the parameters of src/light/gelTable.ts: for each correction three numbers, so that mired shift, green shift
 * and luminous transmittance on its design light come out as published. Prints the table.
 */
import { cctOf, mired } from '../src/colour/cct.ts';
import { planck } from '../src/colour/planck.ts';
import { product } from '../src/colour/spectrum.ts';
import { xyzOf } from '../src/colour/xyz.ts';
import { gelCurve, luminousTransmittance } from '../src/light/gels.ts';
import type { GelParameters } from '../src/light/gelTable.ts';
import { solveLinear } from '../src/maths/linear.ts';

interface Aim {
  id: string;
  family: GelParameters['family'];
  miredShift: number;
  onK: number;
  /** Published transmittance; else interpolated by us in log T against the shift. */
  T?: number;
  useT: number;
  cc?: number;
}

const aims: Aim[] = [
  { id: 'full-cto', family: 'orange', miredShift: 159, onK: 5600, T: 0.55, useT: 0.55 },
  { id: 'three-quarter-cto', family: 'orange', miredShift: 124, onK: 5600, useT: 0.66 },
  { id: 'half-cto', family: 'orange', miredShift: 109, onK: 5600, T: 0.71, useT: 0.71 },
  { id: 'quarter-cto', family: 'orange', miredShift: 64, onK: 5600, T: 0.81, useT: 0.81 },
  { id: 'eighth-cto', family: 'orange', miredShift: 26, onK: 5600, useT: 0.88 },
  { id: 'full-ctb', family: 'blue', miredShift: -137, onK: 3200, T: 0.35, useT: 0.35 },
  { id: 'three-quarter-ctb', family: 'blue', miredShift: -112, onK: 3200, useT: 0.42 },
  { id: 'half-ctb', family: 'blue', miredShift: -78, onK: 3200, T: 0.54, useT: 0.54 },
  { id: 'quarter-ctb', family: 'blue', miredShift: -35, onK: 3200, T: 0.69, useT: 0.69 },
  { id: 'eighth-ctb', family: 'blue', miredShift: -18, onK: 3200, T: 0.81, useT: 0.81 },
  { id: 'full-plus-green', family: 'plus-green', miredShift: 0, onK: 5600, T: 0.76, useT: 0.76, cc: 0.3 },
  { id: 'half-plus-green', family: 'plus-green', miredShift: 0, onK: 5600, T: 0.87, useT: 0.87, cc: 0.15 },
  {
    id: 'quarter-plus-green',
    family: 'plus-green',
    miredShift: 0,
    onK: 5600,
    T: 0.92,
    useT: 0.92,
    cc: 0.075,
  },
  { id: 'eighth-plus-green', family: 'plus-green', miredShift: 0, onK: 5600, T: 0.95, useT: 0.95, cc: 0.035 },
  { id: 'full-minus-green', family: 'minus-green', miredShift: 0, onK: 5600, T: 0.55, useT: 0.55, cc: 0.3 },
  { id: 'half-minus-green', family: 'minus-green', miredShift: 0, onK: 5600, T: 0.71, useT: 0.71, cc: 0.15 },
  {
    id: 'quarter-minus-green',
    family: 'minus-green',
    miredShift: 0,
    onK: 5600,
    T: 0.82,
    useT: 0.82,
    cc: 0.075,
  },
  {
    id: 'eighth-minus-green',
    family: 'minus-green',
    miredShift: 0,
    onK: 5600,
    T: 0.89,
    useT: 0.89,
    cc: 0.035,
  },
];

function measure(p: GelParameters, onK: number): { shift: number; duv: number; T: number } {
  const light = planck(onK);
  const c = gelCurve(p);
  const before = cctOf(xyzOf(light));
  const after = cctOf(xyzOf(product(c, light)));
  return {
    shift: mired(after.cctK) - mired(before.cctK),
    duv: after.duv - before.duv,
    T: luminousTransmittance(c, light),
  };
}

function solve(aim: Aim): GelParameters {
  const wide = aim.family === 'orange' || aim.family === 'blue';
  const start = wide ? [0.3 + Math.abs(aim.miredShift) / 160, aim.family === 'orange' ? 500 : 560, 0] : [0];
  // Orange and blue: dye amount, flank, trim. Greens: the CC density is given; tilt and width of the dye are solved.
  const make = (v: readonly number[]): GelParameters =>
    wide
      ? { family: aim.family, amount: v[0]!, edgeNm: v[1]!, trim: v[2]!, grey: 0 }
      : {
          family: aim.family,
          amount: aim.cc!,
          edgeNm: aim.family === 'plus-green' ? 592 : 540,
          trim: v[0]!,
          grey: aim.id === 'full-minus-green' ? 0.03 : 0,
        };
  const residual = (v: readonly number[]): number[] => {
    const m = measure(make(v), aim.onK);
    return wide ? [2 * (m.shift - aim.miredShift), m.duv * 500, (m.T - aim.useT) * 100] : [m.shift];
  };
  const v = [...start];
  const n = wide ? 3 : 1;
  for (let it = 0; it < 60; it++) {
    const r = residual(v);
    const J = new Float64Array(n * n);
    for (let k = 0; k < n; k++) {
      const w = [...v];
      const h = k === 1 && wide ? 0.5 : 1e-3;
      w[k]! += h;
      const rr = residual(w);
      for (let i = 0; i < n; i++) J[i * n + k] = (rr[i]! - r[i]!) / h;
    }
    const JT = new Float64Array(n * n);
    const g = new Float64Array(n);
    for (let i = 0; i < n; i++)
      for (let k = 0; k < n; k++) {
        g[i]! += J[k * n + i]! * r[k]!;
        for (let q = 0; q < n; q++) JT[i * n + k]! += J[q * n + i]! * J[q * n + k]!;
      }
    for (let i = 0; i < n; i++) JT[i * n + i]! *= 1.02;
    const d = solveLinear(JT, g, n);
    for (let k = 0; k < n; k++) {
      const cap = k === 1 && wide ? 15 : 0.15;
      v[k]! -= Math.max(-cap, Math.min(cap, d[k]!));
    }
  }
  return make(v);
}

const r = (x: number): number => Math.round(x * 1e5) / 1e5;
for (const aim of aims) {
  const p = solve(aim);
  const m = measure(p, aim.onK);
  console.log(
    `  { id: '${aim.id}', family: '${p.family}', amount: ${r(p.amount)}, edgeNm: ${r(p.edgeNm)}, trim: ${r(p.trim)}, grey: ${p.grey}, publishedMired: ${aim.miredShift}, onK: ${aim.onK}${aim.T === undefined ? '' : `, publishedT: ${aim.T}`}${aim.cc === undefined ? '' : `, cc: ${aim.cc}`} }, // ${m.shift.toFixed(1)} mired, Duv ${m.duv.toFixed(4)}, T ${m.T.toFixed(3)}`,
  );
}
