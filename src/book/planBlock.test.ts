import { expect, test } from 'vitest';
import { bookFacts, shootOf } from '../../tests/bookFacts.ts';
import { pageContents } from '../../tests/pdfText.ts';
import { paperFonts } from '../cli/fonts.ts';
import type { Shoot } from '../shoot/schema.ts';
import { toPage } from './onPaper.ts';
import { allMarks, type Page, PT } from './page.ts';
import { pdfOf } from './pdf.ts';
import { planBlock } from './planBlock.ts';
import { chooseScale, scaleBar } from './scale.ts';
import { pageSvg } from './svg.ts';

const WALL_MM = 0.85;
const pageOf = (shoot: Shoot): { page: Page; scale: number } => {
  const f = bookFacts(shoot);
  const block = planBlock(f, f.angles[0]!, 188, 224);
  return {
    scale: block.scale,
    page: { widthMm: 210, heightMm: 297, title: 'plan', marks: block.paint(11, 26) },
  };
};

for (const name of ['kitchen.json', 'slack-water.json'])
  test(`${name}: a metre of wall is as long on paper as the scale says, in the PDF and in the SVG`, async () => {
    const shoot = shootOf(name);
    const { page, scale } = pageOf(shoot);
    const wallsM = Object.values(shoot.places)[0]!.outline.flat();
    const wideM = Math.max(...wallsM.filter((_, i) => i % 2 === 0));

    // The PDF: walls are the lines of their own weight; the page's frame turns points into millimetres first.
    const pdf = await pdfOf([page], { title: 't', made: new Date(0), fonts: paperFonts(), pictures: {} });
    const [content] = pageContents(pdf);
    expect(content).toContain(`${+(1 / PT).toFixed(6)} 0 0 ${+(1 / PT).toFixed(6)} 0 0 cm`);
    const xs: number[] = [];
    for (const m of content!.matchAll(
      new RegExp(`${WALL_MM} w\\n0 J\\n0 j\\n\\[\\] 0 d\\n0 G\\n((?:[-\\d.]+ [-\\d.]+ [ml]\\n)+)S`, 'g'),
    ))
      for (const p of m[1]!.matchAll(/([-\d.]+) [-\d.]+ [ml]/g)) xs.push(Number(p[1]));
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo((wideM * 1000) / scale, 3);

    // The SVG: one unit to the millimetre, by its own frame.
    const svg = pageSvg(page, { pictureUrl: () => undefined });
    expect(svg).toContain('viewBox="0 0 210 297" width="210mm" height="297mm"');
    const sx = [
      ...svg.matchAll(
        new RegExp(
          `d="M([-\\d.]+) [-\\d.]+L([-\\d.]+) [-\\d.]+" fill="none" stroke="#000" stroke-width="${WALL_MM}"`,
          'g',
        ),
      ),
    ].flatMap((m) => [Number(m[1]), Number(m[2])]);
    expect(Math.max(...sx) - Math.min(...sx)).toBeCloseTo((wideM * 1000) / scale, 2);
  });

test('north is up and east is right; a metre is 1000/scale mm both ways', () => {
  const laid = { scale: 50, from: [-1, -2], at: [11, 200] } as const;
  expect(toPage(laid, [-1, -2])).toEqual([11, 200]);
  expect(toPage(laid, [0, -2])).toEqual([31, 200]);
  expect(toPage(laid, [-1, -1])).toEqual([11, 180]);
});

test('the scale is the largest of the preferred ones that fits, feet where feet are used', () => {
  const metric = { imperial: false, footcandles: false };
  const feet = { imperial: true, footcandles: true };
  expect(chooseScale([3, 3], [188, 200], metric)).toBe(20);
  expect(chooseScale([9, 9], [188, 200], metric)).toBe(50);
  expect(chooseScale([9.5, 9], [188, 200], metric)).toBe(100);
  expect(chooseScale([4, 4], [188, 200], feet)).toBe(24);
  expect(chooseScale([8, 8], [188, 200], feet)).toBe(48);
  // A quarter of an inch to the foot: twelve feet are three inches.
  expect((12 * 304.8) / 48 / 25.4).toBeCloseTo(3, 9);
});

test('the bar is as long as its last figure says', () => {
  for (const [scale, u] of [
    [50, { imperial: false, footcandles: false }],
    [100, { imperial: false, footcandles: false }],
    [48, { imperial: true, footcandles: true }],
  ] as const) {
    const { marks } = scaleBar([0, 0], scale, u);
    const blocks = marks.flatMap((m) => (m.kind === 'shape' ? m.points.map((p) => p[0]) : []));
    const last = marks.flatMap((m) => (m.kind === 'text' ? [m.text] : [])).at(-1)!;
    const metres = Number.parseFloat(last) * (u.imperial ? 0.3048 : 1);
    expect(Math.max(...blocks)).toBeCloseTo((metres * 1000) / scale, 6);
  }
});

test('a socket in the next field does not shrink the room: an arrow at the edge says how far it is', () => {
  const shoot = structuredClone(shootOf('kitchen.json'));
  const { scale } = pageOf(shoot);
  shoot.places.kitchen!.supply.sockets.K1!.at = [-40, 2.4, 0.3];
  const far = pageOf(shoot);
  expect(far.scale).toBe(scale);
  const said = [...allMarks(far.page.marks)].flatMap((m) => (m.kind === 'text' ? [m.text] : []));
  const metres = said.flatMap((t) => /^K1, ([\d.]+) m on$/.exec(t)?.[1] ?? []).map(Number);
  expect(metres).toHaveLength(1);
  // From the sheet's west edge, which lies within a metre of the room's wall, along a line that rises little.
  expect(metres[0]).toBeGreaterThan(39);
  expect(metres[0]).toBeLessThan(41);
});
