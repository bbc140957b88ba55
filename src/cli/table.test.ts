import { expect, test } from 'vitest';
import { progress } from './progress.ts';
import { figure, signed, table } from './table.ts';

test('columns line up, figures to the right', () => {
  expect(
    table(
      [{ head: 'lamp' }, { head: 'A', right: true }],
      [
        ['kettle', '9.6'],
        ['½ CTO', '12.0'],
      ],
    ),
  ).toBe('lamp       A\n──────  ────\nkettle   9.6\n½ CTO   12.0');
});

test('figures: unknown is a question mark, no minus zero, a true minus', () => {
  expect([figure(undefined), figure(Number.NaN), figure(-0.04), figure(-1.25, 2), figure(0)]).toEqual([
    '?',
    '?',
    '0.0',
    '−1.25',
    '0.0',
  ]);
  expect([signed(0.74), signed(-0.74), signed(0.04), signed(undefined)]).toEqual([
    '+0.7',
    '−0.7',
    '0.0',
    '?',
  ]);
});

test('a bar is drawn for a terminal only, and cleared', () => {
  const said: string[] = [];
  const write = (text: string) => said.push(text);
  const silent = progress('Reading', { write });
  silent.at(0.5);
  silent.end();
  expect(said).toEqual([]);
  const bar = progress('Reading', { isTTY: true, columns: 60, write });
  bar.at(0.5, 'K OA');
  bar.at(0.5, 'K OA');
  bar.end();
  expect(said).toEqual([`\r\x1b[KReading ${'━'.repeat(12)}${'·'.repeat(12)} K OA`, '\r\x1b[K']);
});
