/** Rows: neutrals, generators, earth faults. */
import { leadLoopOhm } from '../power/cord.ts';
import { checkEarth, hotZsOhm, zsLimitOhm } from '../power/earth.ts';
import { load, mains } from '../power/examples.ts';
import {
  deratedShare,
  FUEL,
  fuelLPerHour,
  fuelToBringL,
  meanShare,
  sizedKva,
  startA,
} from '../power/generator.ts';
import type { Load } from '../power/network.ts';
import { rcdCounts } from '../power/rcd.ts';
import { solve } from '../power/solve.ts';
import {
  dimmedNeutral,
  harmonicCableA,
  lineA,
  lostNeutralV,
  neutralA,
  sharedNeutralA,
} from '../power/three.ts';
import { EXACT, NONE, plugged, type Rows } from './power-rows.ts';

const RAD = Math.PI / 180;

/** Neutrals. */
export function neutralsRows({ add }: Rows): void {
  add('15', 'neutral of 10, 8, 6 A', 'NEUTRAL', 3.464, neutralA(10, 8, 6), 'A', 0.001);
  add('16', 'neutral of 5, 8, 0 A', 'NEUTRAL', 7, neutralA(5, 8, 0), 'A', EXACT);
  add('16b', 'neutral of 10, 15, 20 A', 'NEUTRAL', 8.66, neutralA(10, 15, 20), 'A', 0.001);
  add('27a', '16 + 16 A on 120/240', 'computed', 0, sharedNeutralA(16, 16, 'split'), 'A', 0.01);
  add('27b', 'on two legs of 120/208', 'computed', 16, sharedNeutralA(16, 16, 'wye'), 'A', 0.01);
  add('27c', 'on the same leg', 'computed', 32, sharedNeutralA(16, 16, 'same'), 'A', 0.01);
  for (const [cut, phase, neutral] of [
    [90, Math.SQRT1_2, 1],
    [60, 0.897, 0.766],
  ] as const) {
    add(
      `28-${cut}p`,
      `dimmers cut at ${cut}°, phase`,
      'computed',
      phase,
      dimmedNeutral(cut * RAD).phase,
      '×',
      0.001,
    );
    add(
      `28-${cut}n`,
      `dimmers cut at ${cut}°, neutral`,
      'computed',
      neutral,
      dimmedNeutral(cut * RAD).neutral,
      '×',
      0.001,
    );
  }
  add(
    '29a',
    'lost neutral, 5 and 8 A: the lighter leg',
    'computed',
    147.7,
    lostNeutralV(120, 5, 8).a,
    'V',
    0.1,
  );
  add('29b', 'the other', 'computed', 92.3, lostNeutralV(120, 5, 8).b, 'V', 0.1);
  add('ex26', '3 kVA at 400 V three-phase', 'NEUTRAL', 4.33, lineA(3000, 400), 'A', 0.001);
  add(
    'ex27a',
    '25 A with 32 % third harmonic, cable',
    'IEC-60364-E',
    29.07,
    harmonicCableA(25, 0.32),
    'A',
    0.01,
  );
  add('ex27b', 'with 44 %', 'IEC-60364-E, from memory', 38.37, harmonicCableA(25, 0.44), 'A', 0.01);
}

/** Generators. */
export function sourcesRows({ add, holds, stands }: Rows): void {
  add(
    '19a',
    'set at 2500 m and 50 °C, default rule',
    'GEN-DERATE',
    0.67,
    deratedShare(2500, 50),
    '×',
    0.0067,
  );
  add(
    '19b',
    'by the rule some manuals state',
    'GEN-DERATE',
    0.855,
    deratedShare(2500, 50, 'per-500-m'),
    '×',
    0.00855,
  );
  const set = FUEL.find((f) => f.ratedW === 5500);
  const litres = set ? (fuelLPerHour(set, 0.5) ?? NONE) * 10 : NONE;
  add('19c', '5.5 kW set, half load, ten hours', 'GEN-FUEL', 22.7, litres, 'L', 0.227);
  add('19d', 'the sheet shows', 'common practice', 27.25, fuelToBringL(litres), 'L', 0.2725);
  add('ex20', '120 kW at 0.8 with a quarter to spare', 'GEN-SIZE', 187.5, sizedKva(120, 0.8), 'kVA', EXACT);
  const mean = meanShare([
    { hours: 3, share: 0.9 },
    { hours: 4, share: 0.6 },
    { hours: 3, share: 0.5 },
    { hours: 14, share: 0 },
  ]);
  add('39a', 'mean over the hours with load', 'ISO-8528', 66, (mean.mean ?? NONE) * 100, '%', 1e-9);
  add('39b', 'its peak is kept beside it', 'ISO-8528', 90, mean.peak * 100, '%', 1e-9);

  const onSet = (loads: readonly Load[], bondedNeutral: boolean | undefined) =>
    solve(mains([plugged(loads)], { source: { kind: 'generator', continuousVa: 3000, bondedNeutral } }));
  const metal = (id: string) => load(id, 'tungsten', 300, { classI: true });
  for (const bond of [false, undefined]) {
    const one = onSet([metal('a')], bond);
    holds(
      `30-${bond}`,
      `bond ${bond === false ? 'absent' : 'unknown'}: the RCD is not counted, no loop verdict`,
      'ON-SITE',
      one.circuits[0]?.rcd.counted === false && one.circuits[0].earth[0]?.level === 'not-checked',
    );
    stands(`30-${bond}-one`, 'one metal head', 'ON-SITE', 'warn', one.upstream[0]?.level);
    stands(
      `30-${bond}-two`,
      'a second metal head',
      'ON-SITE',
      'over',
      onSet([metal('a'), metal('b')], bond).upstream[0]?.level,
    );
  }
  holds(
    '30-counted',
    'the same RCD on the mains is counted',
    'EN-61008',
    rcdCounts({ ma: 30, type: 'A', electronic: true }, { kind: 'mains', earthing: 'TN' }).counted,
  );
  add('41a', 'fridge-freezer 1.5 A, starting at six times', 'from memory', 9, startA(1.5, 6), 'A', EXACT);
  const discharge = onSet(
    [load('discharge head', 'magnetic', 575, { powerFactor: 0.9, classI: false })],
    true,
  );
  holds(
    '41b',
    'discharge head, run-up not stated: said, and no pass',
    'rule',
    discharge.upstream[0]?.level !== 'within' &&
      discharge.notChecked.some((s) => s.includes('while it starts')),
  );
}

/** Earth faults. */
export function earthFaultsRows({ add, holds, stands }: Rows): void {
  for (const [kind, ohm] of [
    ['mcb-b', 1.366],
    ['mcb-c', 0.683],
    ['mcb-d', 0.341],
  ] as const)
    add(
      `6-${kind}`,
      `largest loop of a 32 A ${kind}`,
      'BS-7671-41.3',
      ohm,
      zsLimitOhm({ kind, ratingA: 32 }, 'uk'),
      'Ω',
      0.001,
    );
  add(
    '21d',
    'Australia, C20',
    'AS-3000, from memory',
    1.533,
    zsLimitOhm({ kind: 'mcb-c', ratingA: 20 }, 'au'),
    'Ω',
    0.001,
  );
  const lead = leadLoopOhm({ mm2: 1.5, lengthM: 25 });
  const fault = (zsOhm: number | undefined, more: Partial<Parameters<typeof checkEarth>[0]> = {}) =>
    checkEarth({
      region: 'uk',
      source: { kind: 'mains', earthing: 'TN' },
      earthing: 'TN',
      zsOhm,
      leadOhm: lead,
      devices: [
        { kind: 'mcb-b', ratingA: 32, words: 'B32' },
        { kind: 'bs1362', ratingA: 13, words: '13 A plug fuse' },
      ],
      rcdCounted: false,
      ...more,
    });
  add('44a', '0.60 Ω hot and 25 m of 1.5 mm²', 'computed', 1.3695, fault(0.6).zsOhm, 'Ω', 0.001);
  holds(
    '44b',
    'the plug fuse clears it in time, and is named',
    'BS-7671-41.3',
    fault(0.6).level === 'within' && fault(0.6).words.includes('13 A plug fuse'),
  );
  stands(
    '44c',
    'the B32 alone does not',
    'BS-7671-41.3',
    'over',
    fault(0.6, { devices: [{ kind: 'mcb-b', ratingA: 32, words: 'B32' }] }).level,
  );
  add('44d', '0.60 Ω measured cold', 'BS-7671-41.3', 1.52, fault(hotZsOhm(0.6)).zsOhm, 'Ω', 0.001);
  stands('45a', 'loop blank', 'rule', 'not-checked', fault(undefined).level);
  stands('45b', 'TT', 'rule', 'not-checked', fault(0.6, { earthing: 'TT' }).level);
  stands(
    '45c',
    'generator',
    'rule',
    'not-checked',
    fault(0.6, { source: { kind: 'generator', continuousVa: 3000, bondedNeutral: true } }).level,
  );
}
