/** Sun, moon, sky and their levels: worked examples stand as check rows; here the laws that hold everywhere. */
import { expect, test } from 'vitest';
import { cctOf } from '../colour/cct.ts';
import { xyzOf } from '../colour/xyz.ts';
import { DEG, type Vec3 } from '../maths/vec3.ts';
import { clearLevelLx, moonLevelLx, skyLevelLx, sunNormalLx } from './dayLevels.ts';
import { sunSpectrum } from './daySpectra.ts';
import { moonOver } from './moon.ts';
import { throughGap } from './openings.ts';
import { levelOverZenith, OVERCAST, skyOverZenith, towards, UNIFORM } from './sky.ts';
import { CIVIL_DEG, julianDay, SUNSET_DEG, sunOver, sunPasses } from './sun.ts';

test('the sun of a home in the north of England on 27 November is gone before four, dusk ends forty minutes on', () => {
  const at = { latitudeDeg: 53.4, longitudeDeg: -2.2 };
  const jd = julianDay(2026, 11, 27);
  const set = sunPasses(jd, at, SUNSET_DEG);
  // 'sun gone before four' [the scene as told]; an almanac of 53° N gives 15:57 for the date (from memory).
  expect(set.down!).toBeGreaterThan(15.85);
  expect(set.down!).toBeLessThan(16);
  const dusk = sunPasses(jd, at, CIVIL_DEG).down! - set.down!;
  expect(dusk).toBeGreaterThan(0.6);
  expect(dusk).toBeLessThan(0.72);
  const noon = sunOver(jd + 12 / 24, at);
  // Declination −21.1° on the date: 90 − 53.4 − 21.1 = 15.5°; the sun is a little past south (equation of time 12 min).
  expect(Math.abs(noon.elevationDeg - 15.4)).toBeLessThan(0.3);
  expect(noon.azimuthDeg).toBeGreaterThan(179);
  expect(noon.azimuthDeg).toBeLessThan(183);
});

test('within the polar circles the sun may neither rise nor set; on the equator it does both', () => {
  const far = { latitudeDeg: 75, longitudeDeg: 20 };
  expect(sunPasses(julianDay(2026, 6, 21), far, SUNSET_DEG)).toEqual({ up: undefined, down: undefined });
  expect(sunPasses(julianDay(2026, 12, 21), far, SUNSET_DEG)).toEqual({ up: undefined, down: undefined });
  const home = sunPasses(julianDay(2026, 12, 21), { latitudeDeg: 0, longitudeDeg: 0 }, SUNSET_DEG);
  expect(home.up).toBeDefined();
  expect(home.down).toBeDefined();
});

test('solstice noon: 90° less latitude and obliquity, north and south alike', () => {
  for (const [latitudeDeg, month, want] of [
    [50, 6, 90 - 50 + 23.44],
    [50, 12, 90 - 50 - 23.44],
    [-35, 12, 90 - 35 + 23.44],
  ] as const) {
    let best = -90;
    for (let h = 10; h < 14; h += 0.02)
      best = Math.max(
        best,
        sunOver(julianDay(2026, month, 21, h), { latitudeDeg, longitudeDeg: 0 }).trueElevationDeg,
      );
    expect(Math.abs(best - want)).toBeLessThan(0.02);
  }
});

test('a full moon stands opposite the sun: high at midwinter midnight, low at midsummer', () => {
  const at = { latitudeDeg: 52, longitudeDeg: 0 };
  // Full moons of 2026: 24 December 01:28 UT, 29 June 23:57 UT (as two open almanacs print them).
  const winter = moonOver(julianDay(2026, 12, 24, 1.47), at);
  const summer = moonOver(julianDay(2026, 6, 29, 23.95), at);
  expect(winter.phaseDeg).toBeLessThan(6);
  expect(summer.phaseDeg).toBeLessThan(6);
  expect(winter.elevationDeg).toBeGreaterThan(50);
  expect(summer.elevationDeg).toBeLessThan(20);
});

test('levels fall without a step from noon to night', () => {
  for (const weather of ['clear', 'partly', 'overcast'] as const)
    for (let e = -18; e < 60; e += 0.25) {
      const a = skyLevelLx(weather, e) + sunNormalLx(weather, e) * Math.sin(Math.max(0, e) * DEG);
      const b =
        skyLevelLx(weather, e + 0.25) +
        sunNormalLx(weather, e + 0.25) * Math.sin(Math.max(0, e + 0.25) * DEG);
      expect(b).toBeGreaterThan(a * 0.97);
      // Never more than a stop in a quarter of a degree.
      expect(Math.log2(b / a), `${weather} ${e}`).toBeLessThan(1);
    }
  // From high sun down ours agrees with the almanac's clear day to half a stop (the two sources' own spread).
  for (const e of [25, 40, 60, 80]) {
    const ours = skyLevelLx('clear', e) + sunNormalLx('clear', e) * Math.sin(e * DEG);
    expect(Math.abs(Math.log2(ours / clearLevelLx(e))), `${e}`).toBeLessThan(0.5);
  }
  // The moon is about 18 stops under the sun [CHECKS-CAMERA §7.5].
  expect(Math.log2(clearLevelLx(60) / moonLevelLx(60, 0, 384400))).toBeGreaterThan(17.5);
});

test('dusk: after sunset a clear sky loses about a stop every few minutes at 53° N', () => {
  // −0.833° to −6° is 38 minutes there, and 454 lx to 3.4 lx: seven stops, one every five minutes.
  const stops = Math.log2(clearLevelLx(-0.833) / clearLevelLx(-6));
  expect(stops).toBeGreaterThan(6.5);
  expect(stops).toBeLessThan(7.5);
});

test('the sun reddens as it sinks; colour temperatures are a photographer’s', () => {
  const kelvin = (e: number) => cctOf(xyzOf(sunSpectrum(e, 'clear'))).cctK;
  // Noon sun 5000–5500 K; an hour or two after sunrise 3500–4500 K; sunset near 2000 (common practice, no source).
  expect(kelvin(60)).toBeGreaterThan(4900);
  expect(kelvin(60)).toBeLessThan(5600);
  expect(kelvin(15)).toBeGreaterThan(3500);
  expect(kelvin(15)).toBeLessThan(4600);
  expect(kelvin(2)).toBeLessThan(2300);
  for (let e = 1; e < 60; e += 3) expect(kelvin(e + 3)).toBeGreaterThan(kelvin(e));
});

test('every type of sky is positive, 1 at the zenith, even in type 5; the sun’s side is the brighter in clear ones', () => {
  for (let type = 1; type <= 16; type++) {
    const sun = towards(180, 35);
    expect(skyOverZenith({ type, sun }, [0, 0, 1])).toBeCloseTo(1, 9);
    for (let e = 1; e < 90; e += 8)
      for (let a = 0; a < 360; a += 30)
        expect(skyOverZenith({ type, sun }, towards(a, e)), `${type}`).toBeGreaterThan(0);
    expect(skyOverZenith({ type, sun }, [0.6, 0, -0.8])).toBe(0);
  }
  const clear = { type: 12, sun: towards(180, 35) };
  expect(skyOverZenith(clear, towards(180, 45))).toBeGreaterThan(3 * skyOverZenith(clear, towards(0, 45)));
  expect(levelOverZenith({ type: UNIFORM, sun: [0, 0, 1] })).toBeCloseTo(Math.PI, 9);
  expect(levelOverZenith({ type: OVERCAST, sun: [0, 0, 1] })).toBeCloseTo((7 * Math.PI) / 9, 3);
});

test('bearings: north is the bearing of +y', () => {
  const near = (a: Vec3, b: Vec3) => {
    for (const i of [0, 1, 2] as const) expect(a[i]).toBeCloseTo(b[i], 9);
  };
  near(towards(0, 0), [0, 1, 0]);
  near(towards(90, 0), [1, 0, 0]);
  near(towards(180, 0, 90), [1, 0, 0]);
  near(towards(123, 90), [0, 0, 1]);
});

test('a window by hand: 1.2 × 1.2 m of 3183 cd/m², pane 0.8, square to the eye [CHECKS-CAMERA §7.5]', () => {
  for (const [d, lux] of [
    [0.5, 5126],
    [1, 2490],
    [2, 819],
    [4, 223],
  ] as const) {
    const e = throughGap(
      { corner: [-0.6, d, -0.6], u: [1.2, 0, 0], v: [0, 0, 1.2] },
      [0, 0, 0],
      [0, 1, 0],
      () => 0.8 * 3183,
      { grid: 160 },
    );
    // Printed in whole lux.
    expect(Math.abs(e - lux), `${d}`).toBeLessThan(0.5 + 0.0003 * lux);
  }
});
