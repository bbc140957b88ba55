/** What is over the clip: parts of the picture, and lamps seen themselves. */

import { voltShareForStops } from '../light/tungsten.ts';
import { distance, type Vec3 } from '../maths/vec3.ts';
import { kindOf } from '../setup/lamps.ts';
import { here, numberOf, rigLamp, type SchemeContext } from './context.ts';
import { burn, peg, putOut, scrim, setCamera } from './cureEdits.ts';
import { doorOff } from './flareIdeas.ts';
import { cutter } from './hidingBoard.ts';
import { type Found, type Idea, stops } from './trouble.ts';

/** A clipped patch smaller than this share of the frame passes for a glint (judgement: 1/2000). */
const GLINT = 1 / 2000;
/** Closer to a practical than this is round it, metres. */
const ROUND_M = 0.5;
/** Densities a sheet of neutral comes in. */
const DENSITIES = [0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.2];

export function clipTroubles(c: SchemeContext): Found[] {
  return [...shiningTroubles(c), ...litTroubles(c)];
}

/** Lamps of the story seen themselves; a head that should not be seen is a trouble of the frame already. */
function shiningTroubles(c: SchemeContext): Found[] {
  const out: Found[] = [];
  for (const [id, glow] of c.glow) {
    // Sky in a window is a trouble of its own (dayTroubles).
    const rig = c.angle.rig.lamps[id];
    if (!rig?.on || !rig.practical) continue;
    const overGrey = Math.log2(glow.luminance / c.greyCdM2);
    if (!(overGrey > c.clipStops)) continue;
    const need = overGrey - c.clipStops;
    out.push({
      kind: 'clipped',
      lamp: id,
      severity: 1,
      size: need,
      says: `${rig.number} itself is ${stops(overGrey)} over grey (${Math.round(glow.luminance).toLocaleString('en')} cd/m²): practical, blown.`,
      short: `${rig.number} itself is blown`,
      at: c.angle.lamps.find((g) => g.id === id)!.at,
      ideas: () => [...lessOf(c, id, need + 0.1), putOut(here(c), id, `Put ${rig.number} out`)],
    });
  }
  return out;
}

/** A lamp brought down by `need` stops: by its dimmer, by a scrim in its slot, by density pegged on it. */
export function lessOf(c: SchemeContext, id: string, need: number): Idea[] {
  const w = here(c);
  const rig = rigLamp(c, id);
  const kind = kindOf(c.shoot.kit.lamps[rig.head]);
  const ideas: Idea[] = [];
  const to = rig.level * (kind?.source === 'tungsten' ? voltShareForStops(-need) : 2 ** -need);
  if (to > 0.05) ideas.push(burn(w, id, rig.number, to));
  if (kind?.doors && need <= 1.6) {
    const scrims = need <= 0.6 ? ['half'] : need <= 1.1 ? ['full'] : ['half', 'full'];
    ideas.push(
      scrim(
        w,
        id,
        [...rig.scrims, ...scrims],
        `Put a ${scrims.join(' and a ')} scrim in ${rig.number}`,
        scrims.length > 1 ? 'two scrims' : 'a scrim',
      ),
    );
  }
  const density = DENSITIES.find((d) => d / 0.301 >= need);
  if (density !== undefined)
    ideas.push(
      peg(
        w,
        id,
        [...rig.sheets, `nd-${density}`],
        `Put density ${density} over ${rig.number}`,
        'a sheet of neutral density',
      ),
    );
  return ideas;
}

/** Things and faces that lamps light beyond the clip. */
function litTroubles(c: SchemeContext): Found[] {
  const out: Found[] = [];
  for (const [part, clip] of c.clipped) {
    if (clip.share < GLINT) continue;
    const p = c.angle.transport.stage.parts[part]!;
    const own = c.angle.lamps.find((l) => l.headPart === part);
    if (own && c.glow.has(own.id)) continue;
    // What is blown close round a lamp of the story goes with that lamp.
    const round = c.angle.lamps.find(
      (l) => rigLamp(c, l.id).practical && distance(l.at, clip.at) < ROUND_M + l.sizeM / 2,
    );
    const mark = c.angle.marks.find((g) => g.part === part);
    const need = clip.overGreyStops - c.clipStops;
    out.push({
      kind: 'clipped',
      subject: mark?.id ?? p.id,
      ...(own ? { lamp: own.id } : round ? { lamp: round.id } : {}),
      severity: mark ? 3 : round ? 1 : 2,
      size: need,
      says: `${p.words} is clipped over ${(clip.share * 100).toFixed(1)} % of the frame, ${stops(need)} over the clip${round ? `, round ${numberOf(c, round.id)}` : ''}.`,
      short: `${p.words} is clipped`,
      at: [clip.at[0], clip.at[1], clip.at[2]],
      frame: clip.box,
      ideas: () => litIdeas(c, part, [clip.at[0], clip.at[1], clip.at[2]], need, p.words, mark !== undefined),
    });
  }
  return out;
}

function litIdeas(
  c: SchemeContext,
  part: number,
  at: Vec3,
  need: number,
  what: string,
  face: boolean,
): Idea[] {
  const ideas: Idea[] = [];
  const by = strongestOn(c, part);
  if (by !== undefined) {
    if (!face) ideas.push(...doorOff(c, by, at, what), ...cutter(c, by, at, 0.2, what));
    ideas.push(...lessOf(c, by, Math.max(0.3, need + 0.1)));
  }
  const stop = c.stop * 2 ** (Math.max(0.3, need + 0.05) / 2);
  ideas.push(setCamera(here(c), { stop: +stop.toFixed(2) }, `Stop down to T${stop.toFixed(1)}`));
  return ideas;
}

/** The lamp that lights what is seen of a part most, where it is brightest. */
function strongestOn(c: SchemeContext, part: number): string | undefined {
  const lit = c.lit;
  if (!lit) return undefined;
  const limit = c.greyCdM2 * 2 ** c.clipStops;
  let best: { lamp: string; sum: number } | undefined;
  for (const lamp of c.angle.lamps) {
    let sum = 0;
    for (let p = 0; p + 1 < lit.hits.pixelStart.length; p++) {
      const h = lit.hits.pixelStart[p]!;
      if (h === lit.hits.pixelStart[p + 1] || lit.hits.part[h] !== part) continue;
      if (!(lit.xyz[3 * p + 1]! > limit)) continue;
      for (const l of lamp.layers) sum += (lit.direct[l]?.[h] ?? 0) * c.weights.layers[l]!.white[1];
    }
    if (sum > 0 && (!best || sum > best.sum)) best = { lamp: lamp.id, sum };
  }
  return best?.lamp;
}
