/** `rushlight serve` and `npm start`. */
import { createHash } from 'node:crypto';
import { readFileSync, realpathSync } from 'node:fs';
import { get, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { buildIfStale, dist, home } from './build.ts';
import { BadUse, command, wholeNumber } from './command.ts';
import { openInBrowser } from './open.ts';
import { type Card, listen } from './server.ts';

/** Walked in this order. Fixed, because a browser keeps what it stores by host and port. */
export const PORTS: readonly number[] = [4573, 4574, 4575, 4576, 4577, 4578, 4579, 4580];

/** Who answers on a port of this machine: our card, or undefined when it is anybody else, or nobody. */
export function whoServes(port: number): Promise<Card | undefined> {
  return new Promise((resolve) => {
    const asked = get({ host: '127.0.0.1', port, path: '/rushlight.json', timeout: 1000 }, (answer) => {
      let text = '';
      answer.setEncoding('utf8');
      answer.on('data', (part: string) => {
        text += part;
        if (text.length > 4096) asked.destroy();
      });
      answer.on('end', () => {
        try {
          const card = JSON.parse(text) as Card;
          resolve(card.program === 'rushlight' ? card : undefined);
        } catch {
          resolve(undefined);
        }
      });
    });
    asked.on('timeout', () => asked.destroy());
    asked.on('error', () => resolve(undefined));
    asked.on('close', () => resolve(undefined));
  });
}

/** This checkout's card. */
export function ownCard(): Card {
  const { version } = JSON.parse(readFileSync(join(home, 'package.json'), 'utf8')) as { version: string };
  const name = createHash('sha256').update(realpathSync(home)).digest('hex').slice(0, 16);
  return { program: 'rushlight', version, home: name };
}

/**
 * Takes the first free port of `ports`, or finds the one where this very program answers already. `say` is told of
 * every port that was passed over.
 */
export async function takePort(
  ports: readonly number[],
  card: Card,
  say: (line: string) => void,
): Promise<{ server: Server; passed: readonly number[] } | { runs: number }> {
  const passed: number[] = [];
  for (const port of ports) {
    try {
      return { server: await listen(dist, port, card), passed };
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code === 'EACCES') throw new BadUse([`Port ${port} may not be used by this user.`]);
      if (code !== 'EADDRINUSE') throw error;
    }
    const other = await whoServes(port);
    if (other?.home === card.home) return { runs: port };
    passed.push(port);
    say(
      other
        ? `Port ${port} belongs to a Rushlight that runs from another folder.`
        : `Port ${port} is taken by another program.`,
    );
  }
  throw new BadUse([
    `No port is free (tried ${passed.join(', ')}).`,
    'Name one with --port, for example --port 4600.',
  ]);
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = command('serve', 'Serve the program on this machine and open it in the browser.', [
    'rushlight serve --no-open',
    'npm start -- --port 4600',
  ])
    .option('--port <number>', 'this port only (0: any free one)', wholeNumber(0, 65535))
    .option('--no-open', 'do not open the browser')
    .parse(args as string[], { from: 'user' });
  const { port: asked, open } = parsed.opts<{ port?: number; open: boolean }>();
  const say = (line: string) => process.stderr.write(`${line}\n`);

  // Build before looking for a port, so that a server that already runs shows the program as it now stands.
  await buildIfStale(say);

  const card = ownCard();
  const found = await takePort(asked === undefined ? PORTS : [asked], card, say);
  if ('runs' in found) {
    const address = `http://127.0.0.1:${found.runs}/`;
    process.stdout.write(`Rushlight already runs: ${address}\n`);
    if (open) openInBrowser(address);
    return 0;
  }
  const { server, passed } = found;

  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  process.stdout.write(`Rushlight: ${address}\n`);
  if (passed.length && asked === undefined)
    say(
      `Shoots kept in the browser belong to its address: those kept under http://127.0.0.1:${passed[0]}/ do not show here. Nothing is lost; free that port and start again, or carry them over as files.`,
    );
  say('Leave this window open; Ctrl-C ends it.');
  if (open) openInBrowser(address);

  // Serve until told to stop.
  return new Promise((resolve) => {
    const stop = () => {
      server.close(() => resolve(0));
      server.closeAllConnections();
    };
    process.once('SIGINT', stop);
    process.once('SIGTERM', stop);
    process.once('SIGHUP', stop);
  });
}
