/** Where somebody can stand, on paper: a page to scale, black, with the hatch where the floor has it. */
import { expect, test } from 'vitest';
import { bookFacts, shootOf } from '../../tests/bookFacts.ts';
import { colourOperators, pageContents } from '../../tests/pdfText.ts';
import { paperFonts } from '../cli/fonts.ts';
import { standDrawing } from '../drawing/standHatch.ts';
import { floorGrid } from '../readings/standGrid.ts';
import { bookOf } from './book.ts';
import { allMarks, PT } from './page.ts';
import { pdfOf } from './pdf.ts';
import { planBlock } from './planBlock.ts';
import { SHEET_IDS } from './sheets.ts';

const shoot = shootOf('kitchen.json');
const bare = bookFacts(shoot);
const ref = bare.angles.find((a) => a.angle === 'OA')!;
const grid = floorGrid(shoot.places.kitchen!, 0.2);
// A level that falls by a stop a metre from the west wall; it holds within half a stop of two metres.
const judged = grid.points.map((at) => ({
  at,
  overStops: 2 - at[0],
  holds: (Math.abs(at[0] - 2) <= 0.5 ? (at[1] > 1.7 ? 2 : 1) : 0) as 0 | 1 | 2,
}));
const drawing = standDrawing(grid, judged);
const f = { ...bare, stands: [{ ref, mark: 'A', drawing, says: 'Hatched, 2.0 m²: as asked.' }] };
const pages = bookOf(f, SHEET_IDS);
const mine = pages.filter((p) => p.sheet === 'stands');

test('one page where a map was asked for, none where not, none for an angle that is not printed', () => {
  expect(mine).toHaveLength(1);
  expect(bookOf(bare, SHEET_IDS).some((p) => p.sheet === 'stands')).toBe(false);
  const others = { ...f, angles: f.angles.filter((a) => a.angle !== 'OA') };
  expect(bookOf(others, SHEET_IDS).some((p) => p.sheet === 'stands')).toBe(false);
});

test('hatch, dots and lines lie true to scale where the floor has them', () => {
  const block = planBlock(f, ref, 188, 200, { floor: drawing });
  const l = block.laid(0, 0);
  const inner = [...allMarks(block.paint(0, 0))];
  const k = l.scale / 1000;
  const metres = ([x, y]: readonly [number, number]) =>
    [l.from[0] + (x - l.at[0]) * k, l.from[1] + (l.at[1] - y) * k] as const;
  const strokes = inner.filter((m) => m.kind === 'line' && m.weightMm === 0.16 && m.points.length === 2);
  // Four to a cell that holds all.
  const cells = judged.filter((j) => j.holds === 2).length;
  expect(cells).toBeGreaterThan(10);
  expect(strokes.length).toBeGreaterThanOrEqual(4 * cells);
  // All within the half metre to each side of x = 2, and the half cell of their point.
  const hatch = strokes
    .flatMap((m) => (m.kind === 'line' ? m.points : []))
    .map(metres)
    .filter(([x, y]) => Math.abs(x - 2) < 0.65 && y > 1.55);
  expect(hatch.length).toBe(2 * 4 * cells);
  // The line of the set stop stands at two metres.
  const set = drawing.lines.find((x) => x.stops === 0)!;
  const heavy = inner.find(
    (m) => m.kind === 'line' && m.weightMm === 0.5 && m.points.length === set.points.length,
  );
  for (const p of heavy && heavy.kind === 'line' ? heavy.points : []) expect(metres(p)[0]).toBeCloseTo(2, 1);
  expect(heavy).toBeDefined();
});

test('black only, no letter under 6.5 pt, with its scale and what hatch and dots mean', async () => {
  const texts = [...allMarks(mine[0]!.marks)].flatMap((m) => (m.kind === 'text' ? [m] : []));
  for (const t of texts) expect(t.sizeMm / PT, t.text).toBeGreaterThanOrEqual(6.5);
  const words = texts.map((t) => t.text).join(' ');
  expect(words).toMatch(/1:\d+/);
  expect(words).toContain('all holds: level, side, eyes');
  expect(words).toContain('Where A can stand');
  expect(words).toMatch(/not metered/);
  const pdf = await pdfOf(mine, { title: 't', made: new Date(0), fonts: paperFonts(), pictures: f.pictures });
  for (const c of pageContents(Buffer.from(pdf)))
    for (const op of new Set(colourOperators(c))) expect(['0 g', '1 g', '0 G', '1 G']).toContain(op);
});
