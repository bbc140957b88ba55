/** Light spread under skin in a picture: energy, the terminator's width, who is left out. */
import { expect, test } from 'vitest';
import { planck } from '../colour/planck.ts';
import { skin } from '../colour/reflectance.ts';
import { fitMatrix } from '../colour/samples.ts';
import { atSamples, FIRST_NM, SAMPLE_NM, SAMPLES, STEP_NM } from '../colour/spectrum.ts';
import { profileLengthM, within } from '../light/underSkin.ts';
import type { Material } from '../stage/stage.ts';
import { addSpread, fleshOf, SPREADS, sharesOf, spreadColours, spreadUnder } from './flesh.ts';
import { pointsOf } from './points.ts';

const reflectance = skin('light').reflectance;
const flesh: Material = {
  name: 'skin',
  reflectance,
  kind: 'opaque',
  under: { lengthM: reflectance.map((v, i) => profileLengthM(v, FIRST_NM + STEP_NM * i)) },
};

/** A flat patch of skin seen from `slant` (cosine), turned about the picture's x; a pixel is `pitchM` broad. */
function patch(width: number, height: number, pitchM: number, slant = 1) {
  const points = pointsOf(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      const tall = (y * pitchM) / slant;
      points.position.set([x * pitchM, tall * slant, tall * Math.sqrt(1 - slant * slant)], 3 * i);
      points.normal.set([0, -Math.sqrt(1 - slant * slant), slant], 3 * i);
      points.toEye.set([0, 0, 1], 3 * i);
    }
  const start = Uint32Array.from({ length: points.count + 1 }, (_, i) => i);
  const weight = new Float32Array(points.count).fill(1);
  return { points, found: fleshOf([flesh], points, start, weight, width, height, () => pitchM) };
}

test('even light stays as it is, and light is only moved about', () => {
  const { found } = patch(120, 90, 0.4e-3);
  const even = spreadUnder(found!, new Float32Array(120 * 90).fill(7));
  for (const e of even) for (const v of e) expect(v).toBeCloseTo(7, 4);
  // A lit spot far from the edge: its light is all there still.
  const wide = patch(240, 240, 0.4e-3).found!;
  const lux = new Float32Array(240 * 240);
  for (let y = 115; y < 125; y++) for (let x = 115; x < 125; x++) lux[y * 240 + x] = 10;
  const spread = spreadUnder(wide, lux);
  for (const e of spread) expect(e.reduce((a, b) => a + b, 0)).toBeCloseTo(1000, 0);
});

/** What of a lit half-plane's light is at `x` beyond its edge, by the profile's cumulative integral. */
function edge(x: number, d: number): number {
  let sum = 0;
  let before = 0;
  for (let i = 1; i <= 3000; i++) {
    const inside = within(60 * d * (i / 3000) ** 2, d);
    const r = 60 * d * ((i - 0.5) / 3000) ** 2;
    if (r > x) sum += (inside - before) * (Math.acos(x / r) / Math.PI);
    before = inside;
  }
  return sum;
}

for (const slant of [1, 0.5])
  test(`a terminator is as wide as the profile's integral, seen under a cosine of ${slant}`, () => {
    // The same breadth of skin to a pixel, along the slant.
    const pitchM = 0.25e-3 * slant;
    const size = 200;
    const { found } = patch(size, size, pitchM, slant);
    const shares = sharesOf([flesh])[0]!;
    const lengths = atSamples(flesh.under!.lengthM);
    // Along the slant: light ends at a row.
    const lux = new Float32Array(size * size).map((_, i) => (Math.floor(i / size) < size / 2 ? 1 : 0));
    const spread = spreadUnder(found!, lux);
    for (const nm of [450, 540, 660] as const) {
      const k = SAMPLE_NM.indexOf(nm);
      const at = (row: number) => {
        const i = row * size + size / 2;
        let v = lux[i]!;
        for (let j = 0; j < SPREADS; j++) v += shares[k * SPREADS + j]! * (spread[j]![i]! - lux[i]!);
        return v;
      };
      for (let step = 1; step < 48; step += 3) {
        // The middle of a row lies half a row beyond the edge.
        const x = (step - 0.5) * (pitchM / slant);
        expect(Math.abs(at(size / 2 + step - 1) - edge(x, lengths[k]!))).toBeLessThan(0.03);
      }
    }
  });

test('colours add up to what the flat patch returns; red stands in the shade of an edge', () => {
  const light = planck(5600);
  const perLux = fitMatrix(light);
  const colours = spreadColours([flesh], perLux);
  const { points, found } = patch(100, 100, 0.4e-3);
  const lux = new Float32Array(100 * 100).map((_, i) => (i % 100 < 50 ? 1000 : 0));
  const sum = [0, 0, 0];
  let shade: number[] = [];
  addSpread(found!, points.material, lux, spreadUnder(found!, lux), colours, (e, x, y, z) => {
    [x, y, z].forEach((v, c) => {
      sum[c]! += v;
    });
    if (found!.pixel[e] === 50 * 100 + 52) shade = [x, y, z];
  });
  const rho = atSamples(reflectance);
  const whole = [0, 1, 2].map((c) => {
    let v = 0;
    for (let k = 0; k < SAMPLES; k++) v += (5e6 * perLux[c * SAMPLES + k]! * rho[k]!) / Math.PI;
    return v;
  });
  // Nothing gained, nothing lost.
  sum.forEach((v, c) => {
    expect(Math.abs(v)).toBeLessThan(1e-3 * whole[c]!);
  });
  expect(shade[0]! / shade[1]!).toBeGreaterThan((1.1 * whole[0]!) / whole[1]!);
  expect(shade[2]! / shade[1]!).toBeLessThan((0.9 * whole[2]!) / whole[1]!);
});

test('skin far off is left as it is, and so is what is no skin', () => {
  expect(patch(20, 20, 2e-3).found).toBeUndefined();
  const points = pointsOf(4);
  const start = Uint32Array.from([0, 1, 2, 3, 4]);
  const { under: _, ...wood } = flesh;
  expect(fleshOf([wood], points, start, new Float32Array(4), 2, 2, () => 1e-4)).toBeUndefined();
});
