/** The power sheet of a scene, circuit by circuit, in words and figures ready for a page: every angle looked at. */

import { apparentVA } from '../light/kitlamps.ts';
import type { CircuitAnswer, Solution } from '../power/solve.ts';
import { ampsUp, type Level, percent, ratingWords } from '../power/verdict.ts';
import { kindOf } from '../setup/lamps.ts';
import { regionWord } from '../shoot/region-words.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Circuit, Shoot } from '../shoot/schema.ts';
import { marginWords } from './marginWords.ts';
import { type Supplied, suppliedOf } from './supplied.ts';

export interface PowerRow {
  /** Number of the lamp, or empty for a house load. */
  lamp: string;
  /** Place of the lamp in the rig, from 1; 0: a house load. */
  identity: number;
  words: string;
  from: string;
  leads: string;
  watts: string;
  va: string;
  amps: string;
  /** Amps so far on this circuit, each rounded up at the end only. */
  running: string;
  share: string;
  volts: string;
}
export interface PowerCircuit {
  id: string;
  words: string;
  level: Level;
  verdict: string;
  /** What is at its head and on its way, in words. */
  head: string;
  sockets: string;
  rows: PowerRow[];
  /** Nominal amps in the worst angle: the sum of the rows. */
  totalA: number;
  limitA: number | undefined;
  margin: string;
  /** Amps by angle, the worst marked. */
  byAngle: { angle: string; amps: string; worst: boolean }[];
  legs: string;
  rcd: string;
  surge: string;
}
export interface PowerSheet {
  scene: string;
  name: string;
  place: string;
  /** “230 V 50 Hz”. */
  supply: string;
  words: string;
  worst: Level;
  worstAngle: string;
  totalA: string;
  circuits: PowerCircuit[];
  onTheWay: {
    words: string;
    amps: string;
    of: string;
    /** Of the limit that binds; undefined: none known. */
    share: number | undefined;
    verdict: string;
    level: Level;
  }[];
  /** House loads that are counted off: they must stay off. */
  keepOff: string[];
  /** House loads counted on. */
  counted: string[];
  notChecked: string[];
  cautions: readonly string[];
}

const DEVICE: Record<Circuit['device'], string> = {
  'mcb-b': 'breaker, type B',
  'mcb-c': 'breaker, type C',
  'mcb-d': 'breaker, type D',
  bs3036: 'fuse of wire',
  nema: 'breaker',
  unknown: 'breaker or fuse not told',
};

/** What a circuit is made of, as told. */
export function circuitHead(c: Circuit, region: Parameters<typeof regionWord>[0]): string {
  const parts = [
    `${DEVICE[c.device]}${c.ratingA === undefined ? ', amps not told' : `, ${ratingWords(c.ratingA)} A`}`,
  ];
  const cable = c.cable;
  parts.push(
    cable?.known && (cable.mm2 || cable.lengthM !== undefined)
      ? `cable ${cable.mm2 ? `${cable.mm2} mm²` : 'size not told'}${cable.lengthM === undefined ? '' : `, ${cable.lengthM} m`}`
      : 'cable not told',
  );
  if (c.ring) parts.push(`ring, ${c.ring.continuityTested ? 'tested whole' : 'not tested whole'}`);
  const rcd = regionWord(region, 'rcd');
  parts.push(
    c.rcdMa === undefined ? `${rcd} not told` : c.rcdMa === 0 ? `no ${rcd}` : `${rcd} ${c.rcdMa} mA`,
  );
  return parts.join('; ');
}

/** Sum of what is on a circuit in one angle, A at nominal volts. */
const onCircuit = (s: Solution, circuit: string): CircuitAnswer => s.circuits.find((c) => c.id === circuit)!;

export function powerSheet(shoot: Shoot, sceneId: string): PowerSheet {
  const scene = shoot.scenes[sceneId]!;
  const place = shoot.places[scene.place]!;
  const { supply } = place;
  const refs: (AngleRef | undefined)[] = Object.keys(scene.angles).map((angle) => ({
    scene: sceneId,
    angle,
  }));
  if (refs.length === 0) refs.push(undefined);
  const solved: { angle: string; supplied: Supplied; lamps: typeof scene.rig.lamps }[] = refs.map((ref) => ({
    angle: ref?.angle ?? 'the rig',
    supplied: suppliedOf(shoot, { scene: sceneId, angle: ref?.angle }),
    lamps: ref ? rigFor(shoot, ref).lamps : scene.rig.lamps,
  }));
  const worstOf = (amps: (s: Solution) => number) =>
    solved.reduce((a, b) => (amps(b.supplied.solution) > amps(a.supplied.solution) + 1e-9 ? b : a));
  const whole = worstOf((s) => s.nominalA);
  const ids = Object.keys(scene.rig.lamps);

  const circuits = Object.entries(supply.circuits).map(([id, told]): PowerCircuit => {
    const worst = worstOf((s) => onCircuit(s, id).nominalCurrentA);
    const answer = onCircuit(worst.supplied.solution, id);
    let sum = 0;
    const rows = worst.supplied.solution.loads
      .filter((l) => l.circuit === id && l.nominalCurrentA > 0)
      .sort((a, b) => Number(ids.includes(a.id)) - Number(ids.includes(b.id)))
      .map((l): PowerRow => {
        sum += l.nominalCurrentA;
        const lamp = worst.lamps[l.id];
        const house = told.houseLoads[l.id.slice(id.length + 1)];
        const head = lamp ? shoot.kit.lamps[lamp.head] : undefined;
        const kind = kindOf(head);
        const feed = lamp?.feed;
        const leads = (feed?.leads ?? []).map(
          (x) => `${shoot.kit.leads[x.kit]?.words ?? x.kit}${x.coiled === true ? ', coiled: unwind' : ''}`,
        );
        const watts = kind?.watts ?? house?.watts;
        const va = kind ? apparentVA(kind) : house ? house.watts / (house.powerFactor ?? 1) : undefined;
        return {
          lamp: lamp?.number ?? '',
          identity: lamp ? ids.indexOf(l.id) + 1 : 0,
          words: lamp ? (head?.words ?? kind?.words ?? lamp.head) : l.words,
          from: feed
            ? `${feed.socket}${feed.via ? `, ${feed.via}` : ''}`
            : house?.socket === undefined
              ? ''
              : String(house.socket),
          leads: lamp ? (leads.length ? leads.join(' + ') : 'own cord') : '',
          watts: watts === undefined ? '?' : String(Math.round(watts)),
          va: va === undefined ? '?' : String(Math.ceil(va)),
          amps: ampsUp(l.nominalCurrentA),
          running: ampsUp(sum),
          share: answer.limitA === undefined ? '?' : percent(sum / answer.limitA),
          volts: l.volts === undefined ? 'none' : l.volts.toFixed(1),
        };
      });
    return {
      id,
      words: told.words,
      level: answer.level,
      verdict: answer.verdict,
      head: circuitHead(told, supply.region),
      sockets: Object.entries(supply.sockets)
        .filter(([, s]) => s.circuit === id)
        .map(([name, s]) => `${s.words ?? name}${s.dead ? ' (dead)' : ''}`)
        .join('; '),
      rows,
      totalA: answer.nominalCurrentA,
      limitA: answer.limitA,
      margin: marginWords(answer.marginA),
      byAngle: solved.map(({ angle, supplied }) => {
        const a = onCircuit(supplied.solution, id).nominalCurrentA;
        return { angle, amps: ampsUp(a), worst: a >= answer.nominalCurrentA - 1e-9 };
      }),
      legs: answer.legsA ? `legs ${ampsUp(answer.legsA.a)} A and ${ampsUp(answer.legsA.b)} A` : '',
      rcd: answer.leakage.words,
      surge: answer.surge.words,
    };
  });

  const { solution, cautions } = whole.supplied;
  const loads = Object.values(supply.circuits).flatMap((c) => Object.values(c.houseLoads));
  const named = (l: (typeof loads)[number]) => `${l.words} (${l.watts} W)`;
  return {
    scene: sceneId,
    name: scene.name,
    place: place.name,
    supply:
      `${supply.nominalV} V ${supply.frequencyHz} Hz, earthing ${supply.earthing === 'unknown' ? 'not told' : supply.earthing}`.replace(
        'earthing',
        supply.region === 'na' || supply.region === 'jp' ? 'grounding' : 'earthing',
      ),
    words: supply.words ?? '',
    worst: solution.worst,
    worstAngle: whole.angle,
    totalA: ampsUp(solution.nominalA),
    circuits,
    onTheWay: [...solution.upstream, ...solution.devices]
      .filter((d) => d.nominalCurrentA > 0)
      .map((d) => ({
        words: d.words,
        amps: ampsUp(d.nominalCurrentA),
        of: d.limitA === undefined ? '?' : ratingWords(d.limitA),
        share: d.share,
        verdict: d.verdict,
        level: d.level,
      })),
    keepOff: loads.filter((l) => !l.on).map(named),
    counted: loads.filter((l) => l.on).map(named),
    notChecked: [
      ...new Set(solved.flatMap((s) => [...s.supplied.uncounted, ...s.supplied.solution.notChecked])),
    ],
    cautions,
  };
}
