/** The Light screen: opens the demo, moves a lamp, dims one, tries and keeps a cure, as one file, on a phone. */
import { copyFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './page.ts';

/** Until every angle has a picture and is read. */
async function lit(page: Page, angles = 4): Promise<void> {
  await page.waitForFunction(
    (n) =>
      window.rushlight?.openMs.allPictures !== undefined &&
      Object.keys(window.rushlight.results()).length === n,
    angles,
    { timeout: 100_000 },
  );
}

/** Mean of the bytes of each picture, by angle: what a canvas shows, not what was computed. */
const brightness = (page: Page): Promise<Record<string, number>> =>
  page.evaluate(() => {
    const out: Record<string, number> = {};
    for (const tile of document.querySelectorAll<HTMLElement>('.tile')) {
      const canvas = tile.querySelector('canvas')!;
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
      let sum = 0;
      for (let i = 0; i < data.length; i += 4) sum += data[i]! + data[i + 1]! + data[i + 2]!;
      out[tile.dataset.angle!] = sum / (0.75 * data.length);
    }
    return out;
  });

const luxOf = (page: Page, angle: string, mark: string): Promise<number> =>
  page.evaluate(
    ([a, m]) => window.rushlight!.results()[a!]!.marks.find((x) => x.mark === m)!.incidentLx,
    [angle, mark],
  );

const raysOf = async (page: Page): Promise<number> => {
  const r = await page.evaluate(() => window.rushlight!.rays());
  return r.camera + r.shadow + r.bounce + r.link;
};

test('opens the demo: every angle has a picture that is not black', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  for (const [angle, mean] of Object.entries(await brightness(page))) expect(mean, angle).toBeGreaterThan(3);
  // Words of what the light does, worked out, stand in the rig's cells.
  await expect.poll(() => page.locator('.rig td.cell em').allTextContents()).toContain('key B');
});

test('a lamp carried on the plan changes readings and pictures, and steps back', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  await page.keyboard.press('r');
  const figure = page.locator('.readings [data-mark=A] .figure');
  const before = await figure.textContent();
  const was = await luxOf(page, 'T', 'A');
  const dark = await brightness(page);
  await page.keyboard.press('Escape');
  const lamp = page.locator('[data-ref="lamp:L2"]').first();
  const box = (await lamp.boundingBox())!;
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  // South along its beam, toward the mark: nearer, so more light there.
  await page.mouse.move(box.x + box.width / 2, box.y + 60, { steps: 4 });
  await expect.poll(() => luxOf(page, 'T', 'A'), { timeout: 30_000 }).toBeGreaterThan(was * 1.1);
  await page.mouse.up();
  await page.keyboard.press('r');
  await expect.poll(() => figure.textContent(), { timeout: 30_000 }).not.toBe(before);
  await expect
    .poll(async () => Math.abs((await brightness(page)).CA! - dark.CA!), { timeout: 60_000 })
    .toBeGreaterThan(0.5);
  await page.keyboard.press('Escape');
  await page.keyboard.press('z');
  await expect.poll(() => luxOf(page, 'T', 'A'), { timeout: 30_000 }).toBeCloseTo(was, -1);
});

test('a dimmer traces no ray', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  const was = await luxOf(page, 'T', 'A');
  const marks = { T: 'A', CA: 'A', CB: 'B', W: 'A' };
  const all = new Map<string, number>();
  for (const [angle, mark] of Object.entries(marks)) all.set(angle, await luxOf(page, angle, mark));
  const slide = page.locator('tr[data-lamp=L2] input[type=range]');
  const box = (await slide.boundingBox())!;
  await page.mouse.move(box.x + box.width - 3, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width - 20, box.y + box.height / 2);
  // While the hand is on it nothing is refined either: once every worker has answered this turn (it may have been
  // in the middle of refining when the hand came down), no ray of any kind.
  for (const [angle, mark] of Object.entries(marks))
    await expect.poll(() => luxOf(page, angle, mark), { timeout: 30_000 }).not.toBe(all.get(angle));
  expect(await luxOf(page, 'T', 'A')).toBeLessThan(was * 0.8);
  const rays = await raysOf(page);
  const before = await brightness(page);
  const lux = await luxOf(page, 'T', 'A');
  await page.mouse.move(box.x + box.width - 36, box.y + box.height / 2);
  await expect.poll(() => luxOf(page, 'T', 'A'), { timeout: 30_000 }).toBeLessThan(lux * 0.8);
  await expect.poll(async () => (await brightness(page)).CA!, { timeout: 30_000 }).toBeLessThan(before.CA!);
  expect(await raysOf(page)).toBe(rays);
  await page.mouse.up();
});

test('a cure is tried by pointing, kept by a press, and undone by a step back', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  const corner = page.locator('[data-angle=W] .corner');
  await expect.poll(() => corner.textContent(), { timeout: 60_000 }).toBe('2');
  await page.locator('[data-angle=W] .cure-strip button', { hasText: 'more' }).click({ timeout: 90_000 });
  const bright = (await brightness(page)).W!;
  const cure = page.locator('[data-angle=W] .cure-strip button.cure', { hasText: 'Put 2 out' });
  await cure.hover();
  // Tried: the flare is gone and W is darker; the rig's row has not changed.
  await expect.poll(() => corner.textContent(), { timeout: 60_000 }).toBe('1');
  await expect.poll(async () => (await brightness(page)).W!, { timeout: 60_000 }).toBeLessThan(bright - 1);
  await page.mouse.move(700, 22);
  await expect.poll(() => corner.textContent(), { timeout: 60_000 }).toBe('2');
  await cure.click();
  await expect(page.locator('.says').textContent()).resolves.toContain('2 out in W');
  await expect.poll(() => page.locator('[data-angle=W] .cheats').textContent()).toContain('cheats');
  expect(await page.locator('[data-angle=T] .cheats').count()).toBe(0);
  await page.keyboard.press('z');
  await expect.poll(() => page.locator('[data-angle=W] .cheats').count()).toBe(0);
});

test('what cannot be opened is said in a sentence, and nothing is lost', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await page.locator('.bar .mark').click();
  await page.locator('.panel input[type=file]').setInputFiles({
    name: 'torn.json',
    mimeType: 'application/json',
    buffer: Buffer.from('{"format": "rushlight-shoot", "vers'),
  });
  await expect.poll(() => page.locator('[role=alert]').textContent()).toContain('cut short');
  expect(await page.locator('.bar h1').textContent()).toContain('Slack Water');
});

// The page command's file is looked at in every run.
test.runIf(process.env.RUSHLIGHT_LONG)(
  'as one page, from a file: pictures with no server',
  async ({ newPage, address }) => {
    const page = await newPage();
    await page.goto(address);
    await page.locator('.bar .mark').click();
    const kept = page.waitForEvent('download', { timeout: 110_000 });
    await page.getByRole('button', { name: 'Send on as one page' }).click();
    const path = await (await kept).path();
    const copy = `${path}.html`;
    copyFileSync(path, copy);
    const alone = await newPage({}, { offline: true });
    await alone.goto(pathToFileURL(copy).href);
    await lit(alone);
    for (const [angle, mean] of Object.entries(await brightness(alone)))
      expect(mean, angle).toBeGreaterThan(3);
  },
);

test('a phone: nothing wider than the screen, targets of 44 px', async ({ newPage, address }) => {
  const page = await newPage({ phone: true });
  await page.goto(address);
  await lit(page);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  const low = await page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('.phone > :not(.chosen) button, .thumb [role=slider]')]
      .filter((b) => b.offsetParent !== null && b.getBoundingClientRect().height < 43.5)
      .map((b) => `${b.className} ${b.textContent} ${b.getBoundingClientRect().height}`),
  );
  expect(low).toEqual([]);
});

test('the light is pulled in a picture: the bead round the head carries the lamp', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await lit(page);
  // It hangs from a beam that runs north, so north is how it goes.
  const place = page.getByLabel('Lamp 1: north, metres');
  await page.locator('[data-angle=CA] [data-face=A]').click();
  const was = await place.inputValue();
  const box = (await page.locator('[data-angle=CA] [data-pull=ring]').boundingBox())!;
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + 60, box.y + 30, { steps: 3 });
  await page.mouse.up();
  await expect.poll(() => place.inputValue()).not.toBe(was);
  // One drag is one step.
  await page.keyboard.press('z');
  await expect.poll(() => place.inputValue()).toBe(was);
});

test('what is typed wrong is said, and changes nothing; a change in stops is understood', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  const stop = page.getByRole('textbox', { name: 'T-stop' });
  await stop.fill('wide');
  await stop.press('Enter');
  await expect.poll(() => page.locator('.settings [role=alert]').textContent()).toContain('T-stop such as');
  // A third of a stop less light than T2.8: 2.8 × 2^(1/6) = 3.14.
  await stop.fill('-1/3');
  await stop.press('Enter');
  await expect.poll(() => stop.inputValue()).toBe('3.1');
});
