/** `rushlight picture`: an angle as the camera would show it. */
import { command, effortOptions, pixels } from './command.ts';
import { pictureOf } from './compute.ts';
import { writeWhole } from './files.ts';
import { writePng } from './png.ts';
import { progress } from './progress.ts';
import { angleAsked, readShoot } from './shoot.ts';

export async function run(args: readonly string[]): Promise<number> {
  const parsed = effortOptions(
    command('picture', 'The picture of an angle, as a PNG file.', [
      'rushlight picture kitchen.json --scene K --angle OA --out oa.png',
    ])
      .argument('<file>', 'a shoot')
      .option('--scene <id>', 'of this scene')
      .option('--angle <id>', 'of this angle')
      .requiredOption('--out <file>', 'where the picture goes')
      .option('--size <w>x<h>', 'pixels', pixels, { width: 1280, height: 720 })
      .option('--stops', 'exposure in stops by colour, in place of the picture'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<{
    scene?: string;
    angle?: string;
    out: string;
    size: { width: number; height: number };
    stops?: boolean;
    seed: number;
    paths?: number;
  }>();
  const { shoot } = await readShoot(parsed.args[0]!);
  const ref = angleAsked(shoot, o.scene, o.angle);
  const bar = progress(`Picture of ${ref.scene} ${ref.angle}`);
  try {
    const picture = await pictureOf(
      shoot,
      ref,
      { ...o.size, stops: o.stops ?? false },
      { seed: o.seed, paths: o.paths, progress: bar.at },
    );
    bar.end();
    writeWhole(o.out, writePng(picture.width, picture.height, picture.rgb));
    for (const note of picture.notes) process.stderr.write(`${note}\n`);
    process.stderr.write(`Written: ${o.out}\n`);
  } finally {
    bar.end();
  }
  return 0;
}
