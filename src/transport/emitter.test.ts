import { expect, test } from 'vitest';
import { intensityCd, isotropicBeam } from '../light/beam.ts';
import { rngOf } from '../maths/sampling.ts';
import type { Vec3 } from '../maths/vec3.ts';
import { normalize } from '../maths/vec3.ts';
import { emitterSet, meetEmitter, picked, sampleEmitter } from './emitter.ts';
import type { Emitter } from './scene.ts';

const axis = normalize([0.2, -0.3, -0.9]);
const up = normalize([1, 0.4, 0.2 / 0.9 - (0.3 * 0.4) / 0.9]);
const oval: Emitter['beam'] = { kind: 'cosine', peakCd: 700, exponent: 6, exponentV: 2 };
const shapes: Emitter[] = [
  { shape: { kind: 'disc', centre: [1, 2, 3], axis, up, radiusM: 0.4 }, beam: oval, gain: 0.5 },
  { shape: { kind: 'rectangle', centre: [1, 2, 3], axis, up, widthM: 0.8, heightM: 0.3 }, beam: oval },
  { shape: { kind: 'sphere', centre: [1, 2, 3], axis, up, radiusM: 0.4 }, beam: isotropicBeam(900) },
  {
    shape: { kind: 'tube', from: [0.6, 1.5, 3], to: [1.4, 2.4, 2.8], radiusM: 0.1 },
    beam: { kind: 'tube', peakCd: 90 },
  },
];

test('a picked point and a ray through it agree: distance, density, luminance', () => {
  const rng = rngOf(3);
  shapes.forEach((emitter) => {
    const set = emitterSet([emitter]);
    let tried = 0;
    for (let i = 0; i < 400; i++) {
      const p: Vec3 = [1 + 3 * (rng() - 0.5), 2 + 3 * (rng() - 0.5), 3 - 2.5 * rng()];
      if (!sampleEmitter(set, 0, ...p, rng(), rng())) continue;
      const [x, y, z, d, , density, luminance] = picked as unknown as number[];
      // A grazing pick may miss by rounding; others may not.
      if (!meetEmitter(set, 0, ...p, x!, y!, z!)) continue;
      tried++;
      expect(picked[3]! / d!).toBeCloseTo(1, 4);
      expect(picked[5]! / density!).toBeCloseTo(1, 3);
      expect(picked[6]! / luminance!).toBeCloseTo(1, 4);
    }
    expect(tried).toBeGreaterThan(100);
  });
});

test('from far away an emitter has its beam’s intensity exactly', () => {
  const rng = rngOf(4);
  for (const emitter of shapes) {
    const set = emitterSet([emitter]);
    const far = 1e4;
    const { shape } = emitter;
    if (shape.kind === 'tube' || shape.kind === 'far') continue;
    for (let i = 0; i < 50; i++) {
      const d = normalize([rng() - 0.5, rng() - 0.5, rng() - 0.5]);
      const z = shape.axis;
      const y = shape.up;
      const x: Vec3 = [y[1] * z[2] - y[2] * z[1], y[2] * z[0] - y[0] * z[2], y[0] * z[1] - y[1] * z[0]];
      const local: Vec3 = [x, y, z].map((a) => a[0] * d[0] + a[1] * d[1] + a[2] * d[2]) as unknown as Vec3;
      const cd = (emitter.gain ?? 1) * intensityCd(emitter.beam, local);
      const at: Vec3 = [
        shape.centre[0] + far * d[0],
        shape.centre[1] + far * d[1],
        shape.centre[2] + far * d[2],
      ];
      const lit = sampleEmitter(set, 0, ...at, 0.5, 0.3);
      expect(lit ? picked[4]! * far * far : 0).toBeCloseTo(cd, 1);
    }
  }
});

test('no light behind a flat emitter, inside a sphere, within a tube', () => {
  const [disc, , ball, tube] = shapes.map((e) => emitterSet([e]));
  expect(sampleEmitter(disc!, 0, 1 - axis[0], 2 - axis[1], 3 - axis[2], 0.5, 0.5)).toBe(false);
  expect(meetEmitter(disc!, 0, 1 - axis[0], 2 - axis[1], 3 - axis[2], ...axis)).toBe(false);
  expect(sampleEmitter(ball!, 0, 1.1, 2, 3, 0.5, 0.5)).toBe(false);
  expect(sampleEmitter(tube!, 0, 1, 1.95, 2.9, 0.5, 0.5)).toBe(false);
});
