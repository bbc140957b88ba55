/** Ways out of a shadow: the lamp carried, raised or softened, the thing that throws it moved aside. */
import { add, cross, DEG, normalize, scale, sub, turnZ, type Vec3 } from '../maths/vec3.ts';
import { ceilingOver } from '../stage/slope.ts';
import { canStand } from './canStand.ts';
import { here, numberOf, rigLamp, type SchemeContext, windTo } from './context.ts';
import { aimAt, carry, flagOut, peg, putOut } from './cureEdits.ts';
import { meets, type Occluder } from './occluders.ts';
import { clampInstead, clearAway } from './outOfFrame.ts';
import { type Idea, m } from './trouble.ts';

export function shadowIdeas(
  c: SchemeContext,
  o: Occluder,
  lamps: readonly string[],
  points: readonly Vec3[],
): Idea[] {
  const w = here(c);
  const ideas: Idea[] = [];
  const most = lamps[0]!;
  if (o.what === 'head' || o.what === 'stand') {
    ideas.push(...aside(c, o.id, points, most, o), ...clampInstead(c, o.id), ...clearAway(c, o.id));
  }
  if (o.what === 'flag') {
    const flag = c.angle.rig.flags[o.id]!;
    const others = (flag.angles ?? Object.keys(c.angle.rig.scene.angles)).filter((a) => a !== c.angle.angle);
    ideas.push(flagOut(w, o.id, others, `Take ${o.id} away`));
  }
  for (const lamp of lamps.slice(0, 2)) {
    ideas.push(...lampRound(c, lamp, points, o));
    if (o.what === 'head' || o.what === 'stand') ideas.push(...swing(c, lamp, points));
    const rig = rigLamp(c, lamp);
    if (!rig.practical && !rig.sheets.includes('full-white'))
      ideas.push(
        peg(
          w,
          lamp,
          [...rig.sheets, 'full-white'],
          `Soften ${rig.number} with full white diffusion`,
          'a sheet of full white',
        ),
      );
    ideas.push(putOut(w, lamp, `Put ${rig.number} out`));
  }
  return ideas;
}

/** The head turned off the places its shadow falls on, by a sixth of its beam at least. */
export function swing(c: SchemeContext, id: string, points: readonly Vec3[]): Idea[] {
  const rig = rigLamp(c, id);
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  if (lamp.beamDeg >= 180 || points.length === 0) return [];
  const aim = sub(rig.aim as Vec3, lamp.at);
  const side = cross(aim, sub(points[Math.floor(points.length / 2)]!, lamp.at))[2] > 0 ? -1 : 1;
  const deg = Math.max(5, Math.ceil(lamp.beamDeg / 6 / 5) * 5);
  const to = add(lamp.at, turnZ(aim, side * deg * DEG));
  return [aimAt(here(c), id, to, `Swing ${rig.number} ${deg}° off it`)];
}

/** The lamp to either side or up, until most of the shadowed places see it past the thing. */
function lampRound(c: SchemeContext, id: string, points: readonly Vec3[], o: Occluder): Idea[] {
  const rig = rigLamp(c, id);
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const ideas: Idea[] = [];
  const clear = (at: Vec3) => points.filter((p) => meets(o, p, at)).length < 0.2 * points.length;
  const side = normalize([-lamp.axis[1], lamp.axis[0], 0]);
  for (const s of [1, -1])
    for (let d = 0.1; d <= 1.6; d += 0.1) {
      const at = add(lamp.at, scale(side, s * d));
      if (!canStand(c, id, at)) continue;
      if (!clear(at)) continue;
      ideas.push(carry(here(c), id, at, `Slide ${rig.number} ${windTo(c, scale(side, s))} ${m(d)}`));
      break;
    }
  const ceiling = ceilingOver(c.place, lamp.at[0], lamp.at[1]) ?? lamp.at[2] + 2;
  for (let d = 0.1; lamp.at[2] + d < ceiling - 0.2 && d <= 1.2; d += 0.1) {
    const at: Vec3 = [lamp.at[0], lamp.at[1], lamp.at[2] + d];
    if (!clear(at)) continue;
    ideas.push(carry(here(c), id, at, `Raise ${rig.number} by ${m(d)}`));
    break;
  }
  return ideas;
}

/** The thing that throws it carried out of the line, to whichever side is less. */
function aside(c: SchemeContext, id: string, points: readonly Vec3[], lamp: string, o: Occluder): Idea[] {
  const from = c.angle.lamps.find((l) => l.id === lamp)!.at;
  const it = c.angle.lamps.find((l) => l.id === id)!;
  const middle = points[Math.floor(points.length / 2)]!;
  const side = normalize([-(middle[1] - from[1]), middle[0] - from[0], 0]);
  for (let d = 0.1; d <= 1.2; d += 0.1)
    for (const s of [1, -1]) {
      const by = scale(side, s * d);
      const at = add(it.at, by);
      const moved: Occluder = {
        ...o,
        capsules: o.capsules.map((k) => ({ ...k, a: add(k.a, by), b: add(k.b, by) })),
      };
      if (!canStand(c, id, at)) continue;
      // Off the places it shadows now; where its shadow falls then, the trial says.
      if (points.filter((p) => meets(moved, p, from)).length > 0.2 * points.length) continue;
      return [carry(here(c), id, at, `Slide ${numberOf(c, id)} ${windTo(c, by)} ${m(d)}`)];
    }
  return [];
}
