/** What the supply says: everything over a rating, past a long-load limit, or that nobody has told. */
import type { CircuitAnswer, DeviceAnswer, Solution } from '../power/solve.ts';
import type { Shoot } from '../shoot/schema.ts';
import { houseLoadOff, plugInto, putOut, unwind, type Where } from './cureEdits.ts';
import type { Cure, Trouble, TroubleKind } from './trouble.ts';

const A = (a: number) => `${(Math.ceil(a * 10 - 1e-7) / 10).toFixed(1)} A`;

export function powerTroubles(shoot: Shoot, where: Where, solution: Solution): Trouble[] {
  const scene = shoot.scenes[where.scene]!;
  const place = shoot.places[scene.place]!;
  const out: Trouble[] = [];
  for (const circuit of solution.circuits) {
    // Nothing hangs on it: nothing to say of it here; the power sheet lists it all the same.
    if (circuit.nominalCurrentA === 0) continue;
    const t = judge(circuit, 'circuit-over');
    if (!t) continue;
    out.push({ ...t, cures: circuitCures(shoot, where, circuit, solution) });
  }
  for (const device of [...solution.devices, ...solution.upstream]) {
    const kind: TroubleKind = /^(lead|reel)/.test(device.id) ? 'lead-over' : 'plug-over';
    const t = judge(device, kind);
    if (!t) continue;
    const [what, lamp, index] = device.id.split(':');
    const cures: Cure[] = [];
    if (what === 'lead' && lamp && scene.rig.lamps[lamp]) {
      const lead = scene.rig.lamps[lamp].feed?.leads[Number(index)];
      if (lead?.coiled)
        cures.push(
          unwind(where, lamp, Number(index), `Unwind the whole lead of ${scene.rig.lamps[lamp].number}.`),
        );
    }
    if (lamp && scene.rig.lamps[lamp]) {
      t.lamp = lamp;
      const other = Object.keys(place.supply.sockets).find(
        (s) => s !== scene.rig.lamps[lamp]!.feed?.socket && !place.supply.sockets[s]!.dead,
      );
      if (other)
        cures.push(
          plugInto(
            where,
            lamp,
            { ...scene.rig.lamps[lamp].feed, socket: other, via: undefined },
            `Plug ${scene.rig.lamps[lamp].number} into ${other} by itself.`,
          ),
        );
    }
    const multiway = what === 'multiway' ? lamp : what === 'plug' && lamp === 'multiway' ? index : undefined;
    if (multiway) {
      const onIt = Object.entries(scene.rig.lamps).filter(([, l]) => l.feed?.via === multiway);
      const free = Object.keys(place.supply.sockets).find(
        (s) => s !== scene.rig.multiways[multiway]?.socket && !place.supply.sockets[s]!.dead,
      );
      for (const [id, l] of onIt.slice(0, 2)) {
        if (free)
          cures.push(
            plugInto(
              where,
              id,
              { ...l.feed, socket: free, via: undefined },
              `Plug ${l.number} into ${free} instead.`,
            ),
          );
        cures.push(putOut(where, id, `Put ${l.number} out in ${where.angle}.`));
      }
    }
    out.push({ ...t, cures });
  }
  return out;
}

function judge(d: DeviceAnswer, over: TroubleKind): Trouble | undefined {
  if (d.level === 'within') return undefined;
  const kind: TroubleKind =
    d.level === 'over' ? over : d.level === 'warn' ? 'long-load' : 'power-not-checked';
  return {
    kind,
    subject: d.id,
    severity: d.level === 'over' ? 3 : d.level === 'warn' ? 1 : 0,
    says: `${d.words}: ${d.verdict}.`,
    cures: [],
  };
}

function circuitCures(shoot: Shoot, where: Where, circuit: CircuitAnswer, solution: Solution): Cure[] {
  const scene = shoot.scenes[where.scene]!;
  const placeId = scene.place;
  const supply = shoot.places[placeId]!.supply;
  const cures: Cure[] = [];
  const relief = (a: number) => {
    const left = circuit.nominalCurrentA - a;
    return `${A(left)} left${circuit.ratingA === undefined ? '' : ` of ${circuit.ratingA} A`}`;
  };
  const house = Object.entries(supply.circuits[circuit.id]?.houseLoads ?? {})
    .filter(([, l]) => l.on)
    .sort((a, b) => b[1].watts - a[1].watts);
  for (const [id, l] of house.slice(0, 2)) {
    cures.push(
      houseLoadOff(
        placeId,
        circuit.id,
        id,
        `Switch off the ${l.words} while shooting: ${relief(l.watts / supply.nominalV)}.`,
      ),
    );
  }
  const other = Object.entries(supply.sockets).find(([, s]) => s.circuit !== circuit.id && !s.dead);
  const onIt = solution.loads
    .filter((l) => l.circuit === circuit.id && scene.rig.lamps[l.id])
    .sort((a, b) => b.nominalCurrentA - a.nominalCurrentA);
  const heaviest = onIt[0];
  if (heaviest && other) {
    const lamp = scene.rig.lamps[heaviest.id]!;
    cures.push(
      plugInto(
        where,
        heaviest.id,
        { ...lamp.feed, socket: other[0], via: undefined },
        `Plug ${lamp.number} into ${other[0]} (${supply.circuits[other[1].circuit]?.words ?? other[1].circuit}): ${relief(heaviest.nominalCurrentA)}.`,
      ),
    );
  }
  if (heaviest && circuit.level === 'over')
    cures.push(
      putOut(
        where,
        heaviest.id,
        `Put ${scene.rig.lamps[heaviest.id]!.number} out in ${where.angle}: ${relief(heaviest.nominalCurrentA)}.`,
      ),
    );
  return cures;
}
