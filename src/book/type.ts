/** Type on paper: how wide words are, how they break into lines, which letters a face has. */
import { type At, type Face, PT, type TextMark } from './page.ts';
import { WIDTHS } from './widths.ts';

const letters = Object.fromEntries(
  Object.entries(WIDTHS).map(([face, { rows }]) => {
    const map = new Map<string, number>();
    for (const [first, row] of rows)
      row.split(' ').forEach((w, i) => {
        if (w !== '-') map.set(String.fromCodePoint(first + i), Number.parseInt(w, 36) / 1000);
      });
    return [face, map];
  }),
) as Record<Face, Map<string, number>>;

/** What stands for a sign that the faces lack. */
const STANDS: Record<string, string> = {
  '′': "'",
  '″': '"',
  '\u2009': ' ',
  '\u202f': ' ',
  '\u00a0': ' ',
  '\t': ' ',
  '⅛': '1/8',
  '⅓': ' 1/3',
  '⅔': ' 2/3',
  '→': 'to',
  Ω: 'ohm',
  '☐': '',
  '≠': '/=',
};

/** The text in letters that the face has; what no face has is a question mark. */
export function lettered(text: string, face: Face = 'plain'): string {
  const has = letters[face];
  let out = '';
  for (const c of text.normalize('NFC')) {
    if (has.has(c)) out += c;
    else if (STANDS[c] !== undefined) out += STANDS[c];
    else if (/\p{Mark}|\p{Cf}|\p{Cc}/u.test(c)) out += c === '\n' ? ' ' : '';
    else out += '?';
  }
  return out;
}

/** Width, millimetres. Pairs are not drawn closer here: what is painted is no wider. */
export function widthOf(text: string, face: Face, sizeMm: number, tab = false): number {
  const has = letters[face];
  let w = 0;
  for (const c of text) w += (tab ? (WIDTHS[face].tabs[c] ?? 0) / 1000 : 0) || (has.get(c) ?? 0.6);
  return w * sizeMm;
}

/** Lines no wider than `roomMm`, broken at spaces; a word wider than the room is broken within. */
export function wrapped(text: string, face: Face, sizeMm: number, roomMm: number, tab = false): string[] {
  const lines: string[] = [];
  let line = '';
  const fits = (t: string) => widthOf(t, face, sizeMm, tab) <= roomMm;
  for (let word of lettered(text, face).split(/ +/)) {
    if (line !== '' && fits(`${line} ${word}`)) {
      line += ` ${word}`;
      continue;
    }
    if (line !== '') lines.push(line);
    while (!fits(word) && [...word].length > 1) {
      const all = [...word];
      let n = all.length - 1;
      while (n > 1 && !fits(all.slice(0, n).join(''))) n--;
      lines.push(all.slice(0, n).join(''));
      word = all.slice(n).join('');
    }
    line = word;
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  return lines;
}

/** Sizes on A4, millimetres; the smallest is read on a photograph of the sheet a thousand pixels wide. */
export const SIZE = {
  small: 8 * PT,
  body: 9 * PT,
  strong: 10.5 * PT,
  head: 13 * PT,
  title: 18 * PT,
  big: 26 * PT,
};
export const LEADING = 1.22;

export type Style = Partial<Omit<TextMark, 'kind' | 'at' | 'text'>>;

/** One line of text as a mark. */
export function word(at: At, text: string, style: Style = {}): TextMark {
  const { face = 'plain', sizeMm = SIZE.body, anchor = 'start', ...rest } = style;
  return { kind: 'text', at, text: lettered(text, face), face, sizeMm, anchor, ...rest };
}

/** A paragraph: its marks with the first base line at `at`, and how deep it is. */
export function paragraph(
  at: At,
  text: string,
  roomMm: number,
  style: Style = {},
): { marks: TextMark[]; heightMm: number } {
  const { face = 'plain', sizeMm = SIZE.body } = style;
  const lines = wrapped(text, face, sizeMm, roomMm);
  return {
    marks: lines.map((l, i) => word([at[0], at[1] + i * sizeMm * LEADING], l, { ...style, roomMm })),
    heightMm: lines.length * sizeMm * LEADING,
  };
}
