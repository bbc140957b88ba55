/** Gels against the published figures of the generic grades [CHECKS-LIGHT §5.9]; row values: src/checks/light.ts. */
import { expect, test } from 'vitest';
import { cctOf, mired } from '../colour/cct.ts';
import { planck } from '../colour/planck.ts';
import { constant, product } from '../colour/spectrum.ts';
import { xyzOf } from '../colour/xyz.ts';
import { gelById, gels, luminousTransmittance, stackGels } from './gels.ts';
import { GEL_PARAMETERS } from './gelTable.ts';

const through = (id: string, K: number): { shift: number; duv: number; T: number } => {
  const light = planck(K);
  const t = gelById(id)!.transmittance;
  const c = cctOf(xyzOf(product(t, light)));
  return { shift: mired(c.cctK) - mired(K), duv: c.duv, T: luminousTransmittance(t, light) };
};

test('shift ±2 mired on the design light, transmittance ±5 points, close to the locus', () => {
  for (const g of GEL_PARAMETERS) {
    const m = through(g.id, g.onK);
    expect(Math.abs(m.shift - g.publishedMired), g.id).toBeLessThan(2);
    if (g.publishedT !== undefined) expect(Math.abs(m.T - g.publishedT), g.id).toBeLessThan(0.05);
    if (g.cc === undefined) expect(Math.abs(m.duv), g.id).toBeLessThan(0.003);
  }
});

test('full CTO on 3200 K: within 5 mired of the published 2121 K', () => {
  expect(Math.abs(through('full-cto', 3200).shift - (mired(2121) - mired(3200)))).toBeLessThan(5);
});

test('greens: each grade about half the one before, plus and minus mirror each other', () => {
  for (const kind of ['plus-green', 'minus-green']) {
    const d = ['full', 'half', 'quarter', 'eighth'].map((f) => Math.abs(through(`${f}-${kind}`, 5600).duv));
    for (let i = 1; i < d.length; i++) {
      expect(d[i]! / d[i - 1]!).toBeGreaterThan(0.4);
      expect(d[i]! / d[i - 1]!).toBeLessThan(0.56);
    }
  }
  const both = stackGels([gelById('full-plus-green')!, gelById('full-minus-green')!]);
  expect(Math.abs(cctOf(xyzOf(product(both, planck(5600)))).duv)).toBeLessThan(0.006);
});

test('a cool-white tube and a quarter to half minus green: green goes [CHECKS-CAMERA §7.3]', () => {
  expect(through('half-plus-green', 5600).duv).toBeGreaterThan(0.01);
  expect(through('half-minus-green', 5600).duv).toBeLessThan(-0.01);
});

test('nothing passes more than it gets; stronger grades pass less and shift more', () => {
  for (const g of gels())
    expect(
      g.transmittance.every((v) => v >= 0 && v <= 0.93),
      g.id,
    ).toBe(true);
  for (const kind of ['cto', 'ctb']) {
    const list = ['eighth', 'quarter', 'half', 'three-quarter', 'full'].map((f) =>
      through(`${f}-${kind}`, kind === 'cto' ? 5600 : 3200),
    );
    for (let i = 1; i < list.length; i++) {
      expect(list[i]!.T).toBeLessThan(list[i - 1]!.T);
      expect(Math.abs(list[i]!.shift)).toBeGreaterThan(Math.abs(list[i - 1]!.shift));
    }
  }
});

test('neutral density takes its stops and no colour; sheets multiply', () => {
  const m = through('nd-0.6', 3200);
  expect(Math.log2(m.T)).toBeCloseTo(-1.993, 3);
  expect(Math.abs(m.shift)).toBeLessThan(0.1);
  const two = stackGels([gelById('nd-0.3')!, gelById('nd-0.3')!]);
  expect(two[40]).toBeCloseTo(10 ** -0.6, 12);
  expect(stackGels([])).toEqual(constant(1));
});

test('ids are plain and single', () => {
  const ids = gels().map((g) => g.id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of [
    'half-cto',
    'full-ctb',
    'three-quarter-ctb',
    'quarter-plus-green',
    'eighth-minus-green',
    'nd-0.15',
    'nd-1.2',
    'red',
    'deep-red',
    'amber',
    'yellow',
    'green',
    'cyan',
    'blue',
    'deep-blue',
    'magenta',
  ])
    expect(ids).toContain(id);
  expect(gelById('half-cto')!.words).toBe('half CTO');
  expect(gelById('quarter-plus-green')!.words).toBe('quarter plus green');
});

test('strong colours are strong and where their names are', () => {
  const hue = (id: string): { x: number; y: number } => {
    const [X, Y, Z] = xyzOf(product(gelById(id)!.transmittance, planck(5600)));
    return { x: X / (X + Y + Z), y: Y / (X + Y + Z) };
  };
  expect(hue('red').x).toBeGreaterThan(0.66);
  expect(hue('deep-red').x).toBeGreaterThan(hue('red').x);
  expect(hue('green').y).toBeGreaterThan(0.55);
  expect(hue('deep-blue').y).toBeLessThan(0.1);
  expect(hue('blue').x).toBeLessThan(0.2);
  expect(hue('amber').x).toBeGreaterThan(0.5);
});
