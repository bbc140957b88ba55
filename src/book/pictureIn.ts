/** The picture of an angle in its place, with what kind of picture it is. */
import type { AngleRef } from '../shoot/rigFor.ts';
import { type BookFacts, keyOf } from './facts.ts';
import { type PageMark, PT } from './page.ts';
import { word, wrapped } from './type.ts';

export function pictureIn(
  f: BookFacts,
  ref: AngleRef,
  widthMm: number,
  size = 7 * PT,
): { heightMm: number; paint: (leftMm: number, topMm: number) => PageMark[] } {
  const key = keyOf(ref);
  const picture = f.pictures[key];
  if (!picture) return { heightMm: 0, paint: () => [] };
  const h = (widthMm * picture.height) / picture.width;
  const lines = wrapped(picture.note, 'plain', size, widthMm);
  return {
    heightMm: h + 0.6 + lines.length * size * 1.2,
    paint: (left, top) => [
      {
        kind: 'picture',
        at: [left, top],
        widthMm,
        heightMm: h,
        picture: key,
        words: `What ${ref.angle} sees`,
      },
      {
        kind: 'shape',
        points: [
          [left, top],
          [left + widthMm, top],
          [left + widthMm, top + h],
          [left, top + h],
        ],
        weightMm: 0.2,
      },
      ...lines.map((l, i) =>
        word([left, top + h + 2.6 + i * size * 1.2], l, { sizeMm: size, roomMm: widthMm }),
      ),
    ],
  };
}
