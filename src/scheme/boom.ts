/**
 * The microphone over whoever speaks, as low as the frame lets it hang, and where the one who holds its pole may stand.
 * Nobody tells the program so: it is what a sound recordist would ask for first.
 */
import { add, DEG, distance, normalize, scale, sub, type Vec3 } from '../maths/vec3.ts';
import { onFrame, outsideDeg } from '../setup/view.ts';
import { roomAt } from '../shoot/rooms.ts';
import type { Place } from '../shoot/schema.ts';
import type { View } from '../transport/scene.ts';
import type { Occluder } from './occluders.ts';
import { footHits } from './room.ts';

/** A microphone in its windshield, and the pole, metres (common practice, no source). */
const MIC_LONG_M = 0.3;
const MIC_RADIUS_M = 0.05;
const POLE_RADIUS_M = 0.0125;
/** In front of the face, and over the eyes at least and at most: higher it hears the room (common practice, no source). */
const BEFORE_M = 0.3;
const OVER_M = [0.35, 1.2] as const;
/** Kept between the frame's edge and the windshield, metres (judgement). */
const EDGE_M = 0.05;
/** Hands over the head, metres, and how far the pole reaches (common practice, no source). */
const HANDS_M = 2.05;
const REACH_M = [2, 2.6] as const;
const TALL_M = 1.75;
const BODY_M = 0.22;

export interface Mic {
  /** Its end toward the mouth, and the end at the pole. */
  tip: Vec3;
  tail: Vec3;
  /** Over the eyes, metres. */
  overM: number;
}

/** Just above the frame before a face; undefined: the frame is too high, or the ceiling too low. */
export function micOver(view: View, eyes: Vec3, facingDeg: number, ceilingM?: number): Mic | undefined {
  const to: Vec3 = [Math.cos(facingDeg * DEG), Math.sin(facingDeg * DEG), 0];
  const mouth: Vec3 = [eyes[0], eyes[1], eyes[2] - 0.07];
  const most = Math.min(OVER_M[1], (ceilingM ?? Number.POSITIVE_INFINITY) - eyes[2] - MIC_LONG_M - 0.1);
  for (let over = OVER_M[0]; over <= most + 1e-9; over += 0.05) {
    const tip = add(eyes, [BEFORE_M * to[0], BEFORE_M * to[1], over]);
    const tail = add(tip, scale(normalize(sub(tip, mouth)), MIC_LONG_M));
    if (overFrame(view, tip) && overFrame(view, tail)) return { tip, tail, overM: over };
  }
  return undefined;
}

/** Clear of the frame's upper edge with its windshield, or behind the lens. */
function overFrame(view: View, p: Vec3): boolean {
  const f = onFrame(view, p);
  return f.depthM <= 0 || (f.y - 1) * view.tanV * f.depthM >= MIC_RADIUS_M + EDGE_M;
}

export const micOf = (mark: string, mic: Mic): Occluder => ({
  what: 'boom',
  id: mark,
  capsules: [{ a: mic.tip, b: mic.tail, radiusM: MIC_RADIUS_M }],
});

/** Places for who holds the pole: on clear floor, out of frame with the pole, nearest to the camera first. */
export function holders(
  place: Place,
  view: View,
  mic: Mic,
  people: readonly Vec3[],
): { at: Vec3; o: (mark: string) => Occluder }[] {
  const found: { at: Vec3; hands: Vec3; d: number }[] = [];
  const room = roomAt(place, [mic.tip[0], mic.tip[1]])?.id;
  for (const reach of REACH_M)
    for (let deg = 0; deg < 360; deg += 15) {
      const x = mic.tail[0] + reach * Math.cos(deg * DEG);
      const y = mic.tail[1] + reach * Math.sin(deg * DEG);
      if (roomAt(place, [x, y])?.id !== room || footHits(place, x, y, 0.25) !== undefined) continue;
      if (Math.hypot(x - view.eye[0], y - view.eye[1]) < 0.6) continue;
      if (people.some((p) => Math.hypot(x - p[0], y - p[1]) < 0.6)) continue;
      const hands: Vec3 = [x, y, Math.min(HANDS_M, (place.ceilingM ?? 9) - 0.15)];
      const body = [0.1, 0.5, 1, 1.5, TALL_M].every((z) =>
        [-0.3, 0.3].every((s) => outsideDeg(view, add([x, y, z], scale(view.right, s))) > 0.5),
      );
      const pole = [0.1, 0.3, 0.5, 0.7, 0.9, 1].every(
        (t) => outsideDeg(view, add(mic.tail, scale(sub(hands, mic.tail), t))) > 0.3,
      );
      if (body && pole) found.push({ at: [x, y, 0], hands, d: distance([x, y, view.eye[2]], view.eye) });
    }
  return found
    .sort((a, b) => a.d - b.d)
    .map(({ at, hands }) => ({
      at,
      o: (mark) => ({
        what: 'boom',
        id: mark,
        capsules: [
          { a: mic.tail, b: hands, radiusM: POLE_RADIUS_M },
          { a: [at[0], at[1], 0.1], b: [at[0], at[1], TALL_M - BODY_M], radiusM: BODY_M },
        ],
      }),
    }));
}
