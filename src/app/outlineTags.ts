/** Outlines of what is wrong in a picture, with their names beside them: inside the picture, off one another. */
import type { Trouble } from '../scheme/trouble.ts';

/** A box in fractions of the picture, top left first. */
export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}
export interface Tagged {
  t: Trouble;
  frame: Box;
  /** Where the name lies, as classes of its outline: above its left end, unless told otherwise. */
  labelAt: string;
}

/** A name's height, and the breadth of a letter, in fractions of a picture as it stands in the wall of a desk. */
const TALL = 0.085;
const LETTER = 0.0165;

const apart = (a: Box, b: Box) =>
  a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;

/** Places tried, the usual one first. */
const PLACES = ['', 'to-left', 'below', 'below to-left', 'within', 'within to-left'] as const;

function tagBox(frame: Box, place: string, wide: number): Box {
  const left = place.includes('to-left') ? frame.right - wide : frame.left;
  const top = place.includes('below')
    ? frame.bottom
    : place.includes('within')
      ? frame.top
      : frame.top - TALL;
  return { left, top, right: left + wide, bottom: top + TALL };
}

/** `named`: what an outline's tag says; nothing: it has none. Where no place is free, the outline stays nameless. */
export function outlineTags(live: readonly Trouble[], named: (t: Trouble) => string): Tagged[] {
  const placed: Box[] = [];
  return live.map((t) => {
    const f = t.frame!;
    const frame = {
      left: Math.max(0.004, f.left - 0.01),
      top: Math.max(0.006, f.top - 0.015),
      right: Math.min(0.996, f.right + 0.01),
      bottom: Math.min(0.994, f.bottom + 0.015),
    };
    const words = named(t);
    if (!words) return { t, frame, labelAt: '' };
    const wide = words.length * LETTER + 0.02;
    const free = PLACES.find((place) => {
      const b = tagBox(frame, place, wide);
      const inside = b.left >= 0 && b.top >= 0 && b.right <= 1 && b.bottom <= 1;
      return inside && placed.every((p) => apart(p, b));
    });
    if (free !== undefined) placed.push(tagBox(frame, free, wide));
    return { t, frame, labelAt: free ?? 'nameless' };
  });
}
