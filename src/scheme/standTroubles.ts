/** Stands that cannot stand where they are told to, clamps with nothing to hold, heads too near things that burn. */
import type { SchemeContext } from './context.ts';
import { slide, type Where } from './cureEdits.ts';
import { footHits, inside, toWallM } from './room.ts';
import { cannotStand, FOOT_M } from './standing.ts';
import { type Cure, m, type Trouble } from './trouble.ts';

export function standTroubles(c: SchemeContext, wattsOf: (lamp: string) => number): Trouble[] {
  const w: Where = { scene: c.angle.scene, angle: c.angle.angle };
  const out: Trouble[] = [];
  for (const lamp of c.angle.lamps) {
    const rig = c.angle.rig.lamps[lamp.id]!;
    const number = rig.number;
    const indoors = inside(c.place.outline, lamp.at[0], lamp.at[1]);
    const ceiling = indoors ? c.place.ceilingM : undefined;
    const cures: Cure[] = [];
    const kit = rig.support.kit === undefined ? undefined : c.shoot.kit.supports[rig.support.kit];
    const refusals = cannotStand(c.place, rig.support, lamp.at, kit);
    const foot = rig.support.footM ?? FOOT_M;
    const free = refusals.some((r) => r.kind === 'foot') ? freeFloor(c, lamp.at, foot) : undefined;
    if (free)
      cures.push(
        slide(w, lamp.id, free.at, `Stand ${number} ${m(free.d)} away, on clear floor, ${w.angle} only.`),
      );
    if (ceiling !== undefined && refusals.some((r) => r.kind === 'ceiling'))
      cures.push(
        slide(
          w,
          lamp.id,
          [lamp.at[0], lamp.at[1], ceiling - 0.3],
          `Lower ${number} to ${m(ceiling - 0.3)}, ${w.angle} only.`,
        ),
      );
    if (refusals.length)
      out.push({
        kind: 'stand-cannot-stand',
        lamp: lamp.id,
        severity: 3,
        says: `${number} cannot stand there: ${refusals.map((r) => r.why).join('; ')}.`,
        at: lamp.at,
        cures,
      });

    // Heat: distances an industry note asks for, by the lamp's watts.
    const watts = wattsOf(lamp.id);
    const ask = watts > 2000 ? 1.2 : watts > 500 ? 0.7 : watts >= 100 ? 0.5 : 0;
    if (ask > 0 && rig.on && indoors) {
      const near: string[] = [];
      const up = ceiling === undefined ? Number.POSITIVE_INFINITY : ceiling - lamp.at[2];
      const wall = toWallM(c.place.outline, lamp.at[0], lamp.at[1]);
      if (up < ask) near.push(`${m(up)} under the ceiling`);
      if (wall < ask) near.push(`${m(wall)} from a wall`);
      if (near.length)
        out.push({
          kind: 'heat-near',
          lamp: lamp.id,
          severity: 1,
          says: `${number} (${watts} W) hangs ${near.join(', ')}: a note used here asks ${m(ask, 1)} for heads of this power; its own label rules. Not checked: what the wall is made of.`,
          at: lamp.at,
          cures: [],
        });
    }
  }
  return out;
}

function freeFloor(c: SchemeContext, at: readonly [number, number, number], foot: number) {
  for (let d = 0.1; d <= 2; d += 0.1)
    for (let i = 0; i < 16; i++) {
      const a = (i * Math.PI) / 8;
      const to: [number, number, number] = [at[0] + d * Math.cos(a), at[1] + d * Math.sin(a), at[2]];
      if (inside(c.place.outline, to[0], to[1]) && !footHits(c.place, to[0], to[1], foot))
        return { at: to, d };
    }
  return undefined;
}
