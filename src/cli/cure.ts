/** `rushlight cure`: troubles, the acts that would help, and one of them made. */
import type { Cure } from '../scheme/trouble.ts';
import { saveShoot } from '../shoot/file.ts';
import { BadUse, command, effortOptions, wholeNumber } from './command.ts';
import { type Told, tellAngle, withCure } from './compute.ts';
import { writeWhole } from './files.ts';
import { progress } from './progress.ts';
import { angleAsked, anglesAsked, readShoot } from './shoot.ts';
import { unmeant } from './tell.ts';

/** The cures of an angle in the order in which they are numbered, from 1. */
export const cures = (told: Told): Cure[] => unmeant(told.troubles).flatMap((t) => t.cures);

/** Troubles and numbered cures as text. */
export function curesText(told: Told): string {
  let n = 0;
  const troubles = unmeant(told.troubles).map((t) =>
    [
      t.says,
      ...t.cures.map((cure) => `  ${++n}  ${cure.says}`),
      ...(t.cures.length ? [] : ['  no cure is known']),
    ].join('\n'),
  );
  return [`${told.ref.scene} ${told.ref.angle}`, ...(troubles.length ? troubles : ['Nothing found.'])].join(
    '\n',
  );
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = effortOptions(
    command('cure', 'What would look unintended, and what to do about it.', [
      'rushlight cure kitchen.json',
      'rushlight cure kitchen.json --scene K --angle OA --take 2 --out kitchen-2.json',
    ])
      .argument('<file>', 'a shoot')
      .option('--scene <id>', 'this scene only')
      .option('--angle <id>', 'this angle only')
      .option('--take <number>', 'make the edit of this cure (one angle named)', wholeNumber(1, 9999))
      .option('--out <file>', 'where the changed shoot goes')
      .option('--json', 'as data'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<{
    scene?: string;
    angle?: string;
    take?: number;
    out?: string;
    json?: boolean;
    seed: number;
    paths?: number;
  }>();
  if ((o.take === undefined) !== (o.out === undefined))
    throw new BadUse(['--take and --out go together: which cure, and where the changed shoot goes.']);
  const { shoot, readOnly } = await readShoot(parsed.args[0]!);
  const asked =
    o.take === undefined ? anglesAsked(shoot, o.scene, o.angle) : [angleAsked(shoot, o.scene, o.angle)];
  if (o.take !== undefined && readOnly)
    throw new BadUse(['This shoot was written by a newer Rushlight; this one may read it, not change it.']);
  const bar = progress('Looking for trouble');
  const told: Told[] = [];
  try {
    for (const [i, ref] of asked.entries())
      told.push(
        await tellAngle(shoot, ref, {
          seed: o.seed,
          paths: o.paths,
          progress: (share) => bar.at((i + share) / asked.length, `${ref.scene} ${ref.angle}`),
        }),
      );
  } finally {
    bar.end();
  }
  if (o.take !== undefined && o.out !== undefined) {
    const choice = cures(told[0]!);
    const cure = choice[o.take - 1];
    if (!cure) throw new BadUse([`There is no cure ${o.take} here (${choice.length} in all).`]);
    writeWhole(o.out, saveShoot(await withCure(shoot, cure)));
    process.stderr.write(`${cure.says}\nWritten: ${o.out}\n`);
    return 0;
  }
  process.stdout.write(
    o.json
      ? `${JSON.stringify(
          told.map((t) => ({ ...t.ref, troubles: t.troubles })),
          null,
          2,
        )}\n`
      : `${told.map(curesText).join('\n\n')}\n`,
  );
  return told.some((t) => unmeant(t.troubles).length) ? 1 : 0;
}
