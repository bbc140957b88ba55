/** Stops as they are said on a lens: marked numbers and thirds. */
const MARKS = ['0.5', '0.7', '1', '1.4', '2', '2.8', '4', '5.6', '8', '11', '16', '22', '32', '45', '64'];
/** Where T1 stands in that list. */
const ONE = 2;
/** With the fraction slash: the faces of the page have no glyph of their own for thirds, and set these as one. */
export const THIRD = ['', '1⁄3', '2⁄3'] as const;
/** A whole number before a third stands off by a thin space. */
const THIN = '\u2009';
export const wholeAndThird = (whole: string, third: number): string =>
  third === 0 ? whole : whole === '' ? THIRD[third]! : `${whole}${THIN}${THIRD[third]}`;

/** The nearest third of a stop to a T-number, in thirds from T1. */
export const thirdsOf = (stop: number): number => Math.round(6 * Math.log2(stop));
/** The T-number so many thirds from T1. */
export const ofThirds = (thirds: number): number => 2 ** (thirds / 6);

/** T2.8, T2.8 1⁄3 (a third closed from 2.8), T4. */
export function stopWords(stop: number): string {
  if (!(stop > 0) || !Number.isFinite(stop)) return 'T?';
  const thirds = thirdsOf(stop);
  const whole = Math.floor(thirds / 3);
  const mark = MARKS[whole + ONE];
  return mark === undefined
    ? `T${Number(stop.toPrecision(2))}`
    : `T${wholeAndThird(mark, thirds - 3 * whole)}`;
}

/** A difference in thirds with its sign in words: “1 1⁄3 under”, “as planned”. */
export function thirdWords(stops: number, under: string, over: string, none: string): string {
  const thirds = Math.round(3 * Math.abs(stops));
  if (thirds === 0) return none;
  const whole = Math.floor(thirds / 3);
  return `${wholeAndThird(whole ? String(whole) : '', thirds % 3)} ${stops < 0 ? under : over}`;
}
