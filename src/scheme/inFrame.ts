/** Lamps, stands and flags that the frame sees, and lamps that strike the lens. */
import { glassShare, VEIL_INDEX } from '../light/veil.ts';
import { partOnFrame } from '../readings/seen.ts';
import { inFrame, onFrame } from '../setup/view.ts';
import { halfDiagonal } from '../transport/veil.ts';
import { boxOf, here, levelOf, nameOf, numberOf, type SchemeContext } from './context.ts';
import { flagOut, putOut, shiftFlag } from './cureEdits.ts';
import { flareIdeas } from './flareIdeas.ts';
import { hidingBoard } from './hidingBoard.ts';
import { clampInstead, clearAway, outOfFrame } from './outOfFrame.ts';
import type { Found, Idea } from './trouble.ts';

/** Light on the lens above this share of the exposure's own level veils the picture (judgement: 1/20). */
export const VEIL_SHARE = 0.05;
/** Less of the frame than this is not called seen: 25 pixels of 1280 × 720. */
export const SEEN_SHARE = 25 / (1280 * 720);
/** A flag this far under grey passes for the dark it stands before, stops (judgement). */
const DARK_STOPS = -4;

export function frameTroubles(c: SchemeContext): Found[] {
  const out: Found[] = [];
  const add = (t: Found | undefined) => t && out.push(t);
  for (const lamp of c.angle.lamps) {
    add(headInFrame(c, lamp.id));
    add(standInFrame(c, lamp.id));
    add(flare(c, lamp.id));
  }
  for (const id of Object.keys(c.angle.rig.flags)) add(flagInFrame(c, id));
  return out;
}

function headInFrame(c: SchemeContext, id: string): Found | undefined {
  const rig = c.angle.rig.lamps[id]!;
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const head = c.seen.get(lamp.headPart);
  const glow = c.glow.get(id);
  if (!((head && head.share > SEEN_SHARE) || (glow && glow.share > SEEN_SHARE))) return undefined;
  // A corner of the housing in frame is the housing in frame, though the light itself is not.
  const own = head && partOnFrame(c.angle.transport.stage, c.angle.view, lamp.headPart);
  const straight = inFrame(onFrame(c.angle.view, lamp.at)) || (own && head && meet(own, head));
  return {
    kind: 'lamp-in-frame',
    lamp: id,
    severity: rig.practical ? 1 : 3,
    size: (head?.share ?? 0) + (glow?.share ?? 0),
    says: straight
      ? `The head of ${nameOf(c, id)} is in frame.`
      : `The head of ${nameOf(c, id)} is seen in a mirror or pane.`,
    short: `the head of ${rig.number} is in frame`,
    at: lamp.at,
    ...(head ? { frame: boxOf(head) } : {}),
    ideas: () =>
      rig.practical
        ? outOfFrame(c, id)
        : [
            ...hidingBoard(c, id),
            ...clampInstead(c, id),
            ...outOfFrame(c, id, true),
            ...clearAway(c, id),
            out(c, id),
          ],
  };
}

type Box = { left: number; top: number; right: number; bottom: number };
/** Within a pixel of a small picture, bounds have a point in common. */
const meet = (a: Box, b: Box): boolean =>
  a.left < b.right + 0.004 &&
  b.left < a.right + 0.004 &&
  a.top < b.bottom + 0.004 &&
  b.top < a.bottom + 0.004;

const out = (c: SchemeContext, lamp: string): Idea => putOut(here(c), lamp, `Put ${numberOf(c, lamp)} out`);

function standInFrame(c: SchemeContext, id: string): Found | undefined {
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  const rig = c.angle.rig.lamps[id]!;
  const stand = lamp.supportPart >= 0 ? c.seen.get(lamp.supportPart) : undefined;
  if (!stand || stand.share <= SEEN_SHARE || rig.support.kind !== 'stand') return undefined;
  return {
    kind: 'stand-in-frame',
    lamp: id,
    severity: 3,
    size: stand.share,
    says: `The stand of ${nameOf(c, id)} is in frame.`,
    short: `the stand of ${rig.number} is in frame`,
    at: [lamp.at[0], lamp.at[1], Math.min(lamp.at[2], 1)],
    frame: boxOf(stand),
    ideas: () => [...clampInstead(c, id), ...outOfFrame(c, id, true), ...clearAway(c, id)],
  };
}

/**
 * Light that goes through the lens's front glass, over the exposure's own level: by the cosine of its slant and past the
 * hood, as in the picture.
 */
export const throughGlass = (c: SchemeContext, lensLx: number, offAxis: number): number =>
  (lensLx * Math.max(0, Math.cos(offAxis)) * glassShare(offAxis, halfDiagonal(c.angle.view))) / c.eRefLx;

/** What that does to the picture; an 18 % card is at grey. */
export const veiled = (share: number): string =>
  `Black comes up to ${(-Math.log2((VEIL_INDEX * share) / 0.18)).toFixed(1)} stops under grey.`;

function flare(c: SchemeContext, id: string): Found | undefined {
  const lamp = c.angle.lamps.find((l) => l.id === id)!;
  if (!c.angle.rig.lamps[id]!.on) return undefined;
  const off = onFrame(c.angle.view, lamp.at);
  const lensLx = c.lensLx.get(id) ?? 0;
  const share = throughGlass(c, lensLx, off.offAxis);
  if (!(share > VEIL_SHARE)) return undefined;
  const seen = inFrame(off);
  return {
    kind: 'flare',
    lamp: id,
    severity: seen ? 3 : 2,
    size: share,
    says: `${nameOf(c, id)} shines into the lens: ${lensLx.toFixed(0)} lx on the glass, ${((off.offAxis * 180) / Math.PI).toFixed(1)}° off the lens axis${seen ? ', in frame' : ''}. ${veiled(share)}`,
    short: `${numberOf(c, id)} shines into the lens`,
    at: lamp.at,
    ideas: () => [...flareIdeas(c, id, seen), ...outOfFrame(c, id), ...clearAway(c, id), out(c, id)],
  };
}

/** A flag, board or frame that the picture sees; black before black it is only said. */
function flagInFrame(c: SchemeContext, id: string): Found | undefined {
  const part = c.angle.transport.stage.parts.findIndex((p) => p.id === `flag:${id}`);
  const seen = part < 0 ? undefined : c.seen.get(part);
  if (!seen || seen.share <= SEEN_SHARE) return undefined;
  const flag = c.angle.rig.flags[id]!;
  const level = levelOf(c, part);
  const dark = level !== undefined && level < DARK_STOPS;
  const what = flag.kind === 'board' || flag.kind === 'frame' || flag.kind === 'bounce' ? flag.kind : 'flag';
  return {
    kind: 'flag-in-frame',
    subject: id,
    severity: dark ? 1 : 3,
    size: seen.share,
    says: `The ${what} ${id} is in frame${level === undefined ? '' : dark ? `, ${Math.abs(level).toFixed(1)} stops under grey: it passes for the dark behind it, if that is dark` : `, ${level < 0 ? `${Math.abs(level).toFixed(1)} under` : `${level.toFixed(1)} over`} grey`}.`,
    short: `the ${what} ${id} ${dark ? `shows, ${Math.abs(level).toFixed(0)} stops under grey` : 'is in frame'}`,
    at: [flag.at[0], flag.at[1], flag.at[2]],
    frame: boxOf(seen),
    ideas: () => {
      const scene = c.angle.scene;
      const others = (flag.angles ?? Object.keys(c.angle.rig.scene.angles)).filter(
        (a) => a !== c.angle.angle,
      );
      const ideas = [flagOut(here(c), id, others, `Take ${id} away`)];
      // Away from the middle of the frame, out over the nearest edge.
      const f = onFrame(c.angle.view, [flag.at[0], flag.at[1], flag.at[2]]);
      const level = Math.abs(f.x) * c.angle.view.tanH > Math.abs(f.y) * c.angle.view.tanV;
      const axis = level ? c.angle.view.right : c.angle.view.up;
      const sign = (level ? f.x : f.y) < 0 ? -1 : 1;
      const half = flag.sizeM[level ? 0 : 1] / 2;
      const edge = f.depthM * (level ? c.angle.view.tanH : c.angle.view.tanV);
      const now = f.depthM * (level ? f.x * c.angle.view.tanH : f.y * c.angle.view.tanV);
      const by = edge + half + 0.03 - Math.abs(now);
      if (by > 0 && by < 1)
        ideas.push(
          shiftFlag(
            scene,
            id,
            [
              flag.at[0] + sign * by * axis[0],
              flag.at[1] + sign * by * axis[1],
              flag.at[2] + sign * by * axis[2],
            ],
            `Move ${id} ${by.toFixed(2)} m out of ${c.angle.angle}’s frame`,
          ),
        );
      return ideas;
    },
  };
}
