/**
 * The main job by keys alone (WCAG 2.2, 2.1.1 and 2.4.7): come to a trouble, try and keep its cure, mark the other
 * meant, carry, aim and dim a lamp, cheat it, and go back a step. No pointer is touched.
 */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './page.ts';

const name = (page: Page) =>
  page.evaluate(() => {
    const e = document.activeElement as HTMLElement | null;
    return `${e?.getAttribute('aria-label') ?? ''} ${e?.textContent ?? ''}`.trim();
  });

/** Tab until what has the focus reads so; every stop on the way shows where it is. */
async function tabTo(page: Page, wanted: RegExp, most = 160): Promise<void> {
  for (let i = 0; i < most; i++) {
    await page.keyboard.press('Tab');
    if (wanted.test(await name(page))) return;
  }
  throw new Error(`Tab came to no ${wanted} within ${most} stops`);
}
const says = (page: Page) => page.locator('.says').textContent();

test('trouble, cure, meant, carry, aim, dim, cheat, back: by keys alone', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await page.locator('[data-angle=W] button.cure').waitFor({ timeout: 110_000 });

  // Troubles first: the first stop of all leads to the first cure, and coming to it tries it.
  await page.keyboard.press('Tab');
  expect(await name(page)).toMatch(/^To what is wrong: \d/);
  await page.keyboard.press('Enter');
  await tabTo(page, /black board/, 6);
  await expect.poll(() => says(page), { timeout: 30_000 }).toContain('trying');
  const ring = await page.evaluate(() => getComputedStyle(document.activeElement!).outlineStyle);
  expect(ring).not.toBe('none');
  await page.keyboard.press('Enter');
  await expect.poll(() => says(page)).toMatch(/F5 hung for W/);
  await expect.poll(() => page.locator('[data-angle=W] .corner').count(), { timeout: 60_000 }).toBe(0);
  await page.keyboard.press('z');
  await expect.poll(() => page.locator('[data-angle=W] .corner').count(), { timeout: 60_000 }).toBe(1);

  // Meant, with a word; and no longer.
  await page.locator('[data-angle=W] button.cure').waitFor({ timeout: 60_000 });
  await tabTo(page, /^meant$/);
  await page.keyboard.press('Enter');
  await page.keyboard.type('the lamp of the ferry');
  await page.keyboard.press('Enter');
  await expect.poll(() => says(page)).toContain('the lamp of the ferry');
  await expect
    .poll(() => page.locator('.meant').textContent(), { timeout: 30_000 })
    .toContain('the lamp of the ferry');
  await tabTo(page, /2 .*: no longer meant/);
  await page.keyboard.press('Enter');
  await expect.poll(() => says(page)).toContain('No longer meant in W');

  // A lamp on the plan: carried, swung.
  await tabTo(page, /^Lamp 2: .* east/);
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowDown');
  await expect.poll(() => says(page)).toMatch(/2 moved/);
  await page.keyboard.press('[');
  await expect.poll(() => says(page)).toMatch(/2 (aimed|swung)/);

  // Dimmed in its row, cheated in a cell.
  await tabTo(page, /^Lamp 2: burns, per cent$/);
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => says(page)).toMatch(/2 burns/);
  // For the ear: what was done, and by how much faces differ, once the figures stand still.
  for (let i = 0; i < 40; i++) await page.keyboard.press('ArrowLeft');
  await expect
    .poll(() => page.locator('[data-polite]').textContent(), { timeout: 30_000 })
    .toMatch(/2 burns .*In C[AB], [AB] (minus|plus) \d\.\d/);
  await tabTo(page, /^Lamp 2 in CA: /);
  await page.keyboard.press('Enter');
  await tabTo(page, /^out$/, 12);
  await page.keyboard.press('Enter');
  await expect.poll(() => says(page)).toContain('2 out in CA');
  expect(await page.locator('[data-angle=CA] .cheats').count()).toBe(1);
  await page.keyboard.press('z');
  await expect.poll(() => page.locator('[data-angle=CA] .cheats').count()).toBe(0);

  // What there is to press is listed.
  await page.keyboard.press('?');
  expect(await page.locator('.keys dt').count()).toBeGreaterThan(15);
}, 300_000);

/** What moves of itself on the page as it stands. */
const moving = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('*')]
      .filter((e) => {
        const s = getComputedStyle(e);
        const long = (d: string) => d.split(',').some((x) => Number.parseFloat(x) > 0);
        return long(s.transitionDuration) || long(s.animationDuration);
      })
      .map((e) => e.getAttribute('class')),
  );

test('where motion is to be less, nothing moves of itself', async ({ newPage, address }) => {
  for (const reducedMotion of ['no-preference', 'reduce'] as const) {
    const page = await newPage({}, { reducedMotion });
    await page.goto(address);
    // Outlines of what is wrong ease to their new place: the one thing that moves.
    await page.locator('.outline').first().waitFor({ timeout: 110_000 });
    const found = [...new Set(await moving(page))];
    expect(found).toEqual(reducedMotion === 'reduce' ? [] : ['outline']);
  }
});

test('the demo teaches one line at a time, gone once done, and not again', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  const line = page.locator('.teach');
  await line.waitFor({ timeout: 110_000 });
  expect(await line.count()).toBe(1);
  expect(await line.getAttribute('data-lesson')).toBe('pull');
  await page.locator('[data-face]').first().click();
  await expect.poll(() => line.getAttribute('data-lesson'), { timeout: 60_000 }).toBe('cure');
  await page.locator('[data-angle=W] button.cure').first().hover({ timeout: 110_000 });
  await expect.poll(() => line.getAttribute('data-lesson')).toBe('only');
  await page.mouse.move(700, 20);
  await page.keyboard.down('1');
  await expect.poll(() => line.getAttribute('data-lesson')).toBe('room');
  await page.keyboard.up('1');
  await page.reload();
  await line.waitFor({ timeout: 110_000 });
  expect(await line.getAttribute('data-lesson')).toBe('room');
  await page.locator('.teach button').click();
  await expect.poll(() => line.count()).toBe(0);
});
