/** `rushlight match`: a close-up held against its wide, and the cheats that bring it nearer. */
import {
  type Difference,
  digitsOf,
  MATCH,
  type MatchRead,
  matchOf,
  matchWords,
  wideFor,
} from '../scheme/match.ts';
import { saveShoot } from '../shoot/file.ts';
import { BadUse, command, type Effort, numberWithin, readingOptions } from './command.ts';
import { type Surveyed, surveys } from './compute.ts';
import { writeWhole } from './files.ts';
import { progress } from './progress.ts';
import { angleAsked, anglesAsked, readShoot } from './shoot.ts';
import { signed, table } from './table.ts';

interface Options extends Effort {
  scene?: string;
  angle: string;
  against?: string;
  stops: number;
  mired: number;
  hours: number;
  out?: string;
  json?: boolean;
}

/** ⅓ typed as 1/3 is a number too. */
const stopsWithin = (text: string) => {
  const part = /^(\d+)\/(\d+)$/.exec(text.trim());
  return numberWithin(0.05, 3)(part ? String(Number(part[1]) / Number(part[2])) : text);
};

export async function run(args: readonly string[]): Promise<number> {
  const parsed = readingOptions(
    command('match', 'A close-up held against its wide: what a cut would show, and what brings it nearer.', [
      'rushlight match kitchen.json --scene rent --angle OA --against W1',
      'rushlight match kitchen.json --angle OA --stops 1/2 --out kitchen-2.json',
    ])
      .argument('<file>', 'a shoot')
      .option('--scene <id>', 'this scene (default: the only one)')
      .requiredOption('--angle <id>', 'the close-up')
      .option('--against <id>', 'the wide (default: the widest that sees the same faces)')
      .option(
        '--stops <number>',
        'levels and contrast may differ by so much, such as 1/3',
        stopsWithin,
        MATCH.stops,
      )
      .option('--mired <number>', 'colours may', numberWithin(1, 300), MATCH.mired)
      .option('--hours <number>', 'the key’s place round the face may', numberWithin(0.1, 6), MATCH.hours)
      .option('--out <file>', 'the shoot with the cheats that bring it nearer')
      .option('--json', 'as data'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<Options>();
  const { shoot, readOnly } = await readShoot(parsed.args[0]!);
  if (o.out && readOnly)
    throw new BadUse(['This shoot was written by a newer Rushlight; this one may read it, not change it.']);
  const close = angleAsked(shoot, o.scene, o.angle);
  const all = anglesAsked(shoot, close.scene, undefined);
  if (o.against === o.angle) throw new BadUse([`${o.angle} cannot be held against itself.`]);
  const refs = o.against === undefined ? all : [angleAsked(shoot, close.scene, o.against), close];
  const bar = progress('Reading');
  let found: Surveyed[];
  try {
    found = await surveys(shoot, refs, o, bar.at);
  } finally {
    bar.end();
  }
  const { facesSeenBy } = await import('../scheme/earns.ts');
  const reads = Object.fromEntries(
    found.map(({ ref, survey: s }): [string, MatchRead] => [
      ref.angle,
      {
        ref,
        marks: s.reading.marks,
        facesSeen: facesSeenBy(s.angle, s.reading),
        spots: s.reading.spots,
        eRefLx: s.exposure.eRefLx,
        balance: s.balance,
        lamps: s.weights.lamps,
      },
    ]),
  );
  const against = o.against ?? wideFor(shoot, close, reads);
  if (against === undefined) throw new BadUse([`No other angle sees the faces that ${o.angle} sees.`]);
  const tolerance = { stops: o.stops, mired: o.mired, hours: o.hours };
  const match = matchOf(shoot, reads[against]!, reads[o.angle]!, tolerance);
  if (o.json) process.stdout.write(`${JSON.stringify({ ...match, tolerance }, null, 2)}\n`);
  else {
    const value = (v: number | string | undefined, unit: Difference['unit']) =>
      v === undefined ? '—' : typeof v === 'string' ? v : signed(v, digitsOf(unit));
    const parts = match.parts.map((p) =>
      [
        table(
          [
            { head: p.of },
            { head: against, right: true },
            { head: o.angle, right: true },
            { head: 'differs', right: true },
            { head: '' },
            { head: '' },
          ],
          p.rows.map((r) => [
            r.what,
            value(r.wide, r.unit),
            value(r.close, r.unit),
            r.printedBy === undefined ? (r.off ? 'other' : 'same') : signed(r.printedBy, digitsOf(r.unit)),
            r.unit === 'words' ? '' : r.unit,
            r.off ? 'off' : '',
          ]),
        ),
        ...(p.nearer === undefined
          ? []
          : typeof p.nearer === 'string'
            ? [p.nearer]
            : [`Nearer, in ${o.angle} only: ${p.nearer.says}`, ...p.nearer.gave.map((g) => `  ${g}`)]),
      ].join('\n'),
    );
    process.stdout.write(
      `${[`${close.scene}: from ${against} to ${o.angle}`, ...matchWords(shoot, match, tolerance), ...parts, ...match.notes].join('\n\n')}\n`,
    );
  }
  if (o.out !== undefined) {
    const edits = match.parts.flatMap((p) =>
      p.nearer && typeof p.nearer !== 'string' ? p.nearer.edits : [],
    );
    if (!edits.length) throw new BadUse(['Nothing was written: no cheat is known that brings it nearer.']);
    const { applyEdits } = await import('../shoot/edits.ts');
    writeWhole(o.out, saveShoot(applyEdits(shoot, edits).shoot));
    process.stderr.write(`Written: ${o.out}\n`);
  }
  return 0;
}
