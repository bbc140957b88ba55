/** Whether a lamp could be held at a place at all: on its side of the walls, and nothing refuses it there. */

import type { Vec3 } from '../maths/vec3.ts';
import { sameRoom } from '../shoot/rooms.ts';
import { rigLamp, type SchemeContext } from './context.ts';
import { cannotStand } from './standing.ts';

export function canStand(c: SchemeContext, lamp: string, at: Vec3): boolean {
  const rig = rigLamp(c, lamp);
  if (!sameRoom(c.place, [rig.at[0], rig.at[1]], [at[0], at[1]])) return false;
  const kit = rig.support.kit === undefined ? undefined : c.shoot.kit.supports[rig.support.kit];
  // A clamp goes along with the lamp to whatever holds it there: only stands are asked.
  return rig.support.kind !== 'stand' || cannotStand(c.place, rig.support, at, kit).length === 0;
}
