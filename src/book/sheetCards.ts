/** Angle cards four to a sheet, with marks to cut by. */
import { cardPages, pocketCard } from './cards.ts';
import type { BookFacts } from './facts.ts';
import { moved } from './moved.ts';
import { PAPERS, type PageMark } from './page.ts';
import type { DraftPage } from './sheet.ts';

export function sheetCards(f: BookFacts): DraftPage[] {
  const cards = f.angles.flatMap((ref) => cardPages(f, ref, pocketCard(f)));
  const { widthMm, heightMm } = PAPERS[f.paper];
  const out: DraftPage[] = [];
  for (let i = 0; i < cards.length; i += 4) {
    const four = cards.slice(i, i + 4);
    out.push({
      widthMm,
      heightMm,
      title: `Cards: ${four.map((c) => c.title.replace('Card ', '')).join(', ')}`,
      marks: [
        ...four.flatMap((c, k) => moved(c.marks, (k % 2) * c.widthMm, Math.floor(k / 2) * c.heightMm)),
        ...cuts(widthMm, heightMm),
      ],
      foot: () => [],
    });
  }
  return out;
}

/** Across and down the middle, dotted. */
const cuts = (w: number, h: number): PageMark[] => [
  {
    kind: 'line',
    points: [
      [w / 2, 0],
      [w / 2, h],
    ],
    weightMm: 0.12,
    dashMm: [1, 3],
  },
  {
    kind: 'line',
    points: [
      [0, h / 2],
      [w, h / 2],
    ],
    weightMm: 0.12,
    dashMm: [1, 3],
  },
];
