/** The Book in the browser: sheets shown, a PDF that is true to scale, printing in the paper's own size, cards as PNG. */
import { copyFileSync, readFileSync, statSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { colourOperators, pageContents } from '../pdfText.ts';
import { test } from './page.ts';

/** Opens the Book once every angle has been read. */
async function toBook(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await page.waitForFunction(() => Object.keys(window.rushlight?.results() ?? {}).length >= 4, undefined, {
    timeout: 100_000,
  });
  await page.getByRole('button', { name: 'Book', exact: true }).click();
  await page.locator('.book-pages svg').first().waitFor({ timeout: 30_000 });
}
const download = async (page: Page, name: RegExp) => {
  const kept = page.waitForEvent('download', { timeout: 60_000 });
  await page.getByRole('button', { name }).click();
  return kept;
};

test('sheets are shown; the PDF is black, counted, and has a page for each that was ticked', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await toBook(page, address);
  // The plan on the screen: every lamp of the boat shed.
  const words = await page.locator('.book-pages text').allTextContents();
  for (const number of ['1', '2', '3', '4', 'P']) expect(words).toContain(number);
  expect(await page.locator('.book-pages svg').first().getAttribute('width')).toBe('210mm');

  for (const id of ['A plan for each angle', 'As shot', 'Metering'])
    await page.getByRole('checkbox', { name: `${id}: in the book` }).uncheck();
  const button = page.getByRole('button', { name: /^PDF, \d+ pages$/ });
  const count = Number(/\d+/.exec((await button.textContent())!)![0]);
  const file = await download(page, /^PDF/);
  expect(file.suggestedFilename()).toBe('slack-water-v1.pdf');
  const contents = pageContents(readFileSync(await file.path()));
  expect(contents).toHaveLength(count);
  for (const c of contents)
    for (const op of colourOperators(c)) expect(['0 g', '1 g', '0 G', '1 G']).toContain(op);
  // The number is in the document now: printed again unchanged, it stays.
  expect((await download(page, /^PDF/)).suggestedFilename()).toBe('slack-water-v1.pdf');
});

test('printed, a page is as large as the paper and nothing but it; cards come as pictures', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.addInitScript(() => {
    window.print = () => {};
  });
  await toBook(page, address);
  for (const box of await page.getByRole('checkbox').all()) await box.uncheck();
  await page.getByRole('checkbox', { name: 'Plan and score: in the book' }).check();
  await page.getByRole('button', { name: 'Print', exact: true }).click();
  await page.locator('.to-print svg').first().waitFor({ state: 'attached' });
  const printed = await page.locator('.to-print svg').count();
  const pdf = (await page.pdf({ preferCSSPageSize: true, printBackground: true })).toString('latin1');
  const sizes = [...pdf.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map((m) => [
    Number(m[1]),
    Number(m[2]),
  ]);
  expect(sizes).toHaveLength(printed);
  // A4 in points, to the point that the browser rounds to.
  for (const [w, h] of sizes) {
    expect(Math.abs(w! - (210 / 25.4) * 72)).toBeLessThan(1);
    expect(Math.abs(h! - (297 / 25.4) * 72)).toBeLessThan(1);
  }

  const kept: string[] = [];
  page.on('download', (d) => kept.push(d.suggestedFilename()));
  await page.getByRole('button', { name: /^Cards as PNG/ }).click();
  await expect.poll(() => kept.length, { timeout: 60_000 }).toBe(4);
  expect(kept.every((n) => /^slack-water-(T|CA|CB|W)-v\d+\.png$/.test(n))).toBe(true);
});

test('a phone shows the Book in its width, with targets of 44 px', async ({ newPage, address }) => {
  const page = await newPage({ phone: true });
  await toBook(page, address);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  const low = await page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('.book button')]
      .filter((b) => b.offsetParent !== null && b.getBoundingClientRect().height < 43.5)
      .map((b) => `${b.textContent} ${b.getBoundingClientRect().height}`),
  );
  expect(low).toEqual([]);
});

test.runIf(process.env.RUSHLIGHT_LONG)(
  'in the one-file page, with no server, the Book makes its PDF too; the file stays small enough to send',
  async ({ newPage, address }) => {
    const page = await newPage();
    await page.goto(address);
    await page.locator('.bar .mark').click();
    const kept = page.waitForEvent('download', { timeout: 110_000 });
    await page.getByRole('button', { name: 'Send on as one page' }).click();
    const path = await (await kept).path();
    const copy = `${path}.html`;
    copyFileSync(path, copy);
    expect(statSync(copy).size).toBeLessThan(12e6);
    const alone = await newPage({}, { offline: true });
    await toBook(alone, pathToFileURL(copy).href);
    const file = await download(alone, /^PDF/);
    expect(pageContents(readFileSync(await file.path())).length).toBeGreaterThan(10);
  },
);
