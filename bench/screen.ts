/**
 * What a person waits for, in the browser that the tests use (it draws in software, on the same processors): a shoot
 * opened until pictures are there, a lamp carried over the plan, and the one-file page on a phone whose page thread is
 * slowed four times. By the clock, so this machine must have nothing else to do.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import { home } from '../src/cli/build.ts';
import { launch, seenOn, startServer } from '../tests/browser/browser.ts';

export interface Wait {
  name: string;
  /** Milliseconds: the middle one, and nine in ten are no longer than the second. */
  median: number;
  most: number;
  goal?: number;
}

const SETTLE_MS = 8000;
/** Times a shoot is opened, and times a lamp is carried. */
const OPENINGS = 7;
const CARRIES = 3;

const at = (list: readonly number[], share: number): number =>
  [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * share))] ?? Number.NaN;
const wait = (name: string, list: readonly number[], goal?: number): Wait => ({
  name,
  median: at(list, 0.5),
  most: at(list, 0.9),
  ...(goal === undefined ? {} : { goal }),
});

/** A hand carries a thing for two seconds at twenty moves a second; how long each answer came after its own wish. */
async function carry(page: Page, selector: string, byPx: readonly [number, number]) {
  await page.waitForTimeout(SETTLE_MS);
  const box = (await page.locator(selector).first().boundingBox())!;
  const from = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const since = (await page.evaluate(() => window.rushlight!.timings().at(-1)?.turn)) ?? 0;
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  for (let i = 1; i <= 40; i++) {
    await page.mouse.move(from.x + (byPx[0] * i) / 40, from.y + (byPx[1] * i) / 40);
    await page.waitForTimeout(50);
  }
  await page.mouse.up();
  await page.waitForTimeout(1500);
  const all = await page.evaluate((turn) => window.rushlight!.timings().filter((t) => t.turn > turn), since);
  return { read: all.flatMap((t) => t.read), seen: all.flatMap((t) => t.seen) };
}

const allRead = (page: Page) =>
  page.waitForFunction(() => Object.keys(window.rushlight!.results()).length >= 4, undefined, {
    timeout: 120_000,
  });

export async function screenWaits(step: (share: number, what: string) => void): Promise<Wait[]> {
  const browser = await launch();
  const server = await startServer();
  const folder = mkdtempSync(join(tmpdir(), 'rushlight-screen-'));
  try {
    const first: number[] = [];
    const all: number[] = [];
    const read: number[] = [];
    const seen: number[] = [];
    for (let n = 0; n < OPENINGS; n++) {
      step((0.6 * n) / OPENINGS, 'opening');
      const context = await browser.newContext(seenOn({}));
      const page = await context.newPage();
      await page.goto(server.address);
      await page.waitForFunction(() => window.rushlight?.openMs.allPictures !== undefined, undefined, {
        timeout: 120_000,
      });
      const open = await page.evaluate(() => window.rushlight!.openMs);
      first.push(open.firstPicture!);
      all.push(open.allPictures!);
      if (n < CARRIES) {
        step((0.6 * (n + 0.5)) / OPENINGS, 'a lamp carried');
        await allRead(page);
        const carried = await carry(page, '[data-thing="lamp:L1"]', [48, 32]);
        read.push(...carried.read);
        seen.push(...carried.seen);
      }
      await context.close();
    }

    step(0.6, 'one file, on a slow phone');
    const out = join(folder, 'shoot.html');
    const bin = join(home, 'bin/rushlight.js');
    execFileSync(process.execPath, [bin, 'page', join(home, 'shoots/slack-water.json'), '--out', out], {
      stdio: 'pipe',
    });
    const context = await browser.newContext({ ...seenOn({ phone: true }), offline: true });
    const page = await context.newPage();
    const cdp = await context.newCDPSession(page);
    await cdp.send('Emulation.setCPUThrottlingRate', { rate: 4 });
    await page.addInitScript(() => {
      const seenAt: { ms?: number } = {};
      Object.assign(window, { seenAt });
      const look = () => {
        if (document.querySelector('.small-cell canvas[data-lit=true]')) seenAt.ms ??= performance.now();
        else setTimeout(look, 20);
      };
      look();
    });
    await page.goto(pathToFileURL(out).href);
    await page.waitForFunction(
      () => (window as unknown as { seenAt: { ms?: number } }).seenAt.ms !== undefined,
      undefined,
      { timeout: 120_000 },
    );
    const phoneMs = await page.evaluate(() => (window as unknown as { seenAt: { ms: number } }).seenAt.ms);
    await allRead(page);
    step(0.8, 'one file, on a slow phone');
    const thumb = await carry(page, '.thumb .slide', [-120, 0]);
    await page.locator('.where-cell').click();
    const lamp = await carry(page, '[data-thing="lamp:L1"]', [48, 32]);
    return [
      wait('opening: first picture, from the shoot read', first, 1000),
      wait('opening: all four pictures', all),
      wait('a lamp carried: an angle’s readings', read, 100),
      wait('a lamp carried: an angle’s picture', seen, 250),
      wait('slow phone, one file: first picture, from the page asked for', [phoneMs], 3000),
      wait('slow phone: readings under the thumb, a dimmer', thumb.read, 100),
      wait('slow phone: readings, a lamp carried', lamp.read, 100),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
    await browser.close();
    await server.stop();
  }
}
