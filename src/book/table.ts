/** Tables: columns as wide as they need, rows that wrap, heads repeated where a table goes on over the page. */
import type { Flow } from './flow.ts';
import { patternLine } from './identity.ts';
import type { Face, PageMark } from './page.ts';
import { LEADING, SIZE, widthOf, word, wrapped } from './type.ts';

export interface TableColumn {
  head: string;
  align?: 'start' | 'end' | 'middle';
  /** No narrower, no wider; absent: as its words need. */
  widthMm?: number;
  /** Takes what is left over, in this share. */
  grow?: number;
  /** Ruled on both sides, to be written in. */
  box?: true;
}

export type Cell =
  | string
  | {
      text?: string;
      face?: Face;
      /** Smaller, under the text. */
      sub?: string;
      /** A lamp's line pattern, by its identity; the text after it, its number, stands white on black as on the plan. */
      pattern?: number;
    };

export interface TableWish {
  columns: readonly TableColumn[];
  rows: readonly (readonly Cell[])[];
  sizeMm?: number;
  /** Of heads and of what stands under a cell's text. */
  smallMm?: number;
  /** Least height of a row: room for handwriting. */
  rowMm?: number;
  /** Rows (by number) over which a heavy rule stands. */
  heavyOver?: ReadonlySet<number>;
  /** Stands over the head, and again with “goes on” on later pages. */
  title?: string;
}

const PAD_MM = 1.1;
const PATTERN_MM = 7.4;

const textOf = (c: Cell): string => (typeof c === 'string' ? c : (c.text ?? ''));
/** A figure and its unit stay on one line. */
const unbroken = (text: string, tab: boolean): string =>
  tab && text.length <= 8 ? text.replaceAll(' ', '\u00a0') : text;
const faceOf = (c: Cell): Face => (typeof c === 'string' ? 'plain' : (c.face ?? 'plain'));
const subOf = (c: Cell): string | undefined => (typeof c === 'string' ? undefined : c.sub);
const patternOf = (c: Cell): number | undefined => (typeof c === 'string' ? undefined : c.pattern);

/** Width of every column, millimetres; together `totalMm`. */
export function columnWidths(w: TableWish, totalMm: number): number[] {
  const size = w.sizeMm ?? SIZE.body;
  const small = w.smallMm ?? SIZE.small;
  const least: number[] = [];
  const most: number[] = [];
  w.columns.forEach((c, i) => {
    if (c.widthMm !== undefined) {
      least.push(c.widthMm);
      most.push(c.widthMm);
      return;
    }
    let [lo, hi] = [0, 0];
    const take = (text: string, face: Face, sizeMm: number, extra = 0, tab = false) => {
      hi = Math.max(hi, widthOf(text, face, sizeMm, tab) + extra);
      for (const one of text.split(/ +/)) lo = Math.max(lo, widthOf(one, face, sizeMm, tab) + extra);
    };
    take(c.head, 'plain', small, 0, c.align === 'end');
    for (const row of w.rows) {
      const cell = row[i] ?? '';
      const extra = patternOf(cell) === undefined ? 0 : PATTERN_MM;
      take(unbroken(textOf(cell), c.align === 'end'), faceOf(cell), size, extra, c.align === 'end');
      if (subOf(cell)) take(subOf(cell)!, 'plain', small, extra, c.align === 'end');
    }
    // A hair more than reckoned: what is painted may differ in the last digit.
    least.push(Math.min(lo, totalMm / 3) + 2 * PAD_MM + 0.2);
    most.push(hi + 2 * PAD_MM + 0.2);
  });
  const sum = (v: readonly number[]) => v.reduce((a, b) => a + b, 0);
  const [lo, hi] = [sum(least), sum(most)];
  if (hi <= totalMm) {
    const shares = w.columns.map((c) => c.grow ?? 0);
    const all = sum(shares);
    return most.map((m, i) => m + (all > 0 ? ((totalMm - hi) * shares[i]!) / all : 0));
  }
  if (lo >= totalMm) return least.map((l) => (l * totalMm) / lo);
  const k = (totalMm - lo) / (hi - lo);
  return least.map((l, i) => l + k * (most[i]! - l));
}

interface LaidRow {
  lines: { text: string; face: Face; sizeMm: number }[][];
  heightMm: number;
  cells: readonly Cell[];
}

/** Lays a table into a flow. A row is kept whole; one taller than a page goes on over the next. */
export function putTable(flow: Flow, w: TableWish): void {
  const { leftMm, widthMm: total, topMm, bottomMm } = flow.column;
  const size = w.sizeMm ?? SIZE.body;
  const small = w.smallMm ?? SIZE.small;
  const widths = columnWidths(w, total);
  const lefts = widths.map((_, i) => leftMm + widths.slice(0, i).reduce((a, b) => a + b, 0));
  const right = leftMm + widths.reduce((a, b) => a + b, 0);

  const lay = (cells: readonly Cell[], face?: Face, sizeMm = size): LaidRow => {
    const lines = w.columns.map((column, i) => {
      const tab = column.align === 'end';
      const cell = cells[i] ?? '';
      const room = widths[i]! - 2 * PAD_MM - (patternOf(cell) === undefined ? 0 : PATTERN_MM);
      const f = face ?? faceOf(cell);
      const text = face === undefined ? unbroken(textOf(cell), tab) : textOf(cell);
      const out =
        text === '' ? [] : wrapped(text, f, sizeMm, room, tab).map((t) => ({ text: t, face: f, sizeMm }));
      const sub = subOf(cell);
      if (sub)
        out.push(
          ...wrapped(sub, 'plain', small, room, tab).map((t) => ({
            text: t,
            face: 'plain' as const,
            sizeMm: small,
          })),
        );
      return out;
    });
    const deep = Math.max(...lines.map((l) => l.reduce((s, x) => s + x.sizeMm * LEADING, 0)));
    return { lines, cells, heightMm: Math.max(deep + 2 * PAD_MM * 0.8, w.rowMm ?? 0) };
  };

  const painted = (row: LaidRow, top: number, head: boolean): PageMark[] => {
    const marks: PageMark[] = [];
    w.columns.forEach((c, i) => {
      const pattern = head ? undefined : patternOf(row.cells[i] ?? '');
      const inset = pattern === undefined ? 0 : PATTERN_MM;
      const room = widths[i]! - 2 * PAD_MM - inset;
      const x =
        c.align === 'end'
          ? lefts[i]! + widths[i]! - PAD_MM
          : c.align === 'middle'
            ? lefts[i]! + widths[i]! / 2
            : lefts[i]! + PAD_MM + inset;
      let y = top + PAD_MM * 0.8;
      if (pattern !== undefined && row.lines[i]![0]) {
        const line = row.lines[i]![0];
        const w = widthOf(line.text, 'bold', line.sizeMm) + 1.5;
        marks.push({
          kind: 'shape',
          points: [
            [x - 0.75, y + line.sizeMm * 0.02],
            [x - 0.75 + w, y + line.sizeMm * 0.02],
            [x - 0.75 + w, y + line.sizeMm * 1.06],
            [x - 0.75, y + line.sizeMm * 1.06],
          ],
          fill: 'ink',
        });
      }
      for (const line of row.lines[i]!) {
        marks.push(
          word([x, y + line.sizeMm * 0.86], line.text, {
            face: line.face,
            sizeMm: line.sizeMm,
            anchor: c.align ?? 'start',
            roomMm: room,
            ...(pattern !== undefined && y < top + PAD_MM ? { ink: 'paper' as const } : {}),
            ...(c.align === 'end' ? { tab: true as const } : {}),
          }),
        );
        y += line.sizeMm * LEADING;
      }
      if (pattern !== undefined)
        marks.push(
          ...patternLine(
            [
              [lefts[i]! + PAD_MM, top + PAD_MM * 0.8 + size * 0.58],
              [lefts[i]! + PAD_MM + PATTERN_MM - 1.7, top + PAD_MM * 0.8 + size * 0.58],
            ],
            pattern,
            0.45,
          ),
        );
      if (c.box && !head)
        for (const bx of [lefts[i]!, lefts[i]! + widths[i]!])
          marks.push({
            kind: 'line',
            points: [
              [bx, top],
              [bx, top + row.heightMm],
            ],
            weightMm: 0.18,
          });
    });
    return marks;
  };
  const rule = (y: number, weightMm: number): PageMark => ({
    kind: 'line',
    points: [
      [leftMm, y],
      [right, y],
    ],
    weightMm,
  });

  const headRow = lay(
    w.columns.map((c) => c.head),
    'plain',
    small,
  );
  headRow.heightMm = Math.max(...headRow.lines.map((l) => l.length)) * small * LEADING + PAD_MM;
  const titles = w.title === undefined ? [] : wrapped(w.title, 'bold', SIZE.strong, total - 16);
  const titleMm = titles.length ? (titles.length - 1) * SIZE.strong * LEADING + SIZE.strong * 1.5 : 0;
  let again = false;
  const putHead = () =>
    flow.put(titleMm + headRow.heightMm, (top) => {
      const marks = titles.map((line, i) =>
        word(
          [leftMm, top + SIZE.strong * (1 + i * LEADING)],
          again && i === titles.length - 1 ? `${line} (goes on)` : line,
          { face: 'bold', sizeMm: SIZE.strong, roomMm: total },
        ),
      );
      again = true;
      return [
        ...marks,
        ...painted(headRow, top + titleMm, true),
        rule(top + titleMm + headRow.heightMm, 0.35),
      ];
    });

  const pageMm = bottomMm - topMm - titleMm - headRow.heightMm;
  const rows = w.rows.flatMap((cells, i) =>
    split(lay(cells), pageMm).map((row, part) => ({
      row,
      heavy: part === 0 && w.heavyOver?.has(i) === true,
    })),
  );
  // A head never stands alone at the foot of a page.
  const first = rows[0]?.row.heightMm ?? 0;
  if (titleMm + headRow.heightMm + first > flow.room()) flow.turn();
  putHead();
  for (const { row, heavy } of rows) {
    if (row.heightMm > flow.room() + 1e-6) {
      flow.turn();
      putHead();
    }
    flow.put(row.heightMm, (top) => [
      ...(heavy ? [rule(top, 0.35)] : []),
      ...painted(row, top, false),
      rule(top + row.heightMm, 0.12),
    ]);
  }
}

/** A row taller than a page as several. */
function split(row: LaidRow, mostMm: number): LaidRow[] {
  if (row.heightMm <= mostMm) return [row];
  const out: LaidRow[] = [];
  let rest = row.lines;
  while (rest.some((l) => l.length)) {
    const part = rest.map((lines) => {
      let deep = 2 * PAD_MM;
      const kept = [];
      for (const l of lines) {
        deep += l.sizeMm * LEADING;
        if (deep > mostMm && kept.length) break;
        kept.push(l);
      }
      return kept;
    });
    const deep = Math.max(...part.map((l) => l.reduce((s, x) => s + x.sizeMm * LEADING, 0)));
    out.push({ lines: part, cells: out.length ? [] : row.cells, heightMm: deep + 2 * PAD_MM * 0.8 });
    rest = rest.map((lines, i) => lines.slice(part[i]!.length));
  }
  return out;
}
