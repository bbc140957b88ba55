/** What is over the clip: parts of the picture, and lamps seen themselves. */
import { distance } from '../maths/vec3.ts';
import type { SchemeContext } from './context.ts';
import { level, putOut, setStop, type Where } from './cureEdits.ts';
import { loses } from './inFrame.ts';
import { type Cure, stops, type Trouble } from './trouble.ts';

/** A clipped patch smaller than this share of the frame passes for a glint (judgement: 1/2000). */
const GLINT = 1 / 2000;
/** Closer to a practical than this is round it, metres. */
const ROUND_M = 0.5;

export function clipTroubles(c: SchemeContext): Trouble[] {
  const w: Where = { scene: c.angle.scene, angle: c.angle.angle };
  const out: Trouble[] = [];

  // Lamps seen themselves.
  for (const [id, glow] of c.glow) {
    const rig = c.angle.rig.lamps[id];
    // Sky in a window is a trouble of its own (dayTroubles).
    if (!rig) continue;
    // A head that should not be seen is a trouble of the frame already.
    if (!rig.on || !rig.practical) continue;
    const overGrey = Math.log2(glow.luminance / ((0.18 * c.eRefLx) / Math.PI));
    if (!(overGrey > c.clipStops)) continue;
    const lamp = c.angle.lamps.find((g) => g.id === id)!;
    const cures: Cure[] = [];
    const down = rig.level * 2 ** (c.clipStops - overGrey);
    if (down > 0.02)
      cures.push(level(w, id, down, `Burn ${rig.number} at ${(down * 100).toFixed(0)} %, ${w.angle} only.`));
    cures.push(putOut(w, id, `Put ${rig.number} out in ${w.angle}${loses(c, id)}.`));
    out.push({
      kind: 'clipped',
      lamp: id,
      severity: 1,
      says: `${rig.number} itself is ${stops(overGrey)} over grey (${Math.round(glow.luminance).toLocaleString('en')} cd/m²): practical, blown.`,
      at: lamp.at,
      cures,
    });
  }

  // Things and faces that it or others light.
  for (const [part, clip] of c.clipped) {
    if (clip.share < GLINT) continue;
    const p = c.angle.transport.stage.parts[part]!;
    const own = c.angle.lamps.find((l) => l.headPart === part);
    if (own && c.glow.has(own.id)) continue;
    // What is blown close round a lamp of the story goes with that lamp.
    const round = c.angle.lamps.find(
      (l) => c.angle.rig.lamps[l.id]!.practical && distance(l.at, clip.at) < ROUND_M + l.sizeM / 2,
    );
    const mark = c.angle.marks.find((g) => g.part === part);
    const needed = clip.overGreyStops - c.clipStops;
    const stop = c.stop * 2 ** (Math.max(0.3, needed) / 2);
    const cures: Cure[] = [];
    const brightest = mark
      ? c.marks.find((r) => r.mark === mark.id)?.lamps.reduce((a, b) => (b.directLx > a.directLx ? b : a))
      : undefined;
    const rig = brightest ? c.angle.rig.lamps[brightest.lamp] : undefined;
    if (brightest && rig) {
      const to = rig.level * 2 ** -Math.max(0.3, needed);
      cures.push(
        level(w, brightest.lamp, to, `Burn ${rig.number} at ${(to * 100).toFixed(0)} %, ${w.angle} only.`),
      );
    }
    cures.push(
      setStop(
        w,
        stop,
        `Stop down to T${stop.toFixed(1)}, ${w.angle} only: everything −${Math.max(0.3, needed).toFixed(1)}.`,
      ),
    );
    out.push({
      kind: 'clipped',
      subject: mark?.id ?? p.id,
      ...(own ? { lamp: own.id } : round ? { lamp: round.id } : {}),
      severity: mark ? 3 : round ? 1 : 2,
      says: `${p.words} is clipped over ${(clip.share * 100).toFixed(1)} % of the frame, ${stops(needed)} over the clip${round ? `, round ${c.angle.rig.lamps[round.id]!.number}` : ''}.`,
      cures,
    });
  }
  return out;
}
