/** The supply of a place with a rig's lamps plugged in, as a power network. */
import { leadLoopOhm } from '../power/cord.ts';
import type { Load, LoadKind, Network, Node, Circuit as PowerCircuit } from '../power/network.ts';
import type { Feed, Kit, Place, RigLamp, RigMultiway, Supply } from '../shoot/schema.ts';

/** What the network must know of a head. */
export interface LampLoad {
  watts: number;
  ratedV: number;
  kind: LoadKind;
  powerFactor?: number;
  classI?: boolean;
  startTimes?: number;
}

const BRIEF_KINDS = /kettle|toaster|iron/i;
const PLATE: Record<string, Node['kind']> = { 'uk-double': 'plate', 'jp-double': 'plate' };

export function networkOf(
  place: Place,
  kit: Kit,
  lamps: Readonly<Record<string, RigLamp>>,
  multiways: Readonly<Record<string, RigMultiway>>,
  loadOf: (lampId: string) => LampLoad | undefined,
): Network {
  const supply = place.supply;
  const outlets = new Map<string, { loads: Load[]; children: Node[] }>();
  for (const socket of Object.keys(supply.sockets)) outlets.set(socket, { loads: [], children: [] });

  // Hang every lamp at the end of its leads, on its multiway if it has one.
  const onMultiway = new Map<string, Node[]>();
  for (const [id, lamp] of Object.entries(lamps)) {
    if (!lamp.feed) continue;
    const l = loadOf(id);
    if (!l) continue;
    const load: Load = {
      id,
      words: `${lamp.number} ${lamp.words ?? ''}`.trim(),
      kind: l.kind,
      watts: l.watts,
      ratedV: l.ratedV,
      ...(l.powerFactor === undefined ? {} : { powerFactor: l.powerFactor }),
      ...(l.classI === undefined ? {} : { classI: l.classI }),
      ...(l.startTimes === undefined ? {} : { startTimes: l.startTimes }),
      // A dimmed filament's level is a share of volts; its watts follow with the power 1.55.
      level: l.kind === 'tungsten' ? lamp.level ** 1.55 : lamp.level,
      on: lamp.on,
    };
    const chain = hang(`${id}`, lamp.number, lamp.feed, kit, supply, [load], []);
    if (lamp.feed.via && multiways[lamp.feed.via])
      onMultiway.set(lamp.feed.via, [...(onMultiway.get(lamp.feed.via) ?? []), chain]);
    else outlets.get(lamp.feed.socket)?.children.push(chain);
  }
  for (const [id, way] of Object.entries(multiways)) {
    const thing = way.kit ? kit.multiways[way.kit] : undefined;
    const ratingA = way.ratingA ?? thing?.ratingA;
    const block: Node = {
      id: `multiway:${id}`,
      kind: 'multiway',
      words: way.words ?? thing?.words ?? `multiway ${id}`,
      ...(ratingA === undefined ? {} : { ratingA }),
      resistanceOhm: 0,
      children: onMultiway.get(id) ?? [],
      loads: [],
    };
    outlets
      .get(way.socket)
      ?.children.push(
        hang(`multiway:${id}`, id, { socket: way.socket, leads: way.leads }, kit, supply, [], [block]),
      );
  }

  // House loads stand at their socket if told, else on the circuit.
  const circuits = Object.entries(supply.circuits).map(([id, c]): PowerCircuit => {
    const house: Load[] = [];
    for (const [name, h] of Object.entries(c.houseLoads)) {
      const kind: LoadKind = h.kind === 'motor' || h.kind === undefined ? 'resistive' : h.kind;
      const load: Load = {
        id: `${id}:${name}`,
        words: h.words,
        kind,
        watts: h.watts,
        ratedV: h.volts ?? supply.nominalV,
        ...(h.powerFactor === undefined ? {} : { powerFactor: h.powerFactor }),
        on: h.on,
        brief: BRIEF_KINDS.test(h.words),
      };
      const at = typeof h.socket === 'string' ? outlets.get(h.socket) : undefined;
      if (at) at.loads.push(load);
      else house.push(load);
    }
    const cable = c.cable;
    const loopOhm =
      cable?.loopOhm ??
      (cable?.mm2 && cable.lengthM !== undefined
        ? leadLoopOhm({ mm2: cable.mm2, lengthM: cable.lengthM })
        : undefined);
    return {
      id,
      words: c.words,
      device: {
        kind: c.device === 'nema' ? 'nema-breaker' : c.device,
        ratingA: c.ratingA,
      },
      cable: {
        loopOhm,
        ...(cable?.known && cable.mm2 ? { ratingA: fixedCableA(cable.mm2) } : {}),
      },
      ...(c.ring ? { ring: { continuityTested: c.ring.continuityTested } } : {}),
      rcdMa: c.rcdMa === 0 ? 'none' : c.rcdMa,
      loopImpedanceOhm: c.loopImpedanceOhm,
      houseLoads: house,
      outlets: Object.entries(supply.sockets)
        .filter(([, s]) => s.circuit === id)
        .map(([socketId, s]): Node => {
          const hung = outlets.get(socketId)!;
          return {
            id: `socket:${socketId}`,
            kind: PLATE[s.kind] ?? 'socket',
            words: s.words ?? `socket ${socketId}`,
            resistanceOhm: 0,
            ...(typeof s.ringFraction === 'number' ? { ringFraction: s.ringFraction } : {}),
            children: hung.children,
            loads: hung.loads,
          };
        }),
    };
  });
  return {
    region: supply.region,
    nominalV: supply.nominalV,
    frequencyHz: supply.frequencyHz,
    source: supply.generator
      ? {
          kind: supply.generator.kind,
          continuousVa: supply.generator.continuousVa,
          continuousW: supply.generator.continuousW,
          bondedNeutral: supply.generator.bondedNeutral,
        }
      : { kind: 'mains', earthing: supply.earthing },
    upstream: [],
    circuits,
  };
}

/** Current-carrying capacity planned for fixed wiring of this size, A (common practice, no source); ordinary house circuits. */
const fixedCableA = (mm2: number): number | undefined =>
  mm2 >= 10 ? 50 : mm2 >= 6 ? 38 : mm2 >= 4 ? 32 : mm2 >= 2.5 ? 20 : mm2 >= 1.5 ? 16 : 10;

/** Plug, then leads in order, then what hangs at the end. */
function hang(
  id: string,
  words: string,
  feed: Feed,
  kit: Kit,
  supply: Supply,
  loads: Load[],
  ends: Node[],
): Node {
  let node: { loads: Load[]; children: Node[] } = { loads, children: ends };
  for (let i = feed.leads.length - 1; i >= 0; i--) {
    const lead = feed.leads[i]!;
    const thing = kit.leads[lead.kit];
    const loopOhm =
      thing?.loopOhm ??
      (thing?.mm2 && thing.lengthM ? leadLoopOhm({ mm2: thing.mm2, lengthM: thing.lengthM }) : undefined);
    node = {
      loads: [],
      children: [
        {
          id: `lead:${id}:${i}`,
          kind: thing?.reel ? 'reel' : 'lead',
          words: `${thing?.words ?? lead.kit} of ${words}`,
          ...(thing?.ratingA === undefined ? {} : { ratingA: thing.ratingA }),
          ...(loopOhm === undefined ? {} : { resistanceOhm: loopOhm }),
          ...(lead.coiled === undefined ? {} : { coiled: lead.coiled }),
          ...(thing?.woundRatingA === undefined ? {} : { woundRatingA: thing.woundRatingA }),
          loads: node.loads,
          children: node.children,
        },
      ],
    };
  }
  return {
    id: `plug:${id}`,
    kind: 'plug',
    words: `plug of ${words}`,
    ...(supply.region === 'uk' ? { ratingA: 13 } : {}),
    resistanceOhm: 0,
    loads: node.loads,
    children: node.children,
  };
}
