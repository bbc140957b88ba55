import PDFDocument from 'pdfkit';
import { expect, test } from 'vitest';
import { paperFonts } from '../cli/fonts.ts';
import { lettered, widthOf, wrapped } from './type.ts';

// The library that paints the pages measures from the font files themselves.
const doc = new PDFDocument({ autoFirstPage: false });
const fonts = paperFonts();
for (const face of ['plain', 'bold', 'said'] as const) doc.registerFont(face, fonts[face]);
const painted = (text: string, face: 'plain' | 'bold' | 'said', tab = false) =>
  doc
    .font(face)
    .fontSize(10)
    .widthOfString(text, tab ? { features: ['tnum'] } : {});

const SENTENCES = [
  'Sphinx of black quartz, judge my vow: 0123456789',
  'Two Tungsten heads, AV WAVE Tôt “quoted” → ≤ ≥ ⅓ ½ ≈ − ± ° ² × ’ …',
  'h 2.20 ↓21°, 10 o’clock, 12.5 A of 13 A (96 %)',
  'Größe, Zürich, façade, Łódź, œuvre, Ελληνικά, Москва',
];

test('words are laid out no narrower than they are painted, and hardly wider', () => {
  for (const face of ['plain', 'bold', 'said'] as const)
    for (const s of SENTENCES) {
      const text = lettered(s, face);
      const [ours, theirs] = [widthOf(text, face, 10), painted(text, face)];
      // Pairs drawn closer make it narrower by a few per cent; a handful of pairs stand wider by a hair.
      expect(theirs / ours, `${face}: ${text}`).toBeLessThan(1.005);
      expect(theirs / ours, `${face}: ${text}`).toBeGreaterThan(0.93);
    }
});

test('figures of columns are all as wide as one another, as the font makes them', () => {
  for (const face of ['plain', 'bold', 'said'] as const) {
    // The italic's 7 is wider than its sisters; only upright figures stand in columns.
    if (face !== 'said')
      for (const d of '0123456789') expect(painted(d, face, true)).toBeCloseTo(painted('0', face, true), 5);
    for (const s of ['0123456789', '100 %', '−1.5 °'])
      expect(Math.abs(widthOf(s, face, 10, true) / painted(s, face, true) - 1)).toBeLessThan(0.02);
  }
});

test('the faces on paper have every sign that sheets need', () => {
  for (const c of '→←↑↓≤≥⅓⅔½¼¾≈−±×°²µ…’“”·•–—') {
    expect(lettered(c, 'plain')).toBe(c);
    expect(lettered(c, 'bold')).toBe(c);
  }
  expect(lettered('7′ 2″', 'plain')).toBe('7\' 2"');
  expect(lettered('漢', 'plain')).toBe('?');
  expect(lettered('T2.8⅓', 'said')).toBe('T2.8 1/3');
  expect(lettered('a\nb\u200d', 'plain')).toBe('a b');
});

test('wrapping keeps every word, and every line fits', () => {
  const text = `${SENTENCES.join(' ')} averyverylongwordthatfitsnowhereatallandmustbebroken`;
  for (const room of [12, 20, 45, 90]) {
    const lines = wrapped(text, 'plain', 3, room);
    for (const l of lines) expect(widthOf(l, 'plain', 3)).toBeLessThanOrEqual(room + 1e-9);
    expect(lines.join('').replaceAll(' ', '')).toBe(lettered(text).replaceAll(' ', ''));
  }
});
