/**
 * Heads too near things that burn, or people. Asked: the distance one industry note gives by the head's watts
 * [CHECKS-CAMERA §11]: 0.5 m to 500 W, 0.7 m to 2 kW, 1.2 m above. The head's own label rules; this says only what
 * was measured on the plan. LED heads: their label alone.
 */

import { distance, type Vec3 } from '../maths/vec3.ts';
import { kindOf } from '../setup/lamps.ts';
import { roomAt } from '../shoot/rooms.ts';
import { canStand } from './canStand.ts';
import { rigLamp, type SchemeContext, whole } from './context.ts';
import { carry, otherHead } from './cureEdits.ts';
import { awayFromWall, toBoxM, toWallM } from './room.ts';
import { type Found, type Idea, m } from './trouble.ts';

const askedM = (watts: number): number => (watts > 2000 ? 1.2 : watts > 500 ? 0.7 : watts >= 100 ? 0.5 : 0);

export function heatTroubles(c: SchemeContext): Found[] {
  const out: Found[] = [];
  for (const lamp of c.angle.lamps) {
    const rig = rigLamp(c, lamp.id);
    const kind = kindOf(c.shoot.kit.lamps[rig.head]);
    if (!kind || !rig.on || kind.source === 'led') continue;
    const ask = askedM(kind.watts);
    if (ask === 0) continue;
    const near = nearTo(c, lamp.id, lamp.at, ask);
    if (near.length === 0) continue;
    const least = Math.min(...near.map((n) => n.distanceM));
    out.push({
      kind: 'heat-near',
      lamp: lamp.id,
      severity: least < ask / 2 ? 2 : 1,
      size: near.reduce((s, n) => s + ask - n.distanceM, 0),
      says: `${rig.number} (${kind.watts} W) hangs ${near.map((n) => `${m(n.distanceM)} ${n.words}`).join(', ')}: a note used here asks ${m(ask, 1)} for heads of this power; its own label rules. Not checked: what those are made of.`,
      short: `${rig.number} comes within ${m(ask, 1)} of ${near[0]!.what}`,
      at: lamp.at,
      ideas: () => further(c, lamp.id, lamp.at, ask),
    });
  }
  return out;
}

interface Near {
  distanceM: number;
  words: string;
  what: string;
}

/** What a head at `at` would be too near to, nearest kinds first: ceiling, walls, furniture, flags, faces. */
function nearTo(c: SchemeContext, id: string, at: Vec3, ask: number): Near[] {
  const out: Near[] = [];
  const rig = rigLamp(c, id);
  const put = (distanceM: number, words: string, what: string) => {
    if (distanceM < ask - 0.005) out.push({ distanceM: Math.max(0, distanceM), words, what });
  };
  const room = roomAt(c.place, [at[0], at[1]]);
  if (room) {
    if (room.ceilingM !== undefined) put(room.ceilingM - at[2], 'under the ceiling', 'the ceiling');
    put(toWallM(room.outline, at[0], at[1]), 'from a wall', 'a wall');
  }
  for (const [f, thing] of Object.entries(c.place.furniture)) {
    // What it stands on or is screwed to is its own business.
    if (rig.support.on === f) continue;
    const words = thing.words ?? f;
    put(toBoxM(thing, at), `from ${words}`, words);
  }
  for (const [f, flag] of Object.entries(c.angle.rig.flags)) {
    const reach = Math.hypot(flag.sizeM[0], flag.sizeM[1]) / 2;
    const ahead = distance(at, [flag.at[0], flag.at[1], flag.at[2]]) - reach;
    // Flags are made for it, but not that near.
    if (ahead < ask / 2) put(ahead, `from ${flag.kind === 'board' ? 'the board' : 'the flag'} ${f}`, f);
  }
  for (const mark of c.angle.marks)
    if (mark.part >= 0) put(distance(at, mark.eyes), `from ${mark.id}’s face`, mark.id);
  return out;
}

/** Lower, or further from the walls, by as little as does. */
function further(c: SchemeContext, id: string, at: Vec3, ask: number): Idea[] {
  const w = whole(c, id);
  const rig = rigLamp(c, id);
  const ideas: Idea[] = [];
  const clear = (to: Vec3) => nearTo(c, id, to, ask).length === 0;
  const stands = (to: Vec3) => canStand(c, id, to);
  const room = roomAt(c.place, [at[0], at[1]]) ?? c.place;
  const down = room.ceilingM === undefined ? 0 : Math.max(0, ask - (room.ceilingM - at[2]));
  const lower: Vec3 = [at[0], at[1], at[2] - down];
  if (down > 0 && clear(lower)) ideas.push(carry(w, id, lower, `Lower ${rig.number} by ${m(down)}`));
  const away = awayFromWall(room.outline, at, ask);
  for (const to of [away, [away[0], away[1], lower[2]] as Vec3])
    if (distance(to, at) > 0.02 && stands(to) && clear(to)) {
      const flat = Math.hypot(to[0] - at[0], to[1] - at[1]);
      ideas.push(
        carry(
          w,
          id,
          to,
          `Carry ${rig.number} ${m(flat)} from the walls${to[2] < at[2] ? ` and lower it by ${m(at[2] - to[2])}` : ''}`,
        ),
      );
      break;
    }
  // Less near to one of them is something; and the nearest place round about that is far enough from all.
  if (down > 0 && !clear(lower)) ideas.push(carry(w, id, lower, `Lower ${rig.number} by ${m(down)}`));
  for (let d = 0.2, found = false; d <= 1.6 && !found; d += 0.2)
    for (let i = 0; i < 12 && !found; i++) {
      const a = (i * Math.PI) / 6;
      const to: Vec3 = [at[0] + d * Math.cos(a), at[1] + d * Math.sin(a), lower[2]];
      if (!stands(to) || !clear(to)) continue;
      ideas.push(
        carry(w, id, to, `Carry ${rig.number} ${m(d)} to (${to.map((v) => v.toFixed(2)).join(', ')})`),
      );
      found = true;
    }
  ideas.push(...cooler(c, id));
  return ideas;
}

/** A head of the kit that stands idle and runs cool, in place of the hot one. */
function cooler(c: SchemeContext, id: string): Idea[] {
  const used = new Set(Object.values(c.angle.rig.scene.rig.lamps).map((l) => l.head));
  return Object.entries(c.shoot.kit.lamps)
    .filter(([head, lamp]) => !used.has(head) && kindOf(lamp)?.source === 'led' && kindOf(lamp)?.doors)
    .slice(0, 2)
    .map(([head, lamp]) =>
      otherHead(
        c.angle.scene,
        id,
        head,
        `Hang the ${kindOf(lamp)!.words} in place of ${rigLamp(c, id).number}`,
      ),
    );
}
