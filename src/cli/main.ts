/** The terminal program: one word says what to do. Each command is a file of its own, loaded when asked for. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { home } from './build.ts';
import { statusOf } from './command.ts';

interface Command {
  what: string;
  load: () => Promise<{ run(args: readonly string[]): Promise<number> }>;
}

const COMMANDS: Record<string, Command> = {
  tell: {
    what: 'what a meter and the eye would say of every face, angle by angle',
    load: () => import('./tell.ts'),
  },
  cure: { what: 'what would look unintended, and what to do about it', load: () => import('./cure.ts') },
  match: {
    what: 'a close-up held against its wide: what a cut would show',
    load: () => import('./match.ts'),
  },
  picture: { what: 'the picture of an angle, as a PNG file', load: () => import('./picture.ts') },
  day: { what: 'sun and daylight through the shooting day', load: () => import('./day.ts') },
  faces: {
    what: 'a head under a key from every side: patterns by name, a sheet of pictures',
    load: () => import('./faces.ts'),
  },
  power: { what: 'amps, volts and margins from socket to lamp', load: () => import('./power.ts') },
  book: {
    what: 'plan, cards, power and the other sheets as one PDF',
    load: () => import('./book.ts'),
  },
  page: {
    what: 'program and shoot in one HTML file that needs nothing else',
    load: () => import('./page.ts'),
  },
  checks: { what: 'published values beside ours', load: () => import('./checks.ts') },
  serve: { what: 'the program in the browser, served from this machine', load: () => import('./serve.ts') },
};

const width = Math.max(...Object.keys(COMMANDS).map((name) => name.length));
const HELP = `Use: rushlight <command> [options]

${Object.entries(COMMANDS)
  .map(([name, { what }]) => `  ${name.padEnd(width)}  ${what}`)
  .join('\n')}

rushlight <command> --help says more and gives an example.
Exit status: 0 done; 1 a check does not hold, or power is over a line; 2 bad use or a bad file;
3 the program itself failed.
`;

async function main([name, ...args]: readonly string[]): Promise<number> {
  if (name === undefined) {
    process.stderr.write(HELP);
    return 2;
  }
  if (name === 'help' && args[0] !== undefined) return main([args[0], '--help']);
  if (['help', '--help', '-h'].includes(name)) {
    process.stdout.write(HELP);
    return 0;
  }
  if (name === '--version') {
    process.stdout.write(`${JSON.parse(readFileSync(join(home, 'package.json'), 'utf8')).version}\n`);
    return 0;
  }
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!command) {
    process.stderr.write(`There is no command '${name}'.\n\n${HELP}`);
    return 2;
  }
  return (await command.load()).run(args);
}

// A reader that stops early (a pager, `head`) is no failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  process.exit(error.code === 'EPIPE' ? 0 : 3);
});

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  process.exitCode = statusOf(error, (text) => process.stderr.write(text));
}
