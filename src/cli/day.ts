/** `rushlight day`: sun and daylight through the shooting day, at a mark. */
import type { Vec3 } from '../maths/vec3.ts';
import { exposureOf } from '../setup/develop.ts';
import { fallOfDay, fallsUnder, sunTimes } from '../setup/fall.ts';
import { constantOf } from '../setup/learned.ts';
import { clockTime } from '../shoot/editDay.ts';
import { BadUse, command, numberWithin } from './command.ts';
import { readShoot } from './shoot.ts';
import { figure, signed, table } from './table.ts';

export async function run(args: readonly string[]): Promise<number> {
  const parsed = command('day', 'Sun and daylight through the shooting day, outside and at a mark.', [
    'rushlight day visiting-hours.json --mark A --from 9 --to 17',
  ])
    .argument('<file>', 'a shoot')
    .option('--scene <id>', 'of this scene (else the first that has a day)')
    .option('--mark <id>', 'light at this mark or spot (else the first mark)')
    .option('--from <hour>', 'by the clocks of the place', numberWithin(0, 24), 8)
    .option('--to <hour>', 'by the clocks of the place', numberWithin(0, 24), 18)
    .option('--step <hours>', 'from row to row', numberWithin(0.05, 6), 0.5)
    .parse(args as string[], { from: 'user' });
  const o = parsed.opts<{ scene?: string; mark?: string; from: number; to: number; step: number }>();
  const { shoot } = await readShoot(parsed.args[0]!);
  const id = o.scene ?? Object.keys(shoot.scenes).find((s) => shoot.scenes[s]!.day);
  const scene = id === undefined ? undefined : shoot.scenes[id];
  if (!scene?.day)
    throw new BadUse([
      id === undefined || scene
        ? 'No scene here has a day: it is shot at night, or nobody told its date.'
        : `There is no scene ${id}.`,
    ]);
  const place = shoot.places[scene.place]!;
  const at = o.mark ?? Object.keys(scene.marks)[0];
  const mark = at === undefined ? undefined : scene.marks[at];
  const spot = at === undefined ? undefined : scene.spots[at];
  if (o.mark !== undefined && !mark && !spot)
    throw new BadUse([`There is no mark or spot ${o.mark} in ${id}.`]);
  const point = (mark ? [mark.at[0], mark.at[1], mark.eyeM] : spot?.at) as Vec3 | undefined;
  const hours: number[] = [];
  for (let h = o.from; h <= o.to + 1e-9; h += o.step) hours.push(h);
  const rows = fallOfDay(scene, place, scene.day, hours, point);
  const asked = exposureOf(scene.camera, constantOf(shoot)).eRefLx;
  const times = sunTimes(scene.day, place);
  const said = (h: number | undefined): string => (h === undefined ? 'does not happen' : clockTime(h));
  const lines = [
    `${scene.name} · ${scene.day.date}, ${scene.day.weather}; sun up ${said(times.up)}, down ${said(times.down)}, dark by ${said(times.dark)}`,
    table(
      [
        { head: 'hour', right: true },
        { head: 'sun up', right: true },
        { head: 'from north', right: true },
        { head: 'outside lx', right: true },
        ...(point
          ? [
              { head: `at ${at} lx`, right: true },
              { head: 'over', right: true },
            ]
          : []),
      ],
      rows.map((r) => [
        clockTime(r.hour),
        `${figure(r.sunElevationDeg, 1)}°`,
        `${figure(r.sunAzimuthDeg, 0)}°`,
        figure(r.levelLx, r.levelLx < 10 ? 2 : 0),
        ...(r.atLx === undefined
          ? []
          : [figure(r.atLx, r.atLx < 10 ? 2 : 0), signed(Math.log2(r.atLx / asked))]),
      ]),
    ),
    ...(point
      ? [
          `The set stop asks for ${figure(asked, 0)} lx at ${at}: daylight alone falls under it at ${said(fallsUnder(rows, asked))}.`,
        ]
      : []),
    scene.day.readings?.length
      ? `Held to ${scene.day.readings.length} ${scene.day.readings.length === 1 ? 'reading' : 'readings'} of the day. Sunshine itself, and what stands in the way, are not in the figures at ${at}.`
      : 'Mean of such skies: a real one may give half or twice as much. Meter it once, and the day is held to that.',
  ];
  process.stdout.write(`${lines.join('\n\n')}\n`);
  return 0;
}
