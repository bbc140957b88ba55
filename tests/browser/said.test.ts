/**
 * Said aloud: axe-core (rules of WCAG 2.2 A and AA) finds nothing in any area or panel, in both modes, on a desk and on a
 * phone. What a machine can find only; what it cannot is in keyboard.test.ts and in the cells' sentences below.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './page.ts';
import { throughThePlan } from './panels.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
interface Finding {
  id: string;
  nodes: { target: unknown[]; failureSummary?: string }[];
}

async function found(page: Page, where: string): Promise<string[]> {
  await page.evaluate(axe);
  const violations = await page.evaluate(async () => {
    const run = (window as unknown as { axe: { run(o: object): Promise<{ violations: Finding[] }> } }).axe;
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    return (await run.run({ runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'] }))
      .violations;
  });
  return violations.flatMap((v) =>
    v.nodes.map(
      (n) =>
        `${where}: ${v.id} at ${n.target.join(' ')}: ${n.failureSummary?.split('\n').slice(1).join(' ')}`,
    ),
  );
}

const read = (page: Page) =>
  page.waitForFunction(() => Object.keys(window.rushlight?.results() ?? {}).length >= 4, undefined, {
    timeout: 110_000,
  });

/** Everything that fills the page, by the word of its area; and what stands beside it, by its key. */
const PANELS = ['t', 'r', 'c', 'g', '?'];

for (const mode of ['set', 'day'] as const)
  test(`on a desk, ${mode}: nothing found in any area or panel`, async ({ newPage, address }) => {
    const page = await newPage();
    await page.goto(address);
    await read(page);
    if (mode === 'day') await page.keyboard.press('d');
    const all = await found(page, 'light');
    for (const key of PANELS) {
      await page.keyboard.press(key);
      await page.locator('.panel').waitFor();
      all.push(...(await found(page, `panel ${key}`)));
      await page.keyboard.press('Escape');
    }
    await page.keyboard.press('k');
    all.push(...(await found(page, 'score')));
    await page.keyboard.press('k');
    for (const area of await page.locator('.bar nav.areas button').allTextContents()) {
      await page.locator('.bar nav.areas button', { hasText: area }).first().click();
      await page.waitForTimeout(400);
      all.push(...(await found(page, `area ${area}`)));
    }
    expect(all).toEqual([]);
  });

for (const mode of ['set', 'day'] as const)
  test(`on a phone, ${mode}: nothing found in any area or panel`, async ({ newPage, address }) => {
    const page = await newPage({ phone: true });
    await page.goto(address);
    await read(page);
    if (mode === 'day') await page.keyboard.press('d');
    const all = await found(page, 'light');
    const words = await page.locator('nav.areas button').allTextContents();
    for (const [i, word] of words.entries()) {
      await page.locator('nav.areas button').nth(i).click();
      await page.waitForTimeout(400);
      all.push(...(await found(page, word)));
      await page.keyboard.press('Escape');
    }
    expect(all).toEqual([]);
  });

for (const [what, device] of Object.entries({ desk: {}, phone: { phone: true } }))
  test(`${what}: nothing found in what is told and asked on the plan, nor in the day`, async ({
    newPage,
    address,
  }) => {
    const page = await newPage(device);
    await page.goto(address);
    await read(page);
    const all: string[] = [];
    await throughThePlan(page, what === 'phone', async (where) => {
      all.push(...(await found(page, where)));
    });
    expect(all).toEqual([]);
  });
