/** What stands near and in the beam, told in the program: people, lamps, flags, furniture, the day, where else to stand. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { openShoot } from '../../src/shoot/file.ts';
import { test } from './page.ts';

async function shootOf(page: Page) {
  const text = await page.evaluate(() => window.rushlight!.shoot().text);
  const opened = openShoot(text);
  if (!opened.ok) throw new Error(opened.message.join());
  return { ...opened.shoot, scene: Object.values(opened.shoot.scenes)[0]! };
}

async function opened(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await page.locator('.tile canvas').first().waitFor();
  await page.waitForFunction(() => window.rushlight !== undefined);
}

/** On the plan's paper, shares of its box. */
async function tap(page: Page, x: number, y: number): Promise<void> {
  const b = (await page.locator('.where .plan-box').boundingBox())!;
  await page.mouse.click(b.x + x * b.width, b.y + y * b.height);
}

test('a person is told in words to tap or type; what cannot be read says so there; one step back', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await opened(page, address);
  await page.locator('[data-thing="mark:A"]').focus();
  await page.locator('[data-word="person"]').click();
  await page.locator('.choices .boxed', { hasText: 'woman of 42' }).click();
  expect((await shootOf(page)).scene.marks.A).toMatchObject({ person: 'woman-42', eyeM: 1.56 });
  // By typing: part of a word will do.
  await page.locator('[data-word="posture"]').click();
  await page.locator('.choices .find').fill('crou');
  await page.keyboard.press('Enter');
  expect((await shootOf(page)).scene.marks.A).toMatchObject({ posture: 'crouching', eyeM: 1.07 });
  await page.locator('[data-word="hair"]').click();
  await page.locator('.choices .find').fill('glorp');
  await page.keyboard.press('Enter');
  await page.locator('.choices [role="alert"]', { hasText: 'Not read: “glorp”' }).waitFor();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await page.locator('[data-word="looks"]').click();
  await page.locator('.choices .boxed', { hasText: 'camera W' }).click();
  const { marks, angles } = (await shootOf(page)).scene;
  const [m, w] = [marks.A!, angles.W!];
  expect(m.looksAt).toBe('camera:W');
  expect(m.facings[0]).toBeCloseTo((Math.atan2(w.at[1] - m.at[1], w.at[0] - m.at[0]) * 180) / Math.PI, 0);
  await page.locator('body').press('z');
  expect((await shootOf(page)).scene.marks.A!.looksAt).toBeUndefined();
});

test('a lamp, a net and a sofa are found by name and set down by a tap; by keys alone a bed; all can go', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await opened(page, address);
  const find = page.getByLabel('Add to the plan: type a name');
  const add = async (text: string, key: string, x: number, y: number) => {
    await page.locator('[data-add]').click();
    await find.fill(text);
    await page.locator(`[data-put="${key}"]`).click();
    await tap(page, x, y);
    await page.locator('.where footer .typed').first().waitFor();
  };
  const before = (await shootOf(page)).scene;
  await add('650 fresnel', 'lamp:fresnel-650', 0.42, 0.75);
  await add('net', 'beam:net-half', 0.5, 0.7);
  await add('sofa', 'thing:sofa', 0.45, 0.85);
  await page.keyboard.press('n');
  await find.fill('single bed');
  await page.keyboard.press('Enter');
  const s = await shootOf(page);
  expect(Object.keys(s.scene.rig.lamps).length).toBe(Object.keys(before.rig.lamps).length + 1);
  const net = Object.values(s.scene.rig.flags).find((f) => f.kind === 'net-half');
  expect(net).toBeDefined();
  const words = () => shootOf(page).then((x) => Object.values(x.places)[0]!.furniture);
  expect(Object.values(await words()).map((f) => f.words)).toEqual(
    expect.arrayContaining(['sofa', 'single bed']),
  );
  // What was put last is in hand: turned by a figure, then taken away.
  await page.getByLabel(/^single bed: turned, degrees/).fill('30');
  await page.keyboard.press('Enter');
  expect(Object.values(await words()).find((f) => f.words === 'single bed')!.turnDeg).toBe(30);
  await page.locator('.where footer button', { hasText: 'take away' }).click();
  expect(Object.values(await words()).some((f) => f.words === 'single bed')).toBe(false);
  await page.locator('[data-add]').click();
  await find.fill('xylophone');
  await page.keyboard.press('Enter');
  await page.locator('.adding [role="alert"]', { hasText: 'Nothing is called “xylophone”' }).waitFor();
});

test('night becomes day in one press; the hour is dragged and typed, one step each; where else is drawn', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await opened(page, address);
  await page.locator('.day-press').click();
  await page.getByRole('button', { name: 'by day', exact: true }).click();
  const hour = async () => (await shootOf(page)).scene.day!.hour;
  expect(await hour()).toBe(14);
  const line = (await page.locator('.day-line').boundingBox())!;
  await page.mouse.move(line.x + 0.5 * line.width, line.y + 40);
  await page.mouse.down();
  await page.mouse.move(line.x + 0.4 * line.width, line.y + 40);
  await page.mouse.move(line.x + 0.3 * line.width, line.y + 40);
  await page.mouse.up();
  const dragged = await hour();
  expect(dragged).toBeLessThan(14);
  await page.getByLabel('Hour by the clocks there').fill('half past');
  await page.keyboard.press('Enter');
  await page.locator('[role="alert"]', { hasText: 'an hour such as 14:30' }).waitFor();
  await page.getByLabel('Hour by the clocks there').fill('3.30pm');
  await page.keyboard.press('Enter');
  expect(await hour()).toBe(15.5);
  await page.locator('.back').click();
  expect(await hour()).toBe(dragged);
  await page.locator('.back').click();
  expect(await hour()).toBe(14);

  await page.locator('[data-thing="mark:A"]').focus();
  await page.getByRole('button', { name: 'where else?' }).click();
  await page.locator('.stands .iso').first().waitFor({ timeout: 100_000, state: 'attached' });
  expect(await page.locator('.stand-words').textContent()).toMatch(/^(Hatched, \d|Nowhere)/);
});
