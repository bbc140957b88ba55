import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Vec3 } from '../maths/vec3.ts';
import { DEG } from '../maths/vec3.ts';
import {
  angleAtShare,
  axisCd,
  type Beam,
  cosineBeam,
  energyCheck,
  fluxLm,
  focusBeam,
  focusOfAngle,
  intensityCd,
  isotropicBeam,
  scaleBeam,
  tubeBeam,
} from './beam.ts';
import { parseLm63 } from './lm63.ts';

/** Flux by brute force: a fine grid over the whole sphere. */
function bruteFlux(beam: Beam): number {
  const nt = 720;
  const np = 360;
  let sum = 0;
  for (let i = 0; i < nt; i++) {
    const theta = ((i + 0.5) / nt) * Math.PI;
    for (let j = 0; j < np; j++) {
      const phi = ((j + 0.5) / np) * 2 * Math.PI;
      const s = Math.sin(theta);
      const dir: Vec3 = [s * Math.cos(phi), s * Math.sin(phi), Math.cos(theta)];
      sum += intensityCd(beam, dir) * s;
    }
  }
  return (sum * Math.PI * 2 * Math.PI) / (nt * np);
}

test('flux is the integral of intensity, every kind of beam', () => {
  const table = parseLm63(
    'IESNA:LM-63-2002\nTILT=NONE\n1 -1 1 4 3 1 2 0 0 0\n1 1 100\n0 30 60 90\n0 45 90\n1000 800 300 0 1000 600 200 0 1000 400 100 0',
  );
  if (!table.ok) throw new Error(table.error);
  const beams: Beam[] = [
    cosineBeam(4000, 20),
    cosineBeam(3000, 110, 80),
    tubeBeam(3350),
    isotropicBeam(700),
    { kind: 'table', table: table.file.table, gain: 2 },
  ];
  for (const b of beams) expect(Math.abs(bruteFlux(b) / fluxLm(b) - 1)).toBeLessThan(1e-3);
});

test('half intensity at half the beam angle, both ways of an oval', () => {
  const oval = cosineBeam(3000, 110, 80);
  expect(angleAtShare(oval, 0.5) / DEG).toBeCloseTo(110, 6);
  expect(angleAtShare(oval, 0.5, true) / DEG).toBeCloseTo(80, 6);
  expect(intensityCd(oval, [Math.sin(55 * DEG), 0, Math.cos(55 * DEG)])).toBeCloseTo(1500, 6);
  expect(intensityCd(oval, [0, 0, -1])).toBe(0);
});

test('a round beam is the same at every turn about its axis', () => {
  const b = cosineBeam(1000, 40, 40);
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 1.5, noNaN: true }),
      fc.double({ min: 0, max: 6.28, noNaN: true }),
      (t, p) => {
        const dir: Vec3 = [Math.sin(t) * Math.cos(p), Math.sin(t) * Math.sin(p), Math.cos(t)];
        expect(intensityCd(b, dir)).toBeCloseTo(intensityCd(cosineBeam(1000, 40), dir), 6);
      },
    ),
    { seed: 8 },
  );
});

test('focus: a 1 kW fresnel at 30° gives 31 430 cd (log candela straight against angle) [CHECKS-CAMERA §7.2]', () => {
  const spot = { peakCd: 65000, beamDeg: 13 };
  const flood = { peakCd: 9500, beamDeg: 58 };
  const f = focusOfAngle(spot, flood, 30);
  const beam = focusBeam(spot, flood, f);
  expect(Math.abs(axisCd(beam) - 31430)).toBeLessThan(5);
  expect(angleAtShare(beam, 0.5) / DEG).toBeCloseTo(30, 6);
  expect(axisCd(focusBeam(spot, flood, 0))).toBeCloseTo(9500, 6);
  expect(axisCd(focusBeam(spot, flood, 1))).toBeCloseTo(65000, 6);
  expect(axisCd(focusBeam(spot, flood, 7))).toBeCloseTo(65000, 6);
});

test('energy check: shares of CHECKS-CAMERA §7.2; the wide 1 kW PAR needs 86 % of its lamp', () => {
  const share = (peakCd: number, beamDeg: number, lm: number): number =>
    100 * energyCheck({ peakCd, beamDeg }, lm).share;
  // Whole per cent as printed there.
  expect(Math.round(share(20000, 14, 7500))).toBe(9);
  expect(Math.round(share(2400, 60, 7500))).toBe(20);
  expect(Math.round(share(9500, 84, 21000))).toBe(55);
  expect(Math.round(share(65000, 13, 26000))).toBe(8);
  const par = energyCheck({ peakCd: 40000, beamDeg: 71, beamVDeg: 45 }, 26000);
  expect(Math.round(100 * par.share)).toBe(86);
  expect(energyCheck({ peakCd: 100000, beamDeg: 71 }, 26000).plausible).toBe(false);
});

test('a scaled beam is the beam, scaled', () => {
  for (const b of [cosineBeam(10, 30), tubeBeam(10), isotropicBeam(10)] as Beam[])
    expect(fluxLm(scaleBeam(b, 3)) / fluxLm(b)).toBeCloseTo(3, 12);
});

test('a tube lies along x: nothing off its ends', () => {
  expect(intensityCd(tubeBeam(3350), [1, 0, 0])).toBe(0);
  expect(intensityCd(tubeBeam(3350), [0, -1, 0])).toBeCloseTo(339.426, 3);
});
