/** Ways to keep a lamp off the lens: a flag, a board, a door, a pan, less light. */
import { add, angleBetween, cross, DEG, sub, turnZ, type Vec3 } from '../maths/vec3.ts';
import { kindOf } from '../setup/lamps.ts';
import { bladeToward, hiddenFrom } from './blade.ts';
import { here, nameOf, numberOf, rigLamp, type SchemeContext } from './context.ts';
import { aimAt, doors, hang } from './cureEdits.ts';
import { lensFlag } from './flagOnLens.ts';
import { freeFlag, hidingBoard, spoils } from './hidingBoard.ts';
import { clampNear } from './room.ts';
import { type Idea, m } from './trouble.ts';

export function flareIdeas(c: SchemeContext, id: string, seen: boolean): Idea[] {
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const ideas = seen ? hidingBoard(c, id) : [];
  const flag = seen
    ? undefined
    : lensFlag(c.angle.view, lamp.at, lamp.sizeM, (at, sizeM) => spoils(c, at, sizeM));
  if (flag) {
    const holder = clampNear(c.place, flag.at, 1.2);
    const holds = holder ? `arm from ${holder.words}` : 'arm on a stand behind the camera';
    ideas.push(
      hang(
        here(c),
        freeFlag(c),
        {
          at: flag.at,
          facing: flag.facing,
          sizeM: [flag.sizeM, flag.sizeM],
          words: `keeps ${nameOf(c, id)} off the lens in ${c.angle.angle}`,
          kind: 'flag',
          holds,
        },
        `Hang a ${m(flag.sizeM)} flag ${m(flag.fromLensM, 1)} from the lens, ${m(flag.clearOfFrameM)} clear of the frame`,
        `${m(flag.neededM)} at least, and an ${holds}`,
      ),
    );
  }
  return [...ideas, ...doorOff(c, id, c.angle.view.eye, 'the lens'), ...panOff(c, id)];
}

/** Turns the head away from the lens by as little as may help: what that costs the faces, the trial says. */
function panOff(c: SchemeContext, id: string): Idea[] {
  const rig = rigLamp(c, id);
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const eye = c.angle.view.eye;
  const off = angleBetween(lamp.axis, sub(eye, lamp.at));
  // Within a third of a turn off the beam's edge a pan can do something; a bulb has no aim.
  const edge = ((lamp.beamDeg / 2) * Math.PI) / 180;
  if (lamp.beamDeg >= 180 || off > edge + 0.4) return [];
  const aim = sub(rig.aim as Vec3, lamp.at);
  const toLens = sub(eye, lamp.at);
  const side = cross(aim, toLens)[2] > 0 ? -1 : 1;
  const deg = Math.ceil(Math.max(5, ((edge + 0.05 - off) * 180) / Math.PI) / 5) * 5;
  if (deg > 25) return [];
  const to = add(lamp.at, turnZ(aim, side * deg * DEG));
  return [aimAt(here(c), id, to, `Pan ${rig.number} ${deg}° off the lens`)];
}

/** The one door that shades `target` from the whole of the face, closed no further than it must. */
export function doorOff(c: SchemeContext, id: string, target: Vec3, what: string): Idea[] {
  const rig = rigLamp(c, id);
  const kind = kindOf(c.shoot.kit.lamps[rig.head]);
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const blade = kind && bladeToward(kind, lamp.at, lamp.axis, target);
  if (!blade) return [];
  const { which, want } = blade;
  const now = rig.doors ?? { top: 90, bottom: 90, left: 90, right: 90 };
  for (let open = 80; open >= 5; open -= 5) {
    if (open >= now[which]) continue;
    if (hiddenFrom(blade, open) < want * 0.98)
      return [
        doors(
          here(c),
          id,
          { ...now, [which]: open },
          `Close the ${which} door of ${numberOf(c, id)} to ${open}°, off ${what}`,
        ),
      ];
  }
  return [];
}
