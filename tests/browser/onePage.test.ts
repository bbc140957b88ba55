/** The one-file page opens from a file: with and without scripts, with no network at all. */
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect } from 'vitest';
import { onePageHtml } from '../../src/book/onePage.ts';
import { dist } from '../../src/cli/build.ts';
import { ensureBuilt } from './browser.ts';
import { test } from './page.ts';

const people = statSync(new URL('../../data/people/people.bin', import.meta.url)).size;
const folder = mkdtempSync(join(tmpdir(), 'rushlight-page-'));
const file = join(folder, 'shoot.html');
const shoot = JSON.stringify({ title: 'A kitchen </script><script>alert(1)</script> <!-- night' });

beforeAll(() => {
  ensureBuilt();
  const script = readFileSync(join(dist, 'onefile.js'), 'utf8');
  writeFileSync(
    file,
    onePageHtml({ title: 'A <kitchen>', script, shoot, still: '<p id="still">Key 2.2 m</p>' }),
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('scripts on, network gone: the program runs and its worker answers', async ({ newPage }) => {
  const page = await newPage({ phone: true }, { offline: true });
  const asked: string[] = [];
  page.on('request', (request) => {
    if (!/^(blob|data):/.test(request.url())) asked.push(request.url());
  });
  await page.goto(`${pathToFileURL(file).href}#works`);
  const works = (name: string) => page.locator(`[data-works=${name}]:not(:empty)`).textContent();
  expect(Number(await works('sum'))).toBe((1000 * 1001 * 2001) / 6);
  expect(await works('rays')).toBe('four at once');
  expect(Number(await works('people'))).toBe(people);
  expect(await works('page')).toBe('yes');
  expect(await page.locator('#still').count()).toBe(0);
  expect(await page.title()).toBe('A <kitchen>');
  expect(await page.evaluate(() => document.getElementById('rushlight-shoot')?.textContent)).toBe(
    shoot.replaceAll('<', '\\u003c'),
  );
  for (const font of ['16px "Sofia Sans Semi Condensed"', 'italic 16px "Newsreader"'])
    expect(await page.evaluate(async (f) => (await document.fonts.load(f)).length, font)).toBeGreaterThan(0);
  expect(asked).toEqual([pathToFileURL(file).href]);
});

test('scripts off: what was computed can still be read', async ({ newPage }) => {
  const page = await newPage({ phone: true }, { offline: true, javaScriptEnabled: false });
  await page.goto(pathToFileURL(file).href);
  expect(await page.locator('#still').textContent()).toBe('Key 2.2 m');
  expect(await page.locator('#still').isVisible()).toBe(true);
});
