/** The terminal program started as a process, in a folder of its own. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

export const home = resolve(import.meta.dirname, '..');

export function terminal(name: string) {
  const folder = mkdtempSync(join(tmpdir(), `rushlight-${name}-`));
  return {
    folder,
    rushlight(...args: string[]) {
      const { status, stdout, stderr } = spawnSync(
        process.execPath,
        [join(home, 'bin/rushlight.js'), ...args],
        { encoding: 'utf8', cwd: folder, env: { ...process.env, RUSHLIGHT_TRACE: '' } },
      );
      return { status, stdout, stderr };
    },
    clear: () => rmSync(folder, { recursive: true, force: true }),
  };
}
