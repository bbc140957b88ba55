/** A thin tube as lines: against dense sums over the tube itself, and against the field of an endless cylinder. */
import { expect, test } from 'vitest';
import { normalize, type Vec3 } from '../../maths/vec3.ts';
import { gloss, glossRay, lobe, sampleGloss } from '../brdf.ts';
import { emitterSet, meetEmitter, picked, sampleEmitter } from '../emitter.ts';
import { lineLight, lineLit } from './line.ts';

const F0 = 0.05;
const UP: Vec3 = [0, 0, 1];

/** A tube along x over the floor z = 0. */
const tube = (halfM: number, radiusM: number, heightM: number, peakCd = 1000) =>
  emitterSet([
    {
      shape: { kind: 'tube', from: [-halfM, 0, heightM], to: [halfM, 0, heightM], radiusM },
      beam: { kind: 'tube', peakCd },
    },
  ]);

/** `steps`² places of the tube and as many rays of the lobe, by the balance heuristic. */
function dense(set: ReturnType<typeof tube>, p: Vec3, e: Vec3, alpha: number, steps: number) {
  let [lux, shine] = [0, 0];
  for (let i = 0; i < steps; i++)
    for (let j = 0; j < steps; j++) {
      const [u, v] = [(i + 0.5) / steps, (j + 0.5) / steps];
      if (sampleEmitter(set, 0, ...p, u, v) && picked[2]! > 0) {
        const one = picked[4]! * picked[2]!;
        const density = picked[5]!;
        lux += one;
        gloss(F0, alpha, ...UP, picked[0]!, picked[1]!, picked[2]!, ...e);
        if (lobe.value > 0) shine += (lobe.value * one) / (1 + lobe.density / density);
      }
      if (!sampleGloss(alpha, ...UP, ...e, u, v)) continue;
      const [x, y, z] = glossRay as unknown as Vec3;
      if (!meetEmitter(set, 0, ...p, x, y, z)) continue;
      const [density, luminance] = [picked[5]!, picked[6]!];
      gloss(F0, alpha, ...UP, x, y, z, ...e);
      if (lobe.value > 0) shine += (lobe.value * z * luminance) / (lobe.density + density);
    }
  return { lux: lux / steps ** 2, shine: shine / steps ** 2 };
}

/** To the eye that sees the tube's point at `x` mirrored at p, turned aside by `aside`. */
const eyeAt = (p: Vec3, x: number, heightM: number, aside: number): Vec3 => {
  const l = normalize([x - p[0], -p[1], heightM]);
  return normalize([-l[0] + aside, -l[1] - aside / 2, Math.max(0.05, l[2] + aside / 3)]);
};

for (const [name, halfM, radiusM, heightM] of [
  ['a ceiling’s row of tubes', 3.05, 0.045, 2.2],
  ['a tube at a wall', 0.6, 0.013, 0.5],
  ['a tube held near', 0.29, 0.0175, 0.6],
] as const)
  for (const alpha of [0.01, 0.04, 0.12, 0.3])
    test(`${name}, alpha ${alpha}: lux within 2 %, gloss between the ends a tenth of a stop, all in sum 2 %`, () => {
      const set = tube(halfM, radiusM, heightM);
      const sums = { lux: 0, shine: 0, luxWanted: 0, shineWanted: 0 };
      const found: number[] = [];
      for (let i = 0; i < 12; i++) {
        const p: Vec3 = [halfM * (-1.2 + 0.2 * i), heightM * (0.2 + ((i * 5) % 7) / 4), 0];
        const x = -1.1 + ((i * 7) % 12) / 5;
        const e = eyeAt(p, halfM * x, heightM, [0, alpha / 2, 2 * alpha][i % 3]!);
        const want = dense(set, p, e, alpha, 160);
        lineLight(set, 0, ...p, ...UP, ...e, F0, alpha);
        expect(Math.abs(lineLit.lux / want.lux - 1)).toBeLessThan(0.02);
        // About the ends it matters that the tube's face is nearer than its line.
        if (Math.abs(x) < 0.8) found.push(Math.abs(lineLit.shine / want.shine - 1));
        sums.lux += lineLit.lux;
        sums.luxWanted += want.lux;
        sums.shine += lineLit.shine;
        sums.shineWanted += want.shine;
      }
      expect(found.length).toBeGreaterThan(6);
      expect(Math.max(...found)).toBeLessThan(0.07);
      expect(Math.abs(sums.lux / sums.luxWanted - 1)).toBeLessThan(0.02);
      expect(Math.abs(sums.shine / sums.shineWanted - 1)).toBeLessThan(0.02);
    });

test('no dots: along a glossy floor the light of a tube near it goes evenly, whatever the gloss', () => {
  const set = tube(3, 0.013, 0.4);
  for (const alpha of [0.003, 0.02, 0.1]) {
    let before = 0;
    for (let x = -1.5; x <= 1.5; x += 0.01) {
      const p: Vec3 = [x, 0.5, 0];
      // The eye goes along, so that each point sees the tube mirrored beside itself.
      lineLight(set, 0, ...p, ...UP, ...normalize([0, 0.5, 0.4]), F0, alpha);
      if (before > 0) expect(Math.abs(lineLit.shine / before - 1)).toBeLessThan(0.01);
      before = lineLit.shine;
    }
  }
});

test('a long tube that nearly touches its surface: π L R / ρ, the field of an endless cylinder [HOWELL-C]', () => {
  const [halfM, R] = [40, 0.05];
  const set = tube(halfM, R, 0.06);
  // L = I₀ / (2 a · 2 R).
  const luminance = 1000 / (2 * halfM * 2 * R);
  for (const y of [0, 0.05, 0.3, 1]) {
    lineLight(set, 0, 0, y, 0, ...UP, ...UP, 0, 1);
    const rho = Math.hypot(y, 0.06);
    const want = (Math.PI * luminance * R * (0.06 / rho)) / rho;
    expect(Math.abs(lineLit.lux / want - 1)).toBeLessThan(1e-3);
  }
});

test('dark: inside the tube, before its end, under the horizon', () => {
  const set = tube(1, 0.02, 1);
  lineLight(set, 0, 0.3, 0, 1.01, ...UP, ...UP, F0, 0.1);
  expect([lineLit.lux, lineLit.shine]).toEqual([0, 0]);
  lineLight(set, 0, 2, 0, 1, -1, 0, 0, -1, 0, 0, F0, 0.1);
  expect([lineLit.lux, lineLit.shine]).toEqual([0, 0]);
  lineLight(set, 0, 0, 0, 2, ...UP, ...UP, F0, 0.1);
  expect(lineLit.lux).toBe(0);
});
