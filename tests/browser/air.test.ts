/** What hangs in the air is told in the day's strip, by keys and by a finger; how it is lit stands beside it. */
import { expect } from 'vitest';
import { test } from './page.ts';

const air = () =>
  (Object.values(JSON.parse(window.rushlight!.shoot().text).scenes) as { air?: unknown }[])[0]!.air;

test('haze by keys: its word, its figure, how it is lit; a step back clears it', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await page.locator('.day-press').first().waitFor();
  await page.keyboard.press('h');
  const word = page.locator('[data-word="haze"]');
  expect(await word.textContent()).toBe('nothing');
  await word.focus();
  await page.keyboard.press('Enter');
  await page.getByLabel('In the air', { exact: true }).locator('input').waitFor();
  await page.keyboard.type('thick haze');
  await page.keyboard.press('Enter');
  await expect.poll(() => page.evaluate(air)).toEqual({ haze: { extinctionPerM: 0.06, kind: 'haze' } });
  expect(await word.textContent()).toBe('thick haze');
  // How far one sees, in place of per cent: 5 % of a beam is left there (the meteorologists' definition, from memory).
  const takes = page.getByLabel(/^Share of light the air takes/);
  await takes.fill('300 m');
  await takes.press('Enter');
  await expect.poll(() => page.evaluate(air)).toEqual({ haze: { extinctionPerM: 0.009986, kind: 'haze' } });
  await expect.poll(() => takes.inputValue()).toBe('1.00 %');
  await page.locator('.air-angle em').first().waitFor({ timeout: 100_000 });
  expect(await page.locator('.air-angle em').first().textContent()).toMatch(
    /stops (more|less) from behind than from the front|lit only from/,
  );
  await takes.blur();
  for (let i = 0; i < 2; i++) await page.keyboard.press('z');
  await expect.poll(() => page.evaluate(air)).toBeUndefined();
});

test('rain by a finger on a phone; what cannot be read is said', async ({ newPage, address }) => {
  const page = await newPage({ phone: true });
  await page.goto(address);
  await page.locator('.day-press').first().tap();
  await page.locator('[data-word="falls"]').tap();
  await page.getByRole('button', { name: 'heavy rain' }).tap();
  await expect.poll(() => page.evaluate(air)).toEqual({ falls: { kind: 'rain', mmPerH: 10 } });
  const fall = page.getByLabel(/^Water that falls/);
  await fall.fill('cats');
  await fall.press('Enter');
  await page.getByText('Type millimetres of water an hour', { exact: false }).waitFor();
  expect(await page.evaluate(air)).toEqual({ falls: { kind: 'rain', mmPerH: 10 } });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide).toBeLessThanOrEqual(0);
});
