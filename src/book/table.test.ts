import fc from 'fast-check';
import { expect, test } from 'vitest';
import { newFlow } from './flow.ts';
import type { TextMark } from './page.ts';
import { columnWidths, putTable } from './table.ts';
import { widthOf } from './type.ts';

const column = { leftMm: 10, topMm: 20, widthMm: 150, bottomMm: 120 };
const texts = (marks: readonly { kind: string }[]) => marks.filter((m): m is TextMark => m.kind === 'text');
const cellText = fc.string({ unit: fc.constantFrom('a', 'b', ' ', 'W', '1', 'é'), maxLength: 90 });

test('a table breaks over pages without losing a row or a word, heads again on every page', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(cellText, cellText), { minLength: 1, maxLength: 60 }), (cells) => {
      const flow = newFlow(column);
      putTable(flow, {
        title: 'Title',
        columns: [{ head: 'n', align: 'end' }, { head: 'first', grow: 1 }, { head: 'second' }],
        rows: cells.map(([a, b], i) => [`#${i}`, a, b]),
      });
      const pages = flow.pages.map(texts);
      const all = pages.flat().map((t) => t.text);
      // Every row once, in order.
      expect(all.filter((t) => t.startsWith('#'))).toEqual(cells.map((_, i) => `#${i}`));
      // Every letter of every cell.
      const letters = (s: string) => [...s.replaceAll(' ', '')].sort().join('');
      const body = all.filter(
        (t) => !t.startsWith('#') && !['n', 'first', 'second'].includes(t) && !t.startsWith('Title'),
      );
      expect(letters(body.join(''))).toBe(letters(cells.flat().join('')));
      for (const page of pages) {
        expect(page.filter((t) => t.text === 'first')).toHaveLength(1);
        expect(page.some((t) => t.text.startsWith('#') || body.includes(t.text))).toBe(true);
        for (const t of page) {
          expect(t.at[1]).toBeLessThanOrEqual(column.bottomMm);
          expect(t.at[1]).toBeGreaterThanOrEqual(column.topMm);
          expect(widthOf(t.text, t.face, t.sizeMm, t.tab)).toBeLessThanOrEqual(t.roomMm! + 1e-6);
        }
      }
    }),
    { numRuns: 60 },
  );
});

test('columns take the whole width and no more', () => {
  fc.assert(
    fc.property(fc.array(cellText, { minLength: 3, maxLength: 3 }), (row) => {
      const w = { columns: [{ head: 'a', grow: 1 }, { head: 'b' }, { head: 'c', widthMm: 20 }], rows: [row] };
      const widths = columnWidths(w, 150);
      expect(widths.reduce((a, b) => a + b, 0)).toBeCloseTo(150, 6);
      expect(Math.min(...widths)).toBeGreaterThan(0);
    }),
  );
});

test('a row taller than a page goes on over the next', () => {
  const flow = newFlow(column);
  const words = Array.from({ length: 900 }, (_, i) => `w${i}`);
  putTable(flow, { columns: [{ head: 'long', widthMm: 60 }], rows: [[words.join(' ')]] });
  expect(flow.pages.length).toBeGreaterThan(2);
  const said = flow.pages.flatMap((p) => texts(p).map((t) => t.text)).filter((t) => t !== 'long');
  expect(said.join(' ').split(' ')).toEqual(words);
});
