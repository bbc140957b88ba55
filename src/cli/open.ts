/** Opens an address in the person's own browser, where there is a screen to open it on. */
import { spawn } from 'node:child_process';

/** The command that would open an address here, or undefined where there is no screen (or it is a build machine). */
export function opener(
  platform: NodeJS.Platform,
  env: Readonly<Record<string, string | undefined>>,
): [string, ...string[]] | undefined {
  if (env.CI) return undefined;
  if (platform === 'darwin') return ['open'];
  if (platform === 'win32') return ['cmd', '/c', 'start', ''];
  return env.DISPLAY || env.WAYLAND_DISPLAY ? ['xdg-open'] : undefined;
}

/** Tries to open the address; when it cannot, nothing is said: the address has been printed. */
export function openInBrowser(address: string): void {
  const [command, ...rest] = opener(process.platform, process.env) ?? [];
  if (command === undefined) return;
  const child = spawn(command, [...rest, address], { detached: true, stdio: 'ignore' });
  child.on('error', () => {});
  child.unref();
}
