/** Builds the browser program when what it is made of has changed since, and only then. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { BadUse } from './command.ts';

/** The folder that package.json stands in. */
export const home = resolve(import.meta.dirname, '../..');
/** The built program. */
export const dist = join(home, 'dist');

const MADE_OF = ['src', 'data', 'shoots', 'package-lock.json', 'vite.config.ts'];

const list = (path: string) => readdirSync(path, { withFileTypes: true });

function* files(path: string): Generator<string> {
  if (!existsSync(path)) return;
  if (!statSync(path).isDirectory()) return yield path;
  for (const entry of list(path).sort((a, b) => (a.name < b.name ? -1 : 1)))
    if (entry.isDirectory()) yield* files(join(path, entry.name));
    else if (!/\.(test|long)\.tsx?$/.test(entry.name)) yield join(path, entry.name);
}
/** One name for the content of everything the program is built from. */
export function sourceName(): string {
  const hash = createHash('sha256');
  for (const part of MADE_OF)
    for (const file of files(join(home, part))) {
      const bytes = readFileSync(file);
      hash.update(`${relative(home, file)}\0${bytes.length}\0`).update(bytes);
    }
  return hash.digest('hex').slice(0, 32);
}

/** True when dist/ holds a build of the sources as they stand. */
export function isBuilt(name: string): boolean {
  try {
    return readFileSync(join(dist, '.built'), 'utf8') === name;
  } catch {
    return false;
  }
}

const alive = (pid: number) => {
  try {
    return process.kill(pid, 0);
  } catch {
    return false;
  }
};

/** Removes what a build that was interrupted left beside dist/. */
function sweep(): void {
  for (const { name } of list(home)) {
    const pid = /^dist\.(?:new|old)-(\d+)$/.exec(name)?.[1];
    if (pid !== undefined && !alive(Number(pid))) rmSync(join(home, name), { recursive: true, force: true });
  }
}

/** Puts a finished build in the place of the one before. Two builds that end at once take turns. */
function swapIn(fresh: string): void {
  for (let turn = 0; ; turn++) {
    const old = join(home, `dist.old-${process.pid}`);
    try {
      if (existsSync(dist)) renameSync(dist, old);
      renameSync(fresh, dist);
      return;
    } catch (error) {
      const lost = ['ENOENT', 'ENOTEMPTY', 'EEXIST'].includes((error as NodeJS.ErrnoException).code ?? '');
      if (!lost || turn === 5 || !existsSync(fresh)) throw error;
    } finally {
      rmSync(old, { recursive: true, force: true });
    }
  }
}

/** Builds both forms (the folder, and one file) beside dist/, then swaps them in; a running server never sees half. */
export async function build(name: string = sourceName()): Promise<void> {
  // React's building step asks this name when it chooses between its two forms.
  process.env.NODE_ENV = 'production';
  const vite = await import('vite');
  sweep();
  const outDir = join(home, `dist.new-${process.pid}`);
  try {
    for (const mode of ['production', 'onefile'])
      await vite.build({
        configFile: join(home, 'vite.config.ts'),
        mode,
        logLevel: 'warn',
        build: { outDir },
      });
    writeFileSync(join(outDir, '.built'), name);
    swapIn(outDir);
  } catch (error) {
    if (!['EACCES', 'EPERM', 'EROFS'].includes((error as NodeJS.ErrnoException).code ?? '')) throw error;
    throw new BadUse([
      `The program cannot be built here: this user may not write in ${home}.`,
      'Copy the folder to a place of your own, run npm ci there, and start again.',
    ]);
  } finally {
    rmSync(outDir, { recursive: true, force: true });
  }
}

/** Builds if needed. Says so through `say`, once, before it begins. */
export async function buildIfStale(say: (line: string) => void): Promise<void> {
  const name = sourceName();
  if (isBuilt(name)) return;
  say('Building the program (a few seconds, only after a change) …');
  await build(name);
}
