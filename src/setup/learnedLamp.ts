/** What the readings say of one lamp of a rig where it stands now. */
import { type Belief, varianceOf } from '../maths/belief.ts';
import type { KitLamp, RigLamp, Shoot } from '../shoot/schema.ts';
import type { MeteredBefore } from './angle.ts';
import {
  BOUNCE_SLOPE,
  headCause,
  kindCause,
  type LampCauses,
  placeCause,
  slopeOf,
  surfacesCause,
  Z90,
} from './causes.ts';
import type { LampLearned } from './lamps.ts';
import { learnedOf, shiftOf, sigmaBefore } from './learned.ts';

/** A lamp was read if it gave at least this much of what was expected. */
const MOST = 0.5;

export function causesOfLamp(scene: string, id: string, lamp: RigLamp, head: KitLamp): LampCauses {
  return {
    kind: kindCause(head.kind),
    head: headCause(lamp.head, head.old),
    place: placeCause(scene, id, lamp.at, lamp.aim),
  };
}

export function meteredIn(shoot: Shoot, scene: string): MeteredBefore {
  const readAt = new Map<string, Set<string>>();
  for (const r of Object.values(shoot.readings ?? {})) {
    if (r.scene !== scene || r.aside) continue;
    const at = r.mark === undefined ? `spot:${r.spot}` : `mark:${r.mark}`;
    const under = readAt.get(at) ?? new Set();
    const sum = r.expected.reduce((s, e) => s + e.directLx + e.bouncedLx, 0);
    for (const e of r.expected) {
      under.add(e.place);
      if ((e.directLx + e.bouncedLx) / sum >= MOST) alone(readAt).add(e.place);
    }
    readAt.set(at, under);
  }
  return {
    joint: learnedOf(shoot).joint,
    surfaces: surfacesCause(shoot.scenes[scene]?.place ?? scene),
    readAt,
  };
}

/** Under this name stand the places of lamps that gave most of some reading. */
const alone = (readAt: Map<string, Set<string>>): Set<string> => {
  const had = readAt.get('lamp');
  if (had) return had;
  const made = new Set<string>();
  readAt.set('lamp', made);
  return made;
};

export function lampLearned(
  shoot: Shoot,
  metered: MeteredBefore,
  scene: string,
  id: string,
  lamp: RigLamp,
  head: KitLamp,
): LampLearned {
  const learned = learnedOf(shoot);
  const causes = causesOfLamp(scene, id, lamp, head);
  const { kind, head: own, place } = causes;
  return {
    causes,
    shiftStops: shiftOf(learned, kind) + shiftOf(learned, own) + shiftOf(learned, place),
    bandStops: bandOf(metered.joint, slopeOf(causes, metered.surfaces, false)),
    metered: head.reading !== undefined || (metered.readAt.get('lamp')?.has(place) ?? false),
    bounceGain: 2 ** (BOUNCE_SLOPE * shiftOf(learned, metered.surfaces)),
  };
}

/** Half-width of a 90 % interval on a value with these slopes, stops. */
export const bandOf = (joint: Belief, slope: ReadonlyMap<string, number>): number =>
  Z90 * Math.sqrt(varianceOf(joint, slope, sigmaBefore));
