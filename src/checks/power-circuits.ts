/** Rows: circuits, rings, plugs and everything on the way, by region. */
import { bundleFactor, cord } from '../power/cord.ts';
import { tripBand } from '../power/device.ts';
import { load, mains, node, oldKitchen, radial } from '../power/examples.ts';
import type { Circuit, Load, Network } from '../power/network.ts';
import { carriesEarth } from '../power/region.ts';
import { fractionRange, ringLegs } from '../power/ring.ts';
import { solve } from '../power/solve.ts';
import { EXACT, lamp, NONE, plugged, type Rows } from './power-rows.ts';

/** A UK 32 A ring with these loads at these fractions. */
const ring = (taps: readonly (readonly [Load, number])[], tested = true): Circuit =>
  radial(
    taps.map(([l, f]) => node(`socket ${l.id}`, 'socket', { ringFraction: f, loads: [l] })),
    {
      device: { kind: 'mcb-b', ratingA: 32 },
      cable: { loopOhm: 0.9, ratingA: 20 },
      ring: { continuityTested: tested },
    },
  );

/** Verdicts of whole networks. */
export function circuitsRows({ add, holds, stands }: Rows): void {
  add(
    '12',
    '26.09 A at a tenth of a ring: the short leg',
    'BS-7671-433',
    23.48,
    ringLegs([{ fraction: 0.1, currentA: 6000 / 230 }]).a,
    'A',
    0.01,
  );
  const kettle = load('kettle', 'resistive', 3000, { brief: true });
  const busy = solve(
    mains([
      ring([
        [lamp('a', 2000), 0.1],
        [lamp('b', 2000), 0.15],
        [lamp('c', 800), 0.1],
        [kettle, 0.8],
      ]),
    ]),
  ).circuits[0];
  add(
    '13a',
    'ring with 2 × 2 kW, 800 W and a 3 kW kettle',
    'computed',
    33.91,
    busy?.nominalCurrentA,
    'A',
    0.01,
  );
  add('13b', 'over its 32 A, times', 'computed', 1.06, (busy?.nominalCurrentA ?? NONE) / 32, '×', 0.005);
  stands('13c', 'verdict', 'IEC-60898', 'over', busy?.level);
  holds(
    '13d',
    'the breaker may carry it for ever, and the words say so',
    'IEC-60898',
    busy?.trip?.nominal.mayCarry === true && busy.trip.nominal.words.includes('for ever'),
  );
  add('13e', 'leg A', 'computed', 20.96, busy?.legsA?.a, 'A', 0.01);
  add('13f', 'leg B', 'computed', 12.96, busy?.legsA?.b, 'A', 0.01);
  add(
    '13g',
    'mean fraction from which 20.87 A keeps both legs within 20 A',
    'computed',
    0.042,
    fractionRange(4800 / 230, 20)?.from,
    '',
    0.001,
  );
  const untested = (watts: readonly number[]) =>
    solve(
      mains([
        ring(
          watts.map((w, k) => [lamp(`l${k}`, w), 0.5] as const),
          false,
        ),
      ]),
    ).circuits[0];
  add(
    '32a',
    'ring without a continuity test, 2 × 2 kW and 800 W',
    'computed',
    20.87,
    untested([2000, 2000, 800])?.nominalCurrentA,
    'A',
    0.01,
  );
  stands('32b', 'in one leg', 'BS-7671-433', 'over', untested([2000, 2000, 800])?.level);
  holds(
    '32c',
    'though within the breaker (65 %), and the words say so',
    'computed',
    untested([2000, 2000, 800])?.verdict.includes('within 32 A (65 %)') === true,
  );
  add('32d', 'two 2 kW only', 'computed', 17.39, untested([2000, 2000])?.nominalCurrentA, 'A', 0.01);
  stands('32e', 'over 16 A in one leg', 'computed', 'warn', untested([2000, 2000])?.level);

  const plugOf = (lamps: readonly Load[], measuredV: number) =>
    solve(
      mains(
        [
          radial([node('plug', 'plug', { ratingA: 13, loads: lamps })], {
            device: { kind: 'mcb-b', ratingA: 32 },
            cable: { loopOhm: 0, ratingA: 32 },
          }),
        ],
        { measuredV },
      ),
    ).devices[0];
  const four = (v: number) => [800, 800, 800, 500].map((w, k) => lamp(`l${k}`, w, v));
  add(
    '33a',
    '13 A plug, 3 × 800 and 500 W at 240 V',
    'computed',
    12.08,
    plugOf(four(240), 240)?.nominalCurrentA,
    'A',
    0.01,
  );
  stands('33b', 'long load', 'BS-1363', 'warn', plugOf(four(240), 240)?.level);
  holds(
    '33c',
    'words: within 13 A (93 %)',
    'computed',
    plugOf(four(240), 240)?.verdict.includes('within 13 A (93 %)') === true,
  );
  add('33d', '230 V lamps at 253 V', 'computed', 13.29, plugOf(four(230), 253)?.nominalCurrentA, 'A', 0.01);
  stands('33e', 'verdict', 'computed', 'over', plugOf(four(230), 253)?.level);
  const heads = [1, 2, 3, 4].map((k) => lamp(`h${k}`, 800, 240));
  add('33f', '4 × 800 W at 240 V', 'computed', 13.33, plugOf(heads, 240)?.nominalCurrentA, 'A', 0.01);
  stands('33g', 'verdict', 'computed', 'over', plugOf(heads, 240)?.level);

  const region = (more: Partial<Network>, circuit: Circuit) => solve(mains([circuit], more));
  const au = region({ region: 'au' }, plugged([lamp('l', 2000)]));
  add(
    '21a',
    'Australia, 2 kW on a 10 A outlet',
    'AS-3112',
    8.696,
    au.devices[0]?.nominalCurrentA,
    'A',
    0.001,
  );
  stands('21b', 'verdict', 'AS-3112', 'warn', au.devices[0]?.level);
  holds(
    '21c',
    'words: within 10 A (87 %)',
    'computed',
    au.devices[0]?.verdict.includes('within 10 A (87 %)') === true,
  );
  const jp = region(
    { region: 'jp', nominalV: 100 },
    radial([node('plate', 'plate', { loads: [lamp('a', 1000, 100), lamp('b', 700, 100)] })], {
      device: { kind: 'unknown', ratingA: 20 },
    }),
  );
  add(
    '22a',
    'Japan, 1000 and 700 W on one plate',
    'JIS-8303',
    17,
    jp.devices[0]?.nominalCurrentA,
    'A',
    EXACT,
  );
  stands('22b', 'at the plate', 'JIS-8303', 'over', jp.devices[0]?.level);
  add(
    '22c',
    'of its 20 A breaker',
    'computed',
    85,
    ((jp.circuits[0]?.nominalCurrentA ?? NONE) / 20) * 100,
    '%',
    EXACT,
  );
  const eu = region(
    { region: 'eu' },
    radial([node('socket', 'socket', { loads: [lamp('a', 2000), lamp('b', 500)] })], {
      device: { kind: 'mcb-b', ratingA: 16 },
      cable: { loopOhm: 0, ratingA: 16 },
    }),
  ).devices[0];
  add('23a', 'EU socket, 2 kW and 500 W', 'CEE-7', 10.87, eu?.nominalCurrentA, 'A', 0.01);
  stands('23b', 'long load', 'CEE-7, planners', 'warn', eu?.level);
  holds(
    '23c',
    'words: within 16 A (68 %), over the 10 A line',
    'computed',
    eu?.verdict.includes('within 16 A (68 %), over the 10 A') === true,
  );
  const reel = solve(
    mains([radial([node('reel', 'reel', { ratingA: 13, coiled: true, loads: [lamp('l', 800)] })])]),
  );
  stands('25a', 'unmarked reel wound up, 800 W', 'REEL', 'over', reel.devices[0]?.level);
  const block = solve(
    mains([
      radial(
        [
          node('socket', 'socket', {
            ratingA: 20,
            children: [
              node('plug', 'plug', {
                ratingA: 13,
                children: [
                  node('strip', 'multiway', { ratingA: 13, loads: [lamp('a', 2000), lamp('b', 2000)] }),
                ],
              }),
            ],
            ringFraction: 0.5,
          }),
        ],
        {
          device: { kind: 'mcb-b', ratingA: 32 },
          cable: { loopOhm: 0.9, ratingA: 20 },
          ring: { continuityTested: true },
        },
      ),
    ]),
  );
  const plug = block.devices.find((d) => d.id === 'plug');
  add('26a', 'two 2 kW lamps on one 13 A plug', 'computed', 17.39, plug?.nominalCurrentA, 'A', 0.01);
  stands('26b', 'at the plug', 'BS-1363', 'over', plug?.level);
  stands('26c', 'ring and breaker', 'computed', 'within', block.circuits[0]?.level);
  holds(
    '26d',
    'the 13 A fuse: no latest time',
    'BS-1362',
    tripBand({ kind: 'bs1362', ratingA: 13 }, 4000 / 230).latestS === undefined,
  );
  const flex = (watts: number) =>
    solve(
      mains([
        radial([
          node('fuse', 'fuse', {
            ratingA: 13,
            children: [node('flex', 'flex', { ratingA: cord(0.75)?.singleA, loads: [lamp('l', watts)] })],
          }),
        ]),
      ]),
    ).devices;
  add('34a', '2 kW on a 0.75 mm² flex', 'BS-7671-4F3', 8.696, flex(2000)[1]?.nominalCurrentA, 'A', 0.001);
  stands('34b', 'at the flex', 'BS-7671-4F3', 'over', flex(2000)[1]?.level);
  stands('34c', 'at the fuse', 'BS-1362', 'within', flex(2000)[0]?.level);
  add('34d', '800 W on it', 'BS-7671-4F3', 3.478, flex(800)[1]?.nominalCurrentA, 'A', 0.001);
  stands('34e', 'fuse larger than the flex', 'computed', 'warn', flex(800)[1]?.level);
  const heater = (id: string) => load(id, 'resistive', 2500, { brief: true });
  const twin = solve(
    mains([
      radial(
        [
          node('plate', 'plate', {
            children: [
              node('left', 'socket', { loads: [heater('a')] }),
              node('right', 'socket', { loads: [heater('b')] }),
            ],
          }),
        ],
        { device: { kind: 'mcb-b', ratingA: 32 }, cable: { loopOhm: 0, ratingA: 32 } },
      ),
    ]),
  ).devices;
  add('35a', 'UK double plate, 2.5 kW on each outlet', 'BS-1363', 21.74, twin[0]?.nominalCurrentA, 'A', 0.01);
  stands('35b', 'at the plate', 'BS-1363', 'over', twin[0]?.level);
  holds(
    '35c',
    'each outlet, 10.87 A, is not over',
    'BS-1363',
    twin.slice(1).every((d) => d.level !== 'over' && Math.abs(d.nominalCurrentA - 10.87) < 0.01),
  );
  const kitchen = solve(oldKitchen()).circuits[0];
  add('36a', '30 A fuse, kind and cable unknown', 'computed', 17.37, kitchen?.nominalCurrentA, 'A', 0.01);
  stands('36b', 'against the 10 A plan', 'common practice', 'over', kitchen?.level);
  const contract = solve(
    mains([plugged([lamp('l', 2000)], { id: 'c1' }), plugged([load('h', 'resistive', 1500)], { id: 'c2' })], {
      upstream: [{ id: 'limit', words: '3 kW contract', ratingA: 3000 / 230 }],
    }),
  );
  add(
    '37a',
    '3 kW contract, 2 kW lamp and 1.5 kW house',
    'computed',
    15.22,
    contract.upstream[0]?.nominalCurrentA,
    'A',
    0.01,
  );
  stands('37b', 'at the contract limit', 'computed', 'over', contract.upstream[0]?.level);
  holds(
    '37c',
    'each circuit is within',
    'computed',
    contract.circuits.every((c) => c.level === 'within'),
  );
  holds(
    '38',
    'round 16 A plug in a Danish socket: no earth',
    'CEE-7',
    carriesEarth('EF', 'K') === false && carriesEarth('EF', 'EF') === true,
  );
  add(
    '40a',
    'two 16 A leads under one cover, each',
    'from memory',
    12.8,
    16 * (bundleFactor(2) ?? NONE),
    'A',
    EXACT,
  );
  add('40b', 'three', 'from memory', 11.2, 16 * (bundleFactor(3) ?? NONE), 'A', EXACT);
  const unknown = solve(
    mains([
      radial(
        [node('reel', 'reel', { coiled: true, loads: [load('l', 'tungsten', 300, { classI: true })] })],
        { rcdMa: undefined, rcdType: undefined },
      ),
    ]),
  );
  const said = unknown.notChecked.join('\n');
  add(
    '48',
    'RCD unknown, reel unmarked, loop blank: lines of the not-checked list',
    'rule',
    3,
    ['RCD', 'wound up is not marked', 'loop impedance'].filter((w) => said.includes(w)).length,
    '',
    0,
  );
  holds(
    '48b',
    'and none of the three passes',
    'rule',
    unknown.circuits[0]?.rcd.counted === false &&
      unknown.devices[0]?.level !== 'within' &&
      unknown.circuits[0]?.earth[0]?.level === 'not-checked',
  );
  const hoist = solve(
    mains([plugged([lamp('l', 300), load('hoist charger', 'electronic', 100, { depends: 'care' })])]),
  );
  stands('51', 'hoist charger on the same RCBO', 'common practice', 'over', hoist.circuits[0]?.level);
  const arc = solve(
    mains([plugged([load('dimmed', 'electronic', 300)], { afci: true })], { region: 'na', nominalV: 120 }),
  );
  stands(
    '52',
    'arc-fault breaker ahead of electronics',
    'from memory',
    'warn',
    arc.circuits[0]?.company.level,
  );
}
