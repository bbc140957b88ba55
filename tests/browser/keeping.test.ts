/**
 * Shoots kept in the browser: every change at once, with the steps that led to it; damaged records passed over; one
 * window that writes while others follow; the list with its names, copies and bin.
 */
import type { BrowserContext, Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './page.ts';

/** What the page offers to tests (src/app/App.tsx). */
interface Asked {
  rushlight: {
    act: (edit: { edit: string; args: Record<string, unknown> }) => string | undefined;
    kept: () => { id?: string; seq?: number; writes: boolean; behind: boolean };
  };
  indexedDB: IDBFactory;
}
declare const window: Asked;

const title = (page: Page) => page.locator('.title em').textContent();
const rename = (page: Page, words: string) =>
  page.evaluate((t) => window.rushlight.act({ edit: 'rename', args: { title: t } }), words);
/** Until all that was done is on the disk. */
const kept = (page: Page) =>
  page.waitForFunction(() => {
    const k = window.rushlight.kept();
    return k.id !== undefined && k.writes && !k.behind;
  });
/** It stands, and has fetched what it needs: a fetch cut off by leaving would count as a complaint. */
const begun = async (page: Page) => {
  await page.waitForFunction(() => window.rushlight?.kept !== undefined, undefined, { timeout: 60_000 });
  await page.waitForLoadState('networkidle');
};
async function another(context: BrowserContext, address: string): Promise<Page> {
  const page = await context.newPage();
  await page.goto(address);
  await begun(page);
  return page;
}
const panel = (page: Page) => page.getByRole('button', { name: 'Shoots: open, keep' }).click();
const list = (page: Page) => page.locator('.kept-list .name').allTextContents();

/** Spoils one figure in every record of a store from a count on; says how many were spoiled. */
const spoil = (page: Page, store: string, from: number) =>
  page.evaluate(
    ([name, least]) =>
      new Promise<number>((done) => {
        window.indexedDB.open('rushlight').onsuccess = (e) => {
          const db = (e.target as IDBOpenDBRequest).result;
          const tx = db.transaction(name, 'readwrite');
          let spoiled = 0;
          tx.objectStore(name).openCursor().onsuccess = (c) => {
            const cursor = (c.target as IDBRequest<IDBCursorWithValue | null>).result;
            if (!cursor) return;
            const record = cursor.value as { seq: number; body: string };
            if (record.seq >= least) {
              spoiled++;
              cursor.update({ ...record, body: record.body.replace(/\d/, 'x') });
            }
            cursor.continue();
          };
          tx.oncomplete = () => {
            db.close();
            done(spoiled);
          };
        };
      }),
    [store, from] as const,
  );

test('a change is kept, and the way back and forward with it', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  const demo = await title(page);
  expect(await page.evaluate(() => window.rushlight.kept().id)).toBeUndefined();
  await rename(page, 'First name');
  await rename(page, 'Second name');
  await kept(page);
  await page.reload();
  await begun(page);
  await expect.poll(() => title(page)).toBe('Second name');
  await kept(page);
  await page.keyboard.press('z');
  await expect.poll(() => title(page)).toBe('First name');
  await kept(page);
  // A tab that knows nothing of it yet, when the first is shut.
  const context = page.context();
  await page.close();
  const next = await another(context, address);
  await expect.poll(() => title(next)).toBe('First name');
  await kept(next);
  await next.keyboard.press('Shift+Z');
  await expect.poll(() => title(next)).toBe('Second name');
  await next.keyboard.press('z');
  await next.keyboard.press('z');
  await expect.poll(() => title(next)).toBe(demo);
});

test('a damaged record is passed over for the last good one, and said; nothing is lost by going on', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  for (let i = 0; i < 100; i++) await rename(page, `Name ${i}`);
  await kept(page);
  const seq = (await page.evaluate(() => window.rushlight.kept().seq))!;
  const context = page.context();
  const aside = await context.newPage();
  await aside.goto(`${address}rushlight.json`);
  await page.close();

  // The newest whole writing: the one before it with its journal gives the same.
  expect(await spoil(aside, 'wholes', seq - 40)).toBe(1);
  let back = await another(context, address);
  await expect.poll(() => title(back)).toBe('Name 99');
  expect(await back.getByRole('alert').count()).toBe(0);
  await back.close();

  // The journal, four entries before its end: as it stood then, which is said; and it goes on from there.
  expect(await spoil(aside, 'entries', seq - 3)).toBe(4);
  back = await another(context, address);
  await expect.poll(() => back.getByRole('alert').textContent()).toMatch(/damaged.* 4 steps earlier/);
  expect(await title(back)).toBe('Name 95');
  await kept(back);
  await rename(back, 'Mended');
  await kept(back);
  await back.close();
  back = await another(context, address);
  await expect.poll(() => title(back)).toBe('Mended');
  expect(await back.getByRole('alert').count()).toBe(0);
  await kept(back);
  await back.keyboard.press('z');
  await expect.poll(() => title(back)).toBe('Name 95');
  await kept(back);
  await back.close();

  // Everything: that is said, and the demo opens.
  await spoil(aside, 'wholes', 0);
  back = await another(context, address);
  await expect.poll(() => back.getByRole('alert').textContent()).toMatch(/damaged.*cannot be opened/);
  expect(await title(back)).toBe('Slack Water');
});

test('two windows: one writes, the other follows, may take over, and goes on when the first is shut', async ({
  newPage,
  address,
}) => {
  const first = await newPage();
  await first.goto(address);
  await begun(first);
  await rename(first, 'One');
  await kept(first);
  const second = await another(first.context(), address);
  await expect.poll(() => title(second)).toBe('One');
  const strip = second.locator('.kept-strip');
  expect(await strip.textContent()).toContain('open in another window, which writes it');
  // It follows.
  await rename(first, 'Two');
  await expect.poll(() => title(second)).toBe('Two');
  await first.keyboard.press('z');
  await expect.poll(() => title(second)).toBe('One');
  await first.keyboard.press('Shift+Z');
  await expect.poll(() => title(second)).toBe('Two');
  // It cannot write.
  expect(await rename(second, 'Not this')).toMatch(/Another window writes this shoot/);
  expect(await title(second)).toBe('Two');
  // It takes over: the first gives way and follows.
  await strip.getByRole('button').click();
  await kept(second);
  await expect.poll(() => first.locator('.kept-strip').textContent()).toContain('has taken over');
  expect(await rename(second, 'Three')).toBeUndefined();
  await expect.poll(() => title(first)).toBe('Three');
  expect(await rename(first, 'Not this')).toMatch(/Another window writes this shoot/);
  // The second is shut: the first writes again, with every step of both.
  await kept(second);
  await second.close();
  await kept(first);
  await expect.poll(() => first.locator('.kept-strip').count()).toBe(0);
  await first.keyboard.press('z');
  await first.keyboard.press('z');
  await expect.poll(() => title(first)).toBe('One');
  expect(await rename(first, 'Four')).toBeUndefined();
  await kept(first);
});

test('two windows may have two shoots; each tab loads its own again', async ({ newPage, address }) => {
  const first = await newPage();
  await first.goto(address);
  await begun(first);
  await rename(first, 'Mine');
  await kept(first);
  const second = await another(first.context(), address);
  await expect.poll(() => title(second)).toBe('Mine');
  await panel(second);
  await second.getByRole('button', { name: 'kitchen', exact: true }).click();
  await expect.poll(() => title(second)).not.toBe('Mine');
  await rename(second, 'Theirs');
  await kept(second);
  await rename(first, 'Mine still');
  await kept(first);
  for (const [page, words] of [
    [first, 'Mine still'],
    [second, 'Theirs'],
  ] as const) {
    await page.reload();
    await begun(page);
    await expect.poll(() => title(page)).toBe(words);
    await kept(page);
  }
  await panel(first);
  await expect.poll(() => list(first)).toEqual(['Mine still', 'Theirs']);
});

test('the list: renamed, copied, thrown away and put back', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  await rename(page, 'A night');
  await kept(page);
  await panel(page);
  expect(await page.locator('.this-shoot').textContent()).toMatch(/Kept .* in this browser/);
  await page.getByRole('button', { name: 'duplicate' }).click();
  await expect.poll(() => list(page)).toEqual(['A night, copy', 'A night']);
  // The copy is renamed in the list while the other is open.
  await page.getByRole('button', { name: 'rename' }).first().click();
  await page.keyboard.type('Another night');
  await page.keyboard.press('Enter');
  await expect.poll(() => list(page)).toEqual(['Another night', 'A night']);
  // An empty name is told at its place, and changes nothing.
  await page.getByRole('textbox', { name: 'Name of the shoot' }).fill(' ');
  await page.keyboard.press('Enter');
  expect(await page.locator('.this-shoot').getByRole('alert').textContent()).toContain('at least one letter');
  await page.keyboard.press('Escape');
  expect(await title(page)).toBe('A night');
  // Opened, thrown away (the other opens), put back.
  await page.getByRole('button', { name: 'Another night', exact: true }).click();
  await expect.poll(() => title(page)).toBe('Another night');
  await panel(page);
  await page.getByRole('button', { name: 'throw away' }).first().click();
  await expect.poll(() => title(page)).toBe('A night');
  expect(await page.locator('.refused').textContent()).toMatch(/thrown away.*30 days/);
  await expect.poll(() => list(page)).toEqual(['A night', 'Another night']);
  await page.getByRole('button', { name: 'Put it back' }).click();
  await expect.poll(() => page.getByRole('heading', { name: 'Thrown away' }).count()).toBe(0);
  expect(await list(page)).toHaveLength(2);
});
