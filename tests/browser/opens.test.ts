/** The program opens from the little server: isolated, with a worker that answers and its data within reach. */
import { copyFileSync, readFileSync, statSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { expect } from 'vitest';
import { test } from './page.ts';

const people = statSync(new URL('../../data/people/people.bin', import.meta.url)).size;

test('opens', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await page.locator('#root > *').first().waitFor();
  expect(await page.evaluate(() => crossOriginIsolated)).toBe(true);
});

test('is isolated, its worker answers, its data and fonts are there', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(`${address}#works`);
  const works = (name: string) => page.locator(`[data-works=${name}]:not(:empty)`).textContent();
  // Sum of the squares up to n: n (n + 1) (2 n + 1) / 6.
  expect(Number(await works('sum'))).toBe((1000 * 1001 * 2001) / 6);
  expect(await works('isolated')).toBe('yes');
  // The server's policy lets a worker compile its rays.
  expect(await works('rays')).toBe('four at once');
  expect(Number(await works('people'))).toBe(people);
  expect(await works('page')).toBe('no');
  for (const font of ['16px "Sofia Sans Semi Condensed"', 'italic 16px "Newsreader"'])
    expect(await page.evaluate(async (f) => (await document.fonts.load(f)).length, font)).toBeGreaterThan(0);
});

test('where the policy refuses WebAssembly, rays go the plain way and pictures come all the same', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  // What a worker is asked for by its page comes with the policy of its own answer.
  await page.context().route('**/*', async (route) => {
    const answer = await route.fetch();
    const headers = { ...answer.headers() };
    const policy = headers['content-security-policy'];
    if (policy) headers['content-security-policy'] = policy.replace(" 'wasm-unsafe-eval'", '');
    await route.fulfill({ response: answer, headers });
  });
  await page.goto(`${address}#works`);
  expect(await page.locator('[data-works=rays]:not(:empty)').textContent()).toBe('one at a time');
  // What a page still fetches when it is left counts as a failure: let it end.
  await page.locator('[data-works=people]:not(:empty)').waitFor();
  await page.goto('about:blank');
  await page.goto(address);
  await page.waitForFunction(() => window.rushlight?.openMs.firstPicture !== undefined, undefined, {
    timeout: 100_000,
  });
}, 200_000);

test('the program keeps itself as one file, which opens with no server', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(`${address}#works`);
  const kept = page.waitForEvent('download', { timeout: 100_000 });
  await page.getByRole('button', { name: 'Keep the program as one file' }).click();
  const path = await (await kept).path();
  const copy = `${path}.html`;
  copyFileSync(path, copy);
  const alone = await newPage({}, { offline: true });
  await alone.goto(`${pathToFileURL(copy).href}#works`);
  const sum = alone.locator('[data-works=sum]:not(:empty)');
  expect(Number(await sum.textContent())).toBe((1000 * 1001 * 2001) / 6);

  // And again out of that page.
  const again = alone.waitForEvent('download');
  await alone.getByRole('button', { name: 'Keep the program as one file' }).click();
  expect(readFileSync(await (await again).path(), 'utf8')).toBe(readFileSync(copy, 'utf8'));
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
