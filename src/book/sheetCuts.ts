/** Gel and diffusion to be cut: size for each head, how many, how much of the roll. */
import { cutList, cutTotals, ROLL_M } from '../scheme/cutList.ts';
import { putWords } from './blocks.ts';
import { type BookFacts, scenesOf, unitsFor } from './facts.ts';
import { type DraftPage, newSheet } from './sheet.ts';
import { putTable } from './table.ts';
import { SIZE } from './type.ts';
import { lengthOf } from './units.ts';

export function sheetCuts(f: BookFacts): DraftPage[] {
  const cuts = cutList(f.shoot);
  const scene = scenesOf(f)[0];
  if (cuts.length === 0 || scene === undefined) return [];
  const u = unitsFor(f, scene);
  const totals = cutTotals(f.shoot, cuts);
  const sheet = newSheet(f, {
    title: 'Cut list',
    about: 'gel and diffusion for the doors and frames of this shoot',
  });
  const order = { gel: 0, diffusion: 1, other: 2 };
  putTable(sheet.flow, {
    title: 'Pieces',
    columns: [
      { head: 'sheet', grow: 1 },
      { head: 'for', grow: 2 },
      { head: 'wide', align: 'end' },
      { head: 'high', align: 'end' },
      { head: 'pieces', align: 'end' },
      { head: 'angles', grow: 1 },
      { head: 'cut', widthMm: 12, box: true },
    ],
    rows: [...cuts]
      .sort((a, b) => order[a.kind] - order[b.kind] || a.words.localeCompare(b.words))
      .map((c) => [
        { text: c.words, face: 'bold' as const },
        c.forWhat,
        lengthOf(c.widthM, u),
        lengthOf(c.heightM, u),
        String(c.count),
        c.angles.length ? c.angles.join(', ') : 'all',
        '',
      ]),
  });
  sheet.flow.gap(4);
  putTable(sheet.flow, {
    title: 'Off the roll',
    columns: [
      { head: 'sheet', grow: 1 },
      { head: 'pieces', align: 'end' },
      { head: `of a ${lengthOf(ROLL_M, u)} roll`, align: 'end' },
      { head: 'sheets held', align: 'end' },
      { head: 'note', grow: 2, box: true },
    ],
    rows: totals.map((t) => [
      { text: t.words, face: 'bold' as const },
      String(t.pieces),
      lengthOf(t.rollM, u),
      t.held === undefined ? 'none told' : String(t.held),
      '',
    ]),
  });
  sheet.flow.gap(3);
  putWords(
    sheet.flow,
    'Each piece is the head’s own housing with 6 cm on every side, to 5 cm: enough to be pegged on the doors (common practice, no source). Measure the real doors before cutting. One piece more of each is seldom regretted: hot gel fades and cracks. Sheets stand off the glass; what smells or smokes comes off with gloves, lamp out.',
    { sizeMm: SIZE.small },
  );
  return sheet.finish();
}
