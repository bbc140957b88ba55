/** What every lamp of an angle gives now: the supply solved, volts to light and warmth, gels, calibration. */
import { cctOf } from '../colour/cct.ts';
import { fitMatrix } from '../colour/samples.ts';
import { xyzOf } from '../colour/xyz.ts';
import { type Solution, solve } from '../power/solve.ts';
import { type AngleRef, rigFor } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import type { AngleWeights } from './angle.ts';
import { BOUNCE_SLOPE, kindCause } from './causes.ts';
import { dayKind } from './dayDoubt.ts';
import { daylightOf } from './daylight.ts';
import { kindOf, loadOf, scaled, weigh } from './lamps.ts';
import { learnedOf, shiftOf } from './learned.ts';
import { bandOf, lampLearned, meteredIn } from './learnedLamp.ts';
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

/** Weights in the order of the angle's layers: lamps in rig order, each its layers; then the day's lights. */
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
  const learned = learnedOf(shoot);
  const bounceGain = 2 ** (BOUNCE_SLOPE * shiftOf(learned, metered.surfaces));
  for (const light of daylightOf(rig)) {
    const kind = kindCause(dayKind(light.id, light.metered));
    const shiftStops = shiftOf(learned, kind);
    weights.layers.push(scaled(fitMatrix(light.spectrum), light.factor * 2 ** shiftStops, bounceGain));
    const colour = cctOf(xyzOf(light.spectrum));
    weights.lamps.push({
      id: light.id,
      volts: undefined,
      lightFactor: light.factor,
      cctK: colour.cctK,
      outCctK: colour.cctK,
      outDuv: colour.duv,
      passes: 1,
      causes: {
        kind,
        head: 'none:day',
        place: 'none:day',
      },
      shiftStops,
      bandStops: bandOf(metered.joint, new Map([[kind, 1]])),
      metered: light.metered,
      kindWords: kindOfDay(light.id),
      currentA: 0,
    });
  }
  return { weights, supply, notes };
}

/** What the light of a day is of: one cause of doubt for all that the sky sends. */
const kindOfDay = (id: string): string =>
  id === 'day:sun' || id === 'day:moon'
    ? id.slice(4)
    : id.startsWith('window:')
      ? 'window as metered'
      : 'sky';
