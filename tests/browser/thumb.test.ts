/**
 * Under a thumb: on a phone and on a tablet, in every area and panel, no text under 13 px and no target under 44 px
 * (the design's own figures; 44 is WCAG 2.2's 2.5.5), and nothing wider than the screen.
 */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './page.ts';
import { throughThePlan } from './panels.ts';

/**
 * What is too small on the page as it stands, wider than the screen, or lies under something else. Spared: pages of
 * paper, which are looked at whole and enlarged; what only a key or a voice comes to; the rings of things on the plan,
 * where whatever lies nearest within 22 px is taken; faces in a picture that is not chosen, where the picture is pressed.
 */
const tooSmall = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const out = new Set<string>();
    const shown = (e: Element) => {
      const r = e.getBoundingClientRect();
      const seen = e.checkVisibility({ visibilityProperty: true, opacityProperty: true });
      return r.width > 1.5 && r.height > 1.5 && seen;
    };
    const spared = (e: Element) =>
      e.closest('.book-pages svg, .aside, .skip, .thing, [data-chosen=false] .face') !== null;
    const called = (e: Element) =>
      `${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''} “${(e.getAttribute('aria-label') ?? e.textContent ?? '').trim().slice(0, 40)}”`;
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let t = walk.nextNode(); t; t = walk.nextNode()) {
      const e = t.parentElement;
      if (!t.textContent?.trim() || !e || spared(e) || !shown(e)) continue;
      if (e.closest('script, style, noscript, option')) continue;
      let px = Number.parseFloat(getComputedStyle(e).fontSize);
      if (e instanceof SVGGraphicsElement) px *= Math.abs(e.getScreenCTM()?.a ?? 1);
      if (px < 12.95) out.add(`text ${px.toFixed(1)} px: ${called(e)}`);
    }
    const targets = 'button, a[href], input, select, textarea, summary, [role=slider], [role=button]';
    for (const e of document.querySelectorAll(targets)) {
      if (spared(e) || !shown(e)) continue;
      const within = e.closest('label') ?? e;
      const r = within.getBoundingClientRect();
      if (r.height < 43.5 || r.width < 43.5)
        out.add(`target ${r.width.toFixed(0)} × ${r.height.toFixed(0)}: ${called(e)}`);
      // Words of a button lie within it.
      if (e.matches('nav button') && e.scrollWidth > e.clientWidth + 1) out.add(`too wide: ${called(e)}`);
      // Under a panel the page rests.
      const panel = document.querySelector('.panel');
      if (panel && !panel.contains(e) && !e.closest('nav.areas')) continue;
      e.scrollIntoView({ block: 'center', inline: 'center' });
      const at = within.getBoundingClientRect();
      const met = document.elementFromPoint(at.left + at.width / 2, at.top + at.height / 2);
      if (met && !within.contains(met) && !met.contains(within))
        out.add(`covered by ${called(met)}: ${called(e)}`);
    }
    scrollTo(0, 0);
    const over = document.documentElement.scrollWidth - innerWidth;
    if (over > 0) out.add(`${over} px wider than the screen`);
    return [...out];
  });

const read = (page: Page) =>
  page.waitForFunction(() => Object.keys(window.rushlight?.results() ?? {}).length >= 4, undefined, {
    timeout: 110_000,
  });

const DEVICES = {
  phone: { phone: true },
  tablet: { tablet: true },
  'tablet, upright': { tablet: true, size: { width: 834, height: 1194 } },
} as const;

// The phone in every run, tablets in the long one.
for (const [what, device] of Object.entries(DEVICES))
  test.runIf(what === 'phone' || process.env.RUSHLIGHT_LONG)(
    `${what}: nothing too small for a thumb or an eye`,
    async ({ newPage, address }) => {
      const phone = what === 'phone';
      const page = await newPage(device);
      await page.goto(address);
      await read(page);
      const all: string[] = [];
      const look = async (where: string) => {
        await page.waitForTimeout(400);
        all.push(...(await tooSmall(page)).map((s) => `${where}: ${s}`));
      };
      const door = (words: string) =>
        page
          .locator(phone ? 'nav.areas button' : '.bar nav button', { hasText: words })
          .first()
          .click();
      await look('Light');
      await page
        .locator(phone ? '.chosen [data-face]' : '.tile[data-chosen=true] [data-face]')
        .first()
        .click();
      await page.locator('.pull .bead').waitFor();
      await look('a light pulled');
      await page.keyboard.press('Escape');
      if (phone) {
        await page.locator('.where-cell').click();
        await look('the plan');
        await page.locator('.where-cell').click();
      }
      await door('Troubles');
      await page.locator('.panel .cure').first().waitFor({ timeout: 60_000 });
      await look('Troubles');
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: 'Readings', exact: true }).click();
      await page.locator('.readings .reading').first().click();
      await look('Readings');
      await page.keyboard.press('Escape');
      if (phone) {
        await page.getByRole('button', { name: 'Earns' }).click();
        await page.locator('.earns td').first().waitFor({ timeout: 60_000 });
        await look('Earns');
        await page.keyboard.press('Escape');
      }
      await page
        .getByRole('button', { name: /^Shoot/ })
        .first()
        .click();
      await look('Shoot and settings');
      await page.keyboard.press('Escape');
      await door('Power');
      await look('Power');
      await door('On set');
      await look('On set');
      await page.locator('.meter-keys button').last().click();
      await page.locator('.meaning').waitFor();
      await look('a reading');
      await page.keyboard.press('Escape');
      await door('Book');
      await page.locator('.book-pages svg').first().waitFor();
      await look('Book');
      await door('Light');
      if (phone) await page.locator('.where-cell').click();
      await page.getByRole('button', { name: 'Now your room' }).click();
      await look('Now your room');
      expect([...new Set(all)]).toEqual([]);
    },
    300_000,
  );

for (const [what, device] of Object.entries(DEVICES))
  test.runIf(what === 'phone' || process.env.RUSHLIGHT_LONG)(
    `${what}: what is told and asked on the plan, and the day, under the same thumb`,
    async ({ newPage, address }) => {
      const page = await newPage(device);
      await page.goto(address);
      await read(page);
      const all: string[] = [];
      await throughThePlan(page, what === 'phone', async (where) => {
        await page.waitForTimeout(300);
        all.push(...(await tooSmall(page)).map((s) => `${where}: ${s}`));
      });
      expect([...new Set(all)]).toEqual([]);
    },
    300_000,
  );

test('a swipe over the picture goes on to the next angle', async ({ newPage, address }) => {
  const page = await newPage({ phone: true });
  await page.goto(address);
  await read(page);
  const shown = () => page.locator('.chosen .tile').getAttribute('data-angle');
  const before = await shown();
  await page.locator('.chosen .picture').evaluate((e) => {
    const r = e.getBoundingClientRect();
    const touch = (x: number) =>
      new Touch({ identifier: 1, target: e, clientX: r.left + x, clientY: r.top + r.height / 2 });
    const fire = (type: string, x: number) =>
      e.dispatchEvent(
        new TouchEvent(type, {
          bubbles: true,
          cancelable: true,
          touches: type === 'touchend' ? [] : [touch(x)],
          changedTouches: [touch(x)],
        }),
      );
    fire('touchstart', r.width * 0.8);
    fire('touchmove', r.width * 0.4);
    fire('touchend', r.width * 0.2);
  });
  await expect.poll(shown).not.toBe(before);
});
