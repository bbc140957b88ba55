/** What else is asked of one circuit: time to open, surge, leakage, earth fault. */
import { instantaneousFromA, type TripBand, tripBand } from './device.ts';
import { checkEarth, type EarthAnswer } from './earth.ts';
import { currentAt, voltsOf } from './load.ts';
import type { Flow } from './loadflow.ts';
import { type Circuit, type Load, loadsOn, type Network, type Node, waysOn } from './network.ts';
import { checkPeople, type PlugInRcd } from './people.ts';
import { COLD_TIMES, surgeA } from './surge.ts';
import { ampsUp, type Level, ratingWords, worse } from './verdict.ts';

/** The surge when cold tungsten is switched on while the rest runs, r.m.s. amps. */
export interface SurgeAnswer {
  /** All tungsten at once on a stiff supply: the planning figure. */
  readonly allStiffA: number;
  /** All at once with the leads and cable told. */
  readonly allA: number;
  /** The largest alone, stiff, while everything else runs. */
  readonly largestStiffA: number;
  readonly largest: string | undefined;
  /** From here the device may open at once, A. */
  readonly mayOpenFromA: number | undefined;
  readonly level: Level;
  readonly words: string;
}

/** The further answers of a circuit. */
export interface CircuitChecks {
  /** Time to open at nominal and at solved amps; undefined while within the rating. */
  readonly trip: { readonly nominal: TripBand; readonly solved: TripBand } | undefined;
  readonly surge: SurgeAnswer;
  readonly leakageMa: number;
  readonly leakage: { readonly level: Level; readonly words: string };
  /** The RCD at the board. */
  readonly rcd: { readonly counted: boolean; readonly words: string };
  readonly plugInRcds: readonly PlugInRcd[];
  /** Loads out of doors, and whether an RCD that counts stands ahead of each. */
  readonly wet: { readonly level: Level; readonly words: string };
  /** For each load that needs its earth and is on. */
  readonly earth: readonly (EarthAnswer & { readonly load: string })[];
  /** What else hangs on this circuit, and an arc-fault breaker: cautions that are not amps. */
  readonly company: { readonly level: Level; readonly words: string };
  readonly notChecked: readonly string[];
}

/** Runs the further checks of one circuit. */
export function checkCircuit(
  network: Network,
  circuit: Circuit,
  state: { nominalA: number; solvedA: number; flow: Flow; over: boolean },
): CircuitChecks {
  const notChecked: string[] = [];
  const sourceV = voltsOf(network).nominalV;
  const on = [...loadsOn(circuit)].filter((l) => l.on);
  const placed = [...waysOn(circuit)].filter(({ load }) => load.on);

  const people = checkPeople(network, circuit, placed);
  notChecked.push(...people.notChecked);

  // Earth fault at each metal head.
  const earth = placed
    .filter(({ load }) => load.classI)
    .map(({ load, way }) => {
      const parts = [
        circuit.cable.faultLoopOhm ?? circuit.cable.loopOhm,
        ...way.map((n) => n.faultLoopOhm ?? n.resistanceOhm),
      ];
      const conducting = [
        true,
        ...way.map((n) => n.kind === 'lead' || n.kind === 'reel' || n.kind === 'flex'),
      ];
      const leadOhm = parts.reduce<number | undefined>(
        (total, ohm, k) =>
          total === undefined || (ohm === undefined && conducting[k]) ? undefined : total + (ohm ?? 0),
        0,
      );
      const fuses = way
        .filter((n) => n.kind === 'fuse' && n.ratingA !== undefined && network.region === 'uk')
        .map((n) => ({ kind: 'bs1362' as const, ratingA: n.ratingA, words: n.words }));
      const devices = [
        { kind: circuit.device.kind, ratingA: circuit.device.ratingA, words: circuit.words },
        ...fuses,
      ];
      const answer = checkEarth({
        region: network.region,
        source: network.source,
        earthing: network.source.kind === 'mains' ? network.source.earthing : 'unknown',
        zsOhm: circuit.loopImpedanceOhm,
        leadOhm,
        devices,
        rcdCounted: people.counts(way),
      });
      return { ...answer, load: load.id };
    });
  if (circuit.loopImpedanceOhm === undefined) notChecked.push('earth-fault loop impedance');
  else if (earth.some((e) => e.level === 'not-checked')) notChecked.push('earth fault at the lamps');

  if (earth.length > 0 && circuit.cable.faultLoopOhm === undefined && circuit.cable.loopOhm)
    notChecked.push('earth core of its cable, taken to be as thick as the line core');

  return {
    trip: state.over
      ? { nominal: tripBand(circuit.device, state.nominalA), solved: tripBand(circuit.device, state.solvedA) }
      : undefined,
    surge: surgeOf(network, circuit, placed, sourceV, state.nominalA),
    leakageMa: people.leakageMa,
    leakage: people.leakage,
    rcd: people.rcd,
    plugInRcds: people.plugInRcds,
    wet: people.wet,
    earth,
    company: companyOf(circuit, on, network.region === 'na', notChecked),
    notChecked,
  };
}

function surgeOf(
  network: Network,
  circuit: Circuit,
  placed: readonly { load: Load; way: readonly Node[] }[],
  sourceV: number,
  runningA: number,
): SurgeAnswer {
  const cold = placed
    .filter(({ load }) => load.kind === 'tungsten')
    .map(({ load, way }) => ({
      load,
      watts: load.watts,
      ratedV: load.ratedV,
      leadOhm: way.reduce((ohm, n) => ohm + (n.resistanceOhm ?? 0), 0),
    }));
  const loopOhm =
    (circuit.cable.loopOhm ?? 0) + network.upstream.reduce((ohm, u) => ohm + (u.loopOhm ?? 0), 0);
  const stiff = cold.map(({ watts, ratedV }) => ({ watts, ratedV }));
  const allStiffA = surgeA(stiff, sourceV);
  const allA = surgeA(cold, sourceV, loopOhm);
  let largest: Load | undefined;
  let largestStiffA = 0;
  for (const { load, watts, ratedV } of cold) {
    const amps = surgeA([{ watts, ratedV }], sourceV);
    if (amps > largestStiffA) {
      largestStiffA = amps;
      largest = load;
    }
  }
  const mayOpenFromA = instantaneousFromA(circuit.device);
  const base = { allStiffA, allA, largestStiffA, largest: largest?.id, mayOpenFromA };
  const sum = `cold, all together ${Math.ceil(allStiffA)} A, ${largest?.words ?? ''} alone ${Math.ceil(largestStiffA)} A (${COLD_TIMES} times running)`;
  if (!largest) return { ...base, level: 'within', words: 'no tungsten on it' };
  if (mayOpenFromA === undefined)
    return { ...base, level: 'not-checked', words: `${sum}; not checked: this device's instantaneous range` };
  const steady = (load: Load): number => currentAt(load, sourceV);
  const oneA = largestStiffA + runningA - steady(largest);
  const togetherA = allStiffA + runningA - cold.reduce((a, c) => a + steady(c.load), 0);
  const from = `the device may open from ${ratingWords(mayOpenFromA)} A`;
  if (togetherA <= mayOpenFromA) return { ...base, level: 'within', words: `${sum}: below ${from}` };
  const last = `${largest.words} last, with the rest running, ${ampsUp(oneA)} A`;
  return {
    ...base,
    level: 'warn',
    words: `${sum}; ${from}: bring them on one by one${oneA > mayOpenFromA ? `; ${last}: may open it even so; bring it on first, or fade it up` : ''}`,
  };
}

/** Who else depends on the circuit, and whether an arc-fault breaker stands ahead of electronics. */
function companyOf(
  circuit: Circuit,
  on: readonly Load[],
  askAfci: boolean,
  notChecked: string[],
): { level: Level; words: string } {
  let level: Level = 'not-checked';
  const parts: string[] = [];
  for (const load of loadsOn(circuit)) {
    if (load.depends === undefined) continue;
    level = worse(level, load.depends === 'care' ? 'over' : 'warn');
    parts.push(
      load.depends === 'care'
        ? `${load.words} is on it and somebody depends on it: another circuit, or batteries`
        : `${load.words} is on it: tell its owner`,
    );
  }
  if (circuit.afci && on.some((l) => l.kind === 'electronic' || l.kind === 'magnetic')) {
    level = worse(level, 'warn');
    parts.push('arc-fault breaker ahead of electronics or discharge gear: try it before the take');
  }
  if (askAfci && circuit.afci === undefined) notChecked.push('arc-fault breaker');
  if (parts.length === 0) parts.push('not checked: who else depends on it');
  return { level, words: parts.join('; ') };
}
