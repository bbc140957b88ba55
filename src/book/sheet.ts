/** A sheet of the book: its head, its foot, and the column between them in which blocks flow. */
import type { BookFacts } from './facts.ts';
import { type Flow, newFlow } from './flow.ts';
import { PAPERS, type Page, type PageMark, PT } from './page.ts';
import { SIZE, widthOf, word, wrapped } from './type.ts';

/** Pages still without their number in the whole book. */
export interface DraftPage extends Page {
  foot: (n: number, m: number) => PageMark[];
}

export const MARGIN_MM = 11;

export interface SheetWish {
  /** “Power”, “Plan”. */
  title: string;
  /** “Kitchen, night”, “OA over B on to A”. */
  about: string;
  /** Said at the foot of every page. */
  foot?: string;
  /** A block of this height at the foot of every page, painted at its top. */
  block?: { heightMm: number; paint: (topMm: number, n: number, m: number) => PageMark[] };
}

export interface Sheet {
  flow: Flow;
  finish(): DraftPage[];
}

const HEAD_MM = 15;
const FOOT_MM = 7;

export function newSheet(f: BookFacts, wish: SheetWish): Sheet {
  const { widthMm, heightMm } = PAPERS[f.paper];
  const left = MARGIN_MM;
  const right = widthMm - MARGIN_MM;
  const blockMm = wish.block?.heightMm ?? FOOT_MM;
  const flow = newFlow({
    leftMm: left,
    topMm: MARGIN_MM + HEAD_MM,
    widthMm: right - left,
    bottomMm: heightMm - MARGIN_MM - blockMm,
  });
  return {
    flow,
    finish: () =>
      flow.pages.map((marks) => ({
        widthMm,
        heightMm,
        title: `${wish.title}: ${wish.about}`,
        marks: [...head(f, wish, left, right), ...marks],
        foot: (n, m) =>
          wish.block
            ? wish.block.paint(heightMm - MARGIN_MM - blockMm, n, m)
            : foot(f, wish, left, right, heightMm - MARGIN_MM, n, m),
      })),
  };
}

/** Shoot and sheet to the left; the version number large to the right, where it shows in any pocket. */
function head(f: BookFacts, wish: SheetWish, left: number, right: number): PageMark[] {
  const y = MARGIN_MM;
  const v = String(f.version.number);
  const vMm = widthOf(v, 'bold', SIZE.big);
  const versionMm = vMm + 17;
  const room = right - left - versionMm - 4;
  const title = wrapped(f.shoot.title, 'said', SIZE.title, room * 0.6)[0]!;
  const titleMm = widthOf(title, 'said', SIZE.title);
  return [
    word([left, y + 6.4], title, { face: 'said', sizeMm: SIZE.title, roomMm: room }),
    word([left + titleMm + 3, y + 6.4], clipped(wish.title, 'bold', SIZE.head, room - titleMm - 3), {
      face: 'bold',
      sizeMm: SIZE.head,
    }),
    word([left, y + 11.6], clipped(wish.about, 'plain', SIZE.strong, room), {
      sizeMm: SIZE.strong,
      roomMm: room,
    }),
    word([right, y + 9.4], v, { face: 'bold', sizeMm: SIZE.big, anchor: 'end' }),
    word([right - vMm - 1.5, y + 5], 'version', { sizeMm: SIZE.small, anchor: 'end' }),
    word([right - vMm - 1.5, y + 9.2], f.version.word, { sizeMm: SIZE.small, face: 'bold', anchor: 'end' }),
    {
      kind: 'line',
      points: [
        [left, y + 13.4],
        [right, y + 13.4],
      ],
      weightMm: 0.5,
    },
  ];
}

/** As much of a line as there is room for, and dots where it was cut. */
export function clipped(
  text: string,
  face: 'plain' | 'bold' | 'said',
  sizeMm: number,
  roomMm: number,
): string {
  if (widthOf(text, face, sizeMm) <= roomMm) return text;
  let t = text;
  while (t.length > 1 && widthOf(`${t}…`, face, sizeMm) > roomMm) t = t.slice(0, -1);
  return `${t.trimEnd()}…`;
}

function foot(
  f: BookFacts,
  wish: SheetWish,
  left: number,
  right: number,
  y: number,
  n: number,
  m: number,
): PageMark[] {
  return [
    {
      kind: 'line',
      points: [
        [left, y - 4.6],
        [right, y - 4.6],
      ],
      weightMm: 0.13,
    },
    word([left, y - 1], clipped(wish.foot ?? '', 'plain', SIZE.small, (right - left) * 0.68), {
      sizeMm: SIZE.small,
      roomMm: (right - left) * 0.68,
    }),
    word([right, y - 1], `${f.date}   sheet ${n} of ${m}`, {
      sizeMm: SIZE.small,
      anchor: 'end',
      roomMm: (right - left) * 0.31,
    }),
  ];
}

export interface BlockField {
  name: string;
  text: string;
  /** Share of the row. */
  wide: number;
}

/** A title block: rows of named fields in a ruled box [ISO-7200]. An empty field is a line to write on. */
export function titleBlock(
  rows: readonly (readonly BlockField[])[],
  left: number,
  right: number,
  top: number,
): PageMark[] {
  const rowMm = 8.2;
  const marks: PageMark[] = [
    {
      kind: 'shape',
      points: [
        [left, top],
        [right, top],
        [right, top + rows.length * rowMm],
        [left, top + rows.length * rowMm],
      ],
      weightMm: 0.35,
    },
  ];
  rows.forEach((row, r) => {
    const y = top + r * rowMm;
    if (r)
      marks.push({
        kind: 'line',
        points: [
          [left, y],
          [right, y],
        ],
        weightMm: 0.13,
      });
    const all = row.reduce((s, c) => s + c.wide, 0);
    let x = left;
    row.forEach((c, i) => {
      const w = ((right - left) * c.wide) / all;
      if (i)
        marks.push({
          kind: 'line',
          points: [
            [x, y],
            [x, y + rowMm],
          ],
          weightMm: 0.13,
        });
      const room = w - 2;
      marks.push(
        word([x + 1, y + 2.9], clipped(c.name, 'plain', 7 * PT, room), { sizeMm: 7 * PT, roomMm: room }),
      );
      let size = SIZE.body;
      while (size > SIZE.small * 0.9 && widthOf(c.text, 'bold', size) > room) size -= 0.1;
      marks.push(
        word([x + 1, y + 6.9], clipped(c.text, 'bold', size, room), {
          sizeMm: size,
          face: 'bold',
          roomMm: room,
        }),
      );
      x += w;
    });
  });
  return marks;
}
export const blockHeight = (rows: number): number => rows * 8.2;
