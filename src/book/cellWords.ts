/** What a lamp does for an angle's faces, in the words of a card: computed, so set in italic. */
import { clockWords } from '../readings/bearing.ts';
import type { MarkReading } from '../readings/readMark.ts';
import type { Read } from '../scheme/read.ts';

export interface Doing {
  mark: string;
  role: string;
  /** Direct light about what the stop asks, stops. */
  overStops: number;
  lx: number;
  clock: number;
  distanceM: number;
  upDeg: number;
}

const WORTH: readonly string[] = [
  'key',
  'back',
  'kicker',
  'fill',
  'top',
  'under',
  'background',
  'practical',
  'none',
];

/** On every mark, the weightiest first. */
export function doingsOf(read: Read, lamp: string): Doing[] {
  return read.marks
    .flatMap((m: MarkReading) =>
      m.lamps
        .filter((l) => l.lamp === lamp)
        .map((l) => ({
          mark: m.mark,
          role: l.role,
          overStops: l.overStops,
          lx: l.lx,
          clock: l.clock,
          distanceM: l.distanceM,
          upDeg: l.elevationDeg,
        })),
    )
    .sort((a, b) => WORTH.indexOf(a.role) - WORTH.indexOf(b.role));
}

/** “key on A, back on B”; “does nothing on faces” where it does none. */
export function doesWords(doings: readonly Doing[], marks: readonly string[]): string {
  const told = doings.filter((d) => d.role !== 'none' && (marks.length === 0 || marks.includes(d.mark)));
  const one = marks.length === 1;
  if (told.length === 0) return one ? 'nothing' : 'nothing on faces';
  return [...new Set(told.map((d) => d.role))]
    .map((role) => {
      const on = told.filter((d) => d.role === role).map((d) => d.mark);
      return one || role === 'practical' || role === 'background' ? role : `${role} on ${on.join(' and ')}`;
    })
    .join(', ');
}
export const clockShort = (hours: number): string => clockWords(hours).replace('half past ', '½ past ');
