/**
 * Bad input: each gets a sentence at the place where it happened; the open shoot stays as it was, the page goes on.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { onePageHtml } from '../../src/book/onePage.ts';
import { test } from './page.ts';

interface Asked {
  rushlight: {
    act: (edit: { edit: string; args: Record<string, unknown> }) => string | undefined;
    shoot: () => { text: string };
    ticks?: () => number;
  };
}
declare const window: Asked;

const kitchen = readFileSync(join(import.meta.dirname, '../../shoots/kitchen.json'), 'utf8');
const text = (page: Page) => page.evaluate(() => window.rushlight.shoot().text);
const title = (page: Page) => page.locator('.title em').textContent();
/** It stands, and has fetched what it needs: a fetch cut off by leaving would count as a complaint. */
const begun = async (page: Page) => {
  await page.waitForFunction(() => window.rushlight?.shoot !== undefined, undefined, { timeout: 60_000 });
  await page.waitForLoadState('networkidle');
};
const refused = (page: Page) => page.locator('.refused[role=alert]');

/** A file let fall at a point; `fill` times its text, so that large ones need not travel. */
const drop = (
  page: Page,
  files: { name: string; body: string | number[]; fill?: number }[],
  at = { x: 700, y: 300 },
) =>
  page.evaluate(
    ([list, point]) => {
      const data = new DataTransfer();
      for (const { name, body, fill = 1 } of list) {
        const part = typeof body === 'string' ? body : new Uint8Array(body);
        data.items.add(new File(Array(fill).fill(part), name));
      }
      const drop = new DragEvent('drop', {
        bubbles: true,
        cancelable: true,
        dataTransfer: data,
        clientX: point.x,
        clientY: point.y,
      });
      document.elementFromPoint(point.x, point.y)!.dispatchEvent(drop);
    },
    [files, at] as const,
  );
const paste = (page: Page, words: string) =>
  page.evaluate((w) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', w);
    document.body.dispatchEvent(
      new ClipboardEvent('paste', { bubbles: true, cancelable: true, clipboardData }),
    );
  }, words);

const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13];
const hostile = kitchen.replace('"rent"', '"__proto__"');

test('wrong things dropped: a sentence where they fell, nothing changed', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  const before = await text(page);
  const cases: [Parameters<typeof drop>[1], RegExp][] = [
    // Pictures are taken to lie under the plan: these two end before they say how large they are.
    [[{ name: 'still.png', body: PNG }], /“still\.png” is no PNG, JPEG or WebP picture, or it is damaged/],
    [[{ name: 'still.jpg', body: [0xff, 0xd8, 0xff, 0xe0] }], /“still\.jpg” is no PNG, JPEG or WebP/],
    [[{ name: 'still.gif', body: 'GIF89a' }], /“still\.gif” is a picture \(GIF\), not a shoot/],
    [[{ name: 'take.mp4', body: [0, 0, 0, 32, 0x66, 0x74, 0x79, 0x70, 0x69] }], /a picture or a film/],
    [[{ name: 'all.zip', body: [0x50, 0x4b, 3, 4] }], /an archive; unpack it/],
    [[{ name: 'script.pdf', body: '%PDF-1.7' }], /a PDF/],
    [[{ name: 'empty.json', body: '' }], /is empty, or a folder/],
    [[{ name: 'noise.json', body: [1, 2, 0xfe, 0xff, 0x80, 0] }], /is not text/],
    [[{ name: 'nul.json', body: '{"a\0": 1}' }], /is not text/],
    [[{ name: 'long.json', body: 'x'.repeat(1e6), fill: 30 }], /has 30 MB; a shoot has 20 MB at most/],
    [[{ name: 'deep.json', body: '['.repeat(1e5) }], /nests 100000 levels deep/],
    [[{ name: 'torn.json', body: kitchen.slice(0, 4000) }], /stops in the middle, at line \d+/],
    [[{ name: 'other.json', body: '{"format": "recipe"}' }], /does not say that it is a shoot/],
    [[{ name: 'hostile.json', body: hostile }], /__proto__/],
    [[{ name: 'site.html', body: '<!doctype html><p>Hello' }], /a web page without a shoot in it/],
    [
      [
        { name: 'a.json', body: kitchen },
        { name: 'b.json', body: kitchen },
      ],
      /2 files were dropped/,
    ],
  ];
  for (const [files, says] of cases) {
    await drop(page, files);
    await expect.poll(() => refused(page).textContent(), { message: files[0]!.name }).toMatch(says);
    const words = (await refused(page).textContent())!;
    expect(words, files[0]!.name).not.toMatch(/undefined|\[object|Error:/);
    // Where it fell, and whole on the screen.
    const box = (await refused(page).boundingBox())!;
    expect(Math.abs(box.x + box.width / 2 - 700)).toBeLessThan(5);
    expect(box.y).toBeGreaterThan(300);
    expect(box.y).toBeLessThan(330);
    await page.keyboard.press('Escape');
    expect(await page.locator('.refused').count()).toBe(0);
  }
  expect(await text(page)).toBe(before);
  // Near an edge of the window it stays on the page.
  for (const at of [
    { x: 5, y: 890 },
    { x: 1435, y: 60 },
  ]) {
    await drop(page, [{ name: 'still.png', body: PNG }], at);
    await expect.poll(() => refused(page).count()).toBe(1);
    const box = (await refused(page).boundingBox())!;
    expect(Math.min(box.x, box.y, 1440 - box.x - box.width, 900 - box.y - box.height)).toBeGreaterThan(0);
    await page.keyboard.press('Escape');
  }
  // The way back is not touched either, and what is right still opens.
  expect(await page.getByRole('button', { name: /^Back a step/ }).isDisabled()).toBe(true);
  const inPage = onePageHtml({ title: 'K', script: '0', shoot: kitchen, still: '' });
  await drop(page, [{ name: 'sent.html', body: inPage }]);
  await expect.poll(async () => JSON.parse(await text(page))).toEqual(JSON.parse(kitchen));
});

test('pasted: words are refused, a shoot opens, a field keeps its paste', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  const before = await text(page);
  await paste(page, 'See you at six.');
  await expect.poll(() => refused(page).textContent()).toContain('What was pasted is no shoot');
  await page.keyboard.press('Escape');
  await paste(page, '{"format": 1}');
  await expect.poll(() => refused(page).textContent()).toContain('does not say that it is a shoot');
  await page.keyboard.press('Escape');
  expect(await text(page)).toBe(before);
  await page.getByRole('button', { name: 'Shoots: open, keep' }).click();
  await page.getByRole('textbox', { name: 'Name of the shoot' }).fill(kitchen.slice(0, 3000));
  await page.keyboard.press('Enter');
  expect(await page.locator('.this-shoot').getByRole('alert').textContent()).toMatch(/at most 200 letters/);
  await page.keyboard.press('Escape');
  expect(await text(page)).toBe(before);
  await paste(page, `\uFEFF${kitchen}`);
  await expect.poll(async () => JSON.parse(await text(page))).toEqual(JSON.parse(kitchen));
});

test('a large file is read aside: the page goes on meanwhile', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  const before = await text(page);
  const ticked = await page.evaluate(async () => {
    const data = new DataTransfer();
    const list = `[${'"a line of something else",'.repeat(40_000)}0]`;
    const body = `{"format": "rushlight-shoot", "lists": [${Array(14).fill(list).join(',')}]}`;
    data.items.add(new File([body], 'large.json'));
    let ticks = 0;
    const timer = setInterval(() => ticks++, 10);
    dispatchEvent(
      Object.assign(
        new DragEvent('drop', { dataTransfer: data, clientX: 600, clientY: 200, cancelable: true }),
      ),
    );
    const began = performance.now();
    while (!document.querySelector('.refused[role=alert]') && performance.now() - began < 60_000)
      await new Promise((go) => setTimeout(go, 10));
    clearInterval(timer);
    return { ticks, bytes: body.length, ms: performance.now() - began };
  });
  expect(ticked.bytes).toBeGreaterThan(14e6);
  expect(await refused(page).textContent()).toMatch(/version/);
  // Read on the page it would stand still from beginning to end.
  expect(ticked.ticks).toBeGreaterThan(5);
  expect(await text(page)).toBe(before);
});

test('typed: what cannot be read says so at the field, and the value stays', async ({ newPage, address }) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  const before = await text(page);
  const fields = page.locator('input.typed:not(.words)');
  await expect.poll(() => fields.count()).toBeGreaterThan(5);
  const count = await fields.count();
  for (let i = 0; i < count; i++) {
    const field = fields.nth(i);
    const label = await field.getAttribute('aria-label');
    for (const words of ['seven', '1e999', '-1e9', '', '9'.repeat(150)]) {
      await field.fill(words);
      await field.press('Enter');
      const told = page.locator('.wrong[role=alert]');
      expect(await told.count(), `${label}: ${words}`).toBe(1);
      expect(await told.textContent(), `${label}: ${words}`).toMatch(/^Not read: .*Type .{8,}\.$/s);
      const [a, b] = [(await field.boundingBox())!, (await told.boundingBox())!];
      expect(Math.abs(b.y - (a.y + a.height)), `${label}: near`).toBeLessThan(60);
      await field.press('Escape');
      expect(await told.count()).toBe(0);
    }
  }
  expect(await text(page)).toBe(before);
});

test('edits with impossible values are refused in words, and leave no trace', async ({
  newPage,
  address,
}) => {
  const page = await newPage();
  await page.goto(address);
  await begun(page);
  const before = await text(page);
  const shoot = JSON.parse(before) as {
    places: Record<string, unknown>;
    scenes: Record<string, { rig: { lamps: Record<string, { aim: number[] }> } }>;
  };
  const [scene, { rig }] = Object.entries(shoot.scenes)[0]!;
  const [lamp, { aim }] = Object.entries(rig.lamps)[0]!;
  const [place] = Object.keys(shoot.places);
  const bad: [string, Record<string, unknown>][] = [
    ['setRoom', { place, widthM: 0, depthM: 4 }],
    ['setRoom', { place, widthM: -3, depthM: 4 }],
    ['setRoom', { place, widthM: 1e9, depthM: 4 }],
    ['moveLamp', { scene, lamp, to: [Number.NaN, 0, 1] }],
    ['moveLamp', { scene, lamp, to: [Number.POSITIVE_INFINITY, 0, 1] }],
    ['moveLamp', { scene, lamp, to: [1e6, 0, 1] }],
    ['moveLamp', { scene, lamp, to: aim }],
    ['moveLamp', { scene, lamp: 'none', to: [1, 1, 1] }],
    ['moveLamp', { scene, lamp: '__proto__', to: [1, 1, 1] }],
    ['raiseLamp', { scene, lamp, heightM: 'high' }],
    ['setLevel', { scene, lamp, level: 1.5 }],
    ['setLevel', { scene, lamp, level: Number.NaN }],
    ['setCamera', { scene, camera: { stop: 0 } }],
    ['setCamera', { scene, camera: { ei: -1 } }],
    ['setLens', { scene, angle: 'none', focalMm: 50 }],
    ['rename', { title: '' }],
    ['noSuchEdit', {}],
  ];
  for (const [edit, args] of bad) {
    const says = await page.evaluate((e) => window.rushlight.act(e), { edit, args });
    expect(says, `${edit} ${JSON.stringify(args)}`).toMatch(/^\S.{10,}[.)]$/s);
    expect(says, edit).not.toMatch(/undefined|\[object|Invalid input/);
    expect(await page.locator('.says').textContent()).toContain(says!);
  }
  expect(await text(page)).toBe(before);
  expect(await title(page)).toBe('Slack Water');
});
