/**
 * A browser for the tests and for scripts/shot.ts: the one that `npm ci` brought (Linux x64), with its own libraries
 * and its own fonts, so that pictures are the same on every machine; elsewhere the Chrome that is installed.
 */
import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir, userInfo } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { dist, isBuilt, sourceName } from '../../src/cli/build.ts';
import { ownCard } from '../../src/cli/serve.ts';
import { listen } from '../../src/cli/server.ts';

const home = resolve(import.meta.dirname, '../..');
const packed = join(home, 'node_modules/@sparticuz/chromium');

/** The folder of the unpacked browser, in the checkout, or in the person's own temporary folder where that is not theirs to write. */
function unpackedPlace(): string {
  const { version } = JSON.parse(readFileSync(join(packed, 'package.json'), 'utf8')) as { version: string };
  const cache = join(home, 'node_modules/.cache');
  const place = join(cache, `browser-${version}`);
  if (existsSync(place)) return place;
  try {
    mkdirSync(cache, { recursive: true });
    rmSync(mkdtempSync(join(cache, 'try-')), { recursive: true });
    return place;
  } catch {
    return join(tmpdir(), `rushlight-browser-${userInfo().uid}-${version}`);
  }
}

/**
 * Unpacks the browser once (200 MB, two seconds). It is unpacked beside its place and then renamed, so nobody ever
 * meets half a browser; of two that race the second throws its own away.
 */
async function unpack(): Promise<string> {
  const place = unpackedPlace();
  if (existsSync(place)) return place;
  const fresh = mkdtempSync(`${place}.new-`);
  try {
    // The package has no door to its unpacking step, which writes to the temporary folder: name ours meanwhile.
    const { inflate } = (await import(pathToFileURL(join(packed, 'build/esm/lambdafs.js')).href)) as {
      inflate(file: string): Promise<string>;
    };
    const before = process.env.TMPDIR;
    process.env.TMPDIR = fresh;
    const parts = ['chromium.br', 'fonts.tar.br', 'swiftshader.tar.br', 'al2023.tar.br'].map((part) =>
      inflate(join(packed, 'bin', part)),
    );
    if (before === undefined) delete process.env.TMPDIR;
    else process.env.TMPDIR = before;
    await Promise.all(parts);

    // Any user of this machine may run it. With no system font no text is drawn at all: name the fonts it brings.
    for (const path of [fresh, join(fresh, 'chromium')]) chmodSync(path, 0o755);
    writeFileSync(
      join(fresh, 'fonts.conf'),
      `<?xml version="1.0"?>\n<!DOCTYPE fontconfig SYSTEM "fonts.dtd">\n<fontconfig>\n<dir prefix="relative">fonts</dir>\n<cachedir prefix="xdg">fontconfig</cachedir>\n</fontconfig>\n`,
    );
    renameSync(fresh, place);
  } catch (error) {
    rmSync(fresh, { recursive: true, force: true });
    if (!existsSync(place)) throw error;
  }
  return place;
}

/** The browser that came with `npm ci`, and how it is started. Undefined: on this machine an installed one is used. */
export async function ownBrowser(): Promise<
  { path: string; args: string[]; env: NodeJS.ProcessEnv } | undefined
> {
  if (process.platform !== 'linux' || process.arch !== 'x64') return undefined;
  const place = await unpack();
  return {
    path: join(place, 'chromium'),
    args: ARGS,
    env: {
      ...process.env,
      LD_LIBRARY_PATH: join(place, 'al2023/lib'),
      FONTCONFIG_FILE: join(place, 'fonts.conf'),
    },
  };
}
const ARGS = ['--enable-unsafe-webgpu', '--font-render-hinting=none'];

/** Starts the browser. WebGPU runs on a software adapter; the web's own security stays on. */
export async function launch(): Promise<Browser> {
  const own = await ownBrowser();
  if (!own) return chromium.launch({ channel: 'chrome', args: ARGS });
  const { path, args, env } = own;
  return chromium.launch({ executablePath: path, args, env: env as Record<string, string> });
}

/** What a page is seen on. */
export interface Device {
  phone?: boolean;
  tablet?: boolean;
  /** Default 1440 × 900, or the device's own. */
  size?: { width: number; height: number };
}

/** A context's options for a device: phone 390 × 844 and tablet 1024 × 768 are touched. */
export function seenOn({ phone, tablet, size }: Device): BrowserContextOptions {
  const touched = { isMobile: true, hasTouch: true, deviceScaleFactor: 2 };
  if (phone) return { ...touched, viewport: size ?? { width: 390, height: 844 } };
  if (tablet) return { ...touched, viewport: size ?? { width: 1024, height: 768 } };
  return { viewport: size ?? { width: 1440, height: 900 } };
}

/** Gathers what a page complains of: errors on its console, errors nobody caught, requests that failed. */
export function complaints(page: Page): string[] {
  const said: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') said.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => said.push(`uncaught: ${error.stack ?? error}`));
  page.on('requestfailed', (request) =>
    said.push(`failed: ${request.url()} ${request.failure()?.errorText}`),
  );
  return said;
}

/** Builds the program if it is stale: in a process of its own, where no test's settings reach. */
export function ensureBuilt(): void {
  if (!isBuilt(sourceName()))
    execFileSync(process.execPath, [join(home, 'bin/build.js')], { stdio: 'inherit' });
}

/** The little server in this process, on a free port; it ends with the process at the latest. */
export async function startServer(): Promise<{ address: string; stop(): Promise<void> }> {
  ensureBuilt();
  const server = await listen(dist, 0, ownCard());
  server.unref();
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    stop: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}
