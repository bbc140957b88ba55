/** Neutral sheets on a window's glass: `nd-3`, `nd-6`, `nd-9`, `nd-12` by density × 10, as the trade says them. */
import type { Opening } from '../shoot/schema.ts';

/** Density of a neutral sheet by its id; undefined: it is none. */
export const densityOf = (id: string): number | undefined => {
  const m = /^nd-(\d{1,2})$/.exec(id);
  return m ? Number(m[1]) / 10 : undefined;
};

/** What the sheets on an opening's glass pass, 0–1: 10 to the minus density. Unknown ones count as clear. */
export const passesOf = (opening: Pick<Opening, 'panes'> | undefined): number =>
  (opening?.panes ?? []).reduce((t, id) => t * 10 ** -(densityOf(id) ?? 0), 1);
