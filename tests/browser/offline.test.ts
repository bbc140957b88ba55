/** On a host that sends no headers: isolated after one reload, and still there when the host is gone. */
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { expect } from 'vitest';
import { dist } from '../../src/cli/build.ts';
import { ensureBuilt } from './browser.ts';
import { test } from './page.ts';

const TYPES = { html: 'text/html', js: 'text/javascript', css: 'text/css' } as Record<string, string>;

test('any host: isolated from the first reload, then offline', async ({ newPage }) => {
  ensureBuilt();
  const asked: string[] = [];
  const host = createServer((request, response) => {
    const path = request.url === '/' ? '/index.html' : request.url!;
    asked.push(path);
    try {
      const body = readFileSync(join(dist, path));
      response.writeHead(200, {
        'Content-Type': TYPES[path.split('.').at(-1)!] ?? 'application/octet-stream',
      });
      response.end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((done) => host.listen(0, '127.0.0.1', done));
  const address = `http://127.0.0.1:${(host.address() as AddressInfo).port}/#works`;
  const page = await newPage();
  const works = (name: string) => page.locator(`[data-works=${name}]:not(:empty)`).textContent();
  try {
    await page.goto(address);
    expect(await works('isolated')).toBe('no');
    // What a page still fetches when it is left counts as a failure: let it end.
    await works('people');
    await page.evaluate(async () => {
      const { active } = await navigator.serviceWorker.ready;
      while (active!.state !== 'activated') await new Promise((r) => setTimeout(r, 20));
    });
    await page.reload();
    expect(await works('isolated')).toBe('yes');
    expect(Number(await works('sum'))).toBe((1000 * 1001 * 2001) / 6);
    expect(asked).toContain('/sw.js');
    await works('people');
  } finally {
    host.close();
    host.closeAllConnections();
  }
  // The host is gone. Start from nothing in memory: a second page of the same browser context.
  const before = asked.length;
  await page.goto('about:blank');
  await page.goto(address);
  expect(await works('isolated')).toBe('yes');
  expect(Number(await works('sum'))).toBe((1000 * 1001 * 2001) / 6);
  expect(Number(await works('people'))).toBeGreaterThan(100_000);
  expect(asked.length).toBe(before);
});
