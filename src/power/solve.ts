/** A network's answers: amps two ways and at the worst volts, volts at every load, a verdict at everything on the way. */
import { checkCircuit } from './circuit.ts';
import { drawOf, size, sum } from './draw.ts';
import { currentAt, planningCurrentA, powerFactorOf, voltsOf } from './load.ts';
import { loadFlow, ringTrusted } from './loadflow.ts';
import { type Circuit, type Load, loadsBehind, loadsOn, type Network, type Node } from './network.ts';
import { REGION, RING_LEG_A, UNKNOWN_PLAN_A, UNMARKED_REEL_W } from './region.ts';
import { ringLegs } from './ring.ts';
import { judgeSet } from './set.ts';
import type { CircuitAnswer, DeviceAnswer, LoadAnswer, Solution } from './solution.ts';
import { ampsUp, type Cap, judge, type Level, percent, ratingWords, worse } from './verdict.ts';
import { judgeVolts, nominalDropsV, untoldWays } from './volts.ts';

export type { CircuitAnswer, DeviceAnswer, LoadAnswer, Solution } from './solution.ts';

/** Solves a network: load flow, ratings at nominal and worst volts, verdicts, and what was not checked. Pure. */
export function solve(network: Network): Solution {
  const volts = voltsOf(network);
  const rules = REGION[network.region];
  const flow = loadFlow(network);
  const notChecked = new Set<string>();
  const nominalA = (load: Load): number => currentAt(load, volts.nominalV);
  const planA = (load: Load): number => planningCurrentA(load, volts);
  const common = { lineWords: rules.longWords, worstV: volts.highestV };

  // Every circuit: device, cable, ring.
  const circuits = network.circuits.map((c) => judgeCircuit(c));
  function judgeCircuit(circuit: Circuit): CircuitAnswer {
    const on = [...loadsOn(circuit)];
    const nominal = drawOf(on, nominalA);
    const planning = drawOf(on, planA);
    const caps: Cap[] = [];
    const untold: string[] = [];
    if (circuit.device.kind === 'unknown') untold.push('kind of breaker or fuse');
    if (circuit.device.ratingA === undefined) untold.push('its amps');
    if (circuit.cable.ratingA === undefined) untold.push('cable');
    if (untold.length > 0)
      caps.push({ limitA: UNKNOWN_PLAN_A, words: `plan while nobody has told: ${untold.join(', ')}` });
    const legA = circuit.cable.ratingA ?? RING_LEG_A;
    const trusted = ringTrusted(circuit);
    if (circuit.ring && !trusted)
      caps.push({
        limitA: legA,
        words: circuit.ring.continuityTested
          ? 'of one leg, as the places on the ring are not all told'
          : 'of one leg if the ring is broken',
      });
    const cableA = circuit.ring ? undefined : circuit.cable.ratingA;
    const ratingA =
      circuit.device.ratingA !== undefined && cableA !== undefined
        ? Math.min(circuit.device.ratingA, cableA)
        : circuit.device.ratingA;
    const verdict = judge({ nominal, planning, ratingA, caps, ...common });
    let { level } = verdict;
    const parts = [verdict.words];

    // Unknown is not a pass.
    if (untold.length > 0) level = worse(level, 'not-checked');
    for (const what of untold) notChecked.add(`${circuit.words}: ${what}`);

    // A ring's legs.
    let legsA: CircuitAnswer['legsA'];
    if (circuit.ring) {
      if (trusted) {
        const taps = (amps: (load: Load) => number) => [
          ...circuit.outlets.map((o) => ({
            fraction: o.ringFraction ?? 1,
            currentA: sum(drawOf(loadsBehind([o]), amps)),
          })),
          ...circuit.houseLoads.map((l) => ({ fraction: l.ringFraction ?? 1, currentA: amps(l) })),
        ];
        legsA = ringLegs(taps(nominalA));
        const worstLegs = ringLegs(taps(planA));
        const leg = Math.max(legsA.a, legsA.b);
        const worstLeg = Math.max(worstLegs.a, worstLegs.b);
        if (worstLeg > legA) level = 'over';
        else if (worstLeg > 0.8 * legA) level = worse(level, 'warn');
        parts.push(
          `heavier leg ${ampsUp(leg)} A: ${leg > legA ? 'over' : 'within'} ${ratingWords(legA)} A (${percent(leg / legA)})` +
            (leg <= legA && worstLeg > legA ? `, over at the worst volts (${ampsUp(worstLeg)} A)` : ''),
        );
      } else {
        if (sum(planning) > 0.8 * legA) level = worse(level, 'warn');
        notChecked.add(
          `${circuit.words}: ${circuit.ring.continuityTested ? 'places of the loads on the ring' : 'ring continuity'}`,
        );
      }
      const watts = on.reduce((w, l) => w + (l.on ? l.watts : 0), 0);
      if (rules.ringW !== undefined && watts > rules.ringW) {
        level = worse(level, 'warn');
        parts.push(`over the ${rules.ringW / 1000} kW planned on one ring`);
      }
    }
    const collapsed = flow.collapsed.includes(circuit.id);
    if (collapsed) {
      level = 'over';
      parts.push('no working point: its leads cannot bring what its loads ask for');
    }
    if (circuit.cable.loopOhm === undefined) notChecked.add(`${circuit.words}: drop in its fixed cable`);
    const checks = checkCircuit(network, circuit, {
      nominalA: sum(nominal),
      solvedA: size(flow.circuitI.get(circuit.id)),
      flow,
      over: ratingA !== undefined && sum(nominal) > ratingA,
    });
    if (checks.company.level !== 'not-checked') {
      level = worse(level, checks.company.level);
      parts.push(checks.company.words);
    }
    for (const line of checks.notChecked) notChecked.add(`${circuit.words}: ${line}`);
    return {
      id: circuit.id,
      words: circuit.words,
      circuit: circuit.id,
      currentA: size(flow.circuitI.get(circuit.id)),
      nominalCurrentA: sum(nominal),
      planningCurrentA: sum(planning),
      ratingA,
      limitA: verdict.limitA,
      share: verdict.share,
      marginA: verdict.marginA,
      level,
      verdict: parts.join('; '),
      endV: collapsed ? undefined : flow.circuitV.get(circuit.id),
      legsA,
      ...checks,
    };
  }

  // Everything on the way.
  const devices: DeviceAnswer[] = [];
  const visit = (node: Node, circuit: Circuit, leads: number, aheadA: number | undefined): void => {
    const below = [...loadsBehind([node])];
    const nominal = drawOf(below, nominalA);
    const planning = drawOf(below, planA);
    const outlet = node.kind === 'socket' || node.kind === 'plate';
    const usual = node.kind === 'socket' ? rules.socketA : node.kind === 'plate' ? rules.plateA : undefined;
    let ratingA = node.ratingA ?? usual;
    const lineA =
      outlet && ratingA === usual
        ? node.kind === 'plate'
          ? rules.plateLineA
          : rules.socketLongA
        : undefined;
    const caps: Cap[] = [];
    let floor: Level = 'within';
    const more: string[] = [];
    if (node.coiled) {
      floor = 'warn';
      const wound = node.woundRatingA ?? UNMARKED_REEL_W / volts.nominalV;
      caps.push({
        limitA: wound,
        words: node.woundRatingA === undefined ? 'of an unmarked coil' : 'mark for use wound up',
      });
      more.push('unwind it');
      if (node.woundRatingA === undefined)
        notChecked.add(`${node.words}: what it carries wound up is not marked`);
    }
    if (ratingA === undefined) notChecked.add(`${node.words}: amps not marked`);
    const verdict = judge({ nominal, planning, ratingA, lineA, caps, ...common });
    let level = worse(verdict.level, floor);
    if (node.kind === 'flex' && node.ratingA !== undefined && aheadA !== undefined && aheadA > node.ratingA) {
      level = worse(level, 'warn');
      more.push(`the ${ratingWords(aheadA)} A ahead of it is larger than the flex`);
    }
    const cord = node.kind === 'lead' || node.kind === 'reel';
    if (cord && leads > 0) {
      level = worse(level, 'warn');
      more.push('lead into lead');
    }
    if ((cord || node.kind === 'flex') && node.resistanceOhm === undefined)
      notChecked.add(`${node.words}: drop along it`);
    const watts = below.reduce((w, l) => w + (l.on && !l.brief ? l.watts : 0), 0);
    if (node.kind === 'socket' && rules.pointW !== undefined && watts > rules.pointW) {
      level = worse(level, 'warn');
      more.push(`over the ${rules.pointW / 1000} kW planned at one ${rules.socketWord}`);
    }
    devices.push({
      id: node.id,
      words: node.words,
      circuit: circuit.id,
      currentA: size(flow.nodeI.get(node.id)),
      nominalCurrentA: sum(nominal),
      planningCurrentA: sum(planning),
      ratingA,
      limitA: verdict.limitA,
      share: verdict.share,
      marginA: verdict.marginA,
      level,
      verdict: [verdict.words, ...more].join('; '),
    });
    ratingA = node.ratingA;
    const protects = node.kind === 'fuse' || (node.kind === 'plug' && network.region === 'uk');
    const next = protects && ratingA !== undefined ? ratingA : aheadA;
    for (const child of node.children) visit(child, circuit, leads + (cord ? 1 : 0), next);
  };
  for (const circuit of network.circuits)
    for (const outlet of circuit.outlets) visit(outlet, circuit, 0, circuit.device.ratingA);

  // Every load.
  const untold = untoldWays(network);
  const nominalDrops = nominalDropsV(network, nominalA);
  const loads = network.circuits.flatMap((circuit) =>
    [...loadsOn(circuit)].map((load) => answerLoad(load, circuit)),
  );
  function answerLoad(load: Load, circuit: Circuit): LoadAnswer {
    const nominalDropV = nominalDrops.get(load.id)!;
    const v = flow.loadV.get(load.id);
    const dropV = v === undefined ? undefined : volts.nominalV - v;
    const dropShare = dropV === undefined ? undefined : dropV / volts.nominalV;
    const told = !untold.has(load.id) || !load.on;
    const volted = judgeVolts(load, v, dropShare, nominalDropV / volts.nominalV);
    if (load.on && load.powerFactor === undefined && (load.kind === 'electronic' || load.kind === 'magnetic'))
      notChecked.add(`${load.words}: power factor not stated, reckoned as ${powerFactorOf(load)}`);
    if (load.on && load.kind === 'magnetic' && load.startTimes === undefined)
      notChecked.add(`${load.words}: what it draws while it starts`);
    return {
      id: load.id,
      words: load.words,
      circuit: circuit.id,
      volts: v,
      currentA: v === undefined ? undefined : size(flow.loadI.get(load.id)),
      nominalCurrentA: nominalA(load),
      planningCurrentA: planA(load),
      voltsFactor: v === undefined ? undefined : v / load.ratedV,
      dropV,
      dropShare,
      nominalDropV,
      level: told ? volted.level : worse(volted.level, 'not-checked'),
      verdict:
        told || v === undefined
          ? volted.verdict
          : volted.level === 'within'
            ? `at most ${v.toFixed(1)} V; not checked: a cable on its way is not told`
            : `at best ${volted.verdict}; a cable on its way is not told`,
    };
  }

  // Ahead of the board: everything adds up there.
  const all = network.circuits.flatMap((c) => [...loadsOn(c)]);
  const upstream: DeviceAnswer[] = network.upstream.map((u) => {
    const other = u.otherA ?? 0;
    const nominal = drawOf(all, nominalA);
    const planning = drawOf(all, planA);
    const verdict = judge({
      nominal: { longA: nominal.longA + other, briefA: nominal.briefA },
      planning: { longA: planning.longA + other, briefA: planning.briefA },
      ratingA: u.ratingA,
      ...common,
    });
    if (u.otherA === undefined) notChecked.add(`${u.words}: what else hangs on it`);
    if (u.ratingA === undefined) notChecked.add(`${u.words}: its amps`);
    if (u.loopOhm === undefined) notChecked.add(`${u.words}: drop ahead of the board`);
    return {
      id: u.id,
      words: u.words,
      circuit: undefined,
      currentA: size(flow.sourceI) + other,
      nominalCurrentA: sum(nominal) + other,
      planningCurrentA: sum(planning) + other,
      ratingA: u.ratingA,
      limitA: verdict.limitA,
      share: verdict.share,
      marginA: verdict.marginA,
      level: verdict.level,
      verdict: verdict.words,
    };
  });
  if (network.upstream.length === 0 && network.source.kind === 'mains')
    notChecked.add('everything ahead of the board: main fuse, contract limit, the rest of the building');
  if (network.source.kind !== 'mains')
    upstream.push(...judgeSet(network, all, flow, volts.nominalV, notChecked));
  else if (network.source.earthing === 'unknown') notChecked.add(`how the supply is earthed (TN, TT, IT)`);

  notChecked.add(
    `condition of ${rules.socketWord}s, plugs and leads; other people's loads; who else depends on these circuits`,
  );
  const answers: { readonly level: Level }[] = [
    ...circuits,
    ...devices,
    ...loads,
    ...upstream,
    ...circuits.flatMap((c) => [c.leakage, ...c.plugInRcds, ...c.earth]),
    ...circuits.map((c) => (c.wet.level === 'not-checked' ? { level: 'within' as const } : c.wet)),
  ];
  return {
    circuits,
    devices,
    loads,
    upstream,
    sourceA: size(flow.sourceI),
    nominalA: sum(drawOf(all, nominalA)),
    worst: answers.reduce<Level>((level, a) => worse(level, a.level), 'within'),
    notChecked: [...notChecked],
  };
}
