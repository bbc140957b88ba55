/** Volts at the loads: two reckonings of the drop, and the verdict on it. */
import { drawOf, sum } from './draw.ts';
import { ringTrusted } from './loadflow.ts';
import { type Load, loadsBehind, loadsOn, type Network, type Node, waysOn } from './network.ts';
import type { Level } from './verdict.ts';

/** Nominal amps through every ohm on each load's way, V, by load id: constant currents, no lamp law, no phase. */
export function nominalDropsV(network: Network, nominalA: (load: Load) => number): Map<string, number> {
  const drops = new Map<string, number>();
  const sumOf = (loads: Iterable<Load>): number => sum(drawOf(loads, nominalA));
  const upstreamOhm = network.upstream.reduce((ohm, u) => ohm + (u.loopOhm ?? 0), 0);
  const before = upstreamOhm * network.circuits.reduce((a, c) => a + sumOf(loadsOn(c)), 0);
  for (const circuit of network.circuits) {
    const ohm = circuit.cable.loopOhm ?? 0;
    const taps = [
      ...circuit.houseLoads.map((l) => ({ f: l.ringFraction ?? 1, a: nominalA(l) })),
      ...circuit.outlets.map((o) => ({ f: o.ringFraction ?? 1, a: sumOf(loadsBehind([o])) })),
    ];
    const trusted = ringTrusted(circuit);
    const cable = (f: number): number =>
      taps.reduce((v, t) => v + ohm * t.a * (trusted ? Math.min(f, t.f) * (1 - Math.max(f, t.f)) : 1), 0);
    for (const l of circuit.houseLoads) drops.set(l.id, before + cable(l.ringFraction ?? 1));
    const down = (node: Node, ahead: number): void => {
      const here = ahead + (node.resistanceOhm ?? 0) * sumOf(loadsBehind([node]));
      for (const l of node.loads) drops.set(l.id, here);
      for (const child of node.children) down(child, here);
    };
    for (const outlet of circuit.outlets) down(outlet, before + cable(outlet.ringFraction ?? 1));
  }
  return drops;
}

/** Loads with a cable or lead on their way whose ohms nobody told: their volts are a best case. */
export function untoldWays(network: Network): Set<string> {
  const found = new Set<string>();
  for (const circuit of network.circuits)
    for (const { load, way } of waysOn(circuit)) {
      const cords = way.filter((n) => n.kind === 'lead' || n.kind === 'reel' || n.kind === 'flex');
      if (circuit.cable.loopOhm === undefined || cords.some((n) => n.resistanceOhm === undefined))
        found.add(load.id);
    }
  return found;
}

/** How the volts at a load stand: 3 % is the line for tungsten, 5 % for the rest, 8 % the stop. Common practice beside [BS-7671-4]. */
export function judgeVolts(
  load: Load,
  volts: number | undefined,
  dropShare: number | undefined,
  nominalShare: number,
) {
  const say = (level: Level, verdict: string) => ({ level, verdict });
  if (!load.on) return say('within', 'off');
  if (volts === undefined || dropShare === undefined)
    return say('over', 'no working point: its leads cannot bring this power');
  const line = load.kind === 'tungsten' ? 0.03 : 0.05;
  const lost = `${volts.toFixed(1)} V, ${(dropShare * 100).toFixed(1)} % lost`;
  // The two reckonings on either side of a limit: neither is trusted.
  for (const limit of [0.08, line])
    if (dropShare > limit !== nominalShare > limit && (load.level ?? 1) === 1)
      return say('warn', `${lost}: on the ${limit * 100} % limit`);
  if (dropShare > 0.08) return say('over', `${lost}: over 8 %`);
  if (load.lowestV !== undefined && volts < load.lowestV)
    return say('warn', `${lost}: below the ${load.lowestV} V its maker states`);
  if (dropShare > line) return say('warn', `${lost}: over the ${line * 100} % line`);
  return say('within', `${lost}: within ${line * 100} %`);
}
