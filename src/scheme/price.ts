/** What an act costs: what it changes on the faces of an angle, told from two readings. */
import type { MarkReading } from '../readings/readMark.ts';
import type { Role } from '../readings/roles.ts';

/** Smaller changes of a key than this are not told, stops; of a back light. */
const TOLD = 0.1;
const BACK_TOLD = 0.3;
/** A lamp that gives less than this share of what it gave is lost to the face. */
const LOST = 1 / 8;

export interface Price {
  /** “key on B −0.1”, “A loses its back (401 lx)”. */
  says: string[];
  /** The most a face loses, stops; infinite if it loses a lamp that did something for it. */
  lossStops: number;
  /** The most anything changes, up or down, stops. */
  changeStops: number;
}

const AT_WORK: ReadonlySet<Role> = new Set(['key', 'fill', 'back', 'kicker', 'top']);
const signed = (v: number) => `${v > 0 ? '+' : '−'}${Math.abs(v).toFixed(1)}`;

/**
 * `seen`: marks whose person this angle sees. `exposureStops`: how far stop, shutter and rating moved the picture: said
 * once, not face by face.
 */
export function priceOf(
  before: readonly MarkReading[],
  after: readonly MarkReading[],
  seen: ReadonlySet<string>,
  numberOf: (lamp: string) => string,
  exposureStops: number,
): Price {
  const says: string[] = [];
  let lossStops = Math.max(0, -exposureStops);
  let changeStops = Math.abs(exposureStops);
  if (Math.abs(exposureStops) >= 0.05) says.push(`everything ${signed(exposureStops)}`);
  for (const b of before) {
    if (!seen.has(b.mark)) continue;
    const a = after.find((x) => x.mark === b.mark);
    if (!a) continue;
    const lost: string[] = [];
    for (const l of b.lamps) {
      if (!AT_WORK.has(l.role) || !(l.directLx > 0)) continue;
      const now = a.lamps.find((x) => x.lamp === l.lamp);
      if ((now?.directLx ?? 0) >= LOST * l.directLx) {
        const d = Math.log2(now!.directLx / l.directLx);
        if (l.role !== 'key' && Math.abs(d) >= BACK_TOLD)
          says.push(`${l.role} ${numberOf(l.lamp)} on ${b.mark} ${signed(d)}`);
        continue;
      }
      lost.push(l.role);
      says.push(`${b.mark} loses its ${l.role} (${l.directLx.toFixed(0)} lx)`);
      lossStops = Number.POSITIVE_INFINITY;
    }
    const d = a.overStops - b.overStops - exposureStops;
    if (!Number.isFinite(d) || lost.includes('key')) continue;
    lossStops = Math.max(lossStops, -d);
    changeStops = Math.max(changeStops, Math.abs(d));
    if (Math.abs(d) >= TOLD) says.push(`key on ${b.mark} ${signed(d)}`);
  }
  return { says, lossStops, changeStops };
}
