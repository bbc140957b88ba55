/** Lamps and stands that the frame sees, and lamps that strike the lens; with what would cure it. */
import { add, distance, dot, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { type LampGeometry, lightsOf } from '../setup/angle.ts';
import { inFrame, onFrame, outsideDeg } from '../setup/view.ts';
import type { SchemeContext } from './context.ts';
import { hangFlag, putOut, slide, type Where } from './cureEdits.ts';
import { hoodShadesBeyond, lensFlag } from './flagOnLens.ts';
import { clampNear, footHits, fromLineM, inside } from './room.ts';
import { type Cure, m, type Trouble } from './trouble.ts';

/** Light on the lens above this share of the exposure's own level veils the picture (judgement: 1/20). */
const VEIL_SHARE = 0.05;
/** Less of the frame than this is not called seen: 25 pixels of 1280 × 720. */
const SEEN_SHARE = 25 / (1280 * 720);

export function frameTroubles(c: SchemeContext): Trouble[] {
  const w: Where = { scene: c.angle.scene, angle: c.angle.angle };
  const out: Trouble[] = [];
  for (const lamp of c.angle.lamps) {
    const rig = c.angle.rig.lamps[lamp.id]!;
    const head = c.seen.get(lamp.headPart);
    const glow = c.glow.get(lamp.id);
    const headSeen = (head && head.share > SEEN_SHARE) || (glow && glow.share > SEEN_SHARE);
    const lensLx = c.lensLx.get(lamp.id) ?? 0;
    const name = `${rig.number}${rig.words ? `, ${rig.words}` : ''}`;
    if (headSeen) {
      const f = onFrame(c.angle.view, lamp.at);
      out.push({
        kind: 'lamp-in-frame',
        lamp: lamp.id,
        severity: rig.practical ? 1 : 3,
        says: inFrame(f)
          ? `The head of ${name} is in frame.`
          : `The head of ${name} is seen in a mirror or pane.`,
        at: lamp.at,
        ...(head ? { frame: boxOf(head) } : {}),
        cures: rig.practical
          ? []
          : unique([...hidingBoard(c, w, lamp, name), ...outOfFrame(c, w, lamp, true)]).slice(0, 4),
      });
    }
    const stand = lamp.supportPart >= 0 ? c.seen.get(lamp.supportPart) : undefined;
    if (stand && stand.share > SEEN_SHARE && rig.support.kind === 'stand') {
      out.push({
        kind: 'stand-in-frame',
        lamp: lamp.id,
        severity: 3,
        says: `The stand of ${name} is in frame.`,
        at: [lamp.at[0], lamp.at[1], Math.min(lamp.at[2], 1)],
        frame: boxOf(stand),
        cures: [...clampInstead(c, w, lamp), ...outOfFrame(c, w, lamp, false)].slice(0, 4),
      });
    }
    const off = onFrame(c.angle.view, lamp.at);
    // What goes through the glass falls with the cosine of its slant.
    if (rig.on && lensLx * Math.cos(off.offAxis) > VEIL_SHARE * c.eRefLx) {
      if (off.offAxis < hoodShadesBeyond(c.angle.view))
        out.push(flare(c, w, lamp, name, lensLx, off.offAxis));
    }
  }
  return out;
}

const boxOf = (s: { left: number; top: number; right: number; bottom: number }) => ({
  left: s.left,
  top: s.top,
  right: s.right,
  bottom: s.bottom,
});

function flare(
  c: SchemeContext,
  w: Where,
  lamp: LampGeometry,
  name: string,
  lensLx: number,
  offAxis: number,
): Trouble {
  const seen = inFrame(onFrame(c.angle.view, lamp.at));
  const cures: Cure[] = [];
  if (!seen) {
    const flag = lensFlag(c.angle.view, lamp.at, lamp.sizeM, (at, sizeM) => spoils(c, at, sizeM));
    if (flag) {
      const holder = clampNear(c.place, flag.at, 1.2);
      const holds = holder ? `arm from ${holder.words}` : 'arm on a stand behind the camera';
      cures.push(
        hangFlag(
          w,
          freeFlag(c),
          {
            at: flag.at,
            facing: flag.facing,
            sizeM: [flag.sizeM, flag.sizeM],
            words: `keeps ${name} off the lens in ${w.angle}`,
            kind: 'flag',
            holds,
          },
          `Hang a ${m(flag.sizeM)} flag ${m(flag.fromLensM, 1)} from the lens, ${w.angle} only (needs ${m(flag.neededM)}; ${holds}; ${m(flag.clearOfFrameM)} clear of the frame).`,
        ),
      );
    }
  } else cures.push(...hidingBoard(c, w, lamp, name));
  cures.push(...outOfFrame(c, w, lamp, true));
  return {
    kind: 'flare',
    lamp: lamp.id,
    severity: seen ? 3 : 2,
    says: `${name} shines into the lens: ${lensLx.toFixed(0)} lx on the glass, ${((offAxis * 180) / Math.PI).toFixed(1)}° off the lens axis${seen ? ', in frame' : ''}.`,
    at: lamp.at,
    cures: unique(cures).slice(0, 4),
  };
}

/** Whether a flag at `at` would cut a lamp’s line to a face or stand at somebody’s head. */
export function spoils(c: SchemeContext, at: Vec3, sizeM: number): boolean {
  for (const mark of c.angle.marks) {
    if (distance(mark.eyes, at) < 0.3) return true;
    for (const l of c.marks.find((r) => r.mark === mark.id)?.lamps ?? []) {
      if (l.role === 'none') continue;
      const from = lightsOf(c.angle).find((g) => g.id === l.lamp)!.at;
      const gap = fromLineM(from, mark.eyes, at);
      if (gap < sizeM * 0.5 + 0.02) return true;
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
function hidingBoard(c: SchemeContext, w: Where, lamp: LampGeometry, name: string): Cure[] {
  const eye = c.angle.view.eye;
  const D = distance(eye, lamp.at);
  let best: { cure: Cure; drop: number } | undefined;
  for (const [, r] of Object.entries(c.place.rigging)) {
    // Where the line crosses under the beam, in plan.
    const hit = crossing(eye, lamp.at, r.from, r.to);
    if (!hit) continue;
    const at: Vec3 = [hit.x, hit.y, eye[2] + (lamp.at[2] - eye[2]) * hit.t];
    const drop = r.from[2] - at[2];
    if (drop < 0.1) continue;
    const x = hit.t * D;
    const cover = 0.08 + ((Math.max(0.3, 2.2 * lamp.sizeM) - 0.08) * x) / D + 0.08;
    const sight = normalize(sub(lamp.at, eye));
    const others = c.angle.lamps.filter((o) => o.id !== lamp.id && c.angle.rig.lamps[o.id]!.on);
    const brightest = others.sort((a, b) => distance(a.at, at) - distance(b.at, at))[0];
    // A vertical board; its face at right angles to the other lamp's direction in plan.
    const toOther = brightest ? sub(brightest.at, at) : sight;
    let normal = normalize([-toOther[1], toOther[0], 0]);
    if (dot(normal, sight) < 0) normal = scale(normal, -1);
    const facingCos = dot(normal, sight);
    if (facingCos < 0.45) normal = normalize([sight[0], sight[1], 0]);
    const width = cover / Math.max(0.45, facingCos);
    const sizeM = [0.3, 0.4, 0.6, 0.9, 1.2].find((s) => s >= width);
    if (sizeM === undefined || spoils(c, at, sizeM * 0.7)) continue;
    if (best && best.drop <= drop) continue;
    best = {
      drop,
      cure: hangFlag(
        w,
        freeFlag(c),
        {
          at,
          facing: normal,
          sizeM: [sizeM, sizeM],
          words: `hides the head of ${name} in ${w.angle}`,
          kind: 'board',
          holds: `hung from ${r.words ?? `the ${r.kind}`}`,
        },
        `Hang a black board ${m(sizeM)} × ${m(sizeM)} from ${r.words ?? `the ${r.kind}`} at (${at.map((v) => v.toFixed(2)).join(', ')}), edge-on to ${brightest ? c.angle.rig.lamps[brightest.id]!.number : 'the rest'}, ${w.angle} only.`,
      ),
    };
  }
  return best ? [best.cure] : [];
}

function crossing(a: Vec3, b: Vec3, p: Vec3, q: Vec3): { t: number; x: number; y: number } | undefined {
  const d1 = [b[0] - a[0], b[1] - a[1]] as const;
  const d2 = [q[0] - p[0], q[1] - p[1]] as const;
  const det = d1[0] * d2[1] - d1[1] * d2[0];
  if (Math.abs(det) < 1e-9) return undefined;
  const t = ((p[0] - a[0]) * d2[1] - (p[1] - a[1]) * d2[0]) / det;
  const u = ((p[0] - a[0]) * d1[1] - (p[1] - a[1]) * d1[0]) / det;
  if (t < 0.1 || t > 0.95 || u < 0 || u > 1) return undefined;
  return { t, x: a[0] + d1[0] * t, y: a[1] + d1[1] * t };
}

/** Smallest slides and lifts that take the head out of the picture; and putting it out, with its cost. */
function outOfFrame(c: SchemeContext, w: Where, lamp: LampGeometry, alsoOut: boolean): Cure[] {
  const rig = c.angle.rig.lamps[lamp.id]!;
  const cures: Cure[] = [];
  const headM = Math.max(0.15, lamp.sizeM);
  const clear = (at: Vec3) =>
    [-1, 1].every((s) =>
      [c.angle.view.right, c.angle.view.up].every(
        (axis) => outsideDeg(c.angle.view, add(at, scale(axis, s * headM))) > 1,
      ),
    );
  const ceiling = c.place.ceilingM ?? Number.POSITIVE_INFINITY;
  if (rig.support.kind === 'stand' || rig.support.kind === 'clamp' || rig.support.kind === 'hung') {
    const sides: Vec3 = normalize([c.angle.view.right[0], c.angle.view.right[1], 0]);
    const away: Vec3 = normalize([c.angle.view.forward[0], c.angle.view.forward[1], 0]);
    let best: { at: Vec3; d: number; word: string } | undefined;
    for (const [dir, s] of [
      [sides, 1],
      [sides, -1],
      [away, -1],
      [away, 1],
    ] as const) {
      for (let d = 0.1; d <= 2; d += 0.1) {
        const at = add(lamp.at, scale(dir, s * d));
        if (inside(c.place.outline, lamp.at[0], lamp.at[1]) !== inside(c.place.outline, at[0], at[1])) break;
        if (rig.support.kind === 'stand' && footHits(c.place, at[0], at[1], rig.support.footM ?? 0.45))
          continue;
        if (!clear(at)) continue;
        if (!best || d < best.d) best = { at, d, word: compass(scale(dir, s)) };
        break;
      }
    }
    if (best)
      cures.push(
        slide(
          w,
          lamp.id,
          best.at,
          `Slide ${rig.number} ${best.word} ${m(best.d)}, ${w.angle} only${price(c, lamp, best.at)}.`,
        ),
      );
    for (let d = 0.1; lamp.at[2] + d + headM < ceiling && d <= 1.2; d += 0.1) {
      const at: Vec3 = [lamp.at[0], lamp.at[1], lamp.at[2] + d];
      if (!clear(at)) continue;
      cures.push(
        slide(w, lamp.id, at, `Raise ${rig.number} by ${m(d)}, ${w.angle} only${price(c, lamp, at)}.`),
      );
      break;
    }
  }
  if (alsoOut || cures.length === 0)
    cures.push(putOut(w, lamp.id, `Put ${rig.number} out in ${w.angle}${loses(c, lamp.id)}.`));
  return cures;
}

/** Let it hang from a beam, rail or cupboard near by instead of standing. */
function clampInstead(c: SchemeContext, w: Where, lamp: LampGeometry): Cure[] {
  const holder = clampNear(c.place, lamp.at, 1);
  if (!holder) return [];
  const at: Vec3 = [holder.at[0], holder.at[1], Math.min(lamp.at[2], holder.at[2] - 0.25)];
  const number = c.angle.rig.lamps[lamp.id]!.number;
  return [
    {
      edit: 'cheatLamp',
      args: {
        scene: w.scene,
        angle: w.angle,
        lamp: lamp.id,
        changes: {
          at: at.map((v) => +v.toFixed(3)),
          support: {
            kind: 'clamp',
            on: holder.id,
            bond: true,
            dropM: +Math.max(0, holder.at[2] - at[2]).toFixed(2),
          },
        },
      },
      says: `Clamp ${number} to ${holder.words} instead, ${w.angle} only (${m(holder.distanceM)} away, safety bond)${price(c, lamp, at)}.`,
    },
  ];
}

const compass = (d: Vec3): string => {
  const names = ['east', 'north-east', 'north', 'north-west', 'west', 'south-west', 'south', 'south-east'];
  return names[((Math.round((Math.atan2(d[1], d[0]) * 4) / Math.PI) % 8) + 8) % 8]!;
};

/** What moving a lamp does to the face it keys, by inverse square: "; key on A +0.2". */
function price(c: SchemeContext, lamp: LampGeometry, to: Vec3): string {
  const parts: string[] = [];
  for (const mark of c.marks) {
    const l = mark.lamps.find((x) => x.lamp === lamp.id);
    if (!l || (l.role !== 'key' && l.role !== 'back')) continue;
    const eyes = c.angle.marks.find((g) => g.id === mark.mark)!.eyes;
    const change = 2 * Math.log2(distance(lamp.at, eyes) / distance(to, eyes));
    if (Math.abs(change) >= 0.05)
      parts.push(`${l.role} on ${mark.mark} ${change > 0 ? '+' : '−'}${Math.abs(change).toFixed(1)}`);
  }
  return parts.length ? ` (${parts.join('; ')})` : '';
}

/** What putting a lamp out costs: ": A loses its key (297 lx)". */
export function loses(c: SchemeContext, lamp: string): string {
  const parts = c.marks.flatMap((mark) =>
    mark.lamps
      .filter(
        (l) => l.lamp === lamp && l.role !== 'none' && l.role !== 'background' && l.role !== 'practical',
      )
      .map((l) => `${mark.mark} loses its ${l.role} (${l.directLx.toFixed(0)} lx)`),
  );
  return parts.length ? `: ${parts.join(', ')}` : '';
}

const unique = (cures: Cure[]): Cure[] => {
  const said = new Set<string>();
  return cures.filter((x) => !said.has(x.says) && said.add(x.says));
};
