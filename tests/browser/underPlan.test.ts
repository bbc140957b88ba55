/** A sketch under the plan: chosen, scaled by two taps and a typed length, traced, kept with the file, stepped back. */
import { expect } from 'vitest';
import { writePng } from '../../src/cli/png.ts';
import { test } from './page.ts';

/** A sketch of 600 × 400: black walls about a room of 480 × 280, as a PNG with a note in it. */
function sketch(): Buffer {
  const [w, h] = [600, 400];
  const rgb = new Uint8Array(3 * w * h).fill(255);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const on = (v: number, a: number, b: number) => v >= a - 4 && v <= b + 4;
      const edge = [60, 540].some((e) => Math.abs(x - e) < 5) || [60, 340].some((e) => Math.abs(y - e) < 5);
      if (edge && on(x, 60, 540) && on(y, 60, 340)) rgb.fill(0, 3 * (y * w + x), 3 * (y * w + x) + 3);
    }
  return writePng(w, h, rgb);
}
const under = () => {
  const { under, places } = JSON.parse(window.rushlight!.shoot().text) as {
    under?: Record<string, { picture: string; widthM: number; known?: boolean; at: number[] }>;
    places: object;
  };
  return under?.[Object.keys(places)[0]!];
};

test('laid, scaled by one known length, carried by keys, shown in the plan, taken away, stepped back', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await page.getByRole('button', { name: 'change this room' }).click();
  const [choose] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'photo or sketch under it' }).click(),
  ]);
  await choose.setFiles({ name: 'sketch.png', mimeType: 'image/png', buffer: sketch() });
  await expect.poll(async () => (await page.evaluate(under))?.widthM).toBeGreaterThan(1);
  // Redrawn: a JPEG of its own, whatever came.
  expect((await page.evaluate(under))!.picture).toMatch(/^data:image\/jpeg;base64,/);
  await page.getByRole('button', { name: 'scale it' }).click();
  const box = (await page.locator('.room-plan .under-picture').boundingBox())!;
  // The two ends of its lower wall, 480 of 600 pixels apart.
  const at = (x: number, y: number) => ({
    x: box.x + (x / 600) * box.width,
    y: box.y + (y / 400) * box.height,
  });
  await page.mouse.click(at(60, 340).x, at(60, 340).y);
  await page.mouse.click(at(540, 340).x, at(540, 340).y);
  await page.getByLabel('The known length between the two points').fill('15ft9');
  await page.keyboard.press('Enter');
  // 15 ft 9 in are 4.8006 m: the whole is 600/480 of it, as well as a pointer hits.
  await expect.poll(async () => (await page.evaluate(under))?.known).toBe(true);
  expect(Math.abs((await page.evaluate(under))!.widthM / 6.0008 - 1)).toBeLessThan(0.01);
  const x = (await page.evaluate(under))!.at[0]!;
  await page.getByRole('button', { name: 'move it' }).click();
  await page.keyboard.press('ArrowRight');
  await expect.poll(async () => (await page.evaluate(under))!.at[0]).toBeCloseTo(x + 0.05, 3);
  await page.getByRole('button', { name: 'done', exact: true }).click();
  await page.locator('.where .under-picture').waitFor({ state: 'attached' });
  await page.locator('.where').getByRole('button', { name: 'take it away' }).click();
  await expect.poll(() => page.evaluate(under)).toBeUndefined();
  await page.keyboard.press('z');
  await expect.poll(async () => (await page.evaluate(under))?.known).toBe(true);
});

test('on a phone: two taps and a length; a file that is no picture is refused in a sentence', async ({
  newPage,
  address,
}) => {
  const page = await newPage({ phone: true });
  await page.goto(address);
  await page.locator('.where-cell').tap();
  await page.getByRole('button', { name: 'change this room' }).tap();
  const give = async (name: string, buffer: Buffer) => {
    const [choose] = await Promise.all([
      page.waitForEvent('filechooser'),
      page.getByRole('button', { name: /photo or sketch under it|another/ }).tap(),
    ]);
    await choose.setFiles({ name, mimeType: 'image/png', buffer });
  };
  await give('plan.png', Buffer.from('<svg onload=alert(1)></svg>'));
  await page.getByText('is no PNG, JPEG or WebP picture', { exact: false }).waitFor();
  expect(await page.evaluate(under)).toBeUndefined();
  await give('sketch.png', sketch());
  await page.getByRole('button', { name: 'scale it' }).tap();
  await page.locator('.room-plan').scrollIntoViewIfNeeded();
  const box = (await page.locator('.room-plan .under-picture').boundingBox())!;
  for (const share of [0.1, 0.9])
    await page.touchscreen.tap(box.x + share * box.width, box.y + 0.85 * box.height);
  await page.getByLabel('The known length between the two points').fill('480cm');
  await page.getByRole('button', { name: 'it is so long' }).tap();
  await expect.poll(async () => (await page.evaluate(under))?.widthM).toBeCloseTo(6, 1);
});
