/** `rushlight faces`: one head under a key from every side, as a sheet of pictures and by the name of each pattern. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { home } from './build.ts';
import { BadUse, command, type Effort, effortOptions, numberWithin } from './command.ts';
import { withTracer } from './compute.ts';
import { writeWhole } from './files.ts';
import { writePng } from './png.ts';
import { progress } from './progress.ts';
import { table } from './table.ts';

const AZIMUTHS = Array.from({ length: 13 }, (_, i) => 15 * i);
const ELEVATIONS = [60, 45, 30, 15, 0];
const EYE_M = 1.6;
const DISTANCE_M = 2;
/** What the key gives at the eyes: the level that the camera is set for. */
const KEY_LX = 500;

interface Options extends Effort {
  person: string;
  complexion?: string;
  size: number;
  across: number;
  from: number;
  passes: number;
  out?: string;
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = effortOptions(
    command(
      'faces',
      'A head lit by one key from 0° to 180° round it and 0° to 60° up, at 2 m: the pattern of each by the shadows it casts, and a sheet of pictures.',
      ['rushlight faces --person woman-28 --out sheet.png', 'rushlight faces --person man-26 --across 1.2'],
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
      .option('--passes <number>', 'paths per pixel', numberWithin(1, 4096), 24)
      .option('--out <file>', 'where the sheet goes (PNG; columns 0° … 180° round, rows 60° … 0° up)'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<Options>();
  const [people, { personOn }, { assemble }, { viewOf }, photo, faces, dev, wb, colour, samples, xyz] =
    await Promise.all([
      import('../stage/people/person.ts'),
      import('../setup/people.ts'),
      import('../stage/assemble.ts'),
      import('../setup/view.ts'),
      import('../transport/photograph.ts'),
      import('../readings/faces.ts'),
      import('../setup/develop.ts'),
      import('../camera/whitebalance.ts'),
      import('../colour/planck.ts'),
      import('../colour/samples.ts'),
      import('../colour/xyz.ts'),
    ]);
  const { keyOnFace, litCells } = await import('../readings/pattern.ts');
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
  const rad = Math.PI / 180;
  const cells = ELEVATIONS.flatMap((el) => AZIMUTHS.map((az) => ({ az, el })));
  const layers = cells.map(({ az, el }, i) => {
    const to = [
      -Math.sin(az * rad) * Math.cos(el * rad),
      Math.cos(az * rad) * Math.cos(el * rad),
      Math.sin(el * rad),
    ] as const;
    const centre = [DISTANCE_M * to[0], DISTANCE_M * to[1], EYE_M + DISTANCE_M * to[2]] as const;
    const axis = [-to[0], -to[1], -to[2]] as const;
    // Any direction at right angles to the beam will do: the disc is round.
    const up = [-Math.cos(az * rad), -Math.sin(az * rad), 0] as const;
    return {
      to,
      layer: {
        id: `${i}`,
        lamp: `${i}`,
        emitters: [
          {
            shape: { kind: 'disc' as const, centre, axis, up, radiusM: o.across / 2 },
            beam: { kind: 'cosine' as const, peakCd: KEY_LX * DISTANCE_M ** 2, exponent: 1 },
          },
        ],
        key: JSON.stringify([az, el, o.across]),
        ownParts: [],
      },
    };
  });

  return withTracer(o.tracer, async (tracer) => {
    await tracer.load({ stage, layers: layers.map((l) => l.layer) });
    // Names first: a few rays a cell.
    const grid = person.faceGrid;
    const names = new Map<number, string>();
    const points = faces.pointsOnFace(grid);
    for (let l = 0; l < layers.length; l++) {
      const { diffuse } = await tracer.direct(points.points, l, { seed: o.seed, samples: 8 });
      const lux = points.spread(diffuse);
      const { az, el } = cells[l]!;
      const k = keyOnFace(grid, litCells(grid, lux, layers[l]!.to), {
        azimuthDeg: az,
        elevationDeg: el,
        leftward: true,
      });
      names.set(l, k.pattern === 'none' ? '—' : k.pattern);
    }
    const text = table(
      [{ head: 'up', right: true }, ...AZIMUTHS.map((az) => ({ head: `${az}°` }))],
      ELEVATIONS.map((el, r) => [`${el}°`, ...AZIMUTHS.map((_, c) => names.get(r * AZIMUTHS.length + c)!)]),
    );
    process.stdout.write(
      `${o.person}, light ${o.across} m across at ${DISTANCE_M} m, by its shadows\n\n${text}\n`,
    );
    if (o.out === undefined) return 0;

    // Then the pictures.
    const [w, h] = [Math.round(o.size), Math.round(o.size * 1.2)];
    const a = o.from * rad;
    const eye = [-3 * Math.sin(a), 3 * Math.cos(a), EYE_M + 0.02] as const;
    const view = viewOf({
      at: eye as [number, number, number],
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
    const sheet = new Uint8Array(3 * w * AZIMUTHS.length * h * ELEVATIONS.length);
    const bytes = new Uint8ClampedArray(4 * w * h);
    const bar = progress('Faces');
    for (let l = 0; l < layers.length; l++) {
      const shot = photo.newPhotograph(w, h);
      const weights = layers.map((_, k) => (k === l ? one : nothing));
      for (let pass = 0; pass < o.passes; pass++)
        await photo.addPass(tracer, stage, view, weights, shot, { seed: o.seed });
      dev.develop(
        Float32Array.from(shot.sum, (v) => v / shot.passes),
        exposure,
        balance,
        bytes,
      );
      const [row, column] = [Math.floor(l / AZIMUTHS.length), l % AZIMUTHS.length];
      for (let y = 0; y < h; y++)
        for (let x = 0; x < w; x++) {
          const to = 3 * ((row * h + y) * w * AZIMUTHS.length + column * w + x);
          const edge = x === 0 || y === 0 ? 0.5 : 1;
          for (let k = 0; k < 3; k++) sheet[to + k] = edge === 1 ? bytes[4 * (y * w + x) + k]! : 40;
        }
      bar.at((l + 1) / layers.length, `${names.get(l)}`);
    }
    bar.end();
    writeWhole(o.out, writePng(w * AZIMUTHS.length, h * ELEVATIONS.length, sheet));
    process.stderr.write(`Written: ${o.out}\n`);
    return 0;
  });
}

const CAMERA = {
  class: 'modern' as const,
  ei: 800,
  fps: 25,
  shutter: { kind: 'time' as const, seconds: 0.02 },
  stop: 4,
  whiteBalance: { kind: 'kelvin' as const, kelvin: 3200 },
};
