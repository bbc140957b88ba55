/** The crossed pair of the kitchen with other people in it: two-shot and both close-ups for four pairs. */
import { join } from 'node:path';
import type { Shoot } from '../shoot/schema.ts';
import type { Tracer } from '../transport/tracer.ts';
import { home } from './build.ts';
import { writeWhole } from './files.ts';
import { photograph } from './photo.ts';
import { writePng } from './png.ts';
import { progress } from './progress.ts';
import { readShoot } from './shoot.ts';

/** Person and complexion of the two marks, from very pale to very dark. */
const PAIRS = [
  [
    ['woman-28', 'very-light'],
    ['man-68', 'light'],
  ],
  [
    ['woman-33', 'intermediate'],
    ['man-47', 'tan'],
  ],
  [
    ['woman-66', 'light'],
    ['man-26', 'dark'],
  ],
  [
    ['woman-42', 'very-dark'],
    ['man-34', 'brown'],
  ],
] as const;
const ANGLES = ['W1', 'OA', 'OB'];
const [WIDTH, HEIGHT] = [640, 360];

/** Rows: the pairs; columns: the two-shot and the two close-ups. By the quick light. */
export async function pairsSheet(tracer: Tracer, seed: number, out: string): Promise<void> {
  const { shoot } = await readShoot(join(home, 'shoots/kitchen.json'));
  const scene = Object.keys(shoot.scenes)[0]!;
  const sheet = new Uint8Array(3 * WIDTH * ANGLES.length * HEIGHT * PAIRS.length);
  const bar = progress('Pairs');
  for (const [row, pair] of PAIRS.entries()) {
    const cast = recast(shoot, scene, pair);
    for (const [column, angle] of ANGLES.entries()) {
      const { rgb } = await photograph(
        tracer,
        cast,
        { scene, angle },
        {
          width: WIDTH,
          height: HEIGHT,
          seed,
          noiseStops: 1,
          seconds: undefined,
          only: undefined,
          stops: false,
          quick: true,
          progress: () => {},
        },
      );
      for (let y = 0; y < HEIGHT; y++)
        sheet.set(
          rgb.subarray(3 * y * WIDTH, 3 * (y + 1) * WIDTH),
          3 * ((row * HEIGHT + y) * WIDTH * ANGLES.length + column * WIDTH),
        );
      bar.at((row * ANGLES.length + column + 1) / (PAIRS.length * ANGLES.length), angle);
    }
  }
  bar.end();
  writeWhole(out, writePng(WIDTH * ANGLES.length, HEIGHT * PAIRS.length, sheet));
  process.stderr.write(`Written: ${out}\n`);
}

/** The shoot with the scene's first two marks played by others, in their own clothes and hair. */
function recast(shoot: Shoot, scene: string, pair: (typeof PAIRS)[number]): Shoot {
  const out = structuredClone(shoot) as Shoot;
  const marks = Object.values(out.scenes[scene]!.marks);
  pair.forEach(([person, complexion], i) => {
    const mark = marks[i] as { -readonly [K in keyof (typeof marks)[number]]: (typeof marks)[number][K] };
    mark.person = person;
    mark.complexion = complexion;
    for (const own of ['top', 'bottom', 'hair', 'cut', 'wears', 'topCloth', 'bottomCloth'] as const)
      delete mark[own];
  });
  return out;
}
