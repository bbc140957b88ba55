/** The program opens from the little server: isolated, with a worker that answers and its data within reach. */
import { statSync } from 'node:fs';
import { expect } from 'vitest';
import { test } from './page.ts';

const people = statSync(new URL('../../data/people/people.bin', import.meta.url)).size;

test('opens, is isolated, its worker answers, its data are there', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  const probe = (name: string) => page.locator(`[data-probe=${name}]:not(:empty)`).textContent();
  // Sum of the squares up to n: n (n + 1) (2 n + 1) / 6.
  expect(Number(await probe('sum'))).toBe((1000 * 1001 * 2001) / 6);
  expect(await probe('isolated')).toBe('true');
  expect(await page.evaluate(() => crossOriginIsolated)).toBe(true);
  expect(Number(await probe('people'))).toBe(people);
  await page.evaluate(() => document.fonts.load('16px "Sofia Sans Semi Condensed"'));
  expect(await page.evaluate(() => document.fonts.check('16px "Sofia Sans Semi Condensed"'))).toBe(true);
});

test('text is drawn: the letters leave ink', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  // Two words of the same box in the same place give two pictures only when fonts are found.
  const picture = async (word: string) => {
    await page.evaluate((w) => {
      document.body.innerHTML = '<p></p>';
      const p = document.querySelector('p')!;
      Object.assign(p.style, {
        font: '40px sans-serif',
        background: '#fff',
        color: '#000',
        width: '200px',
        height: '60px',
      });
      p.textContent = w;
    }, word);
    return (await page.locator('p').screenshot()).toString('base64');
  };
  const blank = await picture('');
  expect(await picture('mark')).not.toBe(blank);
  expect(await picture('mark')).not.toBe(await picture('lamp'));
});

test('no page of a phone or a tablet is wider than its screen', async ({ newPage, address }) => {
  for (const device of [{ phone: true }, { tablet: true }]) {
    const page = await newPage(device);
    await page.goto(address);
    await page.locator('#root > *').first().waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );
  }
});
