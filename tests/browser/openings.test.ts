/** Windows and doors on the main plan: found by typing, told in a sentence, reached by pointer and keys, each step taken back. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './page.ts';

const shed = (page: Page) =>
  page.evaluate(() => {
    const w = window as unknown as { rushlight: { shoot: () => { text: string } } };
    return JSON.parse(w.rushlight.shoot().text).places.shed;
  });

test('a window added by typing its name, its level told, curtains hung and drawn; a door swung by keys', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await page.locator('[data-thing="opening:door"]').waitFor({ state: 'attached' });
  const before = await shed(page);

  await page.keyboard.press('n');
  const add = page.getByLabel('Add to the plan: type a name');
  await add.fill('window');
  await add.press('Enter');
  const told = page.locator('.opening p');
  await told.waitFor();
  const [id] = Object.keys((await shed(page)).openings).filter((o) => !(o in before.openings));
  expect(id).toBe('window1');

  await page.getByLabel(/^window: light as told or metered/).fill('300');
  await page.keyboard.press('Enter');
  await page.locator('.opening [data-word="hung"]').click();
  await page.locator('.opening .choices').getByRole('button', { name: 'curtains', exact: true }).click();
  await page.getByLabel('curtains at the window: drawn back, per cent').fill('25');
  await page.keyboard.press('Enter');
  const now = await shed(page);
  expect(now.openings.window1.light).toEqual({ lux: 300 });
  expect(now.furniture.curtains1).toMatchObject({ kind: 'curtains', detail: { openShare: 0.25 } });
  // What cannot be is said beside the figure, and nothing is changed.
  await page.getByLabel(/^window: wide/).fill('90');
  await page.keyboard.press('Enter');
  await page.getByRole('alert').filter({ hasText: 'past the end of its wall' }).waitFor();
  expect((await shed(page)).openings.window1.toM).toBe(now.openings.window1.toM);
  await page.keyboard.press('Escape');

  // A run of keys on a door is one step.
  await page.locator('[data-thing="opening:door"]').focus();
  for (const key of ['[', '[', '[']) await page.keyboard.press(key);
  await page.locator('.opening p', { hasText: 'small door' }).waitFor();
  expect((await shed(page)).openings.door).toMatchObject({ fill: 'open', leafDeg: 15 });
  await page.locator('[data-thing="opening:door"]').blur();

  // Window, level, curtains, drawn, door: five steps back, and all is as it was.
  for (let i = 0; i < 5; i++) await page.keyboard.press('z');
  expect(await shed(page)).toEqual(before);
});

test('on a phone a door is tapped on the plan, with what is told of it large enough to touch; walled up it is gone', async ({
  newPage,
  address,
}) => {
  const page = await newPage({ phone: true });
  await page.goto(address);
  await page.locator('.where-cell').click();
  const ring = page.locator('.where [data-thing="opening:door"] circle');
  await ring.waitFor({ state: 'attached' });
  const box = (await ring.boundingBox())!;
  // Beside the wall, as a finger does.
  await page.touchscreen.tap(box.x + box.width / 2 + 12, box.y + box.height / 2);
  await page.locator('.opening p', { hasText: 'small door' }).waitFor();
  for (const one of await page
    .locator('.opening :is(button, input), .where footer :is(button, input)')
    .all()) {
    const b = (await one.boundingBox())!;
    expect(b.height, (await one.getAttribute('aria-label')) ?? '').toBeGreaterThanOrEqual(44);
    expect(b.x).toBeGreaterThanOrEqual(0);
    expect(b.x + b.width).toBeLessThanOrEqual(390);
  }
  await page.getByRole('button', { name: 'wall it up' }).click();
  expect(Object.keys((await shed(page)).openings)).not.toContain('door');
});
