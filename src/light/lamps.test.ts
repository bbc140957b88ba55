/** Sources, tungsten, sheets, kit lamps, one reading: laws and the worked figures they rest on. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cctOf } from '../colour/cct.ts';
import { LUMENS_PER_WATT, Y_BAR } from '../colour/observer.ts';
import { xyzOf } from '../colour/xyz.ts';
import { DEG } from '../maths/vec3.ts';
import { pointLux, tubeLux } from './analytic.ts';
import {
  angleAtShare,
  axisCd,
  cosineBeam,
  energyCheck,
  fluxLm,
  focusOfAngle,
  intensityCd,
  tubeBeam,
} from './beam.ts';
import { headFactor, luxFromStop } from './calibration.ts';
import { DIFFUSIONS, diffusionById, netById, scrimById, stackDiffusion } from './diffusion.ts';
import { gelById, luminousTransmittance } from './gels.ts';
import { glassReflectance, glassTransmittance } from './glass.ts';
import { apparentVA, beamOfLamp, forMains, KIT_LAMPS, kitLampById } from './kitlamps.ts';
import { fallOffStops, penumbraWidth, ratioOf, softnessWords } from './softness.ts';
import { DEFAULT_CCT, type SourceKind, sourceSpectrum } from './source.ts';
import { atVolts, phaseCutShare, voltShareForStops } from './tungsten.ts';

const kinds = Object.keys(DEFAULT_CCT) as SourceKind[];

test('every source is one lumen, and has the colour temperature asked where it can', () => {
  for (const k of kinds) {
    const s = sourceSpectrum(k);
    let lm = 0;
    for (let i = 0; i < 81; i++) lm += s[i]! * Y_BAR[i]! * 5;
    expect(LUMENS_PER_WATT * lm, k).toBeCloseTo(1, 9);
    expect(
      s.every((v) => v >= 0),
      k,
    ).toBe(true);
  }
  for (const [k, T] of [
    ['tungsten', 2900],
    ['led', 3200],
    ['led', 4300],
    ['led', 5600],
    ['fluorescent', 3500],
    ['fluorescent-three-band', 3500],
    ['daylight', 6500],
  ] as const)
    expect(Math.abs(cctOf(xyzOf(sourceSpectrum(k, T))).cctK - T), `${k} ${T}`).toBeLessThan(6);
});

test('tungsten against the table of CHECKS-LIGHT §3.1 and CHECKS-CAMERA §6.4', () => {
  for (const [r, flux, power, K] of [
    [0.5, 0.0947, 0.342, 2392],
    [0.7, 0.2974, 0.575, 2755],
    [0.8, 0.4683, 0.708, 2914],
    [0.95, 0.84, 0.924, 3132],
    [1.05, 1.1804, 1.079, 3266],
    [1.1, 1.3827, 1.159, 3331],
  ] as const) {
    const t = atVolts({ volts: 230, cctK: 3200 }, 230 * r);
    expect(t.fluxFactor).toBeCloseTo(flux, 3);
    expect(t.powerFactor).toBeCloseTo(power, 2);
    expect(Math.abs(t.cctK - K)).toBeLessThan(1);
    expect(t.powerFactor).toBeCloseTo(t.currentFactor * r, 12);
  }
  expect(100 * voltShareForStops(-1)).toBeCloseTo(81.6, 1);
  for (const [deg, share] of [
    [45, 95.3],
    [60, 89.7],
    [90, 70.7],
    [120, 44.2],
    [135, 30.1],
  ] as const)
    expect(100 * phaseCutShare(deg * DEG)).toBeCloseTo(share, 1);
  expect(atVolts({ volts: 230, cctK: 3200 }, 0).fluxFactor).toBe(0);
});

test('the published worked example of [FIELD-GUIDE] comes out within its own rounding', () => {
  // 1.05 × current: volts 10.8 → 11.8, 65 → 75 W, 1040 → 1428 lm, 2900 → 3015 K. Volts printed to 0.1: half a digit
  // at each end is 0.9 % of the ratio, so 3 % of flux, 1.4 % of power, 11 K.
  const t = atVolts({ volts: 10.8, cctK: 2900 }, 11.8);
  expect(Math.abs((1040 * t.fluxFactor) / 1428 - 1)).toBeLessThan(0.03);
  expect(Math.abs((65 * t.powerFactor) / 75 - 1)).toBeLessThan(0.014);
  expect(Math.abs(t.cctK - 3015)).toBeLessThan(11);
});

test('sheets: losses as listed, straight shares from eighth to heavy', () => {
  for (const [id, percent] of [
    ['full-white', 35],
    ['half-white', 59],
    ['light-frost', 71],
    ['heavy-frost', 25],
    ['full-grid', 18],
    ['muslin', 25],
  ] as const)
    expect(Math.round(100 * diffusionById(id)!.transmittance)).toBe(percent);
  expect(diffusionById('half-white')!.straightShare).toBe(0.4);
  expect(DIFFUSIONS.every((d) => d.straightShare >= 0 && d.straightShare <= 0.8)).toBe(true);
  const two = stackDiffusion([diffusionById('light-frost')!, diffusionById('light-frost')!]);
  expect(two.transmittance).toBeCloseTo(0.5, 12);
  expect(scrimById('full')!.transmittance).toBe(0.5);
  expect(netById('net-half')!.transmittance).toBeCloseTo(Math.SQRT1_2, 12);
});

test('glass: what is not passed or absorbed comes back; clear slab sums to one', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 1, noNaN: true }), (c) => {
      const pane = { n: 1.52, internal: 1 };
      expect(glassTransmittance(c, pane) + glassReflectance(c, pane)).toBeCloseTo(1, 12);
      expect(glassTransmittance(c) + glassReflectance(c)).toBeLessThan(1);
    }),
    { seed: 9 },
  );
});

/**
 * Planning candela are good to half a stop, and cosⁿ has a fat tail at wide angles: the 800 W open-face at flood comes
 * out at 100.2 % of its bulb, which no reflector does. Kept as stated, held to 5 %.
 */
test('no lamp gives more light than its bulb, within the doubt of planning values', () => {
  for (const lamp of KIT_LAMPS) {
    if (lamp.bareLm === undefined) continue;
    for (const f of [0, 0.5, 1])
      expect(fluxLm(beamOfLamp(lamp, f)), lamp.id).toBeLessThanOrEqual(lamp.bareLm * 1.05);
    if (lamp.optics.kind === 'focus') {
      expect(energyCheck(lamp.optics.flood, lamp.bareLm).plausible, lamp.id).toBe(true);
      expect(energyCheck(lamp.optics.spot, lamp.bareLm).plausible, lamp.id).toBe(true);
    }
  }
});

test('the lamps of the boat shed (S13) and the kitchen (S01) are there with their stated light', () => {
  const at = (id: string, focus = 0): number => axisCd(beamOfLamp(kitLampById(id)!, focus));
  const beamDeg = (id: string, focus = 0): number =>
    angleAtShare(beamOfLamp(kitLampById(id)!, focus), 0.5) / DEG;
  expect(at('open-face-800')).toBeCloseTo(9500, 6);
  expect(beamDeg('open-face-800')).toBeCloseTo(84, 6);
  expect(at('fresnel-650')).toBeCloseTo(6500, 6);
  expect(beamDeg('fresnel-650')).toBeCloseTo(53, 6);
  const k = kitLampById('fresnel-1000')!;
  if (k.optics.kind !== 'focus') throw new Error('fresnel-1000 does not focus');
  expect(Math.abs(at('fresnel-1000', focusOfAngle(k.optics.spot, k.optics.flood, 30)) - 31430)).toBeLessThan(
    5,
  );
  const flood = kitLampById('site-flood-500')!;
  expect(at('site-flood-500')).toBe(3000);
  expect(angleAtShare(beamOfLamp(flood), 0.5) / DEG).toBeCloseTo(110, 6);
  expect(angleAtShare(beamOfLamp(flood), 0.5, true) / DEG).toBeCloseTo(80, 6);
  expect(at('tube-36')).toBeCloseTo(339.4, 1);
  expect(apparentVA(kitLampById('tube-36')!)).toBe(90);
  expect(at('fresnel-300')).toBeCloseTo(2400, 6);
  expect(beamDeg('fresnel-300')).toBeCloseTo(60, 6);
  expect(at('led-panel-60')).toBe(4000);
  expect(beamDeg('led-panel-60')).toBeCloseTo(55, 6);
  expect(apparentVA(kitLampById('led-panel-60')!)).toBeCloseTo(70, 9);
  expect(apparentVA(kitLampById('led-spot-200')!)).toBeCloseTo(220, 9);
  expect(fluxLm(beamOfLamp(kitLampById('led-filament-6')!))).toBeCloseTo(700, 9);
});

test('S13 key light, as reckoned by hand there: L1 4789 cd at 3.92 m gives B 312 lx, 16.8° off axis A 506 lx', () => {
  const beam = cosineBeam(4789, 84);
  const E = (off: number, d: number): number =>
    pointLux(intensityCd(beam, [Math.sin(off), 0, Math.cos(off)]), d);
  expect(Math.abs(E(0, 3.92) - 312)).toBeLessThan(1);
  expect(Math.abs(E(16.8 * DEG, 2.92) - 506)).toBeLessThan(3);
  // The tube: 3350 lm at 4.84 m, about 14 lx facing it.
  expect(Math.abs(tubeLux(3350, 1.2, 4.84) - 14)).toBeLessThan(1);
  expect(axisCd(tubeBeam(3350))).toBeCloseTo(339.4, 1);
});

test('S13’s gel factors: ½ CTO 0.71 and ½ CTB 0.54 on tungsten within 5 points', () => {
  const light = sourceSpectrum('tungsten');
  expect(Math.abs(luminousTransmittance(gelById('half-cto')!.transmittance, light) - 0.71)).toBeLessThan(
    0.05,
  );
  expect(Math.abs(luminousTransmittance(gelById('half-ctb')!.transmittance, light) - 0.54)).toBeLessThan(
    0.05,
  );
});

test('one reading scales the head; a made-up head of 0.8 is found again, on and off the axis', () => {
  const beam = cosineBeam(6500, 53);
  for (const offAxis of [0, 0.2, 0.4]) {
    const cd = intensityCd(beam, [Math.sin(offAxis), 0, Math.cos(offAxis)]);
    expect(headFactor(beam, { lux: (0.8 * cd * 0.71) / 9, distanceM: 3, offAxis }, 0.71)).toBeCloseTo(0.8, 9);
  }
  expect(headFactor(beam, { lux: 10, distanceM: 3, offAxis: 2 })).toBeUndefined();
  // ISO 800, T2.8, 1/48 s: 120 lx [CHECKS-LIGHT §2.10].
  expect(luxFromStop({ tStop: Math.sqrt(8), iso: 800, shutterS: 1 / 48 })).toBeCloseTo(120, 9);
  expect(luxFromStop({ tStop: Math.sqrt(8), iso: 800, shutterS: 1 / 48, stopsOver: 1 })).toBeCloseTo(240, 9);
});

test('fall-off, softness, ratio against the tables of CHECKS-CAMERA §4.4–4.7', () => {
  for (const [a, b, s] of [
    [1, 2, 2],
    [1.5, 2.5, 1.47],
    [2, 3.5, 1.61],
    [8, 9, 0.34],
  ] as const)
    expect(fallOffStops(a, b)).toBeCloseTo(s, 2);
  for (const [stops, sides, face] of [
    [1, 3, 1.58],
    [2, 5, 2.32],
    [3, 9, 3.17],
    [5, 33, 5.04],
  ] as const) {
    const r = ratioOf(2 ** stops, 1);
    expect(r.sides).toBeCloseTo(sides, 9);
    expect(r.stopsOnFace).toBeCloseTo(face, 2);
  }
  expect(penumbraWidth(0.25, 6, 1.5)).toBe(0.0625);
  expect(softnessWords(33 * DEG)).toBe('soft');
});

test('another mains: same light, other volts', () => {
  const lamp = forMains(kitLampById('fresnel-650')!, 120);
  expect(lamp.ratedV).toBe(120);
  expect(lamp.watts).toBe(650);
  expect(forMains(kitLampById('candle')!, 120).ratedV).toBe(0);
});
