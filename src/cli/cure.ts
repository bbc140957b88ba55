/** `rushlight cure`: troubles of an angle, the acts that would help, and one of them made. */
import { saveShoot } from '../shoot/file.ts';
import { BadUse, command, type Effort, readingOptions, wholeNumber } from './command.ts';
import { type Surveyed, surveys, withCure } from './compute.ts';
import { writeWhole } from './files.ts';
import { progress } from './progress.ts';
import { angleAsked, anglesAsked, readShoot } from './shoot.ts';
import { troublesText } from './tell.ts';

interface Options extends Effort {
  scene?: string;
  angle?: string;
  trouble?: number;
  cure?: number;
  out?: string;
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = readingOptions(
    command('cure', 'What would look unintended, and what to do about it; one cure made, if asked.', [
      'rushlight cure kitchen.json --angle OA',
      'rushlight cure kitchen.json --angle OA --trouble 0 --cure 1 --out kitchen-2.json',
    ])
      .argument('<file>', 'a shoot')
      .option('--scene <id>', 'this scene only')
      .option('--angle <id>', 'this angle only')
      .option('--trouble <number>', 'of this trouble, as listed (from 0) …', wholeNumber(0, 9999))
      .option('--cure <number>', '… make this cure, as listed (from 0)', wholeNumber(0, 9999))
      .option('--out <file>', 'where the changed shoot goes'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<Options>();
  const asked = [o.trouble, o.cure, o.out].filter((x) => x !== undefined).length;
  if (asked !== 0 && asked !== 3)
    throw new BadUse([
      '--trouble, --cure and --out go together: which trouble, which cure of it, and where the changed shoot goes.',
    ]);
  const { shoot, readOnly } = await readShoot(parsed.args[0]!);
  if (asked && readOnly)
    throw new BadUse(['This shoot was written by a newer Rushlight; this one may read it, not change it.']);
  const refs = asked ? [angleAsked(shoot, o.scene, o.angle)] : anglesAsked(shoot, o.scene, o.angle);
  const bar = progress('Looking for trouble');
  let found: Surveyed[];
  try {
    found = await surveys(shoot, refs, o, bar.at);
  } finally {
    bar.end();
  }
  if (o.trouble === undefined || o.cure === undefined || o.out === undefined) {
    const lines = found.map(
      ({ ref, survey }) => `${ref.scene} ${ref.angle}\n${troublesText(survey.troubles)}`,
    );
    process.stdout.write(`${lines.join('\n\n')}\n`);
    return 0;
  }
  const { ref, survey } = found[0]!;
  const trouble = survey.troubles[o.trouble];
  if (!trouble)
    throw new BadUse([
      `There is no trouble ${o.trouble} in ${ref.scene} ${ref.angle}: ${survey.troubles.length} in all, numbered from 0.`,
    ]);
  const cure = trouble.cures[o.cure];
  if (!cure)
    throw new BadUse([
      `There is no cure ${o.cure} of trouble ${o.trouble}: ${trouble.cures.length} in all, numbered from 0. The trouble: ${trouble.says}`,
    ]);
  writeWhole(o.out, saveShoot(await withCure(shoot, cure)));
  process.stderr.write(`Against: ${trouble.says}\nDone: ${cure.says}\nWritten: ${o.out}\n`);
  return 0;
}
