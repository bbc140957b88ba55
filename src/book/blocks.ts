/** Blocks that many sheets are made of: headings, paragraphs, lists, lines and boxes to write on. */
import type { Flow } from './flow.ts';
import type { Face, PageMark } from './page.ts';
import { LEADING, paragraph, SIZE, widthOf, word, wrapped } from './type.ts';

/** Never alone at the foot of a page: `withMm` of what follows must fit too. */
export function putHeading(flow: Flow, text: string, withMm = 10): void {
  flow.gap(2.5);
  const lines = wrapped(text, 'bold', SIZE.strong, flow.column.widthMm);
  const h = lines.length * SIZE.strong * LEADING + 0.8;
  if (h + withMm > flow.room()) flow.turn();
  flow.put(h, (top) =>
    lines.map((l, i) =>
      word([flow.column.leftMm, top + SIZE.strong * (0.9 + i * LEADING)], l, {
        face: 'bold',
        sizeMm: SIZE.strong,
        roomMm: flow.column.widthMm,
      }),
    ),
  );
}

export function putWords(
  flow: Flow,
  text: string,
  style: { face?: Face; sizeMm?: number; insetMm?: number } = {},
): void {
  const { face = 'plain', sizeMm = SIZE.body, insetMm = 0 } = style;
  const room = flow.column.widthMm - insetMm;
  for (const line of wrapped(text, face, sizeMm, room))
    flow.put(sizeMm * LEADING, (top) => [
      word([flow.column.leftMm + insetMm, top + sizeMm * 0.9], line, { face, sizeMm, roomMm: room }),
    ]);
}

/** Each item with a dash, or a box to tick before it; in two columns, read across. */
export function putList(
  flow: Flow,
  items: readonly string[],
  {
    tick = false,
    sizeMm = SIZE.body,
    columns = 1,
  }: { tick?: boolean; sizeMm?: number; columns?: 1 | 2 } = {},
): void {
  const inset = tick ? 5.2 : 3.6;
  const wide = flow.column.widthMm / columns;
  const room = wide - inset - (columns - 1) * 3;
  for (let i = 0; i < items.length; i += columns) {
    const row = items.slice(i, i + columns).map((item) => wrapped(item, 'plain', sizeMm, room));
    const deep = Math.max(...row.map((lines) => lines.length));
    flow.put(deep * sizeMm * LEADING + 0.7, (top) =>
      row.flatMap((lines, c) => {
        const left = flow.column.leftMm + c * wide;
        return [
          tick ? tickBox(left + 0.3, top + 0.3) : word([left + 0.6, top + sizeMm * 0.9], '–', { sizeMm }),
          ...lines.map((l, k) =>
            word([left + inset, top + sizeMm * (0.9 + k * LEADING)], l, { sizeMm, roomMm: room }),
          ),
        ];
      }),
    );
  }
}

export const tickBox = (x: number, y: number, mm = 3): PageMark => ({
  kind: 'shape',
  points: [
    [x, y],
    [x + mm, y],
    [x + mm, y + mm],
    [x, y + mm],
  ],
  weightMm: 0.2,
});

/** A row of named lines to write on, each taking its share of the width. */
export function putBlanks(
  flow: Flow,
  fields: readonly { name: string; wide: number; text?: string }[],
  rowMm = 8.5,
): void {
  const all = fields.reduce((s, f) => s + f.wide, 0);
  flow.put(rowMm, (top) => {
    const marks: PageMark[] = [];
    let x = flow.column.leftMm;
    for (const f of fields) {
      const w = (flow.column.widthMm * f.wide) / all;
      const name = widthOf(f.name, 'plain', SIZE.small);
      marks.push(word([x, top + rowMm - 1.6], f.name, { sizeMm: SIZE.small, roomMm: w - 3 }));
      if (f.text)
        marks.push(
          word([x + name + 1.5, top + rowMm - 1.6], f.text, {
            sizeMm: SIZE.body,
            face: 'bold',
            roomMm: w - name - 4,
          }),
        );
      marks.push({
        kind: 'line',
        points: [
          [x + name + 1.2, top + rowMm - 1],
          [x + w - 3, top + rowMm - 1],
        ],
        weightMm: 0.13,
      });
      x += w;
    }
    return marks;
  });
}

/** Empty ruled lines to write on. */
export function putLines(flow: Flow, count: number, rowMm = 8): void {
  for (let i = 0; i < count; i++)
    flow.put(rowMm, (top) => [
      {
        kind: 'line',
        points: [
          [flow.column.leftMm, top + rowMm - 1],
          [flow.column.leftMm + flow.column.widthMm, top + rowMm - 1],
        ],
        weightMm: 0.13,
      },
    ]);
}

/** Blocks side by side, as deep as the deepest: each is painted in its own column by its own painter. */
export function beside(
  flow: Flow,
  columns: readonly {
    widthMm: number;
    heightMm: number;
    paint: (leftMm: number, topMm: number) => PageMark[];
  }[],
  gapMm = 5,
): void {
  const deep = Math.max(...columns.map((c) => c.heightMm));
  flow.put(deep, (top) => {
    let x = flow.column.leftMm;
    return columns.flatMap((c) => {
      const marks = c.paint(x, top);
      x += c.widthMm + gapMm;
      return marks;
    });
  });
}

/** Lines of words with hanging insets, measured before they are laid: for blocks beside one another. */
export function story(
  parts: readonly { text: string; face?: Face; sizeMm?: number; gapMm?: number; hangMm?: number }[],
  widthMm: number,
): { heightMm: number; paint: (leftMm: number, topMm: number) => PageMark[] } {
  let h = 0;
  const laid = parts.map((p) => {
    const size = p.sizeMm ?? SIZE.body;
    h += p.gapMm ?? 0;
    const at = h;
    const hang = p.hangMm ?? 0;
    const made = paragraph([0, 0], p.text, widthMm - hang, { face: p.face ?? 'plain', sizeMm: size });
    h += made.heightMm;
    return { at, made, size, hang };
  });
  return {
    heightMm: h,
    paint: (left, top) =>
      laid.flatMap(({ at, made, size, hang }) =>
        made.marks.map((m) => ({
          ...m,
          at: [left + hang + m.at[0], top + at + size * 0.9 + m.at[1]] as const,
        })),
      ),
  };
}

/** The same lines one after another, so that they may go on over the page. */
export function putStory(flow: Flow, parts: Parameters<typeof story>[0]): void {
  for (const p of parts) {
    if (p.gapMm) flow.gap(p.gapMm);
    const one = story([{ ...p, gapMm: 0 }], flow.column.widthMm);
    flow.put(one.heightMm, (top) => one.paint(flow.column.leftMm, top));
  }
}
