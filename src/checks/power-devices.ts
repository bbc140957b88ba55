/** Rows: when a device may and when it should have opened; leakage. */
import { type Protection, tripBand } from '../power/device.ts';
import { load, mains } from '../power/examples.ts';
import { judgeLeakage } from '../power/rcd.ts';
import { neededRatingA, outletLimitA, REGION } from '../power/region.ts';
import { solve } from '../power/solve.ts';
import { EXACT, plugged, type Rows } from './power-rows.ts';

/** Time bands, continuous loads, leakage. */
export function devicesRows({ add, holds, stands }: Rows): void {
  const plug = (ratingA: number): Protection => ({ kind: 'bs1362', ratingA });
  const b16: Protection = { kind: 'mcb-b', ratingA: 16 };
  add('7a', '13 A fuse at 40 A, earliest', 'BS-1362', 0.273, tripBand(plug(13), 40).earliestS, 's', 0.00273);
  add('7b', '13 A fuse at 40 A, latest', 'BS-1362', 74, tripBand(plug(13), 40).latestS, 's', 0.74);
  add('8a', '13 A fuse at 24.7 A, latest', 'BS-1362', 1800, tripBand(plug(13), 24.7).latestS, 's', EXACT);
  add('8b', '13 A fuse at 20.8 A, earliest', 'BS-1362', 1800, tripBand(plug(13), 20.8).earliestS, 's', EXACT);
  holds(
    '8c',
    '13 A fuse at 20 A may carry it for ever',
    'BS-1362',
    tripBand(plug(13), 20).mayCarry && tripBand(plug(13), 20).latestS === undefined,
  );
  add('9a', 'B16 at 18.08 A, earliest', 'IEC-60898', 3600, tripBand(b16, 18.08).earliestS, 's', 0.01);
  holds('9b', 'no latest time at 18.08 A', 'IEC-60898', tripBand(b16, 18.08).latestS === undefined);
  add(
    '9c',
    'B16 at 23.2 A straight after, latest',
    'IEC-60898',
    3600,
    tripBand(b16, 23.2).latestS,
    's',
    0.01,
  );
  holds(
    '9d',
    'from cold it may hold longer, and the words say so',
    'IEC-60898',
    tripBand(b16, 23.2).warm && tripBand(b16, 23.2).words.includes('later from cold'),
  );
  add('9e', 'B16 at 40.8 A, earliest', 'IEC-60898', 1, tripBand(b16, 40.8).earliestS, 's', EXACT);
  add('9f', 'B16 at 40.8 A, latest', 'IEC-60898', 60, tripBand(b16, 40.8).latestS, 's', EXACT);
  add('9g', 'B16 at 80 A, latest', 'IEC-60898', 0.1, tripBand(b16, 80).latestS, 's', EXACT);
  for (const [times, early, late] of [
    [1.3, 879, undefined],
    [1.45, 293, 3600],
    [2, 11.5, 349],
    [2.55, 1, 60],
  ] as const) {
    add(
      `band-b-${times}`,
      `type B at ${times} times, earliest`,
      'IEC-60898',
      early,
      tripBand(b16, 16 * times).earliestS,
      's',
      early * 0.01,
    );
    if (late !== undefined)
      add(
        `band-b-${times}-late`,
        `type B at ${times} times, latest`,
        'IEC-60898',
        late,
        tripBand(b16, 16 * times).latestS,
        's',
        late * 0.01,
      );
  }
  const c16: Protection = { kind: 'mcb-c', ratingA: 16 };
  add('band-c-4', 'type C at 4 times, earliest', 'IEC-60898', 0.21, tripBand(c16, 64).earliestS, 's', 0.005);
  add(
    'band-c-4-late',
    'type C at 4 times, latest',
    'IEC-60898, from memory',
    23.7,
    tripBand(c16, 64).latestS,
    's',
    0.237,
  );
  add(
    'band-13-26',
    '13 A fuse at 26 A, earliest',
    'BS-1362',
    18.7,
    tripBand(plug(13), 26).earliestS,
    's',
    0.187,
  );
  add(
    'band-13-26-late',
    '13 A fuse at 26 A, latest',
    'BS-1362',
    1210,
    tripBand(plug(13), 26).latestS,
    's',
    12.1,
  );
  add(
    'band-13-60-late',
    '13 A fuse at 60 A, latest',
    'BS-1362',
    5.96,
    tripBand(plug(13), 60).latestS,
    's',
    0.0596,
  );
  for (const [kind, times, late] of [
    ['mcb-b', 3, 90],
    ['mcb-c', 5, 30],
    ['mcb-d', 10, 8],
  ] as const)
    add(
      `46-${kind}`,
      `40 A ${kind} at ${times} times, latest`,
      'IEC-60898, from memory',
      late,
      tripBand({ kind, ratingA: 40 }, 40 * times).latestS,
      's',
      late * 0.01,
    );
  add(
    '46-255',
    '40 A at 2.55 times, latest',
    'IEC-60898',
    120,
    tripBand({ kind: 'mcb-b', ratingA: 40 }, 102).latestS,
    's',
    1.2,
  );
  add(
    '46-2',
    '40 A type B at 2 times, latest',
    'computed',
    519,
    tripBand({ kind: 'mcb-b', ratingA: 40 }, 80).latestS,
    's',
    5.19,
  );
  add('47a', '3 A fuse at 9 A, earliest', 'BS-1362', 0.02, tripBand(plug(3), 9).earliestS, 's', 2e-4);
  add('47b', '3 A fuse at 9 A, latest', 'BS-1362', 80, tripBand(plug(3), 9).latestS, 's', 0.8);
  add('47c', '3 A fuse at 7 A, earliest', 'computed', 1.91, tripBand(plug(3), 7).earliestS, 's', 0.0191);
  add('47d', '3 A fuse at 7 A, latest', 'computed', 444, tripBand(plug(3), 7).latestS, 's', 4.44);
  const silent = (d: Protection, a: number): boolean => {
    const band = tripBand(d, a);
    return (
      band.earliestS === undefined && band.latestS === undefined && band.words.startsWith('no time given')
    );
  };
  holds('47e', '5 A fuse at 9 A: no time given', 'BS-1362', silent(plug(5), 9));
  holds(
    '47f',
    'BS 1361 at 5, 50 and 500 A: no time given',
    'none read',
    [5, 50, 500].every((a) => silent({ kind: 'bs1361', ratingA: 30 }, a)),
  );
  add('10a', '16 A continuous needs', 'NEC-210', 20, neededRatingA(16, 0), 'A', EXACT);
  add('10b', '10 A continuous and 6 A other need', 'NEC-210', 18.5, neededRatingA(10, 6), 'A', EXACT);
  add('11a', '15 A outlet, largest load', 'NEC-210', 12, outletLimitA(15), 'A', EXACT);
  add('11b', 'in watts at 120 V', 'NEC-210', 1440, outletLimitA(15) * REGION.na.nominalV, 'W', EXACT);
  add('11c', '20 A outlet, largest load', 'NEC-210', 1920, outletLimitA(20) * REGION.na.nominalV, 'W', EXACT);
  const three = judgeLeakage(3 * 3.5, 30);
  add(
    '20a',
    'three loads of 3.5 mA on one RCD',
    'EN-61008',
    10.5,
    solve(mains([plugged(['a', 'b', 'c'].map((id) => load(id, 'electronic', 100, { leakageMa: 3.5 })))]))
      .circuits[0]?.leakageMa,
    'mA',
    EXACT,
  );
  stands('20b', 'against the 9 mA of a 30 mA RCD', 'EN-61008', 'warn', three.level);
  stands('20c', 'two of them', 'EN-61008', 'within', judgeLeakage(7, 30).level);
  stands('24a', 'class A, one 3.5 mA head', 'UL-943', 'warn', judgeLeakage(3.5, 6, 'gfci-a').level);
  stands('24b', 'with 1.0 mA more', 'UL-943', 'over', judgeLeakage(4.5, 6, 'gfci-a').level);
}
