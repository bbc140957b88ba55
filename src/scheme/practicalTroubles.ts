/** A practical too weak to do what it seems to do: it looks unlit, or what lies under it is lit by others. */
import { distance, type Vec3 } from '../maths/vec3.ts';
import { kindOf } from '../setup/lamps.ts';
import { lessOf } from './clipTroubles.ts';
import { here, numberOf, rigLamp, type SchemeContext } from './context.ts';
import { burn, otherHead, putOut, setCamera } from './cureEdits.ts';
import { doorOff } from './flareIdeas.ts';
import { cutter } from './hidingBoard.ts';
import { type Found, type Idea, stops } from './trouble.ts';

/** A lamp seen itself less than this over grey does not look lit, stops (judgement). */
const LIT_STOPS = 1.5;
/** Of the light on what it hangs over, less than this share does not read as its own (judgement). */
const OWN_SHARE = 1 / 4;
/** As far as a practical is taken to light something, metres. */
const REACH_M = 1.6;

export function practicalTroubles(c: SchemeContext): Found[] {
  const out: Found[] = [];
  for (const lamp of c.angle.lamps) {
    const rig = rigLamp(c, lamp.id);
    if (!rig.practical || !rig.on) continue;
    const glow = c.glow.get(lamp.id);
    if (glow) {
      const over = Math.log2(Math.max(1e-9, glow.luminance) / c.greyCdM2);
      if (over < LIT_STOPS)
        out.push({
          kind: 'practical-weak',
          lamp: lamp.id,
          subject: 'itself',
          severity: 2,
          size: LIT_STOPS - over,
          says: `${rig.number} itself is only ${stops(over)} over grey: it does not look lit.`,
          short: `${rig.number} no longer looks lit`,
          at: lamp.at,
          ideas: () => [
            ...brighter(c, lamp.id),
            setCamera(
              here(c),
              { stop: +(c.stop / 2 ** ((LIT_STOPS - over + 0.1) / 2)).toFixed(2) },
              `Open up to T${(c.stop / 2 ** ((LIT_STOPS - over + 0.1) / 2)).toFixed(1)}`,
            ),
          ],
        });
    }
    const pool = poolOf(c, lamp.id);
    if (pool)
      out.push({
        kind: 'practical-weak',
        lamp: lamp.id,
        subject: pool.spot,
        severity: 1,
        size: 1 - pool.share / OWN_SHARE,
        says: `Of the light on ${pool.name} ${(100 * pool.share).toFixed(0)} % is ${rig.number}’s own, ${pool.other ? `${numberOf(c, pool.other)} gives most of it` : 'the rest is the room’s'}: its pool does not show.`,
        short: `the pool of ${rig.number} does not show`,
        at: pool.at,
        ideas: () => poolIdeas(c, lamp.id, pool),
      });
  }
  return out;
}

interface Pool {
  spot: string;
  name: string;
  at: Vec3;
  share: number;
  other: string | undefined;
}

/** The table or floor under the lamp that this angle sees, where the lamp is not master of its light. */
function poolOf(c: SchemeContext, id: string): Pool | undefined {
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  if (!c.glow.has(id) && !c.seen.has(lamp.headPart)) return undefined;
  let best: Pool | undefined;
  let near = REACH_M;
  for (const spot of c.angle.spots) {
    const read = c.spots.get(spot.id);
    if (!read?.seen || (spot.kind !== 'table' && spot.kind !== 'floor')) continue;
    const d = distance(spot.at, lamp.at);
    const under =
      Math.hypot(spot.at[0] - lamp.at[0], spot.at[1] - lamp.at[1]) < 0.6 * (lamp.at[2] - spot.at[2]);
    if (!under || d > near) continue;
    const own = read.lamps.find((l) => l.lamp === id)?.lx ?? 0;
    const share = own / Math.max(1e-9, read.lx);
    if (share >= OWN_SHARE) continue;
    near = d;
    const other = [...read.lamps].filter((l) => l.lamp !== id).sort((a, b) => b.lx - a.lx)[0];
    best = {
      spot: spot.id,
      name: c.angle.rig.scene.spots[spot.id]?.name ?? spot.id,
      at: spot.at,
      share,
      other: other && other.lx > own ? other.lamp : undefined,
    };
  }
  return best;
}

function poolIdeas(c: SchemeContext, id: string, pool: Pool): Idea[] {
  const ideas = brighter(c, id);
  if (pool.other && c.angle.rig.lamps[pool.other]) {
    ideas.push(
      ...doorOff(c, pool.other, pool.at, pool.name),
      ...cutter(c, pool.other, pool.at, 0.25, pool.name),
      ...lessOf(c, pool.other, Math.min(3, Math.log2(OWN_SHARE / Math.max(0.02, pool.share)) + 0.3)),
      putOut(here(c), pool.other, `Put ${numberOf(c, pool.other)} out`),
    );
  }
  return ideas;
}

/** More light from the practical itself: its dimmer up, or a stronger bulb that is in the kit and not in use. */
function brighter(c: SchemeContext, id: string): Idea[] {
  const rig = rigLamp(c, id);
  const ideas: Idea[] = [];
  if (rig.level < 0.98) ideas.push(burn(here(c), id, rig.number, 1));
  const now = kindOf(c.shoot.kit.lamps[rig.head]);
  const used = new Set(Object.values(c.angle.rig.scene.rig.lamps).map((l) => l.head));
  for (const [head, lamp] of Object.entries(c.shoot.kit.lamps)) {
    const kind = kindOf(lamp);
    if (used.has(head) || !kind || !now || kind.emitter.kind !== now.emitter.kind) continue;
    if (!(kind.bareLm !== undefined && kind.bareLm > (now.bareLm ?? 0))) continue;
    ideas.push(otherHead(c.angle.scene, id, head, `Screw the ${kind.words} into ${rig.number}`));
  }
  return ideas;
}
