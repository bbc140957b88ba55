/**
 * The version number that stands large on paper. It grows when a shoot that was changed is printed or saved, so that two
 * sheets of one number say the same; a short word for the content tells apart what two hands changed.
 */
import type { Shoot } from './schema.ts';

/** Letters and figures that are not mistaken for one another in bad light. */
const SIGNS = 'abcdefhjkmnprstuvwxyz2345678';

/** Four signs for everything in the shoot but its edition. [FNV-1A] */
export function contentWord(shoot: Shoot): string {
  const { edition: _, ...rest } = shoot;
  const text = JSON.stringify(inOrder(rest));
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    h = Math.imul(h ^ (c & 0xff), 0x01000193);
    h = Math.imul(h ^ (c >>> 8), 0x01000193);
  }
  let word = '';
  let left = h >>> 0;
  for (let i = 0; i < 4; i++) {
    word += SIGNS[left % SIGNS.length];
    left = Math.floor(left / SIGNS.length);
  }
  return word;
}

/** Keys by the alphabet, so that a file written and read again has the same word. */
function inOrder(v: unknown): unknown {
  if (typeof v !== 'object' || v === null) return v;
  if (Array.isArray(v)) return v.map(inOrder);
  return Object.fromEntries(
    Object.entries(v)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([k, x]) => [k, inOrder(x)]),
  );
}

export interface Edition {
  number: number;
  word: string;
}

/** What would stand on a sheet printed now: the number it has, or the next if it was changed since. */
export function editionOf(shoot: Shoot): Edition {
  const word = contentWord(shoot);
  const before = shoot.edition;
  return {
    number: before === undefined ? 1 : before.content === word ? before.number : before.number + 1,
    word,
  };
}

/** Whether the document must be told of it. */
export const editionIsNew = (shoot: Shoot): boolean => shoot.edition?.content !== contentWord(shoot);
