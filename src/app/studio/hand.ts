/**
 * A hand at work. Readings of all angles are told first and never wait for pictures: those of a newer wish are told
 * while a picture of the older one is under way. Then one small picture after the other, by turns.
 */

import type { AbortSignalLike } from '../../transport/tracer.ts';
import type { Wanted } from '../messages.ts';
import { lightFrames, prepare } from './angle.ts';
import { moved } from './carried.ts';
import { bestOf, lightAt, recolour } from './lighting.ts';
import { type Means, turnOver } from './means.ts';
import { meterBounced, meterDirect } from './meters.ts';
import { sendAlone, sendPicture } from './pictures.ts';
import { sendReading } from './reading.ts';
import { idOf, type Shown, sizeOf, smaller } from './shown.ts';

/** A wish whose readings were told. */
export interface Told {
  turn: number;
  all: Shown[];
  /** Other rays than before. */
  fresh: ReadonlySet<Shown>;
}

/** Everything read for a wish: a few thousand rays, or none. */
export async function tellReadings(on: Means, w: Wanted, signal: AbortSignalLike): Promise<Told> {
  const reading: Means = on.reader ? { ...on, tracer: on.reader } : on;
  const all: Shown[] = [];
  const fresh = new Set<Shown>();
  for (const ref of w.angles) {
    try {
      const { shown, changed } = prepare(on, ref, w);
      all.push(shown);
      if (changed) fresh.add(shown);
    } catch (error) {
      on.say({ kind: 'failed', turn: w.turn, angle: ref.angle, words: String(error) });
    }
  }
  for (const id of on.angles.keys()) if (!w.angles.some((r) => idOf(r) === id)) on.angles.delete(id);
  for (const s of all) await lightFrames(reading, s, w, signal);
  for (const s of all) {
    const known = !fresh.has(s) && s.meters;
    if (known) sendReading(on, s, w);
    if ((await meterDirect(reading, s, signal)) && s.last && !known) sendReading(on, s, w);
  }
  return { turn: w.turn, all, fresh };
}

/** One small picture after the other, `begin` with this one, until a newer wish has come; how many were made. */
export async function tellPictures(
  on: Means,
  w: Wanted,
  { all, fresh }: Told,
  begin: number,
  signal: AbortSignalLike,
): Promise<number> {
  await turnOver(on, signal);
  // Other colours on the same shapes: solved and gathered again, no ray.
  for (const s of all) await recolour(on, s, w, signal);
  for (let k = 0; k < all.length; k++) {
    const s = all[(begin + k) % all.length]!;
    await tellPicture(on, s, w, fresh.has(s), signal);
    // A newer wish may stand for the angle meanwhile: it goes on from this picture.
    const now = on.angles.get(idOf(s.ref));
    if (now && now !== s) Object.assign(now, { last: s.last, carried: s.carried });
    await turnOver(on, signal);
    if (on.newer()) return k + 1;
  }
  return all.length;
}

async function tellPicture(
  on: Means,
  s: Shown,
  w: Wanted,
  fresh: boolean,
  signal: AbortSignalLike,
): Promise<void> {
  if (w.moving !== undefined) {
    if (s.carried === s.geometryKey) return;
    await moved(on, s, w, w.moving, signal);
    s.carried = s.geometryKey;
    return;
  }
  const lit = bestOf(s);
  if (!lit) {
    await lightAt(on, s, smaller(sizeOf(s, w)), signal);
    sendPicture(on, s, bestOf(s)!, w);
  } else {
    sendPicture(on, s, lit, w);
    if (w.score && !fresh) sendAlone(on, s, w);
  }
  if (await meterBounced(on, s, signal)) sendReading(on, s, w);
}
