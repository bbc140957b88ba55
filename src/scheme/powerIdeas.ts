/** Ways to relieve a supply: loads of the house off, lamps plugged elsewhere, reels unwound, better leads. */
import { leadLoopOhm } from '../power/cord.ts';
import type { CircuitAnswer, Solution } from '../power/solve.ts';
import type { Feed, KitThing, Shoot } from '../shoot/schema.ts';
import { houseLoadOff, plugInto, putOut, unwind } from './cureEdits.ts';
import type { Idea } from './trouble.ts';

export interface Supplied {
  shoot: Shoot;
  where: { scene: string; angle: string };
  solution: Solution;
}

const A = (a: number) => `${(Math.ceil(a * 10 - 1e-7) / 10).toFixed(1)} A`;
const rigOf = (s: Supplied) => s.shoot.scenes[s.where.scene]!.rig;
const supplyOf = (s: Supplied) => s.shoot.places[s.shoot.scenes[s.where.scene]!.place]!.supply;

/** The feed put into another socket by itself. */
export const feedInto = (feed: Feed | undefined, socket: string): Feed => {
  const { via: _, ...rest } = feed ?? { leads: [] };
  return { ...rest, socket } as Feed;
};

export function circuitIdeas(s: Supplied, circuit: CircuitAnswer): Idea[] {
  const scene = s.shoot.scenes[s.where.scene]!;
  const supply = supplyOf(s);
  const ideas: Idea[] = [];
  const left = (a: number) =>
    `${A(circuit.nominalCurrentA - a)} left${circuit.ratingA === undefined ? '' : ` of ${circuit.ratingA} A`}`;
  const house = Object.entries(supply.circuits[circuit.id]?.houseLoads ?? {})
    .filter(([, l]) => l.on)
    .sort((a, b) => b[1].watts - a[1].watts);
  for (const [id, l] of house.slice(0, 2))
    ideas.push(
      houseLoadOff(
        scene.place,
        circuit.id,
        id,
        `Switch off while shooting: ${l.words}, ${left(l.watts / supply.nominalV)}`,
      ),
    );
  const others = Object.entries(supply.sockets).filter(([, x]) => x.circuit !== circuit.id && !x.dead);
  const onIt = s.solution.loads
    .filter((l) => l.circuit === circuit.id && scene.rig.lamps[l.id])
    .sort((a, b) => b.nominalCurrentA - a.nominalCurrentA);
  for (const heavy of onIt.slice(0, 2)) {
    const lamp = scene.rig.lamps[heavy.id]!;
    for (const [socket, x] of others.slice(0, 2))
      ideas.push(
        plugInto(
          s.where,
          heavy.id,
          feedInto(lamp.feed, socket),
          `Plug ${lamp.number} into ${socket} (${supply.circuits[x.circuit]?.words ?? x.circuit}), ${left(heavy.nominalCurrentA)}`,
        ),
      );
  }
  for (const heavy of onIt.slice(0, 2))
    ideas.push(
      putOut(
        s.where,
        heavy.id,
        `Put ${scene.rig.lamps[heavy.id]!.number} out, ${left(heavy.nominalCurrentA)}`,
      ),
    );
  return ideas;
}

/** The lamp in a socket of its own. */
export function plugIdeas(s: Supplied, lamp: string): Idea[] {
  const l = rigOf(s).lamps[lamp]!;
  return Object.entries(supplyOf(s).sockets)
    .filter(([id, x]) => !x.dead && (id !== l.feed?.socket || l.feed?.via !== undefined))
    .slice(0, 3)
    .map(([id]) => plugInto(s.where, lamp, feedInto(l.feed, id), `Plug ${l.number} into ${id} by itself`));
}

export function multiwayIdeas(s: Supplied, multiway: string): Idea[] {
  const onIt = Object.entries(rigOf(s).lamps).filter(([, l]) => l.feed?.via === multiway && l.on);
  return onIt
    .slice(0, 3)
    .flatMap(([id, l]) => [...plugIdeas(s, id), putOut(s.where, id, `Put ${l.number} out`)]);
}

const ohmOf = (thing: KitThing): number | undefined =>
  thing.loopOhm ??
  (thing.mm2 && thing.lengthM ? leadLoopOhm({ mm2: thing.mm2, lengthM: thing.lengthM }) : undefined);

/** A lead unwound (`index`, or all), or another of the kit in its place that is long enough and loses less. */
export function leadIdeas(s: Supplied, lamp: string, index: number | undefined): Idea[] {
  const rig = rigOf(s);
  const l = rig.lamps[lamp]!;
  const leads = l.feed?.leads ?? [];
  const ideas: Idea[] = [];
  leads.forEach((lead, i) => {
    if (index !== undefined && i !== index) return;
    if (lead.coiled !== false && s.shoot.kit.leads[lead.kit]?.reel)
      ideas.push(unwind(s.where, lamp, i, `Unwind the whole lead of ${l.number}`));
    else if (lead.coiled) ideas.push(unwind(s.where, lamp, i, `Unwind the whole lead of ${l.number}`));
    const now = s.shoot.kit.leads[lead.kit];
    const nowOhm = now && ohmOf(now);
    const used = new Map<string, number>();
    for (const x of Object.values(rig.lamps))
      for (const y of x.feed?.leads ?? []) used.set(y.kit, (used.get(y.kit) ?? 0) + 1);
    for (const [id, thing] of Object.entries(s.shoot.kit.leads)) {
      const ohm = ohmOf(thing);
      if (id === lead.kit || (used.get(id) ?? 0) >= thing.count) continue;
      if ((thing.lengthM ?? 0) < (now?.lengthM ?? 0) - 0.01) continue;
      if (ohm === undefined || nowOhm === undefined || ohm > nowOhm * 0.85) continue;
      ideas.push(
        plugInto(
          s.where,
          lamp,
          { ...l.feed, leads: leads.map((y, k) => (k === i ? { kit: id, coiled: false } : y)) },
          `Feed ${l.number} by the ${thing.words ?? id} instead, unwound`,
        ),
      );
    }
  });
  if (index === undefined) {
    const circuit = s.solution.loads.find((x) => x.id === lamp)?.circuit;
    const scene = s.shoot.scenes[s.where.scene]!;
    const house = Object.entries(supplyOf(s).circuits[circuit ?? '']?.houseLoads ?? {})
      .filter(([, x]) => x.on)
      .sort((a, b) => b[1].watts - a[1].watts)[0];
    if (house && circuit !== undefined)
      ideas.push(
        houseLoadOff(scene.place, circuit, house[0], `Switch off while shooting: ${house[1].words}`),
      );
    ideas.push(...plugIdeas(s, lamp));
  }
  return ideas;
}
