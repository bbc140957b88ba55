/**
 * The shadow that a microphone over the frame would throw into it: no picture shows it, as nobody holds one yet. Said as
 * a note where no place for who holds it helps; how loud anything is heard is not asked.
 */
import { add, distance, scale, type Vec3 } from '../maths/vec3.ts';
import { holders, micOf, micOver } from './boom.ts';
import { windOf } from './compass.ts';
import { faceSeen, numberOf, type SchemeContext } from './context.ts';
import { boxAround, DARKER, type FrameLight, HIDDEN_STOPS, type Looked } from './frameLight.ts';
import { cutter } from './hidingBoard.ts';
import { meets, type Occluder, soft } from './occluders.ts';
import { shadowIdeas, swing } from './shadowIdeas.ts';
import { type Found, m } from './trouble.ts';

/** Of a lamp's light at a place so much arrives that a shadow there would be a new one. */
const ARRIVES = 0.6;
/** A shadow that moves with the pole is seen though it is small: share of the frame (judgement). */
const SMALL = 0.0015;

interface Thrown {
  lamp: string;
  places: Looked[];
}

export function boomTroubles(c: SchemeContext, f: FrameLight): Found[] {
  const people = c.angle.marks.map((g) => g.eyes);
  return c.angle.marks.flatMap((mark): Found[] => {
    const posture = c.angle.rig.scene.marks[mark.id]?.posture;
    if (!faceSeen(c, mark.id) || posture === 'lying') return [];
    const mic = micOver(c.angle.view, mark.eyes, mark.facingDeg, c.place.ceilingM);
    if (!mic) return [];
    const o = micOf(mark.id, mic);
    const own = worst(c, f, [o]);
    if (own) return [told(c, f, o, own, mark.id, mic.overM, '', scale(add(mic.tip, mic.tail), 0.5))];
    // The microphone is clear: somewhere its pole and who holds it may be too.
    let best: { t: Thrown; from: string; o: Occluder } | undefined;
    for (const h of holders(c.place, c.angle.view, mic, people)) {
      const held = h.o(mark.id);
      const t = worst(c, f, [held]);
      if (!t) return [];
      if (!best || t.places.length < best.t.places.length) {
        const from = windOf(h.at[0] - mic.tail[0], h.at[1] - mic.tail[1], c.place.northDeg);
        best = { t, from, o: held };
      }
    }
    if (!best) return [];
    const from = ` held from the ${best.from}, the best of the places out of frame,`;
    return [told(c, f, best.o, best.t, mark.id, mic.overM, from, mic.tail)];
  });
}

/** The lamp that throws most of their shadow into frame; undefined: none throws enough to be seen. */
function worst(c: SchemeContext, f: FrameLight, things: readonly Occluder[]): Thrown | undefined {
  let most: Thrown | undefined;
  for (const lamp of f.lamps) {
    const places = f.places.filter((place, i) => {
      const bare = lamp.bare[i]!;
      if (!(bare > 0) || lamp.got[i]! / bare < ARRIVES) return false;
      if (bare / Math.max(1e-9, place.totalLx) < DARKER) return false;
      if (Math.log2(Math.max(1e-9, place.luminance) / c.greyCdM2) < HIDDEN_STOPS) return false;
      return things.some((o) => {
        const met = meets(o, place.at, lamp.at);
        return met !== undefined && !soft(met, lamp.sizeM, distance(lamp.at, place.at));
      });
    });
    if (places.length * f.each >= SMALL && (!most || places.length > most.places.length))
      most = { lamp: lamp.id, places };
  }
  return most;
}

function told(
  c: SchemeContext,
  f: FrameLight,
  o: Occluder,
  { lamp, places }: Thrown,
  mark: string,
  overM: number,
  from: string,
  mic: Vec3,
): Found {
  const on = new Map<string, number>();
  for (const p of places) {
    const words = p.mark ?? c.angle.transport.stage.parts[p.part]!.words;
    on.set(words, (on.get(words) ?? 0) + 1);
  }
  const most = [...on].sort((a, b) => b[1] - a[1])[0]![0];
  const number = numberOf(c, lamp);
  const share = places.length * f.each;
  return {
    kind: 'shadow',
    lamp,
    subject: `boom:${mark}`,
    severity: 1,
    size: share,
    says: `A microphone over ${mark},${from} ${m(overM)} above the eyes and just out of frame, would have its shadow thrown by ${number} on ${most}, over ${(100 * share).toFixed(1)} % of the frame. Or hold it from below.`,
    short: `${number} would throw a microphone’s shadow on ${most}`,
    at: places[Math.floor(places.length / 2)]!.at,
    frame: boxAround(f, places),
    ideas: () => {
      const points = places.map((p) => p.at);
      return [
        ...cutter(c, lamp, mic, 0.15, `the microphone over ${mark}`),
        ...swing(c, lamp, points),
        ...shadowIdeas(c, o, [lamp], points),
      ];
    },
  };
}
