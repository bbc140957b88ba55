/** Two invented places reckoned by hand in their scene notes, by a separate script: the boat shed and the kitchen. */
import { expect, test } from 'vitest';
import { tripBand } from './device.ts';
import { boatShed, oldKitchen } from './examples.ts';
import { solve } from './solve.ts';

const within = (got: number | undefined, expected: number, tolerance: number) => {
  expect(got).toBeDefined();
  expect(Math.abs(got! - expected)).toBeLessThanOrEqual(tolerance);
};

test('boat shed: nominal and solved amps, volts at the shed and at the far lamp', () => {
  const s = solve(boatShed());
  const [shed] = s.circuits;
  within(shed?.nominalCurrentA, 18.0, 0.005);
  within(shed?.currentA, 17.58, 0.005);
  within(shed?.endV, 221.65, 0.005);
  within(s.loads.find((l) => l.id === 'L1')?.volts, 221.65, 0.005);
  within(s.loads.find((l) => l.id === 'L3')?.volts, 218.27, 0.005);
  within(s.devices.find((d) => d.id === 'S1')?.nominalCurrentA, 8.26, 0.005);
  within(s.devices.find((d) => d.id === 'S2')?.nominalCurrentA, 9.74, 0.005);
  expect(shed?.verdict).toContain('18.0 A: within 20 A (90 %), over the 16 A long-load line');
  expect(shed?.level).toBe('warn');
});

test('boat shed without the smoke machine, and with 240 V lamps', () => {
  within(solve(boatShed({ smoke: false })).circuits[0]?.nominalCurrentA, 13.65, 0.005);
  within(solve(boatShed({ lampV: 240 })).circuits[0]?.currentA, 16.8, 0.05);
});

test('boat shed with the kettle: over, and when the breaker could and should have opened', () => {
  const [shed] = solve(boatShed({ kettle: true })).circuits;
  within(shed?.nominalCurrentA, 31.04, 0.005);
  within(shed?.currentA, 29.56, 0.005);
  expect(shed?.level).toBe('over');
  expect(shed?.verdict).toContain('over 20 A (1.55 times)');
  // The scene note: earliest 2 1/2 to 4 min, latest 37 to 52 min.
  within(shed?.trip?.nominal.earliestS, 150, 12);
  within(shed?.trip?.solved.earliestS, 240, 20);
  within(shed?.trip?.nominal.latestS, 37 * 60, 60);
  within(shed?.trip?.solved.latestS, 52 * 60, 60);
  expect(shed?.trip?.solved.warm).toBe(true);
});

test('boat shed: surge against the breaker', () => {
  const [shed] = solve(boatShed()).circuits;
  within(shed?.surge.allStiffA, 180, 0.5);
  within(shed?.surge.largestStiffA, 61, 0.5);
  expect(shed?.surge.largest).toBe('L3');
  expect(shed?.surge.mayOpenFromA).toBe(60);
  expect(shed?.surge.level).toBe('warn');
  expect(shed!.surge.allA).toBeLessThan(shed!.surge.allStiffA);
});

test('boat shed: loop impedance at the far lamp, once measured and not before', () => {
  const measured = solve(boatShed({ measured: true })).circuits[0]?.earth.find((e) => e.load === 'L3');
  within(measured?.zsOhm, 1.63, 0.006);
  within(measured?.limitOhm, 2.185, 0.001);
  expect(measured?.level).toBe('within');
  const blank = solve(boatShed());
  expect(blank.circuits[0]?.earth.every((e) => e.level === 'not-checked')).toBe(true);
  expect(blank.notChecked.join('\n')).toContain('loop impedance');
  expect(blank.notChecked.join('\n')).toContain('ahead of the board');
});

test('old kitchen: 3.7 A of lamps, 17.4 A with kettle and fridge, over the 10 A plan, 87 % of one leg', () => {
  const s = solve(oldKitchen());
  const amps = (ids: string[]) =>
    ids.reduce((a, id) => a + s.loads.find((l) => l.id === id)!.nominalCurrentA, 0);
  within(amps(['L1', 'L2', 'L3', 'P1', 'extra']), 3.68, 0.005);
  const [ring] = s.circuits;
  within(ring?.nominalCurrentA, 17.37, 0.005);
  expect(ring?.level).toBe('over');
  expect(ring?.limitA).toBe(10);
  expect(ring?.verdict).toContain('17.4 A: within 30 A (58 %), over the 10 A plan');
  expect(ring?.verdict).toContain('87 % of the 20 A of one leg if the ring is broken');
});

test('old kitchen, kettle off: within the plan, and still no pass', () => {
  const s = solve(oldKitchen({ kettle: false }));
  within(s.circuits[0]?.nominalCurrentA, 4.33, 0.005);
  expect(s.circuits[0]?.level).toBe('not-checked');
  const said = s.notChecked.join('\n');
  // Nobody told the cable, so no volts pass either.
  expect(s.loads.filter((l) => l.level === 'within').map((l) => l.verdict)).toEqual(['off']);
  for (const what of ['kind of breaker or fuse', 'cable', 'ring continuity', 'loop impedance', 'earthed'])
    expect(said).toContain(what);
});

test('a trip band is only asked for over the rating', () => {
  expect(solve(boatShed()).circuits[0]?.trip).toBeUndefined();
  expect(tripBand({ kind: 'mcb-b', ratingA: 20 }, 18).words).toBe('carries this within its rating');
});
