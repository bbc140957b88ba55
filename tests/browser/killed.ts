/**
 * Kills the browser in the middle of keeping, again and again, as a power cut or a closed lid would: the process
 * itself, with everything it started, at a moment nobody chose. Each time it is opened anew the shoot must be there,
 * whole, with at least the last edit that the page had said was kept, and the way back from it.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { openShoot } from '../../src/shoot/file.ts';
import { ownBrowser, startServer } from './browser.ts';

interface Asked {
  rushlight?: {
    act: (edit: { edit: string; args: Record<string, unknown> }) => string | undefined;
    kept: () => { writes: boolean; behind: boolean; id?: string; last?: string };
    shoot: () => { text: string; said: string[] };
  };
}
declare const window: Asked;

export interface Life {
  /** The edit found on opening, and the last one kept, as the page had said, before the kill. */
  found: number;
  said: number;
}

async function started(folder: string): Promise<{ process: ChildProcess; address: string }> {
  const own = (await ownBrowser())!;
  const process = spawn(
    own.path,
    [
      ...own.args,
      '--headless',
      '--no-sandbox',
      '--no-first-run',
      '--remote-debugging-port=0',
      `--user-data-dir=${folder}`,
      'about:blank',
    ],
    // A group of its own, so that all of it can be killed at once.
    { env: own.env, stdio: ['ignore', 'ignore', 'pipe'], detached: true },
  );
  let said = '';
  for await (const part of process.stderr!) {
    said += String(part);
    const address = /DevTools listening on (ws:\S+)/.exec(said)?.[1];
    if (address) {
      process.stderr!.resume();
      return { process, address };
    }
  }
  throw new Error(`The browser did not start: ${said}`);
}

/** What stands open: the number in its title, held to what the other edits of that number left. */
async function found(page: Page): Promise<number> {
  await page.waitForFunction(() => window.rushlight?.shoot !== undefined, undefined, { timeout: 60_000 });
  const { text, said } = await page.evaluate(() => window.rushlight!.shoot());
  if (said.length) throw new Error(`It opened, but said: ${said.join(' ')}`);
  const opened = openShoot(text);
  if (!opened.ok) throw new Error(`A broken shoot: ${opened.message.join(' ')}`);
  const n = Number(/^Edit (\d+)$/.exec(opened.shoot.title)?.[1] ?? 0);
  if (n === 0) return 0;
  const ei = Object.values(opened.shoot.scenes)[0]!.camera.ei;
  // The camera is set after the title: it has this number or, if that was not reached, the one before.
  if (ei !== 100 + n && ei !== 99 + n) throw new Error(`Half a shoot: ${opened.shoot.title}, EI ${ei}.`);
  return n;
}

/** Lives and dies `times` over; answers what each life found. `chance`: 0–1. */
export async function livesAndDeaths(times: number, chance: () => number): Promise<Life[]> {
  const folder = mkdtempSync(join(tmpdir(), 'rushlight-killed-'));
  const server = await startServer();
  const lives: Life[] = [];
  let said = 0;
  try {
    for (let life = 0; life <= times; life++) {
      const { process: body, address } = await started(folder);
      const dead = once(body, 'exit');
      try {
        const browser = await chromium.connectOverCDP(address);
        const page = browser.contexts()[0]!.pages()[0]!;
        page.on('console', (message) => {
          const [what, n] = message.text().split(' ');
          if (what === 'kept') said = Math.max(said, Number(n));
        });
        await page.goto(server.address);
        const n = await found(page);
        lives.push({ found: n, said });
        if (life === times) {
          await wayBack(page, n);
          break;
        }
        await page.waitForFunction(() => {
          const { id, writes } = window.rushlight!.kept();
          return id === undefined || writes;
        });
        // What was cut off between title and camera is finished first.
        await page.evaluate(edits, Math.max(1, n));
        await new Promise((go) => setTimeout(go, 20 + 480 * chance()));
      } finally {
        process.kill(-body.pid!, 'SIGKILL');
        await dead;
      }
    }
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
  }
  return lives;
}

/** Runs in the page: edits without end, and says what was made and what is kept. */
function edits(first: number): void {
  const { act, kept } = window.rushlight!;
  let n = first;
  let last = '';
  const scene = JSON.parse(window.rushlight!.shoot().text).scenes as Record<string, unknown>;
  const one = () => {
    const now = kept();
    if (now.last && now.last !== last) {
      last = now.last;
      const number = /^Called Edit (\d+)$/.exec(last)?.[1];
      if (number) console.log(`kept ${number}`);
    }
    act({ edit: 'rename', args: { title: `Edit ${n}` } });
    act({ edit: 'setCamera', args: { scene: Object.keys(scene)[0], camera: { ei: 100 + n } } });
    n++;
    // Sometimes as fast as can be, sometimes with room to write between.
    setTimeout(one, n % 5 === 0 ? 25 : 1);
  };
  one();
}

/** The steps are there too: back from the last one. */
async function wayBack(page: Page, n: number): Promise<void> {
  await page.waitForFunction(() => window.rushlight!.kept().writes);
  for (let i = 0; i < 2; i++) await page.keyboard.press('z');
  const { text } = await page.evaluate(() => window.rushlight!.shoot());
  const title = (JSON.parse(text) as { title: string }).title;
  if (title !== `Edit ${n - 1}`) throw new Error(`Two steps back from Edit ${n} is ${title}.`);
}
