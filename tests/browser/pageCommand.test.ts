/** `rushlight page` on every shoot that comes with the program: one file, readable without scripts, alive with them. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, expect } from 'vitest';
import type { Shoot } from '../../src/shoot/schema.ts';
import { test } from './page.ts';

const home = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'rushlight-page-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

for (const name of readdirSync(join(home, 'shoots')).filter((file) => file.endsWith('.json')))
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
    expect(await still.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );

    const alive = await newPage({ phone: true }, { offline: true });
    await alive.goto(`${pathToFileURL(out).href}#works`);
    expect(await alive.locator('[data-works=page]').textContent()).toBe('yes');
    expect(Number(await alive.locator('[data-works=sum]:not(:empty)').textContent())).toBe(333833500);
    // The very shoot is inside, letter by letter.
    expect(
      await alive.evaluate(() => JSON.parse(document.getElementById('rushlight-shoot')!.textContent!)),
    ).toEqual(shoot);
  });
