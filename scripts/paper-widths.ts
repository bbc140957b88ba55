/**
 * Writes src/book/widths.ts: how wide each letter of the three faces on paper is, so that pages can be laid out where
 * no font is at hand.
 *
 *   node --import ./bin/types-hook.js scripts/paper-widths.ts
 */
import { readFileSync, writeFileSync } from 'node:fs';
import PDFDocument from 'pdfkit';
import { FONT_FILES, fontPath } from '../src/cli/fonts.ts';

/** Latin, Greek and Cyrillic, then the signs that a sheet may carry. */
const RANGES: readonly (readonly [number, number])[] = [
  [0x20, 0x7e],
  [0xa0, 0x17f],
  [0x384, 0x3ce],
  [0x400, 0x45f],
  [0x2013, 0x2026],
  [0x20ac, 0x20ac],
  [0x2150, 0x215f],
  [0x2190, 0x2193],
  [0x2200, 0x2265],
];

interface Inside {
  _font: { font: { hasGlyphForCodePoint(code: number): boolean; unitsPerEm: number } };
}

const out: string[] = [];
for (const [face, file] of Object.entries(FONT_FILES)) {
  const doc = new PDFDocument({ autoFirstPage: false });
  doc.registerFont(face, readFileSync(fontPath(file)));
  doc.font(face).fontSize(1000);
  const { font } = (doc as unknown as Inside)._font;
  const lines: string[] = [];
  for (const [from, to] of RANGES) {
    let row: string[] = [];
    for (let code = from; code <= to; code++) {
      const has = font.hasGlyphForCodePoint(code);
      row.push(has ? Math.round(doc.widthOfString(String.fromCodePoint(code))).toString(36) : '-');
      if (row.length === 24 || code === to) {
        const first = code - row.length + 1;
        if (row.some((w) => w !== '-')) lines.push(`    [0x${first.toString(16)}, '${row.join(' ')}'],`);
        row = [];
      }
    }
  }
  const tabs: string[] = [];
  for (const [from, to] of RANGES)
    for (let code = from; code <= to; code++) {
      const c = String.fromCodePoint(code);
      if (!font.hasGlyphForCodePoint(code)) continue;
      const w = Math.round(doc.widthOfString(c, { features: { tnum: true } } as never));
      if (w !== Math.round(doc.widthOfString(c))) tabs.push(`${JSON.stringify(c)}: ${w}`);
    }
  out.push(
    `  ${face}: {\n    tabs: { ${tabs.join(', ')} },\n    rows: [\n${lines.map((l) => `  ${l}`).join('\n')}\n    ],\n  },`,
  );
}
writeFileSync(
  new URL('../src/book/widths.ts', import.meta.url),
  `/**
 * Widths of letters in the faces on paper, thousandths of their size, base 36, from the code point that stands first;
 * \`-\`: the face lacks it. \`tab\`: a figure of a column. Made by scripts/paper-widths.ts from the font files.
 */
export const WIDTHS: Readonly<
  Record<
    'plain' | 'bold' | 'said',
    { readonly tabs: Readonly<Record<string, number>>; readonly rows: readonly (readonly [number, string])[] }
  >
> = {
${out.join('\n')}
};
`,
);
