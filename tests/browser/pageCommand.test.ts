/** `rushlight page` on every shoot that comes with the program: one file, readable without scripts, alive with them. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, expect } from 'vitest';
import type { Shoot } from '../../src/shoot/schema.ts';
import { test } from './page.ts';

const home = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'rushlight-page-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

// The shoot that opens first in every run, all of them in the long one.
const shoots = process.env.RUSHLIGHT_LONG
  ? readdirSync(join(home, 'shoots')).filter((file) => file.endsWith('.json'))
  : ['slack-water.json'];

for (const name of shoots)
  test(`${name} as one file`, async ({ newPage }) => {
    const source = join(home, 'shoots', name);
    const out = join(folder, `${name}.html`);
    execFileSync(process.execPath, [join(home, 'bin/rushlight.js'), 'page', source, '--out', out], {
      stdio: 'pipe',
    });
    const shoot = JSON.parse(readFileSync(source, 'utf8')) as Shoot;

    const still = await newPage({ phone: true }, { offline: true, javaScriptEnabled: false });
    await still.goto(pathToFileURL(out).href);
    expect(await still.locator('h1').first().textContent()).toBe(shoot.title);
    const text = await still.locator('#root').textContent();
    for (const scene of Object.values(shoot.scenes))
      for (const angle of Object.values(scene.angles))
        expect(text).toContain(`${scene.name} · ${angle.name}`);
    // Before any script: every angle's picture, readings and plan, and the power sheet.
    const angles = Object.values(shoot.scenes).flatMap((scene) => Object.values(scene.angles));
    const sections = still.locator('#still section.angle');
    expect(await sections.count()).toBe(angles.length);
    for (const section of await sections.all()) {
      const picture = section.locator('img');
      expect(await picture.isVisible()).toBe(true);
      // Decoded by the browser, and as large as it says.
      expect(
        await picture.evaluate(async (img: HTMLImageElement) =>
          img.decode().then(() => img.naturalWidth / img.naturalHeight),
        ),
      ).toBeCloseTo(16 / 9, 2);
      expect(await section.locator('.plan svg').isVisible()).toBe(true);
      expect((await section.locator('.plan svg').boundingBox())!.height).toBeGreaterThan(150);
      expect(await section.locator('.readings table').first().isVisible()).toBe(true);
      expect(await section.locator('.readings td.n').first().textContent()).toMatch(/^\d/);
    }
    const power = still.locator('#still section.power').first();
    expect(await power.isVisible()).toBe(true);
    for (const words of ['Circuits', 'Not checked', 'Cautions', 'volts'])
      expect(await power.textContent()).toContain(words);
    expect(text).toContain('quick');
    expect(text).not.toMatch(/\bsafe\b|\bok\b|will trip/i);
    // Program, people, pictures and all: the goal for one page that is sent on is 12 MB.
    expect(statSync(out).size).toBeLessThan(12e6);
    expect(await still.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );

    const alive = await newPage({ phone: true }, { offline: true });
    await alive.goto(`${pathToFileURL(out).href}#works`);
    expect(await alive.locator('[data-works=page]').textContent()).toBe('yes');
    expect(await alive.locator('#still').count()).toBe(0);
    expect(Number(await alive.locator('[data-works=sum]:not(:empty)').textContent())).toBe(333833500);
    // The very shoot is inside, letter by letter.
    expect(
      await alive.evaluate(() => JSON.parse(document.getElementById('rushlight-shoot')!.textContent!)),
    ).toEqual(shoot);

    // Where scripts run the pictures it came with stay until the program has its own: no tile is ever without one.
    const opened = await newPage({ phone: true }, { offline: true });
    await opened.addInitScript(() => {
      const seen = { bare: 0, sent: 0 };
      Object.assign(window, { seen });
      const look = () => {
        seen.bare = Math.max(seen.bare, document.querySelectorAll('.picture .waiting').length);
        seen.sent = Math.max(seen.sent, document.querySelectorAll('.picture .sent').length);
      };
      addEventListener('DOMContentLoaded', () => {
        new MutationObserver(look).observe(document.body, { childList: true, subtree: true });
        look();
      });
    });
    await opened.goto(pathToFileURL(out).href);
    await opened.waitForFunction(() => window.rushlight?.openMs.allPictures !== undefined, undefined, {
      timeout: 200_000,
    });
    const seen = await opened.evaluate(
      () => (window as unknown as { seen: { bare: number; sent: number } }).seen,
    );
    expect(seen.bare).toBe(0);
    expect(seen.sent).toBeGreaterThan(0);
  }, 400_000);
