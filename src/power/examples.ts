/** Small networks for tests and checks: a lamp behind a lead, a board, a boat shed's radial, a kitchen's old ring. Invented. */
import type { Circuit, Load, LoadKind, Network, Node } from './network.ts';

/** A load that is on, rated 230 V. */
export const load = (id: string, kind: LoadKind, watts: number, more: Partial<Load> = {}): Load => ({
  id,
  words: id,
  kind,
  watts,
  ratedV: 230,
  on: true,
  ...(kind === 'electronic' || kind === 'magnetic' ? { powerFactor: 1 } : {}),
  ...more,
});

/** A node with nothing on it but what is given. */
export const node = (id: string, kind: Node['kind'], more: Partial<Node> = {}): Node => ({
  id,
  words: id,
  kind,
  resistanceOhm: 0,
  children: [],
  loads: [],
  ...more,
});

/** A UK 20 A type B radial with a known cable of no resistance. */
export const radial = (outlets: readonly Node[], more: Partial<Circuit> = {}): Circuit => ({
  id: 'c',
  words: '20 A radial',
  device: { kind: 'mcb-b', ratingA: 20 },
  cable: { loopOhm: 0, ratingA: 20 },
  rcdMa: 30,
  rcdType: 'A',
  houseLoads: [],
  outlets,
  ...more,
});

/** UK mains at its nominal volts, TN, with these circuits. */
export const mains = (circuits: readonly Circuit[], more: Partial<Network> = {}): Network => ({
  region: 'uk',
  nominalV: 230,
  frequencyHz: 50,
  source: { kind: 'mains', earthing: 'TN' },
  upstream: [],
  circuits,
  ...more,
});

/** One load at the end of one lead on a 20 A radial. */
export const behindLead = (l: Load, loopOhm: number, more: Partial<Network> = {}): Network =>
  mains(
    [
      radial([
        node('s', 'socket', {
          children: [node('lead', 'lead', { ratingA: 16, resistanceOhm: loopOhm, loads: [l] })],
        }),
      ]),
    ],
    more,
  );

/** Boat shed, UK: 25 m of 2.5 mm² to two double sockets on one B20; the 1 kW outside on 25 m of 1.5 mm² rubber. */
export function boatShed(
  change: { smoke?: boolean; kettle?: boolean; lampV?: number; measured?: boolean } = {},
): Network {
  const ratedV = change.lampV ?? 230;
  const head = { ratedV, classI: true };
  return mains([
    radial(
      [
        node('S1', 'plate', {
          loads: [
            load('L1', 'tungsten', 800, head),
            load('extra', 'electronic', 100, { leakageMa: 1 }),
            ...(change.kettle ? [load('kettle', 'resistive', 3000, { brief: true, leakageMa: 0.5 })] : []),
          ],
          children: [
            node('lead-L3', 'lead', {
              ratingA: 16,
              resistanceOhm: 0.8,
              loads: [load('L3', 'tungsten', 1000, head)],
            }),
          ],
        }),
        node('S2', 'plate', {
          loads: [
            load('L2', 'tungsten', 650, head),
            load('L4', 'tungsten', 500, head),
            load('P1', 'magnetic', 90),
            load('smoke', 'resistive', 1000, { on: change.smoke ?? true }),
          ],
        }),
      ],
      {
        id: 'shed',
        words: 'shed radial B20',
        cable: { loopOhm: 0.475, ratingA: 20 },
        loopImpedanceOhm: change.measured ? 0.35 : undefined,
      },
    ),
  ]);
}

/** Kitchen, UK: one 30 A ring on an old fuse board; fuse, cable and continuity not told. */
export function oldKitchen(change: { kettle?: boolean } = {}): Network {
  const lamp = (id: string, kind: LoadKind, watts: number): Load => load(id, kind, watts);
  return mains(
    [
      {
        id: 'ring',
        words: 'ring 30 A',
        device: { kind: 'unknown', ratingA: 30 },
        cable: { loopOhm: undefined },
        ring: { continuityTested: false },
        rcdMa: 'none',
        houseLoads: [
          load('fridge', 'electronic', 150),
          load('kettle', 'resistive', 3000, { brief: true, on: change.kettle ?? true }),
        ],
        outlets: [
          node('K1', 'plate', {
            loads: [
              lamp('L2', 'electronic', 70),
              lamp('P1', 'electronic', 6),
              lamp('extra', 'electronic', 250),
            ],
          }),
          node('K2', 'plate', { loads: [lamp('L1', 'tungsten', 300), lamp('L3', 'electronic', 220)] }),
        ],
      },
    ],
    { source: { kind: 'mains', earthing: 'unknown' } },
  );
}
