/** `rushlight tell`: readings of every face, angle by angle. */
import type { MarkReading } from '../readings/readMark.ts';
import type { Trouble } from '../scheme/trouble.ts';
import type { Shoot } from '../shoot/schema.ts';
import { command, effortOptions } from './command.ts';
import { type Told, tellAngle } from './compute.ts';
import { progress } from './progress.ts';
import { anglesAsked, readShoot } from './shoot.ts';
import { figure, signed, table } from './table.ts';

/** Lux in one foot-candle: square feet in a square metre. */
const LUX_PER_FOOTCANDLE = 1 / 0.3048 ** 2;

/** Troubles that nobody has said are meant, notes apart. */
export const unmeant = (troubles: readonly Trouble[]): Trouble[] =>
  troubles.filter((t) => t.meant === undefined && t.severity > 0);

/** One angle's readings as text. */
export function toldText(shoot: Shoot, told: Told, light: 'lux' | 'footcandle'): string {
  const scene = shoot.scenes[told.ref.scene]!;
  const angle = scene.angles[told.ref.angle]!;
  const unit = light === 'lux' ? 'lx' : 'fc';
  const lit = (lux: number | undefined) =>
    lux === undefined
      ? '?'
      : figure(light === 'lux' ? lux : lux / LUX_PER_FOOTCANDLE, light === 'lux' && lux >= 10 ? 0 : 1);
  const number = (id: string) => scene.rig.lamps[id]?.number ?? id;
  const faces = table(
    [
      { head: 'face' },
      { head: unit, right: true },
      { head: 'toward' },
      { head: 'asks T', right: true },
      { head: 'over', right: true },
      { head: '±', right: true },
      { head: 'ratio', right: true },
      { head: 'stops', right: true },
      { head: '±', right: true },
      { head: 'lit cheek', right: true },
      { head: 'other', right: true },
    ],
    told.marks.map((m) => [
      scene.marks[m.mark]?.name ?? m.mark,
      lit(m.incidentLx),
      m.toward in scene.rig.lamps ? number(m.toward) : m.toward,
      figure(m.askedT),
      signed(m.overStops),
      figure(m.bandStops),
      m.ratio === undefined ? '?' : `${figure(m.ratio)}:1`,
      figure(m.ratioStops),
      figure(m.ratioBandStops),
      signed(m.litOverGreyStops),
      signed(m.shadeOverGreyStops),
    ]),
  );
  const lamps = (m: MarkReading) =>
    table(
      [
        { head: `lamps on ${scene.marks[m.mark]?.name ?? m.mark}` },
        { head: 'does' },
        { head: `direct ${unit}`, right: true },
        { head: `bounced ${unit}`, right: true },
        { head: 'over', right: true },
        { head: 'round', right: true },
        { head: 'up', right: true },
        { head: 'm off', right: true },
      ],
      m.lamps.map((l) => [
        number(l.lamp),
        l.role,
        lit(l.directLx),
        lit(l.bouncedLx),
        signed(l.overStops),
        `${figure(l.azimuthDeg, 0)}° ${l.side}`,
        `${figure(l.elevationDeg, 0)}°`,
        figure(l.distanceM),
      ]),
    );
  return [
    `${scene.name} · ${angle.name}`,
    faces,
    ...told.marks.filter((m) => m.lamps.length).map(lamps),
    ...told.troubles.map((t) => `Trouble: ${t.says}${t.meant === undefined ? '' : ` (meant: ${t.meant})`}`),
    ...told.notes.map((note) => `Note: ${note}`),
  ].join('\n\n');
}

export async function run(args: readonly string[]): Promise<number> {
  const parsed = effortOptions(
    command('tell', 'What a meter and the eye would say of every face, angle by angle.', [
      'rushlight tell kitchen.json --scene K --angle OA',
    ])
      .argument('<file>', 'a shoot')
      .option('--scene <id>', 'this scene only')
      .option('--angle <id>', 'this angle only')
      .option('--footcandles', 'light in foot-candles (default: as the shoot says)')
      .option('--json', 'as data'),
  ).parse(args as string[], { from: 'user' });
  const o = parsed.opts<{
    scene?: string;
    angle?: string;
    footcandles?: boolean;
    json?: boolean;
    seed: number;
    paths?: number;
  }>();
  const { shoot } = await readShoot(parsed.args[0]!);
  const asked = anglesAsked(shoot, o.scene, o.angle);
  const bar = progress('Reading');
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
  const light = o.footcandles ? 'footcandle' : (shoot.light ?? 'lux');
  process.stdout.write(
    o.json
      ? `${JSON.stringify(told, null, 2)}\n`
      : `${told.map((t) => toldText(shoot, t, light)).join('\n\n\n')}\n`,
  );
  return told.some((t) => unmeant(t.troubles).length) ? 1 : 0;
}
