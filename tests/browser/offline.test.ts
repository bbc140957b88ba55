/** On a host that sends no headers: isolated after one reload, and still there when the host is gone. */
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { dist } from '../../src/cli/build.ts';
import { ensureBuilt } from './browser.ts';
import { test } from './page.ts';

const TYPES = { html: 'text/html', js: 'text/javascript', css: 'text/css' } as Record<string, string>;

/** A plain host of static files that sends no header but the type; the program lies under `path`. */
async function hostUnder(path: string) {
  ensureBuilt();
  const asked: string[] = [];
  const server = createServer((request, response) => {
    const { pathname } = new URL(request.url!, 'http://host');
    asked.push(pathname);
    try {
      if (!pathname.startsWith(path)) throw new Error('not here');
      const body = readFileSync(join(dist, pathname.slice(path.length) || 'index.html'));
      response.writeHead(200, {
        'Content-Type': TYPES[/\.(\w+)$/.exec(pathname)?.[1] ?? 'html'] ?? 'application/octet-stream',
      });
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return {
    asked,
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}${path}`,
    close() {
      server.close();
      server.closeAllConnections();
    },
  };
}
/** The service worker holds the whole program. */
const isKept = (page: Page) =>
  page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready;
    while (active!.state !== 'activated') await new Promise((r) => setTimeout(r, 20));
  });

test('any host: isolated from the first reload, then offline', async ({ newPage }) => {
  const host = await hostUnder('/');
  const { asked } = host;
  const address = `${host.address}#works`;
  const page = await newPage();
  const works = (name: string) => page.locator(`[data-works=${name}]:not(:empty)`).textContent();
  try {
    await page.goto(address);
    expect(await works('isolated')).toBe('no');
    // What a page still fetches when it is left counts as a failure: let it end.
    await works('people');
    await isKept(page);
    await page.reload();
    expect(await works('isolated')).toBe('yes');
    expect(Number(await works('sum'))).toBe((1000 * 1001 * 2001) / 6);
    expect(asked).toContain('/sw.js');
    await works('people');
  } finally {
    host.close();
  }
  // The host is gone. Start from nothing in memory: a second page of the same browser context.
  const before = asked.length;
  await page.goto('about:blank');
  await page.goto(address);
  expect(await works('isolated')).toBe('yes');
  expect(await works('rays')).toBe('four at once');
  expect(Number(await works('sum'))).toBe((1000 * 1001 * 2001) / 6);
  expect(Number(await works('people'))).toBeGreaterThan(100_000);
  expect(asked.length).toBe(before);
});

test('in a folder of a host: changed, kept, and at work again when the host is gone', async ({ newPage }) => {
  const host = await hostUnder('/our/film/light/');
  const page = await newPage();
  const title = () => page.locator('.title em').textContent();
  /** Two angles read and a picture drawn: workers, people and all. */
  const lit = () =>
    page.waitForFunction(
      () =>
        Object.keys(window.rushlight?.results() ?? {}).length > 1 &&
        window.rushlight?.openMs.firstPicture !== undefined,
      undefined,
      { timeout: 100_000 },
    );
  try {
    await page.goto(host.address);
    expect(await page.evaluate(() => crossOriginIsolated)).toBe(false);
    await lit();
    await isKept(page);
    await page.reload();
    expect(await page.evaluate(() => crossOriginIsolated)).toBe(true);
    await lit();
    await page.evaluate(() => window.rushlight!.act({ edit: 'rename', args: { title: 'On the coach' } }));
    await page.waitForFunction(() => {
      const k = window.rushlight!.kept();
      return k.writes && !k.behind;
    });
    expect(host.asked.filter((path) => !path.startsWith('/our/film/light/'))).toEqual([]);
  } finally {
    host.close();
  }
  await page.goto('about:blank');
  await page.goto(host.address);
  await expect.poll(title).toBe('On the coach');
  expect(await page.evaluate(() => crossOriginIsolated)).toBe(true);
  await lit();
  await page.keyboard.press('z');
  await expect.poll(title).toBe('Slack Water');
}, 300_000);
