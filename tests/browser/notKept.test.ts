/** Where nothing can be kept: said at once, with what to do; and files of the person's own, saved to again. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { openShoot } from '../../src/shoot/file.ts';
import { test } from './page.ts';

/** It stands, and has fetched what it needs: a fetch cut off by leaving would count as a complaint. */
const begun = async (page: Page) => {
  await page.waitForFunction(() => window.rushlight?.shoot !== undefined, undefined, { timeout: 60_000 });
  await page.waitForLoadState('networkidle');
};
const rename = (page: Page, words: string) =>
  page.evaluate((t) => window.rushlight!.act({ edit: 'rename', args: { title: t } }), words);
const strip = (page: Page) => page.locator('.kept-strip[role=alert]');
const panel = (page: Page) => page.getByRole('button', { name: 'Shoots: open, keep' }).click();

test('no storage: said with the first change, saved as a file, and nothing is asked any more', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  // As in a window where it is switched off.
  await page.addInitScript(() => {
    Object.defineProperty(globalThis, 'indexedDB', {
      value: {
        open() {
          throw new DOMException('denied', 'SecurityError');
        },
      },
    });
  });
  await page.goto(address);
  await begun(page);
  expect(await strip(page).count()).toBe(0);
  await rename(page, 'Nowhere');
  await expect.poll(() => strip(page).textContent()).toMatch(/keeps nothing for this page.*Save the shoot/);
  expect(await page.getByRole('button', { name: /^not kept/ }).count()).toBe(1);
  const asks: string[] = [];
  page.on('dialog', (d) => {
    asks.push(d.type());
    void d.accept();
  });
  // Leaving would lose it: the browser asks (it does so only on a page that was touched).
  await page.locator('.title').click();
  await page.reload();
  await begun(page);
  expect(asks).toEqual(['beforeunload']);
  await begun(page);
  await rename(page, 'Saved now');
  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  const saved = page.waitForEvent('download');
  await strip(page).getByRole('button', { name: 'Save as a file' }).click();
  const text = readFileSync(await (await saved).path(), 'utf8');
  const opened = openShoot(text);
  expect(opened.ok && opened.shoot.title).toBe('Saved now');
  await page.reload();
  await begun(page);
  expect(asks).toEqual(['beforeunload']);
});

test('no more room: said at once, kept when there is room again', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  await rename(page, 'One');
  await page.waitForFunction(() => {
    const k = window.rushlight!.kept();
    return k.writes && !k.behind;
  });
  await page.evaluate(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
    Object.assign(window, {
      room: () => {
        IDBObjectStore.prototype.put = put;
      },
    });
  });
  await rename(page, 'Two');
  await expect.poll(() => strip(page).textContent()).toMatch(/no more room.*Save the shoot as a file/);
  await page.evaluate(() => (window as unknown as { room: () => void }).room());
  await rename(page, 'Three');
  await expect.poll(() => strip(page).count()).toBe(0);
  await page.reload();
  await begun(page);
  await expect.poll(() => page.locator('.title em').textContent()).toBe('Three');
  // Every step is there, those of the bad time too.
  await page.waitForFunction(() => window.rushlight?.kept().writes);
  await page.keyboard.press('z');
  await expect.poll(() => page.locator('.title em').textContent()).toBe('Two');
});

test('a file on the disk: saved to it, and to the same again, also after a reload', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  // The browser's own dialogue cannot be pressed here: in its place a file of the page's own disk.
  await page.addInitScript(() => {
    Object.assign(window, {
      picks: 0,
      async showSaveFilePicker({ suggestedName }: { suggestedName: string }) {
        (window as unknown as { picks: number }).picks++;
        return (await navigator.storage.getDirectory()).getFileHandle(suggestedName, { create: true });
      },
    });
  });
  const onDisk = () =>
    page.evaluate(async () => {
      const folder = await navigator.storage.getDirectory();
      const file = await (await folder.getFileHandle('night-one.json')).getFile();
      return (JSON.parse(await file.text()) as { title: string }).title;
    });
  const picks = () => page.evaluate(() => (window as unknown as { picks: number }).picks);
  await page.goto(address);
  await begun(page);
  await rename(page, 'Night one');
  await page.keyboard.press('Control+s');
  await expect.poll(onDisk).toBe('Night one');
  await rename(page, 'Night two');
  await page.keyboard.press('Control+s');
  await expect.poll(onDisk).toBe('Night two');
  expect(await picks()).toBe(1);
  await page.waitForFunction(() => {
    const k = window.rushlight!.kept();
    return k.writes && !k.behind;
  });
  await page.reload();
  await begun(page);
  await panel(page);
  await page.getByRole('button', { name: /^Save to night-one\.json/ }).waitFor();
  await page.waitForFunction(() => window.rushlight?.kept().writes);
  await rename(page, 'Night three');
  await page.getByRole('button', { name: /^Save to night-one\.json/ }).click();
  await expect.poll(onDisk).toBe('Night three');
  expect(await picks()).toBe(0);
  expect(await page.locator('.this-shoot').textContent()).toMatch(/Saved to night-one\.json just now/);
});
