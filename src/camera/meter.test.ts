/** Readings in any unit as lux: the standard's formula, a foot in metres, and the signal table of BT.709. */
import { expect, test } from 'vitest';
import { luxRead, NOISE_STOPS, stopsOfSignal, wouldRead } from './meter.ts';
import { RESPONSES } from './response.ts';

const old = RESPONSES['old-sd'];
const at = { iso: 800, shutterS: 1 / 50, constantC: 250 };

test('lux, foot-candles and a grey card at a stop', () => {
  expect(luxRead('lux', 250, at, old)).toBe(250);
  expect(luxRead('footcandle', 23, at, old)).toBeCloseTo(23 * 10.764, 1); // 1 fc = 10.764 lx, as printed
  // Table B of the collection, C = 250, 1/50 s [CHECKS-CAMERA §1.2]: ISO 800 at T4 is 250 lx, ISO 100 at T2.8 1000 lx.
  expect(luxRead('stop', 4, at, old)).toBeCloseTo(250, 9);
  expect(luxRead('stop', Math.sqrt(8), { ...at, iso: 100 }, old)).toBeCloseTo(1000, 9);
  expect(luxRead('stop', 4, { ...at, filterStops: 1 }, old)).toBeCloseTo(500, 9);
});

test('zebra on the grey card: the signal table of BT.709 [CHECKS-CAMERA §1.8]', () => {
  for (const [ire, stops] of [
    [40, -0.06],
    [50, 0.53],
    [60, 1.02],
    [70, 1.45],
    [80, 1.83],
    [90, 2.17],
  ] as const) {
    expect(stopsOfSignal(old, ire / 100)).toBeCloseTo(stops, 1);
    expect(Math.abs(stopsOfSignal(old, ire / 100) - stops)).toBeLessThan(0.006);
    expect(Math.log2(luxRead('zebra', 4, at, old, ire) / luxRead('stop', 4, at, old))).toBeCloseTo(stops, 2);
  }
});

test('there and back', () => {
  for (const how of ['lux', 'footcandle', 'stop', 'zebra'] as const)
    for (const response of Object.values(RESPONSES))
      expect(luxRead(how, wouldRead(how, 123, at, response, 60), at, response, 60)).toBeCloseTo(123, 6);
});

test('a stop read in thirds is off by a sixth at most, evenly: 1/6 ÷ √3 and more', () => {
  expect(NOISE_STOPS.stop).toBeGreaterThan(1 / 6 / Math.sqrt(3));
  expect(NOISE_STOPS.stop).toBeLessThan(1 / 6);
});
