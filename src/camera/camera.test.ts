/** Exposure, lens, response, balance, flicker, ramp: tables of CHECKS-CAMERA and laws. Rows: src/checks/camera.ts. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cctOf } from '../colour/cct.ts';
import { deltaE2000, labOf } from '../colour/lab.ts';
import { planck } from '../colour/planck.ts';
import { D65_WHITE, decodeSrgb, xyzOfRgb } from '../colour/rgb.ts';
import { product } from '../colour/spectrum.ts';
import type { XYZ } from '../colour/xyz.ts';
import { xyzOf } from '../colour/xyz.ts';
import { times3 } from '../maths/linear.ts';
import { DEG } from '../maths/vec3.ts';
import {
  askedStop,
  eRefLux,
  exactStop,
  markedStop,
  shutterS,
  stopsOfGain,
  stopsOverGrey,
  stopsOverSet,
} from './exposure.ts';
import { flagFor } from './flare.ts';
import { beatHz, pulseRippleStops, rippleStops, visibleRippleStops } from './flicker.ts';
import { circleOfConfusionMm, depthOfField, fieldOfView, frameAt, sensorById } from './lens.ts';
import { CLASSES, isClipped, isCrushed, noiseShare, RESPONSES, toDisplay } from './response.ts';
import { stopColour } from './stopRamp.ts';
import { wallGapLateral, wallGapVertical } from './wall.ts';
import { applyBalance, balanceKelvin, balanceSurface, channelGains, offsetXy } from './whitebalance.ts';

test('table B: lux for T-stop and index at 1/50 s, C 250', () => {
  for (const [iso, k, lux] of [
    [100, 3, 1000],
    [320, 3, 312],
    [800, 3, 125],
    [800, 2, 62],
    [3200, 7, 500],
    [160, 5, 2500],
  ] as const)
    expect(Math.abs(eRefLux({ iso, tStop: markedStop(k), shutterS: 1 / 50 }) / lux - 1)).toBeLessThan(0.01);
  // S13: EI 320, T2.8, 1/50 s asks 312.5 lx; S01: ISO 800 asks 125.
  expect(eRefLux({ iso: 320, tStop: exactStop(2.8), shutterS: 1 / 50 })).toBeCloseTo(312.5, 9);
});

test('stops: a card under the reference light is on grey; the asked stop undoes the light', () => {
  const s = { iso: 800, tStop: exactStop(2.8), shutterS: 1 / 48, filterStops: 2 };
  expect(stopsOverGrey(eRefLux(s), 0.18, s)).toBeCloseTo(0, 12);
  expect(stopsOverGrey(eRefLux(s), 0.36, s)).toBeCloseTo(1, 12);
  fc.assert(
    fc.property(fc.double({ min: 1, max: 1e5, noNaN: true }), (lux) => {
      expect(stopsOverSet(lux, { ...s, tStop: askedStop(lux, s) })).toBeCloseTo(0, 9);
    }),
    { seed: 10 },
  );
  expect(exactStop(2.8)).toBeCloseTo(Math.sqrt(8), 12);
  expect(exactStop(2.7)).toBe(2.7);
  expect(stopsOfGain(18)).toBeCloseTo(2.99, 2);
  expect(1 / shutterS(172.8 * DEG, 25)).toBeCloseTo(52.08, 2);
});

test('depth and frame: the tables of §3', () => {
  for (const [f, N, c, s, near, far] of [
    [25, 2.8, 0.025, 2000, 1638, 2568],
    [9, 2.8, 0.004, 2000, 1568, 2760],
    [85, 2, 0.029, 1500, 1483, 1517],
  ] as const) {
    const d = depthOfField(f, N, c, s);
    expect(Math.abs(d.nearMm - near)).toBeLessThan(1);
    expect(Math.abs(d.farMm - far)).toBeLessThan(1);
  }
  expect(depthOfField(9, 2.8, 0.004, 8000).farMm).toBe(Number.POSITIVE_INFINITY);
  expect(fieldOfView(24.9, 18) / DEG).toBeCloseTo(69.3, 1);
  expect(circleOfConfusionMm(sensorById('third-inch')!)).toBeCloseTo(0.004, 4);
  expect(frameAt(sensorById('super-35')!, 35, 1).heightM).toBeCloseTo(0.4, 9);
});

test('wall and flag: the tables of §3.4 and §5', () => {
  for (const [D, h, hL, yb, w] of [
    [2.5, 1.75, 2.4, 1.2, 2.12],
    [2.5, 1.75, 2.7, 1.2, 1.45],
    [3, 1.75, 3, 1.1, 1.56],
  ] as const)
    expect(wallGapVertical(D, h, hL, yb)).toBeCloseTo(w, 2);
  for (const [Dc, fov, az, D, w] of [
    [1.8, 25, 60, 2.5, 0.41],
    [1.8, 25, 30, 2.5, 1.62],
    [2.5, 40, 45, 2.5, 1.82],
    [1.2, 18, 45, 2, 0.41],
  ] as const)
    expect(
      wallGapLateral({
        cameraToSubject: Dc,
        halfFov: (fov / 2) * DEG,
        keyAzimuth: az * DEG,
        lampToHead: D,
        headRadius: 0.09,
      }),
    ).toBeCloseTo(w, 2);
  expect(
    wallGapLateral({
      cameraToSubject: 2,
      halfFov: 30 * DEG,
      keyAzimuth: 20 * DEG,
      lampToHead: 2,
      headRadius: 0.09,
    }),
  ).toBeUndefined();
  const f = flagFor(80, 150, 4000, 400);
  expect(Math.round(f.size)).toBe(87);
  expect(Math.round(f.softEdge)).toBe(17);
});

test('flicker: the tables of §2', () => {
  for (const [fps, pulse, beat, ripple] of [
    [24, 100, 4, 0.04],
    [25, 100, 0, 0],
    [25, 120, 5, 0.127],
    [29.97, 120, 0.12, 0.001],
    [30, 100, 10, 0.167],
    [50, 120, 20, 0.158],
    [60, 100, 20, 0.193],
  ] as const) {
    expect(beatHz(pulse, fps)).toBeCloseTo(beat, 2);
    expect(visibleRippleStops(0.35, pulse, fps, 0.5 / fps)).toBeCloseTo(ripple, 3);
  }
  expect(rippleStops(1, 100, 1 / 100)).toBe(0);
  for (const [f, k, stops] of [
    [200, 4, 0.322],
    [1000, 20, 0.07],
    [10000, 200, 0.007],
  ] as const)
    expect(pulseRippleStops(f, (k + 0.5) / f)).toBeCloseTo(stops, 3);
  expect(pulseRippleStops(200, 1 / 50)).toBe(0);
});

test('every response: black to white, never down, no jump, grey on 0.409, clip where it says', () => {
  for (const r of Object.values(RESPONSES)) {
    expect(toDisplay(r, 0)).toBe(0);
    expect(toDisplay(r, 1)).toBeCloseTo(0.40901, 4);
    expect(toDisplay(r, 2 ** r.stopsAboveGrey)).toBeCloseTo(1, 9);
    expect(toDisplay(r, 1e6)).toBeLessThanOrEqual(1 + 1e-12);
    let last = 0;
    for (let s = -12; s < 9; s += 0.01) {
      const v = toDisplay(r, 2 ** s);
      expect(v).toBeGreaterThanOrEqual(last);
      expect(v - last).toBeLessThan(0.006);
      last = v;
    }
    expect(isClipped(r, 2 ** (r.stopsAboveGrey + 0.01))).toBe(true);
    expect(isClipped(r, 2 ** (r.stopsAboveGrey - 0.01))).toBe(false);
    expect(isCrushed(r, 2 ** (-r.stopsBelowGrey - 0.01))).toBe(true);
  }
  // The old class clips at the end of the BT.709 curve; the modern one holds two stops more.
  expect(toDisplay(RESPONSES['old-sd'], 2 ** 2.6)).toBe(1);
  expect(toDisplay(RESPONSES.modern, 2 ** 2.6)).toBeLessThan(0.92);
});

test('balance: the white comes out equal, at its level', () => {
  const modern = RESPONSES.modern;
  fc.assert(
    fc.property(fc.double({ min: 2100, max: 14000, noNaN: true }), (T) => {
      const wb = balanceKelvin(T, modern);
      const rgb = applyBalance(wb, wb.white);
      for (const v of rgb) expect(v).toBeCloseTo(1, 6);
    }),
    { seed: 11, numRuns: 40 },
  );
  // Read a card under tungsten with a green cast.
  const card = xyzOf(
    product(
      planck(3200),
      Float64Array.from({ length: 81 }, (_, i) => 0.5 + 0.1 * Math.exp(-(((i - 33) / 8) ** 2))),
    ),
  );
  const wb = balanceSurface(card, modern)!;
  expect(wb.clamped).toBe(false);
  const [r, g, b] = applyBalance(wb, card);
  expect(r / g).toBeCloseTo(1, 6);
  expect(b / g).toBeCloseTo(1, 6);
  expect(g / card[1]).toBeCloseTo(1, 6);
});

test('balance: 3200 K tungsten looks warm at 5600, cool daylight looks blue at 3200', () => {
  const [r, g, b] = applyBalance(balanceKelvin(5600, RESPONSES.modern), xyzOf(planck(3200)));
  expect(r).toBeGreaterThan(g);
  expect(g).toBeGreaterThan(b);
  const day = applyBalance(balanceKelvin(3200, RESPONSES.modern), xyzOf(planck(6500)));
  expect(day[2]).toBeGreaterThan(day[1]);
  const gains = channelGains(balanceKelvin(3200, RESPONSES.modern));
  expect(gains[2]).toBeGreaterThan(1.8);
  expect(gains[0]).toBeLessThan(1);
});

test('balance: beyond the class it stops at its limit and says so', () => {
  const old = RESPONSES['old-sd'];
  const candle = balanceSurface(xyzOf(planck(1900)), old)!;
  expect(candle.clamped).toBe(true);
  expect(Math.abs(candle.cctK - 2500)).toBeLessThan(3);
  expect(Math.abs(candle.askedK - 1900)).toBeLessThan(2);
  const [r, , b] = applyBalance(candle, xyzOf(planck(1900)));
  expect(r).toBeGreaterThan(b);
  expect(balanceKelvin(1500, old).clamped).toBe(true);
  expect(balanceKelvin(3600, old).clamped).toBe(false);
  expect(balanceSurface([0, 0, 0], old)).toBeUndefined();
  // A strong green asks for more than the gains have.
  const green: XYZ = [0.5, 1, 0.4];
  const wb = balanceSurface(green, old)!;
  expect(wb.clamped).toBe(true);
  expect(Math.abs(wb.duv)).toBeLessThan(0.0215);
});

test('offset from the locus is what the temperature reads back', () => {
  for (const [T, d] of [
    [3200, 0.01],
    [5600, -0.008],
    [4300, 0.015],
  ] as const) {
    const { x, y } = offsetXy(T, d);
    const c = cctOf([x / y, 1, (1 - x - y) / y]);
    expect(c.duv).toBeCloseTo(d, 4);
    expect(Math.abs(c.cctK / T - 1)).toBeLessThan(0.003);
  }
});

/** Full dichromacy in linear RGB at severity 1 [MACHADO-2009]. */
const BLINDNESS = {
  red: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  green: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  blue: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
};

test('the ramp of stops: lightness always rises, grey at nought, whole stops apart for every eye', () => {
  const seen = (stops: number, m?: readonly number[]): [number, number, number] => {
    const [r, g, b] = stopColour(stops);
    const lin: [number, number, number] = [decodeSrgb(r), decodeSrgb(g), decodeSrgb(b)];
    return labOf(xyzOfRgb(m === undefined ? lin : times3(m, lin)), D65_WHITE);
  };
  let last = -1;
  for (let s = -6; s <= 6.001; s += 0.1) {
    const L = seen(s)[0];
    expect(L).toBeGreaterThan(last);
    last = L;
  }
  const [r, g, b] = stopColour(0);
  expect(r).toBeCloseTo(g, 3);
  expect(b).toBeCloseTo(g, 3);
  for (const m of [undefined, ...Object.values(BLINDNESS)])
    for (let s = -6; s < 6; s++) {
      const one = seen(s, m);
      const two = seen(s + 1, m);
      expect(two[0] - one[0]).toBeGreaterThan(2.5);
      expect(deltaE2000(one, two)).toBeGreaterThan(3.5);
    }
  // Held at the ends.
  expect(stopColour(9)).toEqual(stopColour(6));
});

test('every class keeps within the ranges given for its kind, and its noise is what was told', () => {
  // Stops over grey to the clip, and in all [CHECKS-CAMERA §1.7]; the knee of tape may add 0.5 to 1.
  const ranges: Record<string, [number, number, number, number]> = {
    'old-sd': [2, 2.5, 6, 8],
    tape: [2.5, 3.5, 6, 8],
    'hd-knee': [3, 4, 8, 10],
    'large-8bit': [3, 3.5, 8, 9],
    modern: [4.5, 5.5, 11, 12],
    wide: [6, 7.8, 13, 15],
    negative: [6, 7, 13, 14],
  };
  expect(Object.keys(RESPONSES).sort()).toEqual([...CLASSES].sort());
  for (const r of Object.values(RESPONSES)) {
    const [low, high, least, most] = ranges[r.id]!;
    expect(r.stopsAboveGrey, r.id).toBeGreaterThanOrEqual(low);
    expect(r.stopsAboveGrey, r.id).toBeLessThanOrEqual(high);
    const all = r.stopsAboveGrey + r.stopsBelowGrey;
    expect(all, r.id).toBeGreaterThanOrEqual(least);
    expect(all, r.id).toBeLessThanOrEqual(most);
    // At the floor a quarter and a little more; from there to the clip it falls at least with the root of light.
    const floor = noiseShare(r, 2 ** -r.stopsBelowGrey);
    expect(floor, r.id).toBeGreaterThan(0.25);
    expect(floor, r.id).toBeLessThan(0.36);
    for (let s = -r.stopsBelowGrey; s < r.stopsAboveGrey; s++)
      expect(noiseShare(r, 2 ** s) / noiseShare(r, 2 ** (s + 1)), r.id).toBeGreaterThanOrEqual(
        Math.SQRT2 - 1e-9,
      );
    expect(-20 * Math.log10(noiseShare(r, 2 ** 2)), r.id).toBeGreaterThan(r.greySnrDb);
    expect(noiseShare(r, 0.01)).toBeGreaterThan(noiseShare(r, 0.1));
  }
});
