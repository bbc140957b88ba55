import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { openShoot } from '../shoot/file.ts';
import { rigFor } from '../shoot/rigFor.ts';
import { sharpIn, sharpWords } from './depth.ts';

const opened = openShoot(readFileSync('shoots/slack-water.json', 'utf8'));
if (!opened.ok) throw new Error(opened.message.join());
const scene = Object.keys(opened.shoot.scenes)[0]!;
const angle = 'CA';
const rig = rigFor(opened.shoot, { scene, angle });

/** The figures of the check sheet's row 14: 50 mm, N 2.8, c 0.025 mm, focus 2 m [CHECKS-CAMERA §3.1]. */
test('the limits are the published ones: H = f² / (N c) + f, near and far about 2 m', () => {
  // A picture whose diagonal / 1500 is 0.025 mm; one face two metres off, on the axis.
  const side = (0.025 * 1500) / Math.SQRT2;
  const one = {
    ...rig,
    camera: { ...rig.camera, stop: 2.8 },
    angle: {
      ...rig.angle,
      focalMm: 50,
      sensorMm: [side, side] as [number, number],
      at: [0, 0, 1.5] as [number, number, number],
      lookAt: [2, 0, 1.5] as [number, number, number],
    },
    scene: {
      ...rig.scene,
      marks: { A: { ...rig.scene.marks.A!, at: [2, 0] as [number, number], eyeM: 1.5 } },
    },
  };
  const s = sharpIn(one, angle);
  // T2.8 is 2^1.5 = 2.828 exactly: H = 2500 / (2.828 × 0.025) + 50 = 35 405 mm.
  expect(s.hyperfocalM).toBeCloseTo(35.405, 2);
  const H = 2500 / (2 ** 1.5 * 0.025) + 50;
  expect(s.nearM).toBeCloseTo((2000 * (H - 50)) / (H + 2000 - 100) / 1000, 4);
  expect(s.farM).toBeCloseTo((2000 * (H - 50)) / (H - 2000) / 1000, 4);
  expect(s.on).toBe('A');
  expect(sharpWords(s, (m) => `${m.toFixed(2)} m`)).toBe(
    'sharp from 1.90 m to 2.12 m, focus on A at 2.00 m; hyperfocal 35.41 m (c 0.025 mm)',
  );
});

test('a smaller picture, a longer lens, a wider stop: each leaves less; beyond H all behind is sharp', () => {
  const depth = (focalMm: number, stop: number) => {
    const s = sharpIn({ ...rig, camera: { ...rig.camera, stop }, angle: { ...rig.angle, focalMm } }, angle);
    return s.farM - s.nearM;
  };
  expect(depth(50, 2.8)).toBeLessThan(depth(35, 2.8));
  expect(depth(50, 2)).toBeLessThan(depth(50, 2.8));
  expect(depth(2, 22)).toBe(Number.POSITIVE_INFINITY);
});
