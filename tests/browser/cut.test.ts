/** A cut looked at: what may differ is kept with the scene, and what is offered against it was traced first. */
import { expect } from 'vitest';
import { test } from './page.ts';

test('the tolerance is kept in the shoot; a cheat is offered only once it was tried', {
  timeout: 180_000,
}, async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await page.locator('.tile[data-angle="CA"] canvas').first().waitFor();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('r');
  const cut = page.locator('.match');
  await cut.locator('[data-match]').first().waitFor({ timeout: 90_000 });
  const stops = page.getByLabel('A cut may differ by so many stops');
  await stops.fill('0.1');
  await stops.press('Enter');
  await page.waitForFunction(
    () =>
      JSON.parse(
        (window as unknown as { rushlight: { shoot: () => { text: string } } }).rushlight.shoot().text,
      ).scenes,
  );
  const scene = await page.evaluate(() => {
    const w = window as unknown as { rushlight: { shoot: () => { text: string } } };
    return Object.values(JSON.parse(w.rushlight.shoot().text).scenes)[0] as { cut?: object };
  });
  expect(scene.cut).toEqual({ stops: 0.1 });
  // Something is off by a tenth of a stop: it is being tried, then offered with what it came to, or left out with why.
  await cut.locator('[data-match]:not([data-off="0"])').first().waitFor();
  await page.waitForFunction(
    () => {
      const off = [...document.querySelectorAll('.match [data-match]:not([data-off="0"])')].filter((e) =>
        e.querySelector('.quiet'),
      );
      return off.length > 0 && !document.querySelector('.match')?.textContent?.includes('trying what would');
    },
    undefined,
    { timeout: 120_000 },
  );
  const text = (await cut.textContent())!;
  expect(text).toMatch(/: then |Tried and left out|No cheat of the key|No lamp keys/);
});
