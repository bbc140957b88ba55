/** Pages as lists of marks in millimetres from their top left corner; black on white. No DOM, no library. */

/** Millimetres right and down from the page's top left corner. */
export type At = readonly [number, number];
/** Set upright, set heavy, or in italic serif: what the light does, computed and never typed. */
export type Face = 'plain' | 'bold' | 'said';
/** There are two: black, and the paper itself laid over black. */
export type Ink = 'ink' | 'paper';

export interface TextMark {
  kind: 'text';
  /** On the base line: its start, middle or end by `anchor`. */
  at: At;
  text: string;
  face: Face;
  sizeMm: number;
  anchor: 'start' | 'middle' | 'end';
  /** Figures all of one width, for columns. */
  tab?: true;
  ink?: Ink;
  /** A rim of paper keeps words readable over lines. */
  rim?: true;
  /** The width that was left for it, millimetres: a test holds every text to it. */
  roomMm?: number;
}
export interface LineMark {
  kind: 'line';
  points: readonly At[];
  weightMm: number;
  /** Drawn and left out, in turn, millimetres. */
  dashMm?: readonly number[];
  ink?: Ink;
  /** Round ends, so that a dash of no length is a dot. */
  round?: true;
}
export interface ShapeMark {
  kind: 'shape';
  points: readonly At[];
  fill?: Ink;
  /** Of the outline; absent: none. */
  weightMm?: number;
  dashMm?: readonly number[];
}
export interface CircleMark {
  kind: 'circle';
  centre: At;
  radiusMm: number;
  fill?: Ink;
  weightMm?: number;
  dashMm?: readonly number[];
}
export interface PictureMark {
  kind: 'picture';
  at: At;
  widthMm: number;
  heightMm: number;
  /** Which of the pictures handed in. */
  picture: string;
  words: string;
}
/** Marks of which only what lies inside the rectangle is seen. */
export interface WithinMark {
  kind: 'within';
  at: At;
  widthMm: number;
  heightMm: number;
  marks: readonly PageMark[];
}
export type PageMark = TextMark | LineMark | ShapeMark | CircleMark | PictureMark | WithinMark;

export interface Page {
  widthMm: number;
  heightMm: number;
  /** The sheet it belongs to, in words: what a list of pages shows. */
  title: string;
  marks: PageMark[];
}

/** A picture as handed in. */
export interface Picture {
  /** The file: PNG, 8 bits a channel, no alpha where it can be helped. */
  png: Uint8Array<ArrayBuffer>;
  width: number;
  height: number;
  /** “quick picture”, “noise 0.05 stop”: printed beside it. */
  note: string;
}

/** Paper, millimetres [ISO-216], [ANSI-Y14.1]. Cards are a quarter of the sheet, so that four are cut from one. */
export const PAPERS = {
  a4: { words: 'A4', widthMm: 210, heightMm: 297, card: { words: 'A6', widthMm: 105, heightMm: 148 } },
  letter: {
    words: 'US Letter',
    widthMm: 215.9,
    heightMm: 279.4,
    card: { words: 'quarter Letter', widthMm: 107.95, heightMm: 139.7 },
  },
} as const;
export type PaperName = keyof typeof PAPERS;

/** A point of type, millimetres (72 to the inch, as PDF counts). */
export const PT = 25.4 / 72;

/** Every mark, those within others too. */
export function* allMarks(marks: readonly PageMark[]): Generator<PageMark> {
  for (const m of marks) {
    yield m;
    if (m.kind === 'within') yield* allMarks(m.marks);
  }
}
