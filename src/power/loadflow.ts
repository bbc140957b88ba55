/** Load flow: the volts and currents everywhere, once every load has settled. */
import { currentAt, powerFactorOf, voltsOf } from './load.ts';
import type { Circuit, Load, Network, Node } from './network.ts';

/** A phasor: real and reactive part; the source's volts are the real axis. */
export interface Phasor {
  re: number;
  im: number;
}

/** The settled state. Loads on a circuit without a working point have no entry in `loadV`. */
export interface Flow {
  /** Volts at each load, by load id. */
  readonly loadV: ReadonlyMap<string, number>;
  /** Current of each load, by load id. */
  readonly loadI: ReadonlyMap<string, Phasor>;
  /** Current through each node, by node id. */
  readonly nodeI: ReadonlyMap<string, Phasor>;
  /** Volts at the outlet side of each node, by node id. */
  readonly nodeV: ReadonlyMap<string, number>;
  readonly circuitI: ReadonlyMap<string, Phasor>;
  /** Volts where each circuit's cable ends (a trusted ring: its lowest place), by circuit id. */
  readonly circuitV: ReadonlyMap<string, number>;
  readonly sourceI: Phasor;
  /** Volts at the board. */
  readonly boardV: number;
  /** Circuits whose loads ask for more than their leads can bring (P > V²/4R). */
  readonly collapsed: readonly string[];
  /** Sweeps taken. */
  readonly sweeps: number;
}

/** True when a ring's two ends share the load as reckoned: tested, and every place on it told. */
export function ringTrusted(circuit: Circuit): boolean {
  if (!circuit.ring?.continuityTested) return false;
  const told = (f: number | undefined): boolean => f !== undefined && f >= 0 && f <= 1;
  return (
    circuit.outlets.every((o) => told(o.ringFraction)) &&
    circuit.houseLoads.every((l) => !l.on || told(l.ringFraction))
  );
}

interface FlatNode {
  node: Node;
  /** Where it leaves the circuit's cable; only on outlets. */
  tap: Tap | undefined;
  parent: number;
  circuit: number;
  ohm: number;
  i: Phasor;
  v: Phasor;
}
interface FlatLoad {
  load: Load;
  node: number;
  circuit: number;
  cos: number;
  sin: number;
  /** Volts a sweep ago. */
  lastV: number;
  i: Phasor;
  v: Phasor;
}
/** Where a circuit's current leaves its cable: an outlet or a house load, at a fraction of the ring. */
interface Tap {
  f: number;
  i: Phasor;
  v: Phasor;
}

const TOLERANCE_V = 1e-9;
const MOST_SWEEPS = 4000;
/** Below this share of the source's volts nothing is a working point: the sweep has fallen off the nose. */
const COLLAPSE_SHARE = 0.15;

const magnitude = (p: Phasor): number => Math.hypot(p.re, p.im);

/** Solves the network. Volts at the source: measured, else nominal. Under 2 ms for twenty loads away from collapse. */
export function loadFlow(network: Network): Flow {
  const dead: number[] = [];
  for (;;) {
    const outcome = sweepAll(network, dead);
    if (typeof outcome !== 'number') return outcome;
    dead.push(outcome);
  }
}

/** Sweeps until nothing moves; or the index of the circuit that has no working point. */
function sweepAll(network: Network, dead: readonly number[]): Flow | number {
  const sourceV = voltsOf(network).nominalV;
  const upstreamOhm = network.upstream.reduce((sum, u) => sum + (u.loopOhm ?? 0), 0);
  const nodes: FlatNode[] = [];
  const loads: FlatLoad[] = [];
  const taps: Tap[][] = [];
  const trusted: boolean[] = [];

  // Lay the trees flat, parents before children.
  const addLoad = (load: Load, node: number, circuit: number, v: Phasor, i: Phasor): void => {
    const pf = powerFactorOf(load);
    const sin = Math.sqrt(Math.max(0, 1 - pf * pf)) * (load.leading ? 1 : -1);
    loads.push({ load, node, circuit, cos: pf, sin, lastV: sourceV, i, v });
  };
  const addNode = (node: Node, parent: number, circuit: number): void => {
    const index = nodes.length;
    const flat: FlatNode = {
      node,
      tap: undefined,
      parent,
      circuit,
      ohm: node.resistanceOhm ?? 0,
      i: { re: 0, im: 0 },
      v: { re: sourceV, im: 0 },
    };
    nodes.push(flat);
    for (const load of node.loads) addLoad(load, index, circuit, flat.v, { re: 0, im: 0 });
    for (const child of node.children) addNode(child, index, circuit);
  };
  network.circuits.forEach((circuit, c) => {
    trusted.push(ringTrusted(circuit));
    const own: Tap[] = [];
    taps.push(own);
    for (const load of circuit.houseLoads) {
      const tap = { f: load.ringFraction ?? 1, i: { re: 0, im: 0 }, v: { re: sourceV, im: 0 } };
      own.push(tap);
      addLoad(load, -1, c, tap.v, tap.i);
    }
    for (const outlet of circuit.outlets) {
      const index = nodes.length;
      addNode(outlet, -1, c);
      const flat = nodes[index]!;
      flat.tap = { f: outlet.ringFraction ?? 1, i: flat.i, v: { re: sourceV, im: 0 } };
      own.push(flat.tap);
    }
  });

  const circuitI: Phasor[] = network.circuits.map(() => ({ re: 0, im: 0 }));
  const sourceI: Phasor = { re: 0, im: 0 };
  const board: Phasor = { re: sourceV, im: 0 };
  let sweeps = 0;
  for (;;) {
    sweeps++;
    // Sum the currents from the loads back to the source.
    for (const n of nodes) n.i.re = n.i.im = 0;
    for (const l of loads) {
      const volts = magnitude(l.v);
      const amps = dead.includes(l.circuit) ? 0 : currentAt(l.load, volts, l.load.level ?? 1);
      const re = (amps * (l.v.re * l.cos - l.v.im * l.sin)) / volts;
      const im = (amps * (l.v.im * l.cos + l.v.re * l.sin)) / volts;
      l.i.re = re;
      l.i.im = im;
      if (l.node >= 0) {
        nodes[l.node]!.i.re += re;
        nodes[l.node]!.i.im += im;
      }
    }
    for (let k = nodes.length - 1; k >= 0; k--) {
      const n = nodes[k]!;
      if (n.parent < 0) continue;
      nodes[n.parent]!.i.re += n.i.re;
      nodes[n.parent]!.i.im += n.i.im;
    }
    sourceI.re = sourceI.im = 0;
    for (let c = 0; c < taps.length; c++) {
      const total = circuitI[c]!;
      total.re = total.im = 0;
      for (const tap of taps[c]!) {
        total.re += tap.i.re;
        total.im += tap.i.im;
      }
      sourceI.re += total.re;
      sourceI.im += total.im;
    }

    // Take the drops from the source out to the loads.
    let moved = 0;
    const set = (v: Phasor, re: number, im: number): void => {
      moved = Math.max(moved, Math.abs(v.re - re), Math.abs(v.im - im));
      v.re = re;
      v.im = im;
    };
    set(board, sourceV - upstreamOhm * sourceI.re, -upstreamOhm * sourceI.im);
    for (let c = 0; c < taps.length; c++) {
      const ohm = network.circuits[c]!.cable.loopOhm ?? 0;
      const own = taps[c]!;
      const ringed = trusted[c]!;
      for (const tap of own) {
        let re = 0;
        let im = 0;
        if (ringed) {
          // A ring seen from one place: R·min(f, g)·(1 − max(f, g)) for a load at g.
          for (const other of own) {
            const r = ohm * Math.min(tap.f, other.f) * (1 - Math.max(tap.f, other.f));
            re += r * other.i.re;
            im += r * other.i.im;
          }
        } else {
          re = ohm * circuitI[c]!.re;
          im = ohm * circuitI[c]!.im;
        }
        set(tap.v, board.re - re, board.im - im);
      }
    }
    for (const n of nodes) {
      const from = n.tap?.v ?? nodes[n.parent]!.v;
      set(n.v, from.re - n.ohm * n.i.re, from.im - n.ohm * n.i.im);
    }

    // Stop when it rests; when a load has fallen off the nose of its curve, blame the circuit that moves most.
    let fallen = sweeps >= MOST_SWEEPS;
    let blamed = -1;
    let most = -1;
    for (const l of loads) {
      if (!l.load.on || dead.includes(l.circuit)) continue;
      const volts = magnitude(l.v);
      if (!(volts > COLLAPSE_SHARE * sourceV && volts < 2 * sourceV)) fallen = true;
      const step = Number.isFinite(volts) ? Math.abs(volts - l.lastV) : Number.POSITIVE_INFINITY;
      if (step > most) {
        most = step;
        blamed = l.circuit;
      }
      l.lastV = volts;
    }
    if (fallen && blamed >= 0) return blamed;
    if (moved < TOLERANCE_V || fallen) break;
  }

  const alive = loads.filter((l) => !dead.includes(l.circuit));
  return {
    loadV: new Map(alive.map((l) => [l.load.id, magnitude(l.v)])),
    loadI: new Map(alive.map((l) => [l.load.id, l.i])),
    nodeI: new Map(nodes.map((n) => [n.node.id, n.i])),
    nodeV: new Map(nodes.map((n) => [n.node.id, magnitude(n.v)])),
    circuitI: new Map(network.circuits.map((c, k) => [c.id, circuitI[k]!])),
    circuitV: new Map(
      network.circuits.map((c, k) => [
        c.id,
        Math.min(magnitude(board), ...taps[k]!.map((tap) => magnitude(tap.v))),
      ]),
    ),
    sourceI,
    boardV: magnitude(board),
    collapsed: dead.map((c) => network.circuits[c]!.id),
    sweeps,
  };
}
