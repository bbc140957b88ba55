/** What every lamp of an angle gives now: the supply solved, volts to light and warmth, gels, calibration. */
import { type Solution, solve } from '../power/solve.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { AngleWeights } from './angle.ts';
import { kindOf, loadOf, weigh } from './lamps.ts';
import { lampLearned, meteredIn } from './learnedLamp.ts';
import { networkOf } from './network.ts';

export interface Weighed {
  weights: AngleWeights;
  supply: Solution;
  /** Lamps whose kind nobody knows, sheets that are not in the kit: said, and counted as absent. */
  notes: string[];
}

/** The supply with the lamps that burn in an angle. */
export function supplyOf(shoot: Shoot, ref: AngleRef): Solution {
  const rig = rigFor(shoot, ref);
  const place = shoot.places[rig.scene.place]!;
  return solve(
    networkOf(place, shoot.kit, rig.lamps, rig.scene.rig.multiways, (id) => {
      const lamp = rig.lamps[id]!;
      const head = shoot.kit.lamps[lamp.head];
      const kind = kindOf(head);
      return head && kind ? loadOf(lamp, head, kind) : undefined;
    }),
  );
}

/** Weights in the order of the angle's layers: lamps in rig order, each its layers. */
export function weightsOf(shoot: Shoot, ref: AngleRef): Weighed {
  const rig = rigFor(shoot, ref);
  const supply = supplyOf(shoot, ref);
  const metered = meteredIn(shoot, ref.scene);
  const weights: AngleWeights = { layers: [], lamps: [], metered };
  const notes: string[] = [];
  for (const [id, lamp] of Object.entries(rig.lamps)) {
    const head = shoot.kit.lamps[lamp.head];
    const kind = kindOf(head);
    if (!head || !kind) {
      notes.push(
        `Lamp ${lamp.number}: its kind ${head?.kind ?? lamp.head} is not known; it gives no light here.`,
      );
      continue;
    }
    const load = supply.loads.find((l) => l.id === id);
    // No working point: the lead cannot carry it; it counts as out.
    const network = load === undefined ? undefined : { volts: load.volts ?? 0, currentA: load.currentA ?? 0 };
    const w = weigh(id, lamp, head, kind, network, lampLearned(shoot, metered, ref.scene, id, lamp, head));
    weights.layers.push(...w.layers);
    weights.lamps.push(w.lamp);
  }
  return { weights, supply, notes };
}
