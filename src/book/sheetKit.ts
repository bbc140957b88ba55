/** Kit and leads, counted from the rigs: what is needed at the peak, what is held, what is short. */
import { kitList } from '../scheme/kitList.ts';
import { putWords } from './blocks.ts';
import type { BookFacts } from './facts.ts';
import { type DraftPage, newSheet } from './sheet.ts';
import { putTable } from './table.ts';
import { SIZE } from './type.ts';

export function sheetKit(f: BookFacts): DraftPage[] {
  const list = kitList(f.shoot);
  const sheet = newSheet(f, {
    title: 'Kit and leads',
    about: 'the most that any one angle needs, over all scenes of this shoot',
    foot: list.perDay ? `Priced things, together: ${list.perDay.toFixed(2)} a day` : 'No prices told',
  });
  for (const g of list.groups) {
    putTable(sheet.flow, {
      title: g.words,
      columns: [
        { head: 'what', grow: 1, widthMm: 45 },
        { head: 'need', align: 'end', widthMm: 11 },
        { head: 'have', align: 'end', widthMm: 11 },
        { head: 'short', align: 'end', widthMm: 11 },
        { head: 'from where', widthMm: 36 },
        { head: 'because of', widthMm: 48 },
        { head: 'packed', widthMm: 14, box: true },
        { head: 'back', widthMm: 12, box: true },
      ],
      sizeMm: SIZE.small,
      rows: g.lines.map((l) => {
        const short = l.held === undefined ? undefined : Math.max(0, l.needed - l.held);
        return [
          l.words,
          { text: String(l.needed), face: 'bold' as const },
          l.held === undefined ? (g.counted ? '?' : '') : String(l.held),
          short ? { text: String(short), face: 'bold' as const } : '',
          `${l.how}${l.perDay === undefined ? '' : `, ${l.perDay} a day`}`,
          l.because,
          '',
          '',
        ];
      }),
    });
    sheet.flow.gap(3);
  }
  putWords(
    sheet.flow,
    'Counted: the angle that needs most. “?”: the shoot does not say which thing of the kit it is. Check plugs, leads and stands for damage as they are packed; one that is cracked, hot or loose stays at home.',
    { sizeMm: SIZE.small },
  );
  return sheet.finish();
}
