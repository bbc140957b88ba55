/** Verdict words and levels: the rules of practice written out, each as one small network. */
import { expect, test } from 'vitest';
import { cautions } from './caution.ts';
import { timeWords, tripBand } from './device.ts';
import { boatShed, load, mains, node, radial } from './examples.ts';
import type { Load, Network, Node, Source } from './network.ts';
import { solve } from './solve.ts';
import { ampsUp, judge, percent, worse } from './verdict.ts';

const lamp = (id: string, watts: number, more: Partial<Load> = {}) => load(id, 'tungsten', watts, more);
const device = (network: Network, id: string) => solve(network).devices.find((d) => d.id === id)!;
const on = (n: Node, more: Partial<Network> = {}) => mains([radial([n])], more);

test('amps round up, per cent never hides an overload', () => {
  expect(ampsUp(17.37)).toBe('17.4');
  expect(ampsUp(18)).toBe('18.0');
  expect(ampsUp(4140 / 230)).toBe('18.0');
  expect(ampsUp(3.6001)).toBe('3.7');
  expect(percent(1.001)).toBe('101 %');
  expect(percent(0.652)).toBe('65 %');
  expect(timeWords(89.9, 'down')).toBe('89 s');
  expect(timeWords(130, 'up')).toBe('3 min');
});

test('levels: 80 % is the line for long loads, 100 % for any; exactly on it is within', () => {
  const of = (longA: number, briefA = 0) =>
    judge({
      nominal: { longA, briefA },
      planning: { longA, briefA },
      ratingA: 20,
      lineWords: 'line',
      worstV: 230,
    }).level;
  expect(of(16)).toBe('within');
  expect(of(16.01)).toBe('warn');
  expect(of(20)).toBe('warn');
  expect(of(20.01)).toBe('over');
  expect(of(0, 20)).toBe('within'); // brief: the whole rating
  expect(of(8, 10)).toBe('within'); // 1.25 × 8 + 10 = 20
  expect(of(8, 10.1)).toBe('warn');
  expect(worse('warn', 'not-checked')).toBe('warn');
  expect(worse('within', 'not-checked')).toBe('not-checked');
});

test('the worst volts decide: 230 V lamps on an unmeasured supply pass 13 A though nominal amps do not', () => {
  const four = [800, 800, 800, 500].map((w, k) => lamp(`l${k}`, w));
  const d = device(on(node('plug', 'plug', { ratingA: 13, loads: four })), 'plug');
  expect(d.nominalCurrentA).toBeCloseTo(12.61, 2);
  expect(d.planningCurrentA).toBeCloseTo(13.29, 2);
  expect(d.level).toBe('over');
  expect(d.verdict).toContain('13.3 A at the worst volts: over 13 A');
  expect(d.marginA).toBeLessThan(0);
});

test('an unmarked thing is not checked, never within', () => {
  const d = device(on(node('m', 'multiway', { loads: [lamp('l', 60)] })), 'm');
  expect(d.level).toBe('not-checked');
  expect(d.verdict).toContain('not checked');
  // … unless a cap already says no.
  const coil = device(on(node('r', 'reel', { coiled: true, loads: [lamp('l', 800)] })), 'r');
  expect(coil.level).toBe('over');
});

test('a wound reel warns at any load; unwound it does not', () => {
  const reel = (coiled: boolean) =>
    device(on(node('r', 'reel', { ratingA: 13, woundRatingA: 5, coiled, loads: [lamp('l', 500)] })), 'r');
  expect(reel(true).level).toBe('warn');
  expect(reel(true).limitA).toBe(5);
  expect(reel(false).level).toBe('within');
  expect(
    device(
      on(node('r', 'reel', { ratingA: 13, woundRatingA: 5, coiled: true, loads: [lamp('l', 1200)] })),
      'r',
    ).level,
  ).toBe('over');
});

test('lead into lead, and a UK point over 2 kW, are noted', () => {
  const chain = node('a', 'lead', {
    ratingA: 16,
    children: [
      node('p', 'plug', {
        ratingA: 13,
        children: [node('b', 'lead', { ratingA: 16, loads: [lamp('l', 300)] })],
      }),
    ],
  });
  expect(device(on(chain), 'a').level).toBe('within');
  expect(device(on(chain), 'b').verdict).toContain('lead into lead');
  const point = (watts: number) => device(on(node('s', 'socket', { loads: [lamp('l', watts)] })), 's');
  expect(point(2000).level).toBe('within');
  expect(point(2100).level).toBe('warn');
});

test('volts: 3 % for tungsten, 5 % for the rest, 8 % the stop; two reckonings apart are on the limit', () => {
  const at = (l: Load, ohm: number) =>
    solve(on(node('x', 'lead', { ratingA: 16, resistanceOhm: ohm, loads: [l] }))).loads[0]!;
  expect(at(lamp('l', 2000), 0.5).level).toBe('within');
  expect(at(lamp('l', 2000), 0.96).verdict).toContain('over the 3 % line');
  expect(at(lamp('l', 2000), 2.5).level).toBe('over');
  // 0.80 Ω: 3.02 % at constant current, 2.97 % by the lamp's law.
  const split = at(lamp('l', 2000), 0.8);
  expect(split.nominalDropV).toBeCloseTo(6.957, 3);
  expect(split.verdict).toContain('on the 3 % limit');
  expect(at(load('e', 'resistive', 2000), 0.96).level).toBe('within');
  expect(at(lamp('l', 1000, { lowestV: 229 }), 0.5).verdict).toContain('its maker states');
});

test('boat shed: the drop by nominal amps, 8.55 V of cable and 12.03 V at the far lamp (scene note)', () => {
  const s = solve(boatShed());
  expect(s.loads.find((l) => l.id === 'L1')!.nominalDropV).toBeCloseTo(8.55, 2);
  expect(s.loads.find((l) => l.id === 'L3')!.nominalDropV).toBeCloseTo(12.03, 2);
  expect(s.loads.find((l) => l.id === 'L3')!.dropV).toBeCloseTo(11.73, 2);
});

test('generator set-pieces: 80 % of the watts and 82 % of the VA; 73 % of the VA but 55 % of the watts', () => {
  const set = (loads: Load[], continuousVa: number, continuousW: number) =>
    solve(
      mains([radial([node('s', 'socket', { ratingA: 32, loads })])], {
        source: { kind: 'generator', continuousVa, continuousW, bondedNeutral: true },
      }),
    ).upstream[0]!;
  const leds = [1, 2, 3, 4].map((k) => load(`e${k}`, 'electronic', 300, { powerFactor: 0.95 }));
  const a = set([lamp('l', 2000), ...leds], 4000, 4000);
  expect(a.verdict).toContain('3264 VA: within 4000 VA (82 %), over the 80 % line');
  expect(a.verdict).toContain('3200 W: within 4000 W (80 %)');
  expect(a.level).toBe('warn');
  const discharge = load('d', 'magnetic', 1320, { powerFactor: 0.6, startTimes: 1 });
  const b = set([discharge], 3000, 2400);
  expect(b.verdict).toContain('(73 %)');
  expect(b.verdict).toContain('(55 %)');
  // A motor that starts at six times passes the set while it does.
  expect(
    set([load('f', 'magnetic', 345, { startTimes: 6, powerFactor: 1 }), lamp('l', 1500)], 3000, 3000).level,
  ).toBe('over');
});

test('a plug-in RCD counts for what hangs on it and for nothing else; out of doors nothing goes without', () => {
  const out = (rcd: Node['rcd'], source: Source = { kind: 'mains', earthing: 'TN' }) =>
    solve(
      mains(
        [
          radial(
            [
              node('unit', 'adaptor', {
                ratingA: 13,
                rcd,
                loads: [load('yard', 'electronic', 200, { outdoors: true, leakageMa: 3 })],
              }),
              node('s', 'socket', { loads: [lamp('room', 300, { classI: true })] }),
            ],
            { rcdMa: 'none', rcdType: undefined },
          ),
        ],
        { source },
      ),
    );
  const good = out({ ma: 30, type: 'A' }).circuits[0]!;
  expect(good.rcd.counted).toBe(false);
  expect(good.plugInRcds[0]).toMatchObject({ node: 'unit', counted: true, leakageMa: 3, level: 'within' });
  expect(good.wet.level).toBe('within');
  for (const bad of [undefined, { ma: 30 }, { ma: 30, type: 'AC' as const }, { ma: 100, type: 'A' as const }])
    expect(out(bad).circuits[0]!.wet.level).toBe('over');
  expect(
    out({ ma: 30, type: 'A' }, { kind: 'inverter', continuousVa: 2000, bondedNeutral: undefined })
      .circuits[0]!.wet.level,
  ).toBe('over');
  expect(out(undefined).worst).toBe('over');
});

test('leakage left out of the sum is never a pass', () => {
  const level = (leakageMa: number | undefined) =>
    solve(on(node('s', 'socket', { loads: [lamp('l', 300, { leakageMa })] }))).circuits[0]!.leakage.level;
  expect(level(1)).toBe('within');
  expect(level(undefined)).toBe('not-checked');
});

test('bands widen, never cross: the earliest is never after the latest, and neither grows with the current', () => {
  for (const kind of ['mcb-b', 'mcb-c', 'mcb-d', 'bs1362', 'bs3036', 'nema-breaker'] as const)
    for (const ratingA of kind === 'bs1362'
      ? [3, 5, 13]
      : kind === 'bs3036'
        ? [5, 15, 20, 30]
        : [6, 16, 32, 40, 80]) {
      let early = Number.POSITIVE_INFINITY;
      let late = Number.POSITIVE_INFINITY;
      for (let times = 0.5; times < 30; times *= 1.03) {
        const band = tripBand({ kind, ratingA }, times * ratingA);
        if (band.earliestS !== undefined && band.latestS !== undefined)
          expect(band.earliestS).toBeLessThanOrEqual(band.latestS);
        if (band.earliestS !== undefined) {
          expect(band.earliestS).toBeLessThanOrEqual(early);
          early = band.earliestS;
        }
        if (band.latestS !== undefined) {
          expect(band.latestS).toBeLessThanOrEqual(late);
          late = band.latestS;
        }
        expect(band.words).not.toMatch(/will trip|safe|\bok\b/i);
      }
    }
});

test('cautions are always there and promise nothing', () => {
  const regions = ['uk', 'eu', 'na', 'au', 'jp'] as const;
  for (const region of regions) {
    const lines = cautions(mains([], { region }));
    expect(lines.length).toBeGreaterThanOrEqual(6);
    expect(lines.join(' ')).not.toMatch(/\bsafe\b|will trip|\bok\b/i);
  }
  expect(cautions(mains([], { region: 'eu' })).join(' ')).toContain('Unplug first');
});
