import { expect, test } from 'vitest';
import { plainTracer } from '../plain.ts';
import { accuracy } from './accuracy.ts';
import { stillLife } from './stillLife.ts';

test('quick at 640 × 360 against 3,000 paths: .15 stop rms on skin, .3 at shadow edges (the goal)', async () => {
  const { stage, layers, view } = stillLife();
  for (const l of [0, 1]) {
    const asked = { width: 640, points: 300, paths: 3000, samples: 1024, seed: 5 };
    const { whole, skin, edge } = await accuracy(plainTracer(), { stage, layers }, view, l, asked);
    expect(skin.rmsStops).toBeLessThan(0.15);
    expect(whole.rmsStops).toBeLessThan(0.15);
    expect(edge.rmsStops).toBeLessThan(0.3);
  }
});
