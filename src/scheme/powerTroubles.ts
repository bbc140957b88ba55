/** What the supply says: everything over a rating, past a long-load limit, low on volts, or that nobody has told. */

import { atVolts } from '../light/tungsten.ts';
import type { CircuitAnswer, DeviceAnswer } from '../power/solve.ts';
import { kindOf } from '../setup/lamps.ts';
import { circuitIdeas, leadIdeas, multiwayIdeas, plugIdeas, type Supplied } from './powerIdeas.ts';
import { type Found, stops, type TroubleKind } from './trouble.ts';

/** Drop from nominal at the end of a lead beyond which it is said, share of volts [BS-7671-4]: 5 %. */
const LOW_SHARE = 0.05;

export function powerTroubles(s: Supplied): Found[] {
  const { shoot, where, solution } = s;
  const scene = shoot.scenes[where.scene]!;
  const out: Found[] = [];
  for (const circuit of solution.circuits) {
    // Nothing hangs on it: nothing to say of it here; the power sheet lists it all the same.
    if (circuit.nominalCurrentA === 0) continue;
    const t = judge(circuit, 'circuit-over');
    if (t) out.push({ ...t, ideas: () => circuitIdeas(s, circuit) });
  }
  for (const device of [...solution.devices, ...solution.upstream]) {
    const t = judge(device, /^(lead|reel)/.test(device.id) ? 'lead-over' : 'plug-over');
    if (!t) continue;
    const [what, name, index] = device.id.split(':');
    const lamp = name !== undefined && scene.rig.lamps[name] ? name : undefined;
    const multiway = what === 'multiway' ? name : what === 'plug' && name === 'multiway' ? index : undefined;
    out.push({
      ...t,
      ...(lamp === undefined ? {} : { lamp }),
      ideas: () => [
        ...(what === 'lead' && lamp !== undefined ? leadIdeas(s, lamp, Number(index)) : []),
        ...(lamp === undefined ? [] : plugIdeas(s, lamp)),
        ...(multiway === undefined ? [] : multiwayIdeas(s, multiway)),
        ...(what === 'socket' && name !== undefined ? socketIdeas(s, name) : []),
      ],
    });
  }
  return [...out, ...lowVolts(s)];
}

/** A plate over its rating: whatever hangs on it goes elsewhere. */
function socketIdeas(s: Supplied, socket: string) {
  const lamps = Object.entries(s.shoot.scenes[s.where.scene]!.rig.lamps);
  return lamps.filter(([, l]) => l.on && l.feed?.socket === socket).flatMap(([id]) => plugIdeas(s, id));
}

type Judged = Omit<Found, 'ideas'>;

function judge(d: DeviceAnswer | CircuitAnswer, over: TroubleKind): Judged | undefined {
  if (d.level === 'within') return undefined;
  const kind: TroubleKind =
    d.level === 'over' ? over : d.level === 'warn' ? 'long-load' : 'power-not-checked';
  const limit = d.limitA ?? d.ratingA;
  return {
    kind,
    subject: d.id,
    severity: d.level === 'over' ? 3 : d.level === 'warn' ? 1 : 0,
    size: limit ? d.nominalCurrentA / limit : 1,
    says: `${d.words}: ${d.verdict}.`,
    short: `${d.words} goes ${d.level === 'over' ? 'over its rating' : d.level === 'warn' ? 'over its long-load line' : 'unchecked'}`,
  };
}

/** Filaments that a long thin lead starves: dimmer and warmer, in the picture as on the set. */
function lowVolts(s: Supplied): Found[] {
  const { shoot, where, solution } = s;
  const scene = shoot.scenes[where.scene]!;
  const nominal = shoot.places[scene.place]!.supply.nominalV;
  const out: Found[] = [];
  for (const load of solution.loads) {
    const lamp = scene.rig.lamps[load.id];
    const head = lamp && shoot.kit.lamps[lamp.head];
    const kind = kindOf(head);
    if (!lamp || !head || kind?.source !== 'tungsten' || load.volts === undefined) continue;
    const drop = 1 - load.volts / nominal;
    if (!(drop > LOW_SHARE) || !load.currentA) continue;
    const state = atVolts({ volts: nominal, cctK: head.cctK ?? kind.cctK }, load.volts);
    out.push({
      kind: 'volts-low',
      lamp: load.id,
      severity: 1,
      size: drop,
      says: `${lamp.number} gets ${load.volts.toFixed(1)} V of ${nominal} (${(100 * drop).toFixed(1)} % down, over the 5 % line): ${stops(Math.log2(state.fluxFactor))} stop, ${Math.round(state.cctK / 10) * 10} K.`,
      short: `${lamp.number} runs over 5 % low on volts`,
      ideas: () => leadIdeas(s, load.id, undefined),
    });
  }
  return out;
}
