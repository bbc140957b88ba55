/** What is typed takes the place of what stood there; the meter's sum speaks the page's unit. */
import { expect } from 'vitest';
import { test } from './page.ts';

test('a figure that is clicked gives way to what is typed; a second click sets the caret', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  const stop = page.getByLabel('T-stop, or a change such as −1/3');
  await stop.click();
  await page.keyboard.type('4');
  expect(await stop.inputValue()).toBe('4');
  await page.keyboard.press('Enter');
  await expect.poll(() => stop.inputValue()).toBe('4.0');
  // The lens in a caption, clicked at its very end.
  const lens = page.getByLabel('CA: lens, millimetres');
  const atEnd = async () => {
    const { width, height } = (await lens.boundingBox())!;
    await lens.click({ position: { x: width - 3, y: height / 2 } });
  };
  await atEnd();
  await page.keyboard.type('35');
  expect(await lens.inputValue()).toBe('35');
  // Once in it, a click goes between the figures as it always did.
  await atEnd();
  await page.keyboard.type('.5');
  expect(await lens.inputValue()).toBe('35.5');
  await page.keyboard.press('Escape');
});

test('the sum in foot-candles: candela over square feet, 10.764 lux each [SP-811 B.8]', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await page.waitForFunction(() => Object.keys(window.rushlight?.results() ?? {}).length >= 4, undefined, {
    timeout: 110_000,
  });
  await page.keyboard.press('m');
  const sum = page.locator('.sum p').first();
  await expect.poll(() => sum.textContent()).toMatch(/cd .*² m = .* lx/);
  const metric = (await sum.textContent())!;
  await page.evaluate(() =>
    window.rushlight!.act({ edit: 'setUnits', args: { units: 'imperial', light: 'footcandle' } }),
  );
  await expect.poll(() => sum.textContent()).toMatch(/cd .*² ft = .* fc/);
  const feet = (await sum.textContent())!;
  expect(feet).not.toMatch(/ lx|² m/);
  const figures = (text: string) => {
    const [, cd, d, e] = /([\d ]+) cd .*÷ ([\d.]+)² \w+ = ([\d. ]+) (?:lx|fc)/.exec(text)!;
    return [cd!, d!, e!].map((s) => Number(s.replaceAll(' ', '')));
  };
  const [cd, metres, lux] = figures(metric) as [number, number, number];
  const [same, ft, fc] = figures(feet) as [number, number, number];
  expect(same).toBe(cd);
  expect(ft / metres).toBeCloseTo(1 / 0.3048, 1);
  // Both are shown in three figures.
  expect(Math.abs(lux / fc / 10.7639 - 1)).toBeLessThan(0.01);
  expect(Math.abs(cd / ft ** 2 / fc - 1)).toBeLessThan(0.01);
});
