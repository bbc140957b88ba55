/** A black board that hides a head from the lens, and flags hung into a line of light. */
import { add, distance, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { lightsOf } from '../setup/angle.ts';
import { onFrame } from '../setup/view.ts';
import { here, nameOf, numberOf, type SchemeContext } from './context.ts';
import { hang } from './cureEdits.ts';
import { clampNear, fromLineM } from './room.ts';
import { type Idea, m } from './trouble.ts';

/** Boards and flags one owns or cuts, edge in metres. */
const SIZES_M = [0.3, 0.4, 0.6, 0.9, 1.2];

/** Whether a flag at `at` would cut a lamp’s line to a face or stand at somebody’s head. */
export function spoils(c: SchemeContext, at: Vec3, sizeM: number, except?: string): boolean {
  for (const mark of c.angle.marks) {
    if (distance(mark.eyes, at) < 0.3) return true;
    for (const l of c.marks.find((r) => r.mark === mark.id)?.lamps ?? []) {
      if (l.role === 'none' || l.lamp === except) continue;
      const from = lightsOf(c.angle).find((g) => g.id === l.lamp)!.at;
      if (fromLineM(from, mark.eyes, at) < sizeM * 0.5 + 0.02) return true;
    }
  }
  return false;
}

/** The first flag name that is free. */
export function freeFlag(c: SchemeContext): string {
  const taken = c.shoot.scenes[c.angle.scene]!.rig.flags;
  for (let i = 1; ; i++) if (!taken[`F${i}`]) return `F${i}`;
}

/**
 * A black board hung from something overhead on the line from lens to lamp: covers the head, is turned
 * edge-on to the strongest other lamp so that it is not seen lit, and leaves every key its line.
 */
export function hidingBoard(c: SchemeContext, id: string): Idea[] {
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const eye = c.angle.view.eye;
  const D = distance(eye, lamp.at);
  let best: { idea: Idea; drop: number } | undefined;
  for (const r of Object.values(c.place.rigging)) {
    // Where the line crosses under the beam, in plan.
    const hit = crossing(eye, lamp.at, r.from, r.to);
    if (!hit) continue;
    const at: Vec3 = [hit.x, hit.y, eye[2] + (lamp.at[2] - eye[2]) * hit.t];
    const drop = r.from[2] - at[2];
    if (drop < 0.1) continue;
    const x = hit.t * D;
    const cover = 0.08 + ((Math.max(0.3, 2.2 * lamp.sizeM) - 0.08) * x) / D + 0.08;
    const sight = normalize(sub(lamp.at, eye));
    const others = c.angle.lamps.filter((o) => o.id !== id && c.angle.rig.lamps[o.id]!.on);
    const nearest = others.sort((a, b) => distance(a.at, at) - distance(b.at, at))[0];
    // A vertical board; its face at right angles to the other lamp's direction in plan.
    const toOther = nearest ? sub(nearest.at, at) : sight;
    let normal = normalize([-toOther[1], toOther[0], 0]);
    if (dot(normal, sight) < 0) normal = scale(normal, -1);
    const facingCos = dot(normal, sight);
    if (facingCos < 0.45) normal = normalize([sight[0], sight[1], 0]);
    const width = cover / Math.max(0.45, facingCos);
    const sizeM = SIZES_M.find((s) => s >= width);
    if (sizeM === undefined || spoils(c, at, sizeM * 0.7)) continue;
    if (best && best.drop <= drop) continue;
    const words = r.words ?? `the ${r.kind}`;
    best = {
      drop,
      idea: hang(
        here(c),
        freeFlag(c),
        {
          at,
          facing: normal,
          sizeM: [sizeM, sizeM],
          words: `hides the head of ${nameOf(c, id)} in ${c.angle.angle}`,
          kind: 'board',
          holds: `hung from ${words}`,
        },
        `Hang a ${m(sizeM)} black board from ${words}, edge-on to ${nearest ? numberOf(c, nearest.id) : 'the rest'}`,
        `the board, hung at (${at.map((v) => v.toFixed(2)).join(', ')})`,
      ),
    };
  }
  return best ? [best.idea] : [];
}

function crossing(
  a: readonly number[],
  b: readonly number[],
  p: readonly number[],
  q: readonly number[],
): { t: number; x: number; y: number } | undefined {
  const d1 = [b[0]! - a[0]!, b[1]! - a[1]!] as const;
  const d2 = [q[0]! - p[0]!, q[1]! - p[1]!] as const;
  const det = d1[0] * d2[1] - d1[1] * d2[0];
  if (Math.abs(det) < 1e-9) return undefined;
  const t = ((p[0]! - a[0]!) * d2[1] - (p[1]! - a[1]!) * d2[0]) / det;
  const u = ((p[0]! - a[0]!) * d1[1] - (p[1]! - a[1]!) * d1[0]) / det;
  if (t < 0.1 || t > 0.95 || u < 0 || u > 1) return undefined;
  return { t, x: a[0]! + d1[0] * t, y: a[1]! + d1[1] * t };
}

/** Where along a beam a cutter hangs: far enough from the lamp for an edge, near enough to stay small. */
const CUTTER_M = [0.6, 0.8, 1, 1.3, 1.6, 2];

/**
 * A flag hung between a lamp and what it should not light (`target`, a ball of `radiusM`): out of the frame,
 * clear of every line to a face, the first that fits along the beam.
 */
export function cutter(c: SchemeContext, id: string, target: Vec3, radiusM: number, what: string): Idea[] {
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const D = distance(lamp.at, target);
  const dir = normalize(sub(target, lamp.at));
  for (const x of CUTTER_M) {
    if (x > D - radiusM - 0.2) break;
    // Full shade of the ball: similar triangles from the lamp's edges.
    const width = lamp.sizeM + ((2 * radiusM - lamp.sizeM) * x) / D;
    const sizeM = SIZES_M.find((s) => s >= Math.max(width, 0.2));
    if (sizeM === undefined) continue;
    const at = add(lamp.at, scale(dir, x));
    const f = onFrame(c.angle.view, at);
    const reach = sizeM / Math.max(0.1, f.depthM);
    if (
      f.depthM > 0 &&
      Math.abs(f.x) < 1 + reach / c.angle.view.tanH &&
      Math.abs(f.y) < 1 + reach / c.angle.view.tanV
    )
      continue;
    if (spoils(c, at, sizeM)) continue;
    const holder = clampNear(c.place, at, 1.2);
    const holds = holder ? `arm from ${holder.words}` : 'arm on a stand of its own';
    return [
      hang(
        here(c),
        freeFlag(c),
        {
          at,
          facing: dir,
          sizeM: [sizeM, sizeM],
          words: `keeps ${nameOf(c, id)} off ${what} in ${c.angle.angle}`,
          kind: 'flag',
          holds,
        },
        `Hang a ${m(sizeM)} flag ${m(x, 1)} ahead of ${numberOf(c, id)}, off ${what}`,
        `the flag and an ${holds}`,
      ),
    ];
  }
  return [];
}
