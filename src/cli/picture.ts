/** `rushlight picture`: an angle as the camera would show it. */

import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { Option } from 'commander';
import { BadUse, command, type Effort, effortOptions, numberWithin, pixels } from './command.ts';
import { withTracer } from './compute.ts';
import { inWords, writeWhole } from './files.ts';
import { photograph } from './photo.ts';
import { writePng } from './png.ts';
import { progress } from './progress.ts';
import { angleAsked, anglesAsked, readShoot } from './shoot.ts';

interface Options extends Effort {
  scene?: string;
  angle?: string;
  all?: boolean;
  out: string;
  size: { width: number; height: number };
  noise: number;
  seconds?: number;
  only?: string;
  stops?: boolean;
  grain?: boolean;
  quick?: boolean;
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = effortOptions(
    command('picture', 'The picture of an angle, as a PNG file: exact but for noise, which is told.', [
      'rushlight picture kitchen.json --angle OA --out oa.png --seconds 60',
      'rushlight picture kitchen.json --all --out pictures --size 640x360',
    ])
      .argument('<file>', 'a shoot')
      .option('--scene <id>', 'of this scene')
      .option('--angle <id>', 'of this angle')
      .option('--all', 'of every angle (or of all in --scene); --out is then a folder')
      .requiredOption('--out <file>', 'where the picture goes')
      .addOption(
        new Option('--size <w>x<h>', 'pixels')
          .argParser(pixels)
          .default({ width: 1280, height: 720 }, '1280x720'),
      )
      .option(
        '--noise <stops>',
        'until the typical pixel is this sure (one sigma)',
        numberWithin(0.005, 10),
        0.05,
      )
      .option('--seconds <number>', 'or until so long has gone by (each angle)', numberWithin(0, 1e6))
      .option('--quick', 'as the screen shows it at once: from few rays, without noise, a little off')
      .option('--only <lamp>', "this lamp's light alone")
      .option('--grain', 'with the noise of the camera’s class in it')
      .option('--stops', 'exposure in stops by colour, in place of the picture'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<Options>();
  if (o.all && o.angle !== undefined) throw new BadUse(['--all and --angle do not go together.']);
  const { shoot } = await readShoot(parsed.args[0]!);
  const refs = o.all ? anglesAsked(shoot, o.scene, undefined) : [angleAsked(shoot, o.scene, o.angle)];
  if (o.all)
    try {
      mkdirSync(o.out, { recursive: true });
    } catch (error) {
      inWords(o.out, 'made', error);
    }
  const twice = new Set(refs.map((r) => r.angle)).size < refs.length;
  return withTracer(o.tracer, async (tracer) => {
    for (const ref of refs) {
      const out = o.all ? join(o.out, `${twice ? `${ref.scene}-` : ''}${ref.angle}.png`) : o.out;
      const bar = progress(`Picture of ${ref.scene} ${ref.angle}`);
      try {
        const photo = await photograph(tracer, shoot, ref, {
          ...o.size,
          seed: o.seed,
          noiseStops: o.noise,
          seconds: o.seconds,
          only: o.only,
          stops: o.stops ?? false,
          grain: o.grain ?? false,
          quick: o.quick ?? false,
          progress: bar.at,
        });
        bar.end();
        writeWhole(out, writePng(o.size.width, o.size.height, photo.rgb));
        for (const note of photo.notes) process.stderr.write(`${note}\n`);
        if (o.quick) {
          process.stderr.write(`Written: ${out} (quick, from few rays)\n`);
          continue;
        }
        const noise = Number.isFinite(photo.noiseStops)
          ? `noise ${photo.noiseStops.toFixed(3)} stop`
          : 'noise not known after one pass';
        process.stderr.write(
          `Written: ${out} (${noise}, ${photo.passes} ${photo.passes === 1 ? 'pass' : 'passes'}${
            photo.noiseStops <= o.noise ? '' : `; ${o.noise} stop was asked for: give it more seconds`
          })\n`,
        );
      } finally {
        bar.end();
      }
    }
    return 0;
  });
}
