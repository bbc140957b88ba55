/** `rushlight match`: a close-up held against its wide, and the cheats that bring it nearer. */
import {
  type Difference,
  digitsOf,
  type MatchRead,
  matchOf,
  matchWords,
  toleranceOf,
  wideFor,
} from '../scheme/match.ts';
import { closeOf, type Neared, nearerTried } from '../scheme/matchCures.ts';
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
  stops?: number;
  mired?: number;
  hours?: number;
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
      .option(
        '--against <id>',
        'the wide (default: what it is cut from, else the widest that sees its faces)',
      )
      .option(
        '--stops <number>',
        'levels and contrast may differ by so much, such as 1/3 (default: the scene’s own, else 1/3)',
        stopsWithin,
      )
      .option('--mired <number>', 'colours may (default: the scene’s own, else 20)', numberWithin(1, 300))
      .option(
        '--hours <number>',
        'the key’s place round the face may (default: the scene’s own, else 1)',
        numberWithin(0.1, 6),
      )
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
  const own = shoot.scenes[close.scene]!;
  const from = o.against ?? own.angles[o.angle]!.cutFrom;
  const asked =
    from === undefined ? all.filter((r) => r.angle !== o.angle) : [angleAsked(shoot, close.scene, from)];
  const usual = toleranceOf(own);
  const tolerance = {
    stops: o.stops ?? usual.stops,
    mired: o.mired ?? usual.mired,
    hours: o.hours ?? usual.hours,
  };
  const { facesSeenBy } = await import('../scheme/earns.ts');
  const readOf = ({ ref, survey: s }: Surveyed): MatchRead => ({
    ref,
    marks: s.reading.marks,
    facesSeen: facesSeenBy(s.angle, s.reading),
    spots: s.reading.spots,
    eRefLx: s.exposure.eRefLx,
    balance: s.balance,
    lamps: s.weights.lamps,
  });
  let reads: Record<string, MatchRead> = {};
  const named = (list: readonly Surveyed[]) => Object.fromEntries(list.map((x) => [x.ref.angle, readOf(x)]));
  let nearer: Neared[] = [];
  const bar = progress('Reading');
  try {
    // The close-up last: what brings it nearer is traced while its light is at hand.
    const found = await surveys(
      shoot,
      [...asked, close],
      o,
      bar.at,
      undefined,
      false,
      async (ref, trial, before) => {
        if (ref.angle !== o.angle) return;
        const mine = closeOf(trial.known, facesSeenBy);
        const wides = { ...named(before), [o.angle]: mine };
        const wide = from ?? wideFor(shoot, close, wides);
        if (wide !== undefined) nearer = await nearerTried(shoot, wides[wide]!, mine, tolerance, trial);
      },
    );
    reads = named(found);
  } finally {
    bar.end();
  }
  const against = from ?? wideFor(shoot, close, reads);
  if (against === undefined) throw new BadUse([`No other angle sees the faces that ${o.angle} sees.`]);
  const match = matchOf(shoot, reads[against]!, reads[o.angle]!, tolerance);
  if (o.json) process.stdout.write(`${JSON.stringify({ ...match, tolerance, nearer }, null, 2)}\n`);
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
        ...nearer.filter((n) => n.of === p.of).flatMap((n) => words(n, o.angle)),
      ].join('\n'),
    );
    process.stdout.write(
      `${[`${close.scene}: from ${against} to ${o.angle}`, ...matchWords(shoot, match, tolerance), ...parts, ...match.notes].join('\n\n')}\n`,
    );
  }
  if (o.out !== undefined) {
    // The best one for each face.
    const best = new Map<string, Neared>();
    for (const n of nearer) if (!best.has(n.of)) best.set(n.of, n);
    const edits = [...best.values()].flatMap((n) => ('why' in n ? [] : n.edits));
    if (!edits.length) throw new BadUse(['Nothing was written: no cheat is known that brings it nearer.']);
    const { applyEdits } = await import('../shoot/edits.ts');
    writeWhole(o.out, saveShoot(applyEdits(shoot, edits).shoot));
    process.stderr.write(`Written: ${o.out}\n`);
  }
  return 0;
}

/** A cheat that was traced, what it makes of the cut and what it costs; or why there is none. */
const words = (n: Neared, angle: string): string[] =>
  'why' in n
    ? [n.why]
    : [
        `Nearer, in ${angle} only: ${n.says}`,
        ...n.becomes.map((t) => `  ${t}`),
        ...n.price.map((t) => `  ${t}`),
        ...n.but.map((t) => `  but ${t}`),
        ...n.gave.map((g) => `  ${g}`),
      ];
