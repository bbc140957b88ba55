/** Rows: what leads lose, and what a lamp does about it. */
import {
  ambientFactor,
  circularMilDropV,
  cord,
  dropPerAmpMetreMv,
  leadHeatW,
  leadLoopOhm,
  runningTemperatureC,
  tableDropV,
} from '../power/cord.ts';
import { behindLead, load } from '../power/examples.ts';
import { currentAt, distortedPowerFactor, largestPowerW, planningCurrentA } from '../power/load.ts';
import { REGION } from '../power/region.ts';
import { solve } from '../power/solve.ts';
import { surgeA, surgePeakA } from '../power/surge.ts';
import { lamp, NONE, type Rows } from './power-rows.ts';

/** Per cent lost between a 230 V source and a 2 kW lamp behind this lead, by the load flow. `ambientC`: let the lead warm up. */
function percentLost(lengthM: number, ambientC?: number): number {
  let conductorC = 60;
  let lost = NONE;
  for (let k = 0; k < (ambientC === undefined ? 1 : 20); k++) {
    const ohm = leadLoopOhm({ mm2: 1.5, lengthM, conductorC, tinned: true }) ?? NONE;
    const [lamp] = solve(behindLead(load('lamp', 'tungsten', 2000), ohm)).loads;
    lost = (lamp?.dropShare ?? NONE) * 100;
    if (ambientC !== undefined) conductorC = runningTemperatureC(lamp?.currentA ?? NONE, 16, ambientC);
  }
  return lost;
}

/** Drop, lamp laws, largest power, surge. */
export function dropsRows({ add, stands }: Rows): void {
  const table = 'BS-7671-4F3';
  const amps = 2000 / 230;
  add('1a', '2 kW, 25 m of 1.5 mm², table', table, 6.957, tableDropV(1.5, amps, 25), 'V', 0.01);
  add('1b', 'the same, 30 m', table, 8.348, tableDropV(1.5, amps, 30), 'V', 0.01);
  add(
    '1c',
    '30 m by lamp law, conductor at 60 °C (0.96 Ω)',
    'computed',
    3.56,
    (solve(behindLead(lamp('l', 2000), 0.96)).loads[0]?.dropShare ?? NONE) * 100,
    '%',
    0.01,
  );
  add('1d', '30 m, tinned, at its running temperature', 'computed', 3.27, percentLost(30, 30), '%', 0.01);
  add('1e', '25 m, tinned, at its running temperature', 'computed', 2.74, percentLost(25, 30), '%', 0.01);
  stands(
    '1f',
    '30 m against the 3 % line',
    'common practice',
    'warn',
    solve(behindLead(lamp('l', 2000), 0.96)).loads[0]?.level,
  );
  add('2a', '10 A, 25 m of 1 mm², table', table, 11.5, tableDropV(1, 10, 25), 'V', 0.01);
  add('2b', '10 A, 24 m of 1 mm², table', table, 11.04, tableDropV(1, 10, 24), 'V', 0.01);
  add(
    '2c',
    'the same by formula',
    'computed',
    4.83,
    (((leadLoopOhm({ mm2: 1, lengthM: 24, tinned: true }) ?? NONE) * 10) / 230) * 100,
    '%',
    0.01,
  );
  add('3', '12 AWG, 20 A, 100 ft', 'K-METHOD', 7.902, circularMilDropV(12, 20, 100), 'V', 0.01);
  add('4', '8 AWG, 20 A, 100 ft', 'K-METHOD', 3.125, circularMilDropV(8, 20, 100), 'V', 0.01);
  add(
    '5',
    '2.5 mm² tinned at 60 °C, per amp and metre',
    `${table}, IEC-60228`,
    19,
    dropPerAmpMetreMv(cord(2.5)?.tinnedOhmPerKm ?? NONE),
    'mV',
    0.1,
  );
  add('5b', '1.5 mm² at 40 °C carries', table, 13.12, 16 * ambientFactor(40), 'A', 0.001);

  const seen = { ...lamp('l', 800, 240) };
  add('17a', '800 W 240 V lamp on 230 V', 'LAMP-RERATING', 3.256, currentAt(seen, 230), 'A', 0.00326);
  add('17b', 'its watts', 'LAMP-RERATING', 748.9, currentAt(seen, 230) * 230, 'W', 0.749);
  const far = solve(behindLead(lamp('l', 2000), 1.6)).loads[0];
  add('18a', '2 kW lamp through 1.6 Ω', 'computed', 216.54, far?.volts, 'V', 0.108);
  add('18b', 'its current', 'computed', 8.412, far?.currentA, 'A', 0.0042);
  add('18c', 'its watts', 'computed', 1821.5, (far?.volts ?? NONE) * (far?.currentA ?? NONE), 'W', 0.91);
  const held = (watts: number) => solve(behindLead(load('l', 'electronic', watts), 10)).loads[0];
  add('31a', '1 kW of constant power through 10 Ω', 'computed', 171.79, held(1000)?.volts, 'V', 0.01);
  add('31b', 'largest power 10 Ω can bring', 'computed', 1322.5, largestPowerW(230, 10), 'W', 0.01);
  stands(
    '31c',
    '1323 W behind it: no working point',
    'computed',
    'over',
    held(1323)?.volts === undefined ? held(1323)?.level : 'within',
  );
  add(
    '31d',
    '1322 W still has one',
    'computed',
    (230 + Math.sqrt(230 ** 2 - 40 * 1322)) / 2,
    held(1322)?.volts,
    'V',
    0.01,
  );
  add(
    '25b',
    'heat of 25 m of 1.5 mm² at 13 A',
    'computed',
    130,
    leadHeatW(13, leadLoopOhm({ mm2: 1.5, lengthM: 25 }) ?? NONE),
    'W',
    1.3,
  );
  add(
    '42a',
    '2 kW cold at 14 times, stiff',
    'INRUSH',
    121.7,
    surgeA([{ watts: 2000, ratedV: 230 }], 230),
    'A',
    0.122,
  );
  add(
    '42b',
    'its first peak',
    'INRUSH',
    172.2,
    surgePeakA(surgeA([{ watts: 2000, ratedV: 230 }], 230)),
    'A',
    0.172,
  );
  add(
    '42c',
    'through 1.02 Ω',
    'computed',
    79.06,
    surgeA([{ watts: 2000, ratedV: 230 }], 230, 1.02),
    'A',
    0.079,
  );
  add(
    '43a',
    'displacement 0.9, distortion 30 %',
    'computed',
    0.862,
    distortedPowerFactor(0.9, 0.3),
    '',
    0.001,
  );
  add('43b', 'distortion 100 %', 'computed', 0.636, distortedPowerFactor(0.9, 1), '', 0.001);
  const worst = { lowestV: REGION.uk.lowestV, highestV: REGION.uk.highestV };
  add(
    '49a',
    'planning current of a 230 V lamp over its marked',
    'computed',
    1.054,
    planningCurrentA(lamp('l', 230), worst),
    '×',
    0.001,
  );
  add(
    '49b',
    'of an electronic load',
    'computed',
    1.156,
    planningCurrentA(load('e', 'electronic', 230), worst),
    '×',
    0.001,
  );
}
