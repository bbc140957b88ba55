/** What every command of the terminal program has in common: how it is used, how it fails. */
import { Command, InvalidArgumentError } from 'commander';

/** A mistake of the person or of a file: printed as it stands, exit status 2, no trace. */
export class BadUse extends Error {
  readonly lines: readonly string[];
  constructor(lines: readonly string[]) {
    super(lines.join('\n'));
    this.lines = lines;
  }
}

/** A command with its examples under --help. Unknown options and too many arguments are refused. */
export function command(name: string, what: string, examples: readonly string[]): Command {
  return new Command(`rushlight ${name}`)
    .description(what)
    .allowExcessArguments(false)
    .showHelpAfterError(`(rushlight ${name} --help says more)`)
    .exitOverride()
    .addHelpText('after', `\nExample:\n${examples.map((e) => `  ${e}`).join('\n')}`);
}

/** Reads a whole number between two bounds, both included. */
export const wholeNumber = (least: number, most: number) => (text: string) => {
  const n = Number(text);
  if (!/^\d+$/.test(text) || n < least || n > most)
    throw new InvalidArgumentError(`A whole number from ${least} to ${most} is wanted.`);
  return n;
};

/** How a command that traces light goes about it. */
export interface Effort {
  /** Same seed, same answer. */
  seed: number;
  /** Name of a tracer. */
  tracer: string;
  /** Readings from the quick field in place of paths. */
  quick?: boolean;
}

/** The options of every command that traces light. */
export const effortOptions = (c: Command): Command =>
  c
    .option('--seed <number>', 'same seed, same answer', wholeNumber(0, 0xffffffff), 1)
    .option('--tracer <name>', 'who traces the rays: pool (every processor) or plain (one)', 'pool');

/** And of every one that reads meters. */
export const readingOptions = (c: Command): Command =>
  effortOptions(c).option(
    '--quick',
    'in a few seconds, from fewer rays (within a quarter of a stop, mostly)',
  );

/** Reads a number between two bounds, both included. */
export const numberWithin = (least: number, most: number) => (text: string) => {
  const n = Number(text);
  if (text.trim() === '' || !Number.isFinite(n) || n < least || n > most)
    throw new InvalidArgumentError(`A number from ${least} to ${most} is wanted.`);
  return n;
};

/** Reads a size in pixels, such as 1280x720. */
export const pixels = (text: string) => {
  const [, w, h] = /^(\d{1,5})x(\d{1,5})$/.exec(text) ?? [];
  const size = { width: Number(w), height: Number(h) };
  if (!(size.width >= 16 && size.height >= 16 && size.width <= 8192 && size.height <= 8192))
    throw new InvalidArgumentError('A size such as 1280x720 is wanted, 16 to 8192 each way.');
  return size;
};

/** The exit status for whatever a command threw; prints what there is to say on standard error. */
export function statusOf(error: unknown, say: (text: string) => void): number {
  if (error instanceof BadUse) {
    say(`${error.lines.join('\n')}\n`);
    return 2;
  }
  const e = error as NodeJS.ErrnoException & { exitCode?: number };
  // The option reader has printed its own message already; help ends well.
  if (typeof e?.code === 'string' && e.code.startsWith('commander.')) return e.exitCode === 0 ? 0 : 2;
  if (process.env.RUSHLIGHT_TRACE) say(`${e?.stack ?? e}\n`);
  else say(`Rushlight failed: ${e?.message ?? e}\n(RUSHLIGHT_TRACE=1 shows where.)\n`);
  return 3;
}
