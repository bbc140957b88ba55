/** `rushlight faces`: one head under a key from every side, as a sheet of pictures and by the name of each pattern. */
import { mkdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { ContactCell } from '../readings/contact.ts';
import type { Stage } from '../stage/stage.ts';
import type { Tracer } from '../transport/tracer.ts';
import { home } from './build.ts';
import { BadUse, command, type Effort, effortOptions, numberWithin } from './command.ts';
import { withTracer } from './compute.ts';
import { inWords, writeWhole } from './files.ts';
import { writePng } from './png.ts';
import { progress } from './progress.ts';
import { table } from './table.ts';

const EYE_M = 1.6;
/** What the key gives at the eyes: the level that the camera is set for. */
const KEY_LX = 500;
/** Diameters of the proof's two lights, metres. */
const HARD_M = 0.06;
const SOFT_M = 1.2;

interface Options extends Effort {
  person: string;
  complexion?: string;
  size: number;
  across: number;
  from: number;
  passes: number;
  out?: string;
  proof?: string;
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = effortOptions(
    command(
      'faces',
      'A head lit by one key from 0° to 180° round it and 0° to 60° up, at 2 m: the pattern of each by the shadows it casts, and a sheet of pictures.',
      [
        'rushlight faces --person woman-28 --out sheet.png',
        'rushlight faces --person man-26 --across 1.2',
        'rushlight faces --proof pictures',
      ],
    )
      .option('--person <id>', 'whose head', 'man-34')
      .option(
        '--complexion <class>',
        'light, intermediate, tan, brown, dark or very-dark (default: their own)',
      )
      .option(
        '--across <metres>',
        'diameter of the light: 0.06 is hard, 1.2 soft',
        numberWithin(0.005, 4),
        0.06,
      )
      .option('--from <degrees>', 'the camera round from the face', numberWithin(-180, 180), 0)
      .option('--size <pixels>', 'width of each picture', numberWithin(32, 1000), 150)
      .option(
        '--passes <number>',
        'paths per pixel; 0: by the quick light of the screen',
        numberWithin(0, 4096),
        0,
      )
      .option('--out <file>', 'where the sheet goes (PNG; columns 0° … 180° round, rows 60° … 0° up)')
      .option(
        '--proof <folder>',
        'all there is to look at: hard and soft sheet, and four pairs from very pale to very dark, each lit crosswise, in the kitchen',
      ),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<Options>();
  const [people, { personOn }, { assemble }, contact] = await Promise.all([
    import('../stage/people/person.ts'),
    import('../setup/people.ts'),
    import('../stage/assemble.ts'),
    import('../readings/contact.ts'),
  ]);
  const data = people.decodePeople(await readFile(join(home, 'data/people/people.bin')));
  if (!data.people.some((p) => p.id === o.person))
    throw new BadUse([`There is no ${o.person}. Persons: ${data.people.map((p) => p.id).join(', ')}.`]);
  const person = personOn(
    'A',
    {
      name: o.person,
      person: o.person,
      at: [0, 0],
      eyeM: EYE_M,
      posture: 'standing',
      facings: [90],
      ...(o.complexion ? { complexion: o.complexion } : {}),
    },
    90,
    undefined,
    'near',
    data,
  )!;
  const stage = assemble([person.body]);
  if (o.proof !== undefined)
    try {
      mkdirSync(o.proof, { recursive: true });
    } catch (error) {
      inWords(o.proof, 'made', error);
    }

  return withTracer(o.tracer, async (tracer) => {
    const sheets =
      o.proof === undefined
        ? [{ across: o.across, out: o.out }]
        : [
            { across: HARD_M, out: join(o.proof, 'hard.png') },
            { across: SOFT_M, out: join(o.proof, 'soft.png') },
          ];
    for (const { across, out } of sheets) {
      const cells = contact.keysAbout(across, EYE_M, KEY_LX);
      await tracer.load({ stage, layers: cells.map((c) => c.layer) });
      const patterns = await contact.patternsOf(tracer, person.faceGrid, cells, o.seed);
      const { AZIMUTHS_DEG: round, ELEVATIONS_DEG: up } = contact;
      const text = table(
        [{ head: 'up', right: true }, ...round.map((az) => ({ head: `${az}°` }))],
        up.map((el, r) => [`${el}°`, ...round.map((_, c) => said(patterns[r * round.length + c]!))]),
      );
      const share = (100 * contact.shareNamed(cells, patterns)).toFixed(0);
      process.stdout.write(
        `${o.person}, light ${across} m across at ${contact.KEY_AT_M} m, by its shadows; ${share} % of the places have a name that the craft gives them, give or take 10°\n\n${text}\n`,
      );
      if (out !== undefined)
        await drawSheet(tracer, stage, cells, patterns.map(said), o, out, [round.length, up.length]);
    }
    if (o.proof !== undefined) {
      const { pairsSheet } = await import('./pairs.ts');
      await pairsSheet(tracer, o.seed, join(o.proof, 'pairs.png'));
    }
    return 0;
  });
}

const said = (pattern: string): string => (pattern === 'none' ? '—' : pattern);

/** A picture of every cell, its pattern written in it. */
async function drawSheet(
  tracer: Tracer,
  stage: Stage,
  cells: readonly ContactCell[],
  names: readonly string[],
  o: Options,
  out: string,
  [across, down]: readonly [number, number],
): Promise<void> {
  const [{ viewOf }, photo, quick, { paletteOf, picture }, dev, wb, colour, samples, xyz, { write }] =
    await Promise.all([
      import('../setup/view.ts'),
      import('../transport/photograph.ts'),
      import('../transport/quick/quick.ts'),
      import('../transport/quick/picture.ts'),
      import('../setup/develop.ts'),
      import('../camera/whitebalance.ts'),
      import('../colour/planck.ts'),
      import('../colour/samples.ts'),
      import('../colour/xyz.ts'),
      import('./letters.ts'),
    ]);
  const [w, h] = [Math.round(o.size), Math.round(o.size * 1.2)];
  const a = (o.from * Math.PI) / 180;
  const view = viewOf({
    at: [-3 * Math.sin(a), 3 * Math.cos(a), EYE_M + 0.02],
    lookAt: [0, 0, EYE_M - 0.02],
    focalMm: 100,
    sensorMm: [11, 13.2],
  });
  const light = colour.planck(3200);
  const white = xyz.xyzOf(light);
  const one = {
    matrix: samples.fitMatrix(light).map((v) => v / white[1]),
    white: [white[0] / white[1], 1, white[2] / white[1]] as const,
  };
  const nothing = { matrix: one.matrix, white: [0, 0, 0] as const };
  const exposure = { ...dev.exposureOf(CAMERA, 250), eRefLx: KEY_LX, greyCdM2: (0.18 * KEY_LX) / Math.PI };
  const balance = wb.balanceKelvin(3200, exposure.response);

  // The quick light sees once and lights as often as there are cells; the traced one begins anew with each.
  const seed = { seed: o.seed };
  const hits = await tracer.hits(view, w, h, { ...seed, samples: 4 });
  const room = await quick.roomOf(tracer, stage, seed);
  const sight = await quick.sightOf(tracer, room, view, hits, seed);
  const palette = paletteOf(stage, hits, sight.coarse);
  const lit = async (l: number): Promise<Float32Array> => {
    if (o.passes === 0) {
      const field = await quick.fieldOf(tracer, room, cells[l]!.layer, l, seed);
      return picture(
        hits,
        sight.coarse,
        palette,
        [await quick.quickLayer(tracer, room, sight, field, seed)],
        [one],
      );
    }
    const shot = photo.newPhotograph(w, h);
    const weights = cells.map((_, k) => (k === l ? one : nothing));
    for (let pass = 0; pass < o.passes; pass++) await photo.addPass(tracer, stage, view, weights, shot, seed);
    return photo.developed(shot);
  };

  const sheet = new Uint8Array(3 * w * across * h * down);
  const bytes = new Uint8ClampedArray(4 * w * h);
  const bar = progress('Faces');
  for (let l = 0; l < cells.length; l++) {
    dev.develop(await lit(l), exposure, balance, bytes);
    const [row, column] = [Math.floor(l / across), l % across];
    for (let y = 0; y < h; y++)
      for (let x = 0; x < w; x++) {
        const to = 3 * ((row * h + y) * w * across + column * w + x);
        const edge = x === 0 || y === 0;
        for (let k = 0; k < 3; k++) sheet[to + k] = edge ? 40 : bytes[4 * (y * w + x) + k]!;
      }
    write(sheet, w * across, column * w + 5, row * h + 5, names[l]!);
    bar.at((l + 1) / cells.length, names[l]!);
  }
  bar.end();
  writeWhole(out, writePng(w * across, h * down, sheet));
  process.stderr.write(`Written: ${out}\n`);
}

const CAMERA = {
  class: 'modern' as const,
  ei: 800,
  fps: 25,
  shutter: { kind: 'time' as const, seconds: 0.02 },
  stop: 4,
  whiteBalance: { kind: 'kelvin' as const, kelvin: 3200 },
};
