/** The whole book of every shoot that comes along: it prints, in black, with every lamp, and nothing runs out of its box. */
import { readdirSync } from 'node:fs';
import PDFDocument from 'pdfkit';
import { describe, expect, test } from 'vitest';
import { bookFacts, shootOf } from '../../tests/bookFacts.ts';
import { colourOperators, pageContents } from '../../tests/pdfText.ts';
import { paperFonts } from '../cli/fonts.ts';
import { ampsUp } from '../power/verdict.ts';
import { cutList } from '../scheme/cutList.ts';
import { powerSheet } from '../scheme/powerSheet.ts';
import { sectionsOf } from '../scheme/section.ts';
import { supplyOf } from '../setup/weights.ts';
import type { Shoot } from '../shoot/schema.ts';
import { type BookPage, bookOf } from './book.ts';
import { cardPages, PHONE_CARD, pocketCard } from './cards.ts';
import { allMarks, type Page, type PictureMark, PT, type TextMark } from './page.ts';
import { pdfOf } from './pdf.ts';
import { SHEET_IDS } from './sheets.ts';
import { pageSvg } from './svg.ts';

const fonts = paperFonts();
const doc = new PDFDocument({ autoFirstPage: false });
for (const face of ['plain', 'bold', 'said'] as const) doc.registerFont(face, fonts[face]);
const trueWidth = (t: TextMark) =>
  doc
    .font(t.face)
    .fontSize(t.sizeMm)
    .widthOfString(t.text, t.tab ? { features: ['tnum'] } : {});
const textsOf = (p: Page): TextMark[] =>
  [...allMarks(p.marks)].filter((m): m is TextMark => m.kind === 'text');
const wordsOf = (pages: readonly Page[]) => pages.flatMap((p) => textsOf(p).map((t) => t.text));
const shoots = readdirSync(new URL('../../shoots/', import.meta.url)).filter((f) => f.endsWith('.json'));

/** No text is painted wider than the room that was left for it, none leaves its page or is too small to read. */
function fits(page: Page, leastPt: number): void {
  for (const t of textsOf(page)) {
    const w = trueWidth(t);
    const what = `${page.title}: “${t.text}”`;
    if (t.roomMm !== undefined) expect(w, what).toBeLessThanOrEqual(t.roomMm * 1.005 + 0.05);
    const x0 = t.at[0] - (t.anchor === 'end' ? w : t.anchor === 'middle' ? w / 2 : 0);
    expect(x0, what).toBeGreaterThanOrEqual(0);
    expect(x0 + w, what).toBeLessThanOrEqual(page.widthMm);
    expect(t.at[1], what).toBeLessThanOrEqual(page.heightMm);
    expect(t.at[1] - t.sizeMm, what).toBeGreaterThanOrEqual(0);
    expect(t.sizeMm / PT, what).toBeGreaterThanOrEqual(leastPt - 1e-9);
  }
}

const feet = (shoot: Shoot): Shoot => ({ ...shoot, units: 'imperial', light: 'footcandle' });

describe.each(shoots)('%s', (name) => {
  const shoot = shootOf(name);
  const f = bookFacts(shoot);
  const pages = bookOf(f, SHEET_IDS);
  const sheetPages = (id: BookPage['sheet']) => pages.filter((p) => p.sheet === id);

  test('every sheet has a page, each numbered in the whole, each with the version', () => {
    // Where nothing is pegged there is nothing to cut; where nothing hangs or shines in, no section.
    const needless = new Set([
      // A map of the floor is printed when somebody has asked for one.
      'stands',
      ...(cutList(shoot).length ? [] : ['cuts']),
      ...(f.angles.some((a) => sectionsOf(shoot, a).length) ? [] : ['section']),
    ]);
    for (const id of SHEET_IDS) expect(sheetPages(id).length > 0, id).toBe(!needless.has(id));
    pages.forEach((p, i) => {
      const words = wordsOf([p]);
      expect(words).toContain('3');
      if (p.sheet !== 'cards')
        expect(
          words.some((w) => w.includes(`${i + 1} of ${pages.length}`)),
          p.title,
        ).toBe(true);
    });
  });

  test('every lamp stands on the plan of every angle and on its card, by number and height', () => {
    for (const ref of f.angles) {
      const lamps = Object.values(shoot.scenes[ref.scene]!.rig.lamps);
      const plan = wordsOf(sheetPages('angles').filter((p) => p.title.startsWith(`Angle ${ref.angle}:`)));
      const card = wordsOf(cardPages(f, ref, pocketCard(f)));
      for (const l of lamps) {
        expect(
          plan.filter((w) => w === l.number).length,
          `${l.number} on the plan of ${ref.angle}`,
        ).toBeGreaterThanOrEqual(2);
        expect(
          plan.some((w) => w.includes(`h ${l.at[2].toFixed(2)}`)),
          `height of ${l.number}`,
        ).toBe(true);
        expect(card, `${l.number} on the card of ${ref.angle}`).toContain(l.number);
      }
    }
  });

  test.each(['a4', 'letter'] as const)(
    'nothing runs out of its box on %s, in metres and in feet',
    (paper) => {
      for (const s of [shoot, feet(shoot)]) {
        const facts = bookFacts(s, { paper });
        for (const p of bookOf(facts, SHEET_IDS)) fits(p, 7);
        for (const ref of facts.angles) {
          for (const p of cardPages(facts, ref, pocketCard(facts))) fits(p, 7);
          // On a phone 390 px wide no text is under 13 px.
          for (const p of cardPages(facts, ref, PHONE_CARD)) fits(p, ((13 / 390) * p.widthMm) / PT);
        }
      }
    },
  );

  test('black only: no colour operator but black and paper, in any page', async () => {
    const pdf = await pdfOf(pages, { title: 't', made: new Date(0), fonts, pictures: f.pictures });
    const contents = pageContents(pdf);
    expect(contents).toHaveLength(pages.length);
    for (const c of contents) {
      const used = new Set(colourOperators(c));
      for (const op of used) expect(['0 g', '1 g', '0 G', '1 G']).toContain(op);
      expect(used).toContain('0 g');
    }
    for (const p of pages)
      for (const [, v] of pageSvg(p, { pictureUrl: () => undefined }).matchAll(/(?:fill|stroke)="([^"]+)"/g))
        expect(['#000', '#fff', 'none']).toContain(v);
  });

  test('the same pages at the same instant are the same file', async () => {
    const few = pages.slice(0, 2);
    const wish = { title: 't', made: new Date(0), fonts, pictures: f.pictures };
    expect(Buffer.from(await pdfOf(few, wish)).equals(Buffer.from(await pdfOf(few, wish)))).toBe(true);
  });

  test('amps on the power sheet are those of the solved supply, circuit by circuit', () => {
    for (const scene of Object.keys(shoot.scenes)) {
      const sheet = powerSheet(shoot, scene);
      for (const c of sheet.circuits) {
        const solved = Object.keys(shoot.scenes[scene]!.angles).map(
          (angle) => supplyOf(shoot, { scene, angle }).circuits.find((x) => x.id === c.id)!,
        );
        const worst = Math.max(...solved.map((s) => s.nominalCurrentA));
        expect(c.totalA).toBeCloseTo(worst, 9);
        if (c.rows.length) expect(c.rows.at(-1)!.running).toBe(ampsUp(worst));
        expect(solved.map((s) => s.verdict)).toContain(c.verdict);
      }
      const words = wordsOf(sheetPages('power')).join(' ');
      const flat = (s: string) => s.replaceAll(/\s+/g, ' ');
      for (const line of [...sheet.notChecked, ...sheet.cautions]) expect(flat(words)).toContain(flat(line));
      expect(words).toContain('Responsible, competent person');
    }
  });

  test('no sheet calls anything safe or sure to trip', () => {
    const words = wordsOf(pages).join(' ');
    expect(words).not.toMatch(/\bsafe\b|\bok\b|will trip/i);
  });

  test('pictures keep their shape and say what they are', () => {
    for (const p of pages)
      for (const m of [...allMarks(p.marks)].filter((x): x is PictureMark => x.kind === 'picture')) {
        const own = f.pictures[m.picture]!;
        expect(m.widthMm / m.heightMm).toBeCloseTo(own.width / own.height, 6);
        expect(wordsOf([p])).toContain(own.note);
      }
  });

  test('an angle nobody has read prints all the same, and says so', () => {
    const bare = bookOf({ ...f, reads: new Map(), pictures: {} }, ['plan', 'angles', 'cards', 'asshot']);
    for (const p of bare) fits(p, 7);
    expect(wordsOf(bare).join(' ')).toContain('Not read yet');
  });
});

test('a page that is full of long names still keeps to itself', () => {
  const shoot = structuredClone(shootOf('slack-water.json'));
  const long =
    'an unreasonably long name that somebody typed in one night and never looked at again because nobody printed it';
  shoot.title = long;
  const scene = Object.values(shoot.scenes)[0]!;
  scene.name = long;
  for (const a of Object.values(scene.angles)) a.name = long;
  for (const l of Object.values(scene.rig.lamps)) {
    l.words = long;
    l.support.words = long;
  }
  for (const m of Object.values(scene.marks)) m.name = long;
  for (const p of bookOf(bookFacts(shoot), SHEET_IDS)) fits(p, 6.9);
});
