/** Too many hues: lamps of more kinds of white in one frame than a plan of colours can hold. */
import { gelById, gels } from '../light/gels.ts';
import { here, nameOf, numberOf, type SchemeContext } from './context.ts';
import { peg } from './cureEdits.ts';
import { speaks } from './speaks.ts';
import type { Found, Idea } from './trouble.ts';

/** Lights within this of one another pass for one hue: about a quarter correction (judgement). */
const SAME_MIRED = 35;
const SAME_DUV = 0.008;
/** As many hues as one frame is planned with: a warm, a cold, and one between (common practice, no source). */
const MOST = 3;

interface Hue {
  lamps: { id: string; mired: number; duv: number }[];
}
const mean = (h: Hue, of: 'mired' | 'duv') => h.lamps.reduce((s, l) => s + l[of], 0) / h.lamps.length;

/** Lamps that this angle shows, gathered by hue, warmest first. */
function huesOf(c: SchemeContext): Hue[] {
  const lamps = c.weights.lamps
    .filter(
      (l) => c.angle.rig.lamps[l.id]?.on !== false && l.lightFactor > 0 && l.outCctK > 0 && speaks(c, l.id),
    )
    .map((l) => ({ id: l.id, mired: 1e6 / l.outCctK, duv: l.outDuv }))
    .sort((a, b) => b.mired - a.mired);
  const out: Hue[] = [];
  for (const l of lamps) {
    const like = out.find(
      (h) => Math.abs(mean(h, 'mired') - l.mired) < SAME_MIRED && Math.abs(mean(h, 'duv') - l.duv) < SAME_DUV,
    );
    if (like) like.lamps.push(l);
    else out.push({ lamps: [l] });
  }
  return out;
}

export function hueTroubles(c: SchemeContext): Found[] {
  const hues = huesOf(c);
  if (hues.length <= MOST) return [];
  return [
    {
      kind: 'hues',
      subject: 'colours',
      severity: 1,
      size: hues.length,
      says: `${hues.length} hues in one frame, where ${MOST} are usually planned: ${hues
        .map(
          (h) =>
            `${h.lamps.map((l) => numberOf(c, l.id)).join(' and ')} ${(Math.round(1e5 / mean(h, 'mired')) * 10).toFixed(0)} K${Math.abs(mean(h, 'duv')) > SAME_DUV ? (mean(h, 'duv') > 0 ? ' green' : ' pink') : ''}`,
        )
        .join(', ')}.`,
      short: `${hues.length} hues stand in one frame`,
      ideas: () => ideas(c, hues),
    },
  ];
}

/** A correction on the lamp that stands nearest to another's hue, so that the two become one. */
function ideas(c: SchemeContext, hues: readonly Hue[]): Idea[] {
  const out: { idea: Idea; by: number }[] = [];
  for (const h of hues) {
    if (h.lamps.length !== 1) continue;
    const lamp = h.lamps[0]!;
    const rig = c.angle.rig.lamps[lamp.id];
    // Nobody gels the sky from here.
    if (!rig) continue;
    for (const other of hues) {
      if (other === h) continue;
      const by = mean(other, 'mired') - lamp.mired;
      const green = mean(other, 'duv') - lamp.duv;
      const warm = gels()
        .filter((g) => g.published?.miredShift !== undefined && g.group === (by > 0 ? 'warming' : 'cooling'))
        .sort((a, b) => Math.abs(a.published!.miredShift! - by) - Math.abs(b.published!.miredShift! - by))[0];
      const sheets = [...rig.sheets.filter((s) => !['warming', 'cooling'].includes(gelById(s)?.group ?? ''))];
      // A lamp that has a correction already may only need another: what it has counts.
      const has = rig.sheets.reduce((s, id) => s + (gelById(id)?.published?.miredShift ?? 0), 0);
      const best = gels()
        .filter(
          (g) => g.published?.miredShift !== undefined && (g.group === 'warming' || g.group === 'cooling'),
        )
        .sort(
          (a, b) =>
            Math.abs(a.published!.miredShift! - by - has) - Math.abs(b.published!.miredShift! - by - has),
        )[0];
      const gel = has === 0 ? warm : best;
      if (!gel || Math.abs(by) > 220) continue;
      const trim =
        Math.abs(green) > SAME_DUV ? (green > 0 ? 'half-plus-green' : 'half-minus-green') : undefined;
      const add = [gel.id, ...(trim && gelById(trim) ? [trim] : [])];
      const words = add.map((id) => gelById(id)!.words).join(' and ');
      out.push({
        by: Math.abs(by) + 4000 * Math.abs(green),
        idea: peg(
          here(c),
          lamp.id,
          [...add, ...sheets],
          `Peg ${words} on ${nameOf(c, lamp.id)}, to match ${other.lamps.map((l) => numberOf(c, l.id)).join(' and ')}`,
          `a sheet of ${words}`,
        ),
      });
    }
  }
  return out
    .sort((a, b) => a.by - b.by)
    .slice(0, 4)
    .map((x) => x.idea);
}
