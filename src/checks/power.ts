/**
 * Mains power against published figures and a separate reckoning by script, one row a value. Sources as in
 * REFERENCES.md; `computed` means reckoned outside this code from the inputs named. A verdict is 1 (as expected) or 0.
 * Not here: domestic diversity, which never applies to our loads, and which lamp goes on which socket.
 */
import { circuitsRows } from './power-circuits.ts';
import { devicesRows } from './power-devices.ts';
import { dropsRows } from './power-drops.ts';
import { rowsInto } from './power-rows.ts';
import { earthFaultsRows, neutralsRows, sourcesRows } from './power-sources.ts';
import type { CheckRow } from './row.ts';

/** The check rows of mains power. */
export function rows(): CheckRow[] {
  const out: CheckRow[] = [];
  const into = rowsInto(out);
  dropsRows(into);
  devicesRows(into);
  circuitsRows(into);
  neutralsRows(into);
  sourcesRows(into);
  earthFaultsRows(into);
  return out;
}
