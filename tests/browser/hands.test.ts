/** Hands: a cheat dragged in one angle, a refused stand, keys alone, figures typed in feet; a drag is one step. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './page.ts';

async function lit(page: Page): Promise<void> {
  await page.waitForFunction(() => Object.keys(window.rushlight?.results() ?? {}).length === 4, undefined, {
    timeout: 100_000,
  });
}
const middle = async (page: Page, selector: string): Promise<[number, number]> => {
  const box = (await page.locator(selector).first().boundingBox())!;
  return [box.x + box.width / 2, box.y + box.height / 2];
};
/** Metres and pixels of the plan as it is seen. */
const pxPerM = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const svg = document.querySelector<SVGSVGElement>('.where .plan-box > svg')!;
    return svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  });
const field = (page: Page, name: string) => page.getByLabel(name);
const says = (page: Page) => page.locator('.says span').first().textContent();

test('a lamp dragged for one angle cheats in it, the others keep the rig; the rig moved, that angle holds', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  await page.locator('[data-angle=CA] header strong').click();
  await expect
    .poll(() => page.locator('.where .plan-box > svg').getAttribute('aria-label'))
    .toBe('Plan for CA');
  const k = await pxPerM(page);
  const [x, y] = await middle(page, '[data-ref="lamp:L2"]');
  await page.mouse.click(x, y);
  await page.locator('.where .scope button', { hasText: 'CA only' }).click();
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x, y + 0.5 * k, { steps: 3 });
  await page.mouse.move(x, y + k, { steps: 3 });
  await page.mouse.up();
  expect(await says(page)).toMatch(/^2 moved 1\.00 m in CA\.$/);
  await expect.poll(() => page.locator('[data-angle=CA] header .cheats').textContent()).toMatch(/2\s*cheats/);
  expect(await page.locator('[data-angle=T] header .cheats').count()).toBe(0);
  // On the plan of CA its rig place is dashed; the notch stands in CA's cell and no other.
  expect(await page.locator('[data-ref="rigPlace:L2"]').count()).toBe(1);
  expect(await page.locator('tr[data-lamp=L2] td[data-cheats=true]').count()).toBe(1);

  // The rig's one moved, by its dashed place: CA holds, and the words say so while the hand is on it.
  const [gx, gy] = await middle(page, '[data-ref="rigPlace:L2"]');
  await page.mouse.move(gx, gy);
  await page.mouse.down();
  await page.mouse.move(gx, gy - 0.3 * k, { steps: 3 });
  await expect.poll(() => page.locator('[data-angle=CA] header .state').textContent()).toMatch(/holds/);
  expect(await page.locator('[data-angle=T] header .state').textContent()).not.toMatch(/holds/);
  await page.mouse.up();
  expect(await says(page)).toMatch(/^2 moved 0\.30 m; CA holds\.$/);
  // Two drags, two steps; the button names what it undoes.
  expect(await page.locator('.bar .back').textContent()).toMatch(/2 moved 0\.30 m; CA holds/);
  await page.keyboard.press('z');
  await page.keyboard.press('z');
  await expect.poll(() => page.locator('tr[data-lamp=L2] td[data-cheats=true]').count()).toBe(0);
  await expect.poll(() => page.locator('.bar .back').isDisabled()).toBe(true);
});

test('a stand dragged where it cannot stand says why and stays where it last could', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  const k = await pxPerM(page);
  // Lamp 1 off its beam on to a stand, on clear floor at (2.7, 3).
  const [x, y] = await middle(page, '[data-ref="lamp:L1"]');
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 1.2 * k, y + 1.5 * k, { steps: 6 });
  await page.mouse.up();
  expect(await says(page)).toMatch(/on a stand/);
  const east = field(page, 'Lamp 1: east, metres');
  const from = Number(await east.inputValue());
  // East into the hull, which lies from x = 5.5.
  const [sx, sy] = await middle(page, '[data-ref="lamp:L1"]');
  await page.mouse.move(sx, sy);
  await page.mouse.down();
  const [hx, hy] = await middle(page, '[data-ref="lamp:L2"]');
  await page.mouse.move(hx - 0.5 * k, hy, { steps: 12 });
  await expect.poll(() => page.locator('.plan-hint.bad').textContent()).toMatch(/its foot .* meets .*hull/);
  expect(await page.locator('[data-refused]').count()).toBe(1);
  await page.mouse.up();
  expect(await says(page)).toMatch(/1 goes no further: its foot \(0\.45 m radius\) meets .*hull\.$/);
  const to = Number(await east.inputValue());
  expect(to).toBeGreaterThan(from);
  expect(to).toBeLessThan(6);
  // Where it stands nothing says that it cannot.
  await expect
    .poll(() => page.evaluate(() => window.rushlight!.results().T!.troubles.map((t) => t.kind)), {
      timeout: 60_000,
    })
    .not.toContain('stand-cannot-stand');
});

test('keys alone: come to a lamp, carry, raise, aim and spot it; each run of presses is one step', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  // The first thing of the plan is lamp 1; Tab from the plan's button before it.
  await page.locator('.where header button').last().focus();
  await page.keyboard.press('Tab');
  expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toMatch(/^Lamp 1: /);
  const north = field(page, 'Lamp 1: north, metres');
  expect(await north.inputValue()).toBe('4.50');
  for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowDown');
  await expect.poll(() => north.inputValue()).toBe('4.35');
  await page.keyboard.press('Shift+ArrowDown');
  await expect.poll(() => north.inputValue()).toBe('4.34');
  await page.keyboard.press('PageDown');
  await expect.poll(() => field(page, 'Lamp 1: height, metres').inputValue()).toBe('2.85');
  await page.keyboard.press('Alt+ArrowLeft');
  await expect.poll(() => field(page, 'Lamp 1 aims: east, metres').inputValue()).toBe('4.65');
  await page.keyboard.press('.');
  await expect.poll(() => field(page, 'Lamp 1: per cent toward spot').inputValue()).toBe('5');
  await page.keyboard.press('Escape');
  await expect.poll(() => field(page, 'Lamp 1: per cent toward spot').inputValue()).toBe('0');
  // Carried, raised, aimed: three steps back and it is as it was.
  for (let i = 0; i < 3; i++) await page.keyboard.press('z');
  await expect.poll(() => north.inputValue()).toBe('4.50');
  await expect.poll(() => page.locator('.bar .back').isDisabled()).toBe(true);
});

test('feet and foot-candles: shown throughout, and any unit typed', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  const height = field(page, 'Lamp 1 of the rig: height, metres');
  await height.fill('7ft2');
  await height.press('Enter');
  expect(Number(await height.inputValue())).toBeCloseTo(86 * 0.0254, 2);
  await page.locator('.plan-foot button').click();
  const feet = field(page, 'Lamp 1 of the rig: height, feet and inches');
  await expect.poll(() => feet.inputValue()).toBe('7′ 2″');
  await feet.fill('2.5m');
  await feet.press('Enter');
  await expect.poll(() => feet.inputValue()).toBe('8′ 2½″');
  await feet.fill('9');
  await feet.press('Enter');
  await expect.poll(() => feet.inputValue()).toBe('9′');
  expect(await says(page)).toMatch(/^1 at 9′\.$/);
  expect(await page.locator('.plan-box [data-ref="height:L1"]').textContent()).toMatch(/h 9′/);
  await feet.fill('tall');
  await feet.press('Enter');
  expect(await page.locator('.wrong').first().textContent()).toMatch(/Type a length such as/);
});

test('the light pulled by keys in a picture: a run of presses is one step, and the scope is said there', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  await page.locator('[data-angle=CA] [data-face=A]').focus();
  await page.keyboard.press('Enter');
  expect(await page.locator('[data-angle=CA] .pull-says').textContent()).toMatch(/whole rig/);
  const height = field(page, 'Lamp 1: height, metres');
  expect(await height.inputValue()).toBe('2.90');
  for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowDown');
  await expect.poll(() => height.inputValue()).toBe('2.75');
  await expect.poll(() => says(page), { timeout: 5000 }).toMatch(/^1 at 2\.75 m/);
  await page.locator('[data-angle=CA] .pull-says button', { hasText: 'CA only' }).click();
  await page.locator('[data-angle=CA] [data-face=A]').focus();
  await page.keyboard.press('ArrowDown');
  await expect.poll(() => page.locator('[data-angle=CA] header .cheats').count(), { timeout: 5000 }).toBe(1);
  expect(await page.locator('[data-angle=T] header .cheats').count()).toBe(0);
  await page.keyboard.press('Escape');
});

test('wheel and the paper: nearer about the pointer, whole again, a camera named and its lens changed in its caption', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  const k = await pxPerM(page);
  const [x, y] = await middle(page, '[data-ref="lamp:L1"]');
  await page.mouse.move(x, y);
  await page.mouse.wheel(0, -500);
  await expect.poll(() => pxPerM(page)).toBeGreaterThan(k * 1.8);
  // What was under the pointer is still there.
  const [nx, ny] = await middle(page, '[data-ref="lamp:L1"]');
  expect(Math.hypot(nx - x, ny - y)).toBeLessThan(6);
  await page.locator('.plan-whole').click();
  await expect.poll(() => pxPerM(page)).toBeCloseTo(k, 1);

  const name = page.getByLabel('Name of CA');
  await name.fill('A, closer');
  await name.press('Enter');
  const lens = page.getByLabel('CA: lens, millimetres');
  await lens.fill('85mm');
  await lens.press('Enter');
  await expect.poll(() => lens.inputValue()).toBe('85');
  expect(await page.getByLabel('T: lens, millimetres').inputValue()).toBe('25');
  expect(await says(page)).toMatch(/^CA: 85 mm/);
});

test('ten angles: all of one size, none under 280 px, the rig and the plan in sight', async ({
  newPage,
  address,
}) => {
  const shoot = JSON.parse(readFileSync('shoots/slack-water.json', 'utf8'));
  const scene = shoot.scenes[Object.keys(shoot.scenes)[0]!];
  for (let i = 1; i <= 6; i++) scene.angles[`M${i}`] = { ...scene.angles.T, name: `more ${i}`, cheats: {} };
  const page = await newPage();
  await page.goto(address);
  await page.locator('.bar .mark').click();
  await page.setInputFiles('.panel input[type=file]', {
    name: 'many.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(shoot)),
  });
  await expect.poll(() => page.locator('.many-wall .tile').count()).toBe(10);
  const widths = await page
    .locator('.many-wall .tile')
    .evaluateAll((tiles) => tiles.map((t) => t.getBoundingClientRect().width));
  expect(Math.min(...widths)).toBeGreaterThanOrEqual(280);
  expect(Math.max(...widths) - Math.min(...widths)).toBeLessThan(1);
  for (const part of ['.rig', '.where']) {
    const box = (await page.locator(part).boundingBox())!;
    expect(box.y).toBeLessThan(900);
    expect(box.height).toBeGreaterThan(100);
  }
  // One that is chosen comes into view.
  await page.locator('.rail button', { hasText: 'M6' }).click();
  await expect
    .poll(async () => (await page.locator('.many-wall .tile[data-angle=M6]').boundingBox())!.y)
    .toBeLessThan(700);
});
