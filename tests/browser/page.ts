/** `test` with a browser in it: a page that complains on its console fails its test. */
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { test as plain } from 'vitest';
import { complaints, type Device, launch, seenOn, startServer } from './browser.ts';

interface Stage {
  browser: Browser;
  /** Address of the little server, with its last slash. */
  address: string;
  /** A new page in a context of its own, closed after the test. */
  newPage: (device?: Device, more?: BrowserContextOptions) => Promise<Page>;
}

export const test = plain.extend<Stage>({
  browser: [
    // biome-ignore lint/correctness/noEmptyPattern: the test runner reads the needs of a fixture from this pattern
    async ({}, use) => {
      const browser = await launch();
      await use(browser);
      await browser.close();
    },
    { scope: 'file' },
  ],
  address: [
    // biome-ignore lint/correctness/noEmptyPattern: as above
    async ({}, use) => {
      const server = await startServer();
      await use(server.address);
      await server.stop();
    },
    { scope: 'file' },
  ],
  newPage: async ({ browser }, use) => {
    const opened: { page: Page; said: string[] }[] = [];
    await use(async (device = {}, more = {}) => {
      const context = await browser.newContext({ ...seenOn(device), ...more });
      const page = await context.newPage();
      opened.push({ page, said: complaints(page) });
      return page;
    });
    for (const { page } of opened) await page.context().close();
    const said = opened.flatMap((o) => o.said);
    if (said.length) throw new Error(`The page complained:\n${said.join('\n')}`);
  },
});
