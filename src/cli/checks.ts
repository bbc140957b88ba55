/** `rushlight checks`: published values beside ours. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { allRows, SUBJECTS } from '../checks/all.ts';
import type { CheckRow } from '../checks/row.ts';
import { home } from './build.ts';
import { BadUse, command } from './command.ts';
import { progress } from './progress.ts';
import { table } from './table.ts';

/** A value with about five figures, whatever its size. */
const value = (v: number) =>
  Number.isInteger(v) && Math.abs(v) < 1e9 ? String(v) : String(Number(v.toPrecision(5)));

/** Rows as text: what does not hold is marked, and counted below. With `failedOnly` the rest is only counted. */
export function checksText(rows: readonly CheckRow[], failedOnly = false): string {
  const failed = rows.filter((r) => !r.holds).length;
  const shown = failedOnly ? rows.filter((r) => !r.holds) : rows;
  const lines = table(
    [
      { head: '' },
      { head: 'check' },
      { head: 'expected', right: true },
      { head: 'ours', right: true },
      { head: '±', right: true },
      { head: 'unit' },
      { head: 'what' },
      { head: 'source' },
    ],
    shown.map((r) => [
      r.holds ? '' : 'NO',
      r.id,
      value(r.expected),
      value(r.got),
      value(r.tolerance),
      r.unit,
      r.what,
      r.source,
    ]),
  );
  return `${shown.length ? `${lines}\n\n` : ''}${rows.length - failed} of ${rows.length} hold${failed ? `; ${failed} do not` : ''}.`;
}

export async function run(args: readonly string[]): Promise<number> {
  const names = Object.keys(SUBJECTS);
  const said = names.map((name) => (SUBJECTS[name]?.slow ? `${name} (half a minute)` : name));
  const parsed = command('checks', `Published values beside ours. Subjects: ${said.join(', ')}.`, [
    'rushlight checks',
    `rushlight checks ${names[0]} --failed`,
  ])
    .argument('[subjects...]', 'only these (default: all)')
    .option('--failed', 'only what does not hold')
    .option('--json', 'as data: id, what, source, expected, got, unit, tolerance, holds')
    .parse(args as string[], { from: 'user' });
  const o = parsed.opts<{ failed?: boolean; json?: boolean }>();
  const unknown = parsed.args.filter((subject) => !Object.hasOwn(SUBJECTS, subject));
  if (unknown.length)
    throw new BadUse([`There are no checks of ${unknown.join(', ')}. Subjects: ${names.join(', ')}.`]);
  const people = () => readFile(join(home, 'data/people/people.bin'));
  const bar = progress('Checking');
  const rows = await allRows({ people }, parsed.args.length ? parsed.args : names, (subject, done, of) =>
    bar.at(done / of, subject),
  );
  bar.end();
  const shown = o.failed ? rows.filter((r) => !r.holds) : rows;
  const exact = ({ id, what, source, expected, got, unit, tolerance, holds }: CheckRow) => ({
    id,
    what,
    source,
    expected,
    got,
    unit,
    tolerance,
    holds,
  });
  process.stdout.write(
    o.json ? `${JSON.stringify(shown.map(exact), null, 2)}\n` : `${checksText(rows, o.failed)}\n`,
  );
  return rows.every((r) => r.holds) ? 0 : 1;
}
