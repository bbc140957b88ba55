/** The air of an angle's stage, from what the scene says of it. */
import { extinctionOfFall } from '../light/haze.ts';
import { roomsIn } from '../shoot/rooms.ts';
import type { Place, SceneAir } from '../shoot/schema.ts';
import type { Air } from '../stage/air.ts';
import { roomsOf } from './gaps.ts';

/** Undefined: clear. What falls, falls where no roof is: in a place without a ceiling everywhere. */
export function airOf(air: SceneAir | undefined, place: Place): Air | undefined {
  const { haze, falls } = air ?? {};
  if (!haze && !falls) return undefined;
  return {
    extinctionPerM: haze?.extinctionPerM ?? 0,
    phase: haze?.g ?? haze?.kind ?? 'haze',
    ...(falls
      ? {
          falling: {
            kind: falls.kind,
            scatteringPerM: extinctionOfFall(falls.kind, falls.mmPerH),
            rooms: roomsOf(place).filter((_, k) => {
              const room = roomsIn(place)[k]!;
              return room.ceilingM !== undefined || room.slopes !== undefined;
            }),
          },
        }
      : {}),
  };
}
