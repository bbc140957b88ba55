/** From a shoot and what was read of it to a book: pages in order, each with its number. */
import type { BookFacts } from './facts.ts';
import type { Page } from './page.ts';
import { SHEETS, type SheetId } from './sheets.ts';

export interface BookPage extends Page {
  sheet: SheetId;
}

/** The sheets asked for, in the order they are bound, numbered through. A sheet with nothing to say has no page. */
export function bookOf(f: BookFacts, sheets: readonly SheetId[]): BookPage[] {
  const drafts = SHEETS.filter((s) => sheets.includes(s.id)).flatMap((s) =>
    s.build(f).map((page) => ({ page, sheet: s.id })),
  );
  return drafts.map(({ page: { foot, ...page }, sheet }, i) => ({
    ...page,
    sheet,
    marks: [...page.marks, ...foot(i + 1, drafts.length)],
  }));
}
