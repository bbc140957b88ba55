/** Tables for the terminal: columns as wide as what stands in them, numbers to the right. */

/** A column's heading; `right` for figures. */
export interface Column {
  head: string;
  right?: boolean;
}

// One terminal cell a character is enough here: our words are Latin, our signs narrow.
const wide = (text: string) => [...text].length;

/** A table as lines of text, without a line end after the last. Cells left empty stay empty. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const widths = columns.map((c, i) => Math.max(wide(c.head), ...rows.map((row) => wide(row[i] ?? ''))));
  const line = (cells: readonly string[]) =>
    columns
      .map((c, i) => {
        const text = cells[i] ?? '';
        const gap = ' '.repeat(widths[i]! - wide(text));
        return c.right ? gap + text : text + gap;
      })
      .join('  ')
      .trimEnd();
  return [line(columns.map((c) => c.head)), line(widths.map((n) => '─'.repeat(n))), ...rows.map(line)].join(
    '\n',
  );
}

/** A figure to so many places, with a true minus; unknown is a question mark, never 0. */
export const figure = (value: number | undefined, places = 1): string =>
  value === undefined || Number.isNaN(value)
    ? '?'
    : value
        .toFixed(places)
        .replace('-', '−')
        .replace(/^−(0(\.0*)?)$/, '$1');

/** A difference in stops, with its sign. */
export const signed = (value: number | undefined, places = 1): string => {
  const text = figure(value, places);
  return text === '?' || text.startsWith('−') || Number(text) === 0 ? text : `+${text}`;
};
