/**
 * Shadows that should not be there, on what stands still in frame: of a head, a stand, a flag, of a person on a wall;
 * and of the camera and who stands behind it, which no picture shows because they are not on the stage. Found from
 * the picture's own light: where a lamp would shine and does not, and which thing stands in that line.
 */

import { sub } from '../maths/vec3.ts';
import { boomTroubles } from './boomTroubles.ts';
import { numberOf, type SchemeContext } from './context.ts';
import { boxAround, DARKER, type FrameLight, frameLight, HIDDEN_STOPS, type Looked } from './frameLight.ts';
import { listed } from './listed.ts';
import { meets, type Occluder, occludersOf, soft } from './occluders.ts';
import { shadowIdeas } from './shadowIdeas.ts';
import type { Found } from './trouble.ts';

/** Of a lamp's light at a place less than this share arrives: it is shadowed there. */
const STOPPED = 0.35;
/** Smaller shadows than this share of the frame are not called (judgement). */
const SMALL = 0.004;

interface Shadow {
  o: Occluder;
  /** Lamps that throw it, with the share of the frame of each. */
  lamps: Map<string, number>;
  places: Looked[];
  share: number;
  /** What it falls on, counted. */
  on: Map<string, number>;
}

export function shadowTroubles(c: SchemeContext): Found[] {
  if (!c.lit || c.lit.hits.points.count === 0) return [];
  const f = frameLight(c, c.lit);
  return [...thrown(c, f), ...boomTroubles(c, f)];
}

function thrown(c: SchemeContext, f: FrameLight): Found[] {
  return shadowsOf(c, f).map((s): Found => {
    const { o } = s;
    const lamps = [...s.lamps].sort((a, b) => b[1] - a[1]).map(([id]) => id);
    const numbers = lamps.map((id) => numberOf(c, id));
    const of =
      o.what === 'person'
        ? o.id
        : o.what === 'camera'
          ? 'the camera'
          : o.what === 'flag'
            ? `the flag ${o.id}`
            : `the ${o.what} of ${numberOf(c, o.id)}`;
    const by = `${listed(numbers)} ${numbers.length > 1 ? 'throw' : 'throws'} the shadow of ${of}`;
    const on = [...s.on].sort((a, b) => b[1] - a[1])[0]![0];
    const over = `over ${(100 * s.share).toFixed(1)} % of the frame`;
    return {
      kind: 'shadow',
      ...(o.what === 'head' || o.what === 'stand' ? { lamp: o.id } : {}),
      subject: `${o.what}:${o.id}`,
      severity: o.what === 'person' ? 1 : 2,
      size: s.share,
      says:
        o.what === 'camera'
          ? `${by}, or of who stands behind it, on ${on}, ${over}: no picture shows it, as nobody stands there yet.`
          : `${by} on ${on}, ${over}.`,
      short: `${by} into frame`,
      at: s.places[Math.floor(s.places.length / 2)]!.at,
      frame: boxAround(f, s.places),
      ideas: () =>
        shadowIdeas(
          c,
          o,
          lamps,
          s.places.map((p) => p.at),
        ),
    };
  });
}

function shadowsOf(c: SchemeContext, f: FrameLight): Shadow[] {
  const occluders = occludersOf(c);
  const found = new Map<string, Shadow>();
  for (const lamp of f.lamps) {
    const others = occluders.filter((o) => !(o.id === lamp.id && (o.what === 'head' || o.what === 'stand')));
    for (const [i, place] of f.places.entries()) {
      const bare = lamp.bare[i]!;
      const got = lamp.got[i]!;
      if (!(bare > 0)) continue;
      const share = got / bare;
      const { totalLx: total, luminance: Y } = place;
      // Luminance beside the shadow, as if the lamp got through: by the light, which the surface is common to.
      const beside = total > 0 ? (Y * (total + bare - got)) / total : 0;
      const dark = (bare - got) / Math.max(1e-9, total + bare - got);
      for (const o of others) {
        // On somebody only what nobody put there on purpose: a head, a stand.
        if (place.mark !== undefined && o.what !== 'head' && o.what !== 'stand') continue;
        const camera = o.what === 'camera';
        if (camera ? share < 0.6 : share > STOPPED) continue;
        if (camera ? bare / Math.max(1e-9, total) < DARKER : dark < DARKER) continue;
        if (Math.log2(Math.max(1e-9, camera ? Y : beside) / c.greyCdM2) < HIDDEN_STOPS) continue;
        const met = meets(o, place.at, lamp.at);
        if (!met) continue;
        if (camera && soft(met, lamp.sizeM, Math.hypot(...sub(lamp.at, place.at)))) continue;
        const part = c.angle.transport.stage.parts[place.part]!;
        // People throw shadows wherever they stand: on a wall it is said.
        if (o.what === 'person' && !part.id.startsWith('wall:')) continue;
        const key = `${o.what}:${o.id}`;
        let s = found.get(key);
        if (!s) {
          s = { o, lamps: new Map(), places: [], share: 0, on: new Map() };
          found.set(key, s);
        }
        s.lamps.set(lamp.id, (s.lamps.get(lamp.id) ?? 0) + f.each);
        s.on.set(part.words, (s.on.get(part.words) ?? 0) + 1);
        s.places.push(place);
        s.share += f.each;
        break;
      }
    }
  }
  return [...found.values()].filter((s) => s.share >= (s.o.what === 'person' ? 4 * SMALL : SMALL));
}
