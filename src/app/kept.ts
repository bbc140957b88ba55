/** What is known of the keeping: where the open shoot is kept and since when, and what else stands on the shelf. */
import { create } from 'zustand';
import type { Shoot } from '../shoot/schema.ts';
import type { Why } from './seat.ts';
import type { Card } from './shelf.ts';

export interface Kept {
  /** The open shoot's id on the shelf; undefined: it is not there (yet). */
  id: string | undefined;
  keptMs: number | undefined;
  /** Something was changed and is not on the disk yet. */
  behind: boolean;
  /** Another window writes this shoot. */
  reading: Why | undefined;
  /** False: this browser cannot tell whether another window writes too. */
  guarded: boolean;
  /** Why nothing can be kept, in sentences; undefined: it can. */
  trouble: string[] | undefined;
  cards: Card[];
  /** Whether the browser promised not to clear the shelf by itself. */
  promise: 'not asked' | 'given' | 'not given' | 'cannot be asked';
  /** The file on the disk that the open shoot is saved to again. */
  file: FileSystemFileHandle | undefined;
  /** When the open shoot was last saved outside, under which name, and the very shoot that went there. */
  saved: { ms: number; name: string; shoot: Shoot } | undefined;
  set: (part: Partial<Omit<Kept, 'set'>>) => void;
}

export const useKept = create<Kept>((set) => ({
  id: undefined,
  keptMs: undefined,
  behind: false,
  reading: undefined,
  guarded: true,
  trouble: undefined,
  cards: [],
  promise: 'not asked',
  file: undefined,
  saved: undefined,
  set,
}));

const two = (n: number) => String(n).padStart(2, '0');
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** How long ago, as one says it: “just now”, “12 s ago”, “4 min ago”, “at 14:02”, “3 Nov 2031”. */
export function sinceWords(thenMs: number, nowMs: number): string {
  const s = Math.round((nowMs - thenMs) / 1000);
  if (s < 5) return 'just now';
  if (s < 60) return `${s} s ago`;
  if (s < 3600) return `${Math.floor(s / 60)} min ago`;
  const then = new Date(thenMs);
  const now = new Date(nowMs);
  if (then.toDateString() === now.toDateString())
    return `at ${two(then.getHours())}:${two(then.getMinutes())}`;
  const year = then.getFullYear() === now.getFullYear() ? '' : ` ${then.getFullYear()}`;
  return `${then.getDate()} ${MONTHS[then.getMonth()]}${year}`;
}
